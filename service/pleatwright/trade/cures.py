"""What would hide a seam that no layout hides: another count of pleats, or a strip off one edge."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final, Literal

from pleatwright.faults import Impossible
from pleatwright.trade.cloth import Cloth
from pleatwright.trade.layout import best_layout, can_hide
from pleatwright.trade.search import Budget

MOST_TRIMS: Final = 12
"""Strips of growing width that are tried at each edge."""


@dataclass(frozen=True, slots=True)
class Cure:
    """A change that hides every seam. `amount` is the strip to trim, in grid units; `pleats` the count that results."""

    change: Literal["pleat-count", "trim-return-edge", "trim-leading-edge"]
    amount: int
    pleats: int


def cures(cloth: Cloth, strip: int, budget: Budget) -> list[Cure]:
    """Return the least changes that hide every seam: a free count if one was asked, and the least strip to trim.

    Strips are tried in steps of `strip`, up to MOST_TRIMS of them, off the return edge before the leading edge, until
    the budget is spent.
    """
    found = []
    if cloth.pleat_count is not None and (pleats := hiding_count(replace(cloth, pleat_count=None), budget)):
        found.append(Cure("pleat-count", 0, pleats))
    for trimmed, cure in _trimmed(cloth, strip):
        if pleats := hiding_count(trimmed, budget):
            found.append(replace(cure, pleats=pleats))
            break
    return found


def _trimmed(cloth: Cloth, strip: int) -> Iterator[tuple[Cloth, Cure]]:
    for step in range(1, MOST_TRIMS + 1):
        amount = step * strip
        flat = cloth.flat_width - amount
        kept = tuple(seam for seam in cloth.seams if seam < flat)
        yield replace(cloth, flat_width=flat, seams=kept), Cure("trim-return-edge", amount, 0)
        moved = tuple(seam - amount for seam in cloth.seams if seam > amount)
        yield replace(cloth, flat_width=flat, seams=moved), Cure("trim-leading-edge", amount, 0)


def hiding_count(cloth: Cloth, budget: Budget) -> int | None:
    """Return the count of pleats of the best layout when it hides every seam; None when none is known to."""
    try:
        return best_layout(cloth).pleat_count if can_hide(cloth, budget) else None
    except Impossible:
        return None
