"""How a panel hangs: the hang section, what to look at in it, and the question the other way round."""

from typing import Final, get_args

from msgspec import UNSET

from pleatwright.contract.hanging import HangFigures, HangReply, HeightOf, HeightOnWall
from pleatwright.contract.notes import Caution, Step
from pleatwright.contract.requests import HangRequest
from pleatwright.faults import Fault
from pleatwright.headings.host import Headings
from pleatwright.headings.made import Made
from pleatwright.headings.options import HeadingOptions
from pleatwright.lengths import Units, in_units
from pleatwright.trade.hang_section import (
    HangSection,
    PinSet,
    hang_section,
    light_shows,
    rubs,
    section_faults,
)
from pleatwright.trade.window import Hang, hang_faults
from pleatwright.workroom import cautions, usual
from pleatwright.workroom.measured import ReadPin, is_pinned, read_hang, read_pin, set_depth
from pleatwright.workroom.reader import Reader
from pleatwright.workroom.sheet import Sheet


def hang(request: HangRequest[HeadingOptions], headings: Headings) -> HangReply:
    """Return every height of one panel: made for these heights, or made already and pinned so."""
    reader = Reader(request.units)
    read = reader.made(headings, request.heading)
    pin = read_pin(reader.under("pin"), request.pin, read, request.hang.mount)
    heights = read_hang(reader.under("hang"), request.hang, read, pin)
    length = None if request.finished_length is None else reader.positive(request.finished_length, "finished_length")
    division = reader.positive(request.mark, "mark", usual=usual.MARK)
    made = reader.settled(read)
    reader.fault(*hang_faults(heights))
    if length is not None and length <= made.depth:
        detail = "the heading alone is {depth} deep: measure from its top to the bottom of the hem"
        lengths = {"length": length, "depth": made.depth}
        reader.fault(Fault(("finished_length",), detail, "{length}", "more than {depth}", lengths))
    set_pin = None
    with reader.remembering():
        set_pin = pin_set(made, heights, pin, division, as_made=length is not None)
    reader.check()
    section = hang_section(heights, set_pin, length)
    reader.fault(*section_faults(section))
    reader.check()
    figures = hang_figures(section, heights, set_pin, request.units)
    return HangReply(
        **{name: getattr(figures, name) for name in figures.__struct_fields__},
        units=request.units,
        cautions=[
            *cautions.of_heading(reader, made),
            *of_section(reader, section, set_pin, made),
            *(of_hem(reader, section, heights) if length is not None else ()),
            *cautions.OF_HANGING,
        ],
        assumed=reader.assumed,
        made_with=reader.made_with,
        worksheet=section_steps(section, heights, set_pin, request.units) if request.worksheet else UNSET,
    )


def pin_set(made: Made, heights: Hang, pin: ReadPin, division: int, *, as_made: bool = False) -> PinSet | None:
    """Return the pin as it is set, its depth on the rule; None where nothing is pinned.

    Raises Impossible when a pin would miss what holds it, but not of a panel that is made: that is told as a caution.
    """
    if not is_pinned(made, heights.mount):
        return None
    if pin.depth is not None and as_made:
        return PinSet(pin.rise, pin.depth)
    return PinSet(pin.rise, set_depth(pin, heights.heading_above, division, made.depth))


def hang_figures(section: HangSection, heights: Hang, pin: PinSet | None, units: Units) -> HangFigures:
    """Return the hang section as a reply has it."""
    return HangFigures(
        mount=section.mount.kind if section.mount else None,
        measured_from=heights.measured_from,
        heights=_heights(section, heights, units),
        finished_length=in_units(section.finished_length, units),
        hung_length=in_units(section.finished_length - section.drawn_up, units),
        heading_above=in_units(section.heading_above, units),
        clearance=in_units(section.clearance, units),
        pin_depth=in_units(pin.depth, units) if pin else None,
        to_ceiling=None if section.to_ceiling is None else in_units(section.to_ceiling, units),
        below_rod=None if section.below_rod is None else in_units(section.below_rod, units),
    )


_ORDER: Final[tuple[HeightOf, ...]] = get_args(HeightOf)


def _heights(section: HangSection, heights: Hang, units: Units) -> list[HeightOnWall]:
    mount = section.mount
    found: dict[HeightOf, int | None] = {
        "ceiling": mount.ceiling if mount else None,
        "rod-top": mount.top if mount else None,
        "rod-underside": mount.underside if mount else None,
        "heading-top": section.top,
        "carrying-point": section.carrying,
        "pin": section.pin,
        "heading-foot": section.heading_foot,
        "hem": section.hem,
    }
    if heights.to == "sill" or heights.to == "apron":
        found[heights.to] = section.level
    if heights.measured_from == "floor":
        found["floor"] = 0
    known = {name: height for name, height in found.items() if height is not None}
    return [
        HeightOnWall(point=name, height=in_units(known[name], units))
        for name in sorted(_ORDER, key=lambda name: -known.get(name, 0))
        if name in known
    ]


def of_section(reader: Reader, section: HangSection, pin: PinSet | None, made: Made) -> list[Caution]:
    """Return cautions about where the heading stands: light above it, the ceiling, the rod, the pin."""
    found = []
    if light := light_shows(section):
        found.append(
            Caution(
                kind="light-above-heading",
                detail=f"Light shows in a gap of {reader.text(light)} above the heading: let it rise higher, with pins "
                "set deeper.",
            )
        )
    clear = reader.usual(usual.CEILING_CLEARANCE)
    if section.to_ceiling is not None and section.to_ceiling < clear:
        found.append(
            Caution(
                kind="scrapes-ceiling",
                detail=f"The heading is {reader.text(section.to_ceiling)} from the ceiling, where it scrapes as it is "
                f"drawn: leave {reader.text(clear)} at least.",
            )
        )
    if rubbing := rubs(section):
        found.append(
            Caution(
                kind="rubs-on-rod",
                detail=f"The heading reaches {reader.text(rubbing)} above the underside of the rod and rubs on it: let "
                "less of it rise above the eye.",
            )
        )
    if pin and pin.depth > made.depth:
        found.append(
            Caution(
                kind="pin-below-buckram",
                detail=f"The pin goes in {reader.text(pin.depth)} down, below the buckram or tape of "
                f"{reader.text(made.depth)}, and tears out: set it higher.",
            )
        )
    return found


def of_hem(reader: Reader, section: HangSection, heights: Hang) -> list[Caution]:
    """Return a caution when the hem of a panel that is made lands elsewhere than it should, beyond the tolerance."""
    off = section.clearance - heights.clearance
    if abs(off) <= reader.usual(usual.TOLERANCE):
        return []
    which, pins, length = ("high", "shallower", "longer") if off > 0 else ("low", "deeper", "shorter")
    away = reader.text(abs(off))
    remedy = f": set the pins {away} {pins}, or make the panel {length}" if section.pin is not None else ""
    return [
        Caution(
            kind="hem-off",
            detail=f"The hem hangs {away} too {which} for a clearance of {reader.text(heights.clearance)}{remedy}.",
        )
    ]


def section_steps(
    section: HangSection, heights: Hang, pin: PinSet | None, units: Units, prefix: str = ""
) -> list[Step]:
    """Return how the heights were reached."""
    sheet = Sheet(units, prefix)
    if mount := section.mount:
        sheet.length(
            "carrying point",
            "top of the rod - top of the rod down to what carries",
            mount.carrying_height,
            top_of_the_rod=mount.top,
            top_of_the_rod_down_to_what_carries=mount.carrying_below,
        )
    if pin:
        sheet.length(
            "top of the heading",
            "carrying point + depth of the pin - rise of the pin",
            section.top,
            carrying_point=section.carrying,
            depth_of_the_pin=pin.depth,
            rise_of_the_pin=pin.rise,
        )
    else:
        sheet.length(
            "top of the heading",
            "carrying point + heading above",
            section.top,
            carrying_point=section.carrying,
            heading_above=heights.heading_above,
        )
    sheet.length(
        "hem",
        "top of the heading - finished length + drawn up by the rod",
        section.hem,
        top_of_the_heading=section.top,
        finished_length=section.finished_length,
        drawn_up_by_the_rod=section.drawn_up,
    )
    return sheet.steps
