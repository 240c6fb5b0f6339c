"""What is measured at the window and settled at the table: rod, hang and make-up, and what can be wrong with them."""

from fractions import Fraction
from typing import Literal

from msgspec import Struct

from pleatwright.faults import Fault
from pleatwright.trade.mounts import Mount

Draw = Literal["pair", "one-way-left", "one-way-right", "off-centre-pair", "fixed-pair"]
HangsTo = Literal["floor", "sill", "apron", "break", "puddle"]


class Rod(Struct, frozen=True):
    """The rod or track: its face, the returns to the wall, and how the panels draw on it.

    `parting` is where an off-centre pair parts, from the left end of the rod; `panel_width` is the face that each panel
    of a fixed pair covers. `leading_return` is a return at the leading end of a one-way draw. `runs` are the straight
    runs of a rod that bends, from left to right; they come to its width.
    """

    width: int
    return_: int
    overlap: int
    draw: Draw
    parting: int | None = None
    panel_width: int | None = None
    leading_return: int = 0
    runs: tuple[int, ...] = ()


class Hang(Struct, frozen=True):
    """Heights above the floor, or, where only a drop is known, above what the panel hangs to: `measured_from`.

    `carrying_height` is that of the point that carries the hook, and `mount` what that point is on, where it is known.

    `level` is the height of what the panel hangs to: 0, or that of the sill or the apron's bottom.
    `clearance` is how far the hem stays above it; a negative one hangs below it, or lies on the floor. `drawn_up` is
    the length that a rod through the heading takes up once the panel hangs, and `heading_depth` is that of its buckram,
    tape or casing. `carried_by` is the figure that the carrying height comes from, where faults with it are placed.
    """

    carrying_height: int
    heading_above: int
    to: HangsTo
    level: int
    clearance: int
    drawn_up: int = 0
    measured_from: Literal["floor", "sill", "apron"] = "floor"
    mount: Mount | None = None
    heading_depth: int = 0
    carried_by: tuple[str, ...] = ("carrying_height",)

    @property
    def finished_length(self) -> int:
        """Top of the heading to the bottom of the hem, on the table [P: UFGS 12 22 00 for the usual clearances]."""
        return self.carrying_height + self.heading_above + self.drawn_up - self.level - self.clearance


class MakeUp(Struct, frozen=True):
    """What sewing takes: each figure is the flat cloth used up, hems and turnings counted with all their layers.

    Of each width `width_lost` is lost to shrinkage and ease; `shrinkage` is the part of its length that a cut loses.
    `half_widths` allows them; `nearest` takes the count of widths nearest the fullness asked, not the fewest that
    reach it; `halves` is the count of half widths when the maker has settled it. The depths are those of the finished
    hems, where they are known.
    """

    side_hem: int
    bottom_hem: int
    top_turning: int
    seam_allowance: int
    ease: int
    half_widths: bool = True
    nearest: bool = False
    halves: int | None = None
    width_lost: int = 0
    shrinkage: Fraction = Fraction(0)
    side_hem_depth: int | None = None
    bottom_hem_depth: int | None = None


def rod_faults(rod: Rod) -> list[Fault]:
    """Return what is wrong with the rod, under `rod`."""
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
    narrowest = _narrowest_share(rod)
    if narrowest > 0 and rod.overlap >= narrowest:
        faults.append(
            Fault(
                ("rod", "overlap"),
                "the overlap leaves no room for pleats: it must be less than {narrowest}",
                "{overlap}",
                "less than {narrowest}",
                lengths | {"overlap": rod.overlap, "narrowest": narrowest},
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
            ("overlap", "a draw that travels", (rod.overlap or None) if rod.draw == "fixed-pair" else None),
        )
        if given is not None
    ]
    return faults


def _narrowest_share(rod: Rod) -> int:
    """Return the overlap at which the narrowest panel would have no pleated span: share - overlap / 2 = 0."""
    match rod.draw:
        case "off-centre-pair" if rod.parting:
            return 2 * min(rod.parting, rod.width - rod.parting)
        case "fixed-pair":
            return 0
        case _:
            return rod.width


def hang_faults(hang: Hang) -> list[Fault]:
    """Return what is wrong with the heights, under `hang`."""
    faults = []
    drop = hang.carrying_height + hang.heading_above - hang.level
    lengths = {"clearance": hang.clearance, "level": hang.level, "height": hang.carrying_height, "drop": drop}
    lengths |= {"length": hang.finished_length, "depth": hang.heading_depth}
    if drop <= 0:
        faults.append(
            Fault(
                ("hang", *hang.carried_by),
                "the panel would have no length: the carrying point must be above what the panel hangs to, both "
                "measured from the floor",
                "{height}",
                "more than {level}",
                lengths,
            )
        )
    elif hang.clearance >= drop:
        faults.append(
            Fault(
                ("hang", "clearance"),
                "the panel would have no length: the clearance must be less than the whole drop of {drop}",
                "{clearance}",
                "less than {drop}",
                lengths,
            )
        )
    elif hang.finished_length <= hang.heading_depth:
        lengths["more"] = hang.carrying_height + hang.heading_depth - hang.finished_length
        faults.append(
            Fault(
                ("hang", *hang.carried_by),
                "the panel would be {length} long, and its heading alone is {depth} deep: check the heights and their "
                "units",
                "{height}",
                "more than {more}",
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


def cloth_faults(bolt_width: int, selvage: int, make_up: MakeUp) -> list[Fault]:
    """Return what is wrong with the cloth's width and the widths asked for, under `fabric` and `make_up`."""
    faults = []
    usable = bolt_width - 2 * selvage - make_up.width_lost
    if usable - 2 * make_up.seam_allowance <= 0:
        faults.append(
            Fault(
                ("fabric", "width"),
                "selvages and seam allowances use up the whole width of the cloth: it must be more than {least}",
                "{width}",
                "more than {least}",
                {"width": bolt_width, "least": 2 * (selvage + make_up.seam_allowance) + make_up.width_lost},
            )
        )
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
