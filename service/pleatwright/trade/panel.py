"""From a window's measurements to the panels that cover it: finished size, widths of cloth, seams and cut length."""

from bisect import bisect_left
from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from typing import Final, Literal

from pleatwright.faults import Fault, Impossible, Path

Draw = Literal["pair", "one-way-left", "one-way-right", "off-centre-pair", "fixed-pair"]
HangsTo = Literal["floor", "sill", "apron", "break", "puddle"]
Side = Literal["left", "right"]

MOST_WIDTHS: Final = 100
"""Widths in one panel: more than a stage curtain takes, and a bound on the work one panel can ask for."""
LEAST_FULLNESS: Final = 1
MOST_FULLNESS: Final = 6


@dataclass(frozen=True, slots=True)
class Rod:
    """The rod or track: its face, the returns to the wall, and how the panels draw on it.

    `parting` is where an off-centre pair parts, from the left end of the rod; `panel_width` is the face that each panel
    of a fixed pair covers. `leading_return` is a return at the leading end of a one-way draw.
    """

    width: int
    return_: int
    overlap: int
    draw: Draw
    parting: int | None = None
    panel_width: int | None = None
    leading_return: int = 0


@dataclass(frozen=True, slots=True)
class Hang:
    """Heights. `carrying_height` is that of the point that carries the hook, above the floor.

    `level` is the height above the floor of what the panel hangs to: 0, or that of the sill or the apron's bottom.
    `clearance` is how far the hem stays above it; a negative one hangs below it, or lies on the floor.
    """

    carrying_height: int
    heading_above: int
    to: HangsTo
    level: int
    clearance: int

    @property
    def finished_length(self) -> int:
        """Top of the heading to the bottom of the hem [P: UFGS 12 22 00 for the usual clearances]."""
        return self.carrying_height + self.heading_above - self.level - self.clearance


@dataclass(frozen=True, slots=True)
class MakeUp:
    """What sewing takes: each figure is the flat cloth used up, hems and turnings counted with all their layers.

    `half_widths` allows them; `nearest` takes the count of widths nearest the fullness asked, not the fewest that
    reach it; `halves` is the count of half widths when the maker has settled it.
    """

    side_hem: int
    bottom_hem: int
    top_turning: int
    seam_allowance: int
    ease: int
    half_widths: bool = True
    nearest: bool = False
    halves: int | None = None


@dataclass(frozen=True, slots=True)
class Panel:
    """One panel as it will be cut and seamed. Seams are measured from the leading edge, on the flat."""

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

    @property
    def fullness(self) -> Fraction:
        """Flat width divided by finished width."""
        return Fraction(self.flat_width, self.finished_width)

    @property
    def pieces(self) -> int:
        """Pieces of cloth seamed together, a half width at the return side counted as one."""
        return -(-self.halves // 2)


def panels(rod: Rod, hang: Hang, bolt_width: int, selvage: int, fullness: Fraction, make_up: MakeUp) -> list[Panel]:
    """Return the panels of a window, left before right.

    Raises Impossible with everything that is wrong with the figures.
    """
    faults = [*_rod_faults(rod), *_hang_faults(hang), *_cloth_faults(bolt_width, selvage, make_up)]
    if faults:
        raise Impossible(*faults)
    usable = bolt_width - 2 * selvage
    return [_panel(side, width, rod, hang, usable, fullness, make_up) for side, width in finished_widths(rod)]


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


def halves_for(asked: Fraction, usable: int, make_up: MakeUp) -> int:
    """Return the count of half widths for a flat width asked: the fewest that reach it, or the nearest to it.

    Raises Impossible when the cloth asked for takes more than MOST_WIDTHS.
    """
    if make_up.halves is not None:
        return make_up.halves
    step = 1 if make_up.half_widths else 2
    counts = range(step, 2 * MOST_WIDTHS + 1, step)
    index = bisect_left(counts, ceil(asked), key=lambda halves: flat_width(halves, usable, make_up))
    if index == len(counts):
        raise Impossible(
            Fault(
                ("fullness",),
                f"a flat width of {{asked}} takes over {MOST_WIDTHS} widths in one panel: use a wider cloth, less "
                "fullness, or more panels",
                allowed=f"up to {MOST_WIDTHS} widths a panel",
                lengths={"asked": asked},
            )
        )
    if make_up.nearest and index:
        fewer, more = (flat_width(counts[at], usable, make_up) for at in (index - 1, index))
        if asked - fewer < more - asked:
            index -= 1
    return counts[index]


def cut_length(finished_length: int, make_up: MakeUp) -> int:
    """Return finished length + top turning + bottom hem + ease, before it is raised to suit a repeat."""
    return finished_length + make_up.top_turning + make_up.bottom_hem + make_up.ease


def _panel(side: Side, width: int, rod: Rod, hang: Hang, usable: int, fullness: Fraction, make_up: MakeUp) -> Panel:
    halves = halves_for(fullness * width, usable, make_up)
    flat = flat_width(halves, usable, make_up)
    if flat <= 0:
        raise Impossible(
            Fault(
                ("make_up", "width_count"),
                "side hems and seams use up all the cloth: ask for more widths",
                allowed="enough widths to leave cloth between the side hems",
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
        overlap=0 if rod.draw == "fixed-pair" else rod.overlap,
        return_=rod.return_,
    )


def _half(doubled: int) -> int:
    return -(-doubled // 2)


def _rod_faults(rod: Rod) -> list[Fault]:
    faults = []
    lengths = {"rod": rod.width, "parting": rod.parting or 0, "panel": rod.panel_width or 0}
    if rod.width <= 0:
        faults.append(
            Fault(("rod", "width"), "a rod is longer than nothing: measure it", "{rod}", "more than 0", lengths)
        )
    if rod.draw == "off-centre-pair" and not (rod.parting and rod.parting < rod.width):
        faults.append(
            Fault(
                ("rod", "parting"),
                "an off-centre pair needs the place where it parts, measured from the left end of the rod",
                "none" if rod.parting is None else "{parting}",
                "more than 0 and less than {rod}",
                lengths,
            )
        )
    if rod.draw == "fixed-pair" and not (rod.panel_width and 2 * rod.panel_width <= rod.width):
        faults.append(
            Fault(
                ("rod", "panel_width"),
                "a fixed pair needs the face that each panel covers, half the rod at the most",
                "none" if rod.panel_width is None else "{panel}",
                "more than 0, up to half of {rod}",
                lengths,
            )
        )
    faults += [
        Fault(
            ("rod", field),
            f"only {draw} takes this: leave it out, or change the draw",
            "{given}",
            "nothing",
            {"given": given},
        )
        for field, draw, given in (
            ("parting", "an off-centre pair", rod.parting if rod.draw != "off-centre-pair" else None),
            ("panel_width", "a fixed pair", rod.panel_width if rod.draw != "fixed-pair" else None),
            (
                "leading_return",
                "a one-way draw",
                None if rod.draw.startswith("one-way") else rod.leading_return or None,
            ),
        )
        if given is not None
    ]
    return faults


def _hang_faults(hang: Hang) -> list[Fault]:
    faults = []
    lengths = {
        "length": hang.finished_length,
        "clearance": hang.clearance,
        "level": hang.level,
        "height": hang.carrying_height,
    }
    if hang.finished_length <= 0:
        faults.append(
            Fault(
                ("hang", "carrying_height"),
                "the panel would have no length: the carrying point must be above what the panel hangs to, both "
                "measured from the floor",
                "{height}",
                "more than {level}",
                lengths,
            )
        )
    if hang.to in ("break", "puddle") and hang.clearance >= 0:
        faults.append(
            Fault(
                ("hang", "clearance"),
                f"a {hang.to} lies on the floor, so its clearance is negative: minus the length of cloth on the floor",
                "{clearance}",
                "less than 0",
                lengths,
            )
        )
    return faults


def _cloth_faults(bolt_width: int, selvage: int, make_up: MakeUp) -> list[Fault]:
    faults = []
    usable = bolt_width - 2 * selvage
    if usable - 2 * make_up.seam_allowance <= 0:
        faults.append(
            Fault(
                ("fabric", "width"),
                "selvages and seam allowances use up the whole width of the cloth: it must be more than {least}",
                "{width}",
                "more than {least}",
                {"width": bolt_width, "least": 2 * (selvage + make_up.seam_allowance)},
            )
        )
    elif make_up.halves is None and flat_width(2 * MOST_WIDTHS, usable, make_up) <= 0:
        faults.append(_too_much(("make_up", "side_hem"), make_up.side_hem))
    if make_up.halves is not None and not make_up.half_widths and make_up.halves % 2:
        faults.append(
            Fault(
                ("make_up", "width_count"),
                "half widths are not allowed by make_up.widths: ask for whole widths, or allow halves",
                str(make_up.halves / 2),
                "a whole number",
            )
        )
    return faults


def _too_much(where: Path, side_hem: int) -> Fault:
    return Fault(
        where,
        "the side hems use up all the cloth: check the figure and its unit",
        "{hem}",
        "less than the cloth is wide",
        {"hem": side_hem},
    )
