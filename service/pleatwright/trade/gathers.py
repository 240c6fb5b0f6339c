"""A panel gathered evenly from edge to edge, on a tape or on the rod: its hooks, and the cloth it takes."""

from fractions import Fraction
from itertools import pairwise
from math import ceil, floor
from typing import Final

from msgspec import Struct

from pleatwright.faults import Fault, Impossible
from pleatwright.trade.cloth import edge_faults, seam_faults
from pleatwright.trade.laid_out import HangingPoint, LaidOut
from pleatwright.trade.marks import PlacedSeam, Station, check_division

MOST_HOOKS: Final = 1000
"""The most hooks on one panel, as of pleats."""


class Gathering(Struct, frozen=True):
    """A flat panel to be gathered, in grid units.

    `least` and `most` are the fullness that the tape or the rod can gather to. `hook_spacing` is the most from one hook
    to the next on the finished panel, None where the rod carries the cloth all along.
    """

    flat_width: int
    finished_width: int
    leading_return: int
    overlap: int
    return_: int
    seams: tuple[int, ...]
    least: Fraction
    most: Fraction
    hook_spacing: int | None


def gathered(cloth: Gathering, edge_inset: int, division: int) -> LaidOut:
    """Return the panel with its hooks, marked on a rule whose division is `division` grid units.

    A seam is lost among the folds [common practice].

    Raises Impossible when the cloth cannot be gathered to the finished width.
    """
    faults = [
        *edge_faults(cloth.finished_width, cloth.leading_return + cloth.overlap + cloth.return_),
        *_fullness_faults(cloth),
        *seam_faults(cloth.seams, cloth.flat_width),
    ]
    if faults:
        raise Impossible(*faults)
    if cloth.hook_spacing is not None and cloth.finished_width > MOST_HOOKS * cloth.hook_spacing:
        detail = f"this takes over {MOST_HOOKS} hooks: check the width, the distance between hooks and their units"
        raise Impossible(Fault(("finished_width",), detail, allowed=f"up to {MOST_HOOKS} hooks"))
    fullness = Fraction(cloth.flat_width, cloth.finished_width)
    places = hooks(cloth, edge_inset)
    if places:
        check_division(division, min(after - before for before, after in pairwise(places)) * fullness)
    return LaidOut(
        stations=[Station("gather", 0, cloth.flat_width)],
        seams=[PlacedSeam(seam, "in-gathers", None, None) for seam in cloth.seams],
        hanging_points=[
            HangingPoint("gather", number, min(round(at * fullness / division) * division, cloth.flat_width), round(at))
            for number, at in enumerate(places, 1)
        ],
    )


def hooks(cloth: Gathering, edge_inset: int) -> list[Fraction]:
    """Return where the hooks are on the finished panel: at both edges, at each bend of the rod, and evenly between.

    A bend hard by an edge needs no hook of its own.

    From 1 in to 48 in, 3 in apart at the most, with the bend at 46 in:

    >>> cloth = Gathering(98, 49, 0, 0, 3, (), Fraction(1), Fraction(3), 3)
    >>> places = hooks(cloth, 1)
    >>> len(places), float(places[0]), float(places[-2]), float(places[-1])
    (17, 1.0, 46.0, 48.0)
    """
    if cloth.hook_spacing is None:
        return []
    finished = cloth.finished_width
    inset = min(edge_inset, finished // 3)
    near = cloth.hook_spacing // 4
    bends = {cloth.leading_return, finished - cloth.return_}
    fixed = sorted(
        {inset, finished - inset, *(bend for bend in bends if inset + near < bend < finished - inset - near)}
    )
    found = [Fraction(fixed[0])]
    for start, end in pairwise(fixed):
        parts = -(-(end - start) // cloth.hook_spacing)
        found += [start + Fraction((end - start) * part, parts) for part in range(1, parts + 1)]
    return found


def _fullness_faults(cloth: Gathering) -> list[Fault]:
    least, most = floor(cloth.least * cloth.finished_width), ceil(cloth.most * cloth.finished_width)
    if least <= cloth.flat_width <= most:
        return []
    fullness = float(Fraction(cloth.flat_width, cloth.finished_width))
    return [
        Fault(
            ("flat_width",),
            f"a flat width of {{flat}} gathered to {{finished}} is a fullness of {fullness:.2f}, and this heading "
            f"gathers {float(cloth.least):g} to {float(cloth.most):g} times: use {{least}} to {{most}} of cloth",
            "{flat}",
            "{least} to {most}",
            {"flat": cloth.flat_width, "finished": cloth.finished_width, "least": least, "most": most},
        )
    ]
