"""Panels of railroaded cloth: turned, so that the bolt's width runs down the window and a panel is one run of it.

A seam there is only where a bolt ends. Along the bolt the pattern now goes across the window: it starts at the leading
edge of every panel, so that it meets where two leading edges do.
"""

from math import ceil, floor
from typing import Final

from msgspec import Struct

from pleatwright.faults import Fault, Impossible
from pleatwright.trade.panel import FlatAsked, Panel, Side, finished_widths
from pleatwright.trade.window import Hang, MakeUp, Rod, cloth_faults, hang_faults, rod_faults

MOST_RUNS: Final = 100
"""Bolts in one panel, as of widths."""


class Turned(Struct, frozen=True):
    """Cloth that is turned: the width of its bolt, its selvage, and the length of a whole bolt, None if long enough."""

    bolt_width: int
    selvage: int
    bolt_length: int | None


def railroaded(rod: Rod, hang: Hang, cloth: Turned, asked: FlatAsked, make_up: MakeUp) -> list[Panel]:
    """Return the panels of a window in railroaded cloth, left before right.

    Raises Impossible with everything that is wrong with the figures.
    """
    faults = [*rod_faults(rod), *hang_faults(hang), *cloth_faults(cloth.bolt_width, cloth.selvage, make_up)]
    if make_up.halves is not None:
        detail = "railroaded cloth is not cut in widths: leave this out"
        faults.append(Fault(("make_up", "width_count"), detail, f"{make_up.halves / 2:g}", "null"))
    needed = hang.finished_length + make_up.top_turning + make_up.bottom_hem + make_up.ease
    usable = cloth.bolt_width - 2 * cloth.selvage - make_up.width_lost
    if not faults and needed > usable:
        faults.append(
            Fault(
                ("fabric", "railroaded"),
                "turned, this cloth is {usable} wide where the panels need {needed} with hem and turning: use a wider "
                "cloth, or do not turn it",
                "{usable}",
                "{needed} or more between the selvages",
                {"usable": usable, "needed": needed},
            )
        )
    if faults:
        raise Impossible(*faults)
    return [_panel(side, width, rod, hang, cloth, asked, make_up) for side, width in finished_widths(rod)]


def _panel(side: Side, width: int, rod: Rod, hang: Hang, cloth: Turned, asked: FlatAsked, make_up: MakeUp) -> Panel:
    flat = ceil(asked(width))
    lengths = _lengths(flat + 2 * make_up.side_hem, cloth, make_up)
    seams, offsets = [], []
    at, start = -make_up.side_hem, -make_up.side_hem
    for length in lengths:
        # A left panel goes on to the left: the pattern is followed back from its leading edge.
        offsets.append(start if side == "right" else -start - length)
        at += length - make_up.seam_allowance
        seams.append(at)
        at -= make_up.seam_allowance
        start += length - 2 * make_up.seam_allowance
    kept = 1 - make_up.shrinkage
    return Panel(
        side=side,
        finished_width=width,
        finished_length=hang.finished_length,
        halves=2 * len(lengths),
        flat_width=flat,
        cut_length=ceil(lengths[0] / kept),
        seams=tuple(seams[:-1]),
        leading_return=rod.leading_return,
        overlap=rod.overlap,
        return_=rod.return_,
        runs=tuple(
            (ceil(length / kept), round(offset / kept)) for length, offset in zip(lengths, offsets, strict=True)
        ),
    )


def _lengths(needed: int, cloth: Turned, make_up: MakeUp) -> list[int]:
    """Return the lengths that a panel is seamed of: whole bolts, and what is left at the return edge.

    >>> sewn = MakeUp(3, 0, 0, 1, 0)
    >>> _lengths(150, Turned(120, 0, None), sewn), _lengths(250, Turned(120, 0, 100), sewn)
    ([150], [100, 100, 54])
    """
    if cloth.bolt_length is None:
        return [needed]
    bolt = floor(cloth.bolt_length * (1 - make_up.shrinkage))
    if needed <= bolt:
        return [needed]
    both = 2 * make_up.seam_allowance
    if bolt <= both:
        detail = "the seams use up the whole bolt: check its length and its unit"
        raise Impossible(Fault(("fabric", "bolt_length"), detail, "{bolt}", None, {"bolt": cloth.bolt_length}))
    whole = -(-(needed - both) // (bolt - both)) - 1
    if whole > MOST_RUNS:
        detail = f"this takes over {MOST_RUNS} bolts in one panel: check the bolt's length and its unit"
        raise Impossible(Fault(("fabric", "bolt_length"), detail, "{bolt}", None, {"bolt": cloth.bolt_length}))
    return [bolt] * whole + [needed - whole * (bolt - both)]
