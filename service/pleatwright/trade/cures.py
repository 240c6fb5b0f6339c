"""What would hide a seam that no layout hides: another count of pleats or points, or a strip off one edge."""

from collections.abc import Callable, Iterator
from typing import Final, Literal

from msgspec import Struct

from pleatwright.faults import Impossible
from pleatwright.trade.cloth import Cloth
from pleatwright.trade.hung import hung
from pleatwright.trade.layout import best_layout, can_hide
from pleatwright.trade.points import PointRow
from pleatwright.trade.points import can_hide as can_hide_points
from pleatwright.trade.search import Budget

MOST_TRIMS: Final = 12
"""Strips of growing width that are tried at each edge."""

Hides = Callable[[int, tuple[int, ...], int | None], int | None]
"""The count of pleats or points that hides every seam of a flat width with its seams and a count asked for, if any."""


class Cure(Struct, frozen=True):
    """A change that hides every seam. `amount` is the strip to trim, in grid units; `count` the count that results."""

    change: Literal["pleat-count", "trim-return-edge", "trim-leading-edge"]
    amount: int
    count: int


def cures(flat_width: int, seams: tuple[int, ...], asked: int | None, strip: int, hides: Hides) -> list[Cure]:
    """Return the least changes that hide every seam: a free count if one was asked, and the least strip to trim.

    Strips are tried in steps of `strip`, up to MOST_TRIMS of them, off the return edge before the leading edge.
    """
    found: list[Cure] = []
    if asked is not None and (count := hides(flat_width, seams, None)):
        found.append(Cure("pleat-count", 0, count))
    for change, amount, kept in _trimmed(flat_width, seams, strip):
        if count := hides(flat_width - amount, kept, asked):
            found.append(Cure(change, amount, count))
            break
    return found


def _trimmed(
    flat_width: int, seams: tuple[int, ...], strip: int
) -> Iterator[tuple[Literal["trim-return-edge", "trim-leading-edge"], int, tuple[int, ...]]]:
    for step in range(1, MOST_TRIMS + 1):
        amount = step * strip
        yield "trim-return-edge", amount, tuple(seam for seam in seams if seam < flat_width - amount)
        yield "trim-leading-edge", amount, tuple(seam - amount for seam in seams if seam > amount)


def hiding_pleats(cloth: Cloth, budget: Budget) -> int | None:
    """Return the count of pleats of the best layout when it hides every seam; None when none is known to."""
    try:
        return best_layout(cloth).pleat_count if can_hide(cloth, budget) else None
    except Impossible:
        return None


def hiding_points(row: PointRow, division: int, budget: Budget) -> int | None:
    """Return the count of points of the best row when, marked on the rule, it hides every seam; None when none does."""
    try:
        if not can_hide_points(row, budget):
            return None
        laid_out = hung(row, division)
    except Impossible:
        return None
    return laid_out.points.count if laid_out.points and laid_out.hides_every_seam else None
