"""From a window's measurements to the panels that cover it: finished size, widths of cloth, seams and cut length."""

from collections.abc import Callable
from fractions import Fraction
from math import ceil
from typing import Final, Literal

from msgspec import Struct
from msgspec.structs import replace

from pleatwright.faults import Fault, Impossible, Path
from pleatwright.trade.window import Hang, MakeUp, Rod, cloth_faults, hang_faults, rod_faults

Side = Literal["left", "right"]

MOST_WIDTHS: Final = 100
"""Widths in one panel: more than a stage curtain takes, and a bound on the work one panel can ask for."""


class Panel(Struct, frozen=True):
    """One panel as it will be cut and seamed. Seams are measured from the leading edge, on the flat.

    `runs` are the lengths of railroaded cloth that it is made of, each with the place in the pattern at which it
    starts, from the leading edge on; there are none of cloth that is cut in widths.
    """

    side: Side
    finished_width: int
    finished_length: int
    halves: int
    flat_width: int
    cut_length: int
    seams: tuple[int, ...]
    leading_return: int
    overlap: int
    return_: int
    runs: tuple[tuple[int, int], ...] = ()

    @property
    def fullness(self) -> Fraction:
        """Flat width divided by finished width."""
        return Fraction(self.flat_width, self.finished_width)

    def mirrors(self, other: "Panel") -> bool:
        """Whether it is the same as another panel but for the side that it hangs at."""
        return self == replace(other, side=self.side)

    @property
    def pieces(self) -> int:
        """Pieces of cloth seamed together, a half width at the return side counted as one."""
        return -(-self.halves // 2)


FlatAsked = Callable[[int], Fraction | int]
"""The flat width that a finished width asks for: so many times as much, or what a tape's own spacing comes to."""


def panels(rod: Rod, hang: Hang, bolt_width: int, selvage: int, asked: FlatAsked, make_up: MakeUp) -> list[Panel]:
    """Return the panels of a window, left before right.

    Raises Impossible with everything that is wrong with the figures.
    """
    faults = [*rod_faults(rod), *hang_faults(hang), *cloth_faults(bolt_width, selvage, make_up)]
    if faults:
        raise Impossible(*faults)
    usable = bolt_width - 2 * selvage - make_up.width_lost
    found: list[Panel] = []
    for side, width in finished_widths(rod):
        if found and width == found[0].finished_width:
            found.append(replace(found[0], side=side))
        else:
            found.append(_panel(side, width, rod, hang, usable, asked, make_up))
    return found


def finished_widths(rod: Rod) -> list[tuple[Side, int]]:
    """Return the finished width of each panel: half the rod, or its share, + half the overlap + return [geometry].

    A half of an odd number of grid units is rounded up, 1/320 mm too wide rather than too narrow.

    >>> finished_widths(Rod(width=120, return_=4, overlap=2, draw="pair"))
    [('left', 65), ('right', 65)]
    """
    if rod.draw == "one-way-left" or rod.draw == "one-way-right":
        side: Side = "left" if rod.draw == "one-way-left" else "right"
        return [(side, rod.width + rod.return_ + rod.leading_return)]
    if rod.draw == "fixed-pair":
        width = (rod.panel_width or 0) + rod.return_
        return [("left", width), ("right", width)]
    left_doubled = 2 * rod.parting if rod.draw == "off-centre-pair" and rod.parting is not None else rod.width
    return [
        ("left", _half(left_doubled + rod.overlap) + rod.return_),
        ("right", _half(2 * rod.width - left_doubled + rod.overlap) + rod.return_),
    ]


def flat_width(halves: int, usable: int, make_up: MakeUp) -> int:
    """Return the flat width from a count of half widths of cloth: widths less what seams and side hems take.

    Double 1 1/2 in side hems take 3 in at each edge, a 1/2 in seam allowance 1 in a seam [common practice]:

    >>> flat_width(6, 54 * 2, MakeUp(3 * 2, 0, 0, 1, 0)) / 2
    154.0
    """
    pieces = -(-halves // 2)
    return halves * usable // 2 - 2 * make_up.seam_allowance * (pieces - 1) - 2 * make_up.side_hem


def seam_positions(halves: int, usable: int, make_up: MakeUp) -> tuple[int, ...]:
    """Return where the seams lie from the leading edge; a half width is at the return side.

    >>> [seam / 2 for seam in seam_positions(5, 54 * 2, MakeUp(3 * 2, 0, 0, 1, 0))]
    [50.5, 103.5]
    """
    first = usable - make_up.side_hem - make_up.seam_allowance
    step = usable - 2 * make_up.seam_allowance
    return tuple(first + step * seam for seam in range(-(-halves // 2) - 1))


def halves_for(asked: Fraction | int, usable: int, make_up: MakeUp, least: int = 1) -> int:
    """Return the count of half widths for a flat width asked: the fewest that reach it, or the nearest to it.

    The nearest is none that comes to less than `least`, a panel's finished width.

    Raises Impossible when the cloth asked for takes more than MOST_WIDTHS.
    """
    if make_up.halves is not None:
        return make_up.halves
    around = []
    reach, step = ceil(asked), usable - 2 * make_up.seam_allowance
    # Whole widths and those with a half more each grow in even steps; a half itself may add less than its seam takes.
    for first in (1, 2) if make_up.half_widths else (2,):
        counts = range(first, 2 * MOST_WIDTHS + 1, 2)
        short = reach - flat_width(first, usable, make_up)
        index = min(max(-(-short // step), 0), len(counts))
        around += [(flat_width(halves, usable, make_up), halves) for halves in counts[max(index - 1, 0) : index + 1]]
    enough = [halves for flat, halves in around if flat >= reach]
    if not enough:
        if max(around)[0] <= 0:
            raise Impossible(_all_hem(("make_up", "side_hem"), make_up))
        raise Impossible(
            Fault(
                ("fullness",),
                f"a flat width of {{asked}} takes over {MOST_WIDTHS} widths in one panel: use a wider cloth, less "
                "fullness, or more panels",
                allowed=f"up to {MOST_WIDTHS} widths a panel",
                lengths={"asked": asked},
            )
        )
    if make_up.nearest:
        return min((abs(flat - asked), -flat, halves) for flat, halves in around if flat >= least)[-1]
    return min(enough)


def cut_length(finished_length: int, make_up: MakeUp) -> int:
    """Return finished length + top turning + bottom hem + ease, before it is raised to suit a repeat.

    Cloth that shrinks is cut longer, so that this is left of it:

    >>> cut_length(97, MakeUp(0, 0, 0, 0, 0, shrinkage=Fraction(3, 100)))
    100
    """
    needed = finished_length + make_up.top_turning + make_up.bottom_hem + make_up.ease
    whole, lost = make_up.shrinkage.denominator, make_up.shrinkage.numerator
    return -(-needed * whole // (whole - lost))


def _panel(side: Side, width: int, rod: Rod, hang: Hang, usable: int, asked: FlatAsked, make_up: MakeUp) -> Panel:
    halves = halves_for(asked(width), usable, make_up, width)
    flat = flat_width(halves, usable, make_up)
    if flat <= 0:
        raise Impossible(_all_hem(("make_up", "width_count"), make_up))
    if flat < width:
        raise Impossible(
            Fault(
                ("make_up", "width_count"),
                "these widths come to {flat}, less than the finished width of {width}: use more of them",
                f"{halves / 2:g}",
                "widths that reach {width}",
                {"flat": flat, "width": width},
            )
        )
    return Panel(
        side=side,
        finished_width=width,
        finished_length=hang.finished_length,
        halves=halves,
        flat_width=flat,
        cut_length=cut_length(hang.finished_length, make_up),
        seams=seam_positions(halves, usable, make_up),
        leading_return=rod.leading_return,
        overlap=rod.overlap,
        return_=rod.return_,
    )


def _all_hem(where: Path, make_up: MakeUp) -> Fault:
    return Fault(
        where,
        "side hems of {hem} and the seams use up all the cloth: check the hems and their unit, or use more widths",
        allowed="cloth left between the side hems",
        lengths={"hem": make_up.side_hem},
    )


def _half(doubled: int) -> int:
    return -(-doubled // 2)
