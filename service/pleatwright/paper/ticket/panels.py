"""A panel's part of the bench ticket: sizes, the pleat table with its pins, the seams, room for what is measured."""

from collections.abc import Iterator
from typing import Final

from pleatwright.contract.estimates import EstimatedPanel
from pleatwright.contract.replies import HangingPoint, PinFigures, PleatFigures, Station
from pleatwright.lengths import Units
from pleatwright.paper.drawings.marks import heading_in_words
from pleatwright.paper.drawings.words import UNITS_IN_WORDS, counted, told
from pleatwright.paper.places import seam_place
from pleatwright.paper.ticket.model import Blanks, Block, Facts, Table

_EDGES: Final = {"left": "right", "right": "left"}


def panel_blocks(panel: EstimatedPanel, units: Units, *, alike: bool) -> Iterator[Block]:
    """Yield the blocks of one panel, or of two that are `alike` but for their side."""
    own = f"{panel.side.capitalize()} panel"
    side = "Both panels, alike" if alike else f"{own}: face up, its leading edge is at your {_EDGES[panel.side]}"
    yield Facts(side, tuple(_sizes(panel, units)))
    yield from heading_blocks(panel.pleats, panel.pins, units, "" if alike else f"{own}: ")
    yield Blanks("As measured" if alike else f"{own}: as measured", tuple(_measured(panel, units)))


def heading_blocks(pleats: PleatFigures, pins: PinFigures, units: Units, side: str) -> Iterator[Block]:
    """Yield the table of what to mark, with the pins, and the seams; `side` goes before their captions."""
    where = _capital(f"{side}marks, each from its panel's leading edge, in {UNITS_IN_WORDS[units]}")
    if pleats.layout == "pleats":
        head = ("piece", "from", "centre", "to", "wide", "space after", "pin", "pin at", "finished at")
        yield Table(where, head, tuple(_pieces(pleats, pins, units)), ticked=True)
    elif pleats.hanging_points:
        word = pleats.points.word if pleats.points else "hook"
        rows = tuple(
            (f"{word} {point.number}", told(point.flat, units), told(point.finished, units))
            for point in pleats.hanging_points
        )
        yield Table(where, (word, "flat at", "finished at"), rows, ticked=True)
    if pleats.seams:
        seams = tuple(
            (f"seam {number}", f"{told(seam.at, units)}, {seam_place(pleats, seam)}")
            for number, seam in enumerate(pleats.seams, 1)
        )
        yield Facts(_capital(f"{side}seams, from the leading edge"), seams)


def _pieces(pleats: PleatFigures, pins: PinFigures, units: Units) -> Iterator[tuple[str, ...]]:
    """Yield a row for each piece of the flat panel, and beside it the space after it and the pins that go into it."""
    numbered = list(enumerate(pins.pins, 1))
    spaces = {station.start: station.end - station.start for station in pleats.stations if station.kind == "space"}
    for station in pleats.stations:
        if station.kind == "space":
            continue
        own = [(number, pin) for number, pin in numbered if _goes_into(pin, station)]
        name = {"surplus": "cut off"}.get(station.kind, station.kind)
        yield (
            f"{name} {station.number}" if station.number else name,
            told(station.start, units),
            told(station.centre, units) if station.centre else "",
            told(station.end, units),
            told(station.end - station.start, units),
            told(spaces[station.end], units) if station.end in spaces else "",
            ", ".join(str(number) for number, _ in own),
            ", ".join(told(pin.flat, units) for _, pin in own),
            ", ".join(told(pin.finished, units) for _, pin in own),
        )


def _goes_into(pin: HangingPoint, station: Station) -> bool:
    same = pin.on == station.kind and (pin.on != "pleat" or pin.number == station.number)
    return same and station.start <= pin.flat <= station.end


def _sizes(panel: EstimatedPanel, units: Units) -> Iterator[tuple[str, str]]:
    yield "finished", f"{told(panel.finished_width, units)} wide, {told(panel.finished_length, units)} long"
    yield "flat", f"{told(panel.flat_width, units)} wide, of {counted(panel.widths, 'width')}"
    raised = f", raised to {told(panel.raised_cut_length, units)}" if panel.raised_cut_length > panel.cut_length else ""
    yield "cut length", f"{told(panel.cut_length, units)}{raised}"
    yield "fullness", f"{panel.fullness:g} times"
    yield "heading", heading_in_words(panel.pleats, units)
    sewn = panel.sewn
    taken = (
        ("top turning", sewn.top_turning),
        ("bottom hem", sewn.bottom_hem),
        ("each side hem", sewn.side_hem),
        ("each side of a seam", sewn.seam_allowance if panel.seams else 0),
    )
    yield "make-up takes", "; ".join(f"{word} {told(value, units)}" for word, value in taken if value)
    if panel.pins.pin_depth is not None:
        kind = "pins" if panel.pleats.pleat_count else "hooks"
        yield "pins", f"{panel.pins.pin_count} {kind}, {told(panel.pins.pin_depth, units)} down from the top"


def _measured(panel: EstimatedPanel, units: Units) -> Iterator[tuple[str, str]]:
    yield "flat width", told(panel.flat_width, units)
    for number, seam in enumerate(panel.seams, 1):
        yield f"seam {number}", told(seam.at, units)
    yield "finished width", told(panel.finished_width, units)
    length = told(panel.finished_length, units)
    yield from ((f"length, {place}", length) for place in ("leading edge", "middle", "return edge"))


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
