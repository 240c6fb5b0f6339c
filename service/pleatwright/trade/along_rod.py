"""Where a hung panel stands along its rod: its carriers or rings, and the bends of a rod in several straight runs."""

from collections.abc import Sequence
from itertools import accumulate

from msgspec import Struct

from pleatwright.trade.laid_out import HangingPoint
from pleatwright.trade.panel import Panel, Side
from pleatwright.trade.window import Rod


class Sliders(Struct, frozen=True):
    """What one panel hangs on: carriers or rings that slide, and what holds its flat ends.

    `overlap` are the hanging points in the flat piece at the leading edge, which the arm of the master carrier takes,
    and `return_` those on a return, which go to eyes at the bracket or the wall [common practice].
    """

    sliding: int
    overlap: int
    return_: int


def sliders_of(panel: Panel, points: Sequence[HangingPoint]) -> Sliders:
    """Return what a panel's hanging points take: one carrier or ring each, but for those at its flat ends."""
    first, last = panel.leading_return, panel.finished_width - panel.return_
    crossing = first + panel.overlap
    overlap = returns = 0
    for point in points:
        at = point.finished
        if at < first or at > last:
            returns += 1
        # A point both in the overlap and on the return counts as each.
        if first <= at < crossing:
            overlap += 1
    return Sliders(len(points) - overlap - returns, overlap, returns)


class Bend(Struct, frozen=True):
    """A bend of the rod, and what of a closed panel stands there.

    `at` is from the left end of the rod, `finished` from the panel's leading edge. `nearest` is the hanging point
    nearest to it, `off` its distance along the rod.
    """

    number: int
    at: int
    side: Side
    finished: int
    nearest: HangingPoint | None
    off: int | None


def bends_of(rod: Rod, panels: Sequence[Panel], points: Sequence[Sequence[HangingPoint]]) -> list[Bend]:
    """Return each bend with the panel that hangs there, from the left; where two leading edges cross, with both.

    The face of the rod ends where a panel's return starts, so a panel is followed from that end [geometry].
    """
    found = []
    for number, at in enumerate(list(accumulate(rod.runs))[:-1], 1):
        for panel, its in zip(panels, points, strict=True):
            from_end = at if panel.side == "left" else rod.width - at
            finished = panel.finished_width - panel.return_ - from_end
            if panel.leading_return <= finished <= panel.finished_width - panel.return_:
                nearest = min(its, key=lambda point: (abs(point.finished - finished), point.finished), default=None)
                off = None if nearest is None else abs(nearest.finished - finished)
                found.append(Bend(number, at, panel.side, finished, nearest, off))
    return found


def end_runs(rod: Rod) -> dict[Side, int]:
    """Return the straight run at each end of the rod, where the panels of that side stack."""
    runs = rod.runs or (rod.width,)
    return {"left": runs[0], "right": runs[-1]}
