"""Pleats and pins of a flat panel."""

from dataclasses import dataclass
from typing import Final

import msgspec
from msgspec import UNSET

from pleatwright.contract.replies import (
    Cure,
    PinFigures,
    PinPlace,
    PinsReply,
    PlacedSeam,
    PleatFigures,
    PleatsReply,
    Station,
    TakeUpRange,
)
from pleatwright.contract.requests import Pin, PinsRequest, PleatsRequest
from pleatwright.headings.contract import Pleat, PleatOptions
from pleatwright.headings.host import Headings
from pleatwright.lengths import Units, in_units, rounded_in_units
from pleatwright.trade import cures as trade_cures
from pleatwright.trade import marks
from pleatwright.trade import pins as trade_pins
from pleatwright.trade.cloth import Cloth
from pleatwright.trade.layout import MOST_WORK, Layout, best_layout
from pleatwright.workroom import cautions, usual, worksheet
from pleatwright.workroom.reader import Reader


@dataclass(frozen=True, slots=True)
class FlatPieces:
    """The flat pieces at the edges of a panel."""

    leading_return: int
    overlap: int
    return_: int


@dataclass(frozen=True, slots=True)
class Pleated:
    """A panel with its pleats laid out and marked."""

    cloth: Cloth
    layout: Layout
    stations: list[marks.Station]
    seams: list[marks.PlacedSeam]


def pleats(request: PleatsRequest[PleatOptions], headings: Headings) -> PleatsReply:
    """Return where the pleats and spaces of a flat panel go."""
    reader = Reader(request.units)
    pleated, _ = _pleated(reader, request, headings)
    found = pleat_figures(reader, pleated)
    return PleatsReply(
        **msgspec.structs.asdict(found),
        units=request.units,
        cautions=cautions.of_layout(reader, pleated.layout, pleated.seams),
        assumed=reader.assumed,
        made_with=reader.made_with,
        worksheet=worksheet.pleat_steps(pleated.cloth, pleated.layout, request.units) if request.worksheet else UNSET,
    )


def pins(request: PinsRequest[PleatOptions], headings: Headings) -> PinsReply:
    """Return where the pins of a flat panel go."""
    reader = Reader(request.units)
    rise, edge_inset = read_pin(reader.under("pin"), request.pin)
    above = reader.length(request.heading_above, "heading_above", usual=usual.HEADING_ABOVE, signed=True)
    pleated, pleat = _pleated(reader, request, headings)
    with reader.collecting():
        depth = trade_pins.pin_depth(above, rise, pleat.buckram_depth)
    found = pin_figures(depth, trade_pins.pins(pleated.stations, edge_inset), request.units)
    return PinsReply(
        **msgspec.structs.asdict(found),
        units=request.units,
        cautions=cautions.of_layout(reader, pleated.layout, pleated.seams),
        assumed=reader.assumed,
        made_with=reader.made_with,
        worksheet=worksheet.pin_steps(above, rise, depth, pleated.layout, found.pin_count, request.units)
        if request.worksheet
        else UNSET,
    )


def read_pin(reader: Reader, pin: Pin) -> tuple[int, int]:
    """Read a pin's rise, and its distance from a panel's edge."""
    return (
        reader.length(pin.rise, "rise", usual=usual.PIN_RISE),
        reader.length(pin.edge_inset, "edge_inset", usual=usual.PIN_INSET),
    )


def lay_out(cloth: Cloth, flat: FlatPieces, division: int, most_work: int = MOST_WORK) -> Pleated:
    """Return the panel with its best layout, marked on the rule. Raises Impossible when there is none."""
    layout = best_layout(cloth, most_work)
    row = marks.stations(
        layout, [("return", flat.leading_return), ("overlap", flat.overlap)], [("return", flat.return_)], division
    )
    return Pleated(cloth, layout, row, marks.placed_seams(row, cloth.seams))


def pleat_figures(reader: Reader, pleated: Pleated) -> PleatFigures:
    """Return the figures of a pleated panel, with what would hide the seams that are not hidden."""
    units, layout = reader.units, pleated.layout
    return PleatFigures(
        pleat_count=layout.pleat_count,
        space_count=layout.pleat_count - 1,
        space=rounded_in_units(layout.space, units),
        take_up=TakeUpRange(
            least=rounded_in_units(min(layout.take_ups), units), most=rounded_in_units(max(layout.take_ups), units)
        ),
        stations=[_station(station, units) for station in pleated.stations],
        seams=[
            PlacedSeam(at=in_units(seam.at, units), place=seam.place, pleat=seam.pleat, side=seam.side)
            for seam in pleated.seams
        ],
        cures=_cures(reader, pleated),
    )


def pin_figures(depth: int, places: list[trade_pins.Pin], units: Units) -> PinFigures:
    """Return the figures of a panel's pins."""
    return PinFigures(
        pin_depth=in_units(depth, units),
        pin_count=len(places),
        pins=[
            PinPlace(
                on=pin.on, number=pin.number, flat=in_units(pin.flat, units), finished=in_units(pin.finished, units)
            )
            for pin in places
        ],
    )


def hides_every_seam(pleated: Pleated) -> bool:
    """Tell whether every seam is beside a pleat."""
    return all(seam.place == "beside-pleat" for seam in pleated.seams)


def _pleated(reader: Reader, request: PleatsRequest[PleatOptions], headings: Headings) -> tuple[Pleated, Pleat]:
    pleat = reader.pleat(headings, request.heading)
    flat = FlatPieces(
        reader.length(request.leading_return, "leading_return", usual=usual.NONE),
        reader.length(request.overlap, "overlap", usual=usual.NONE),
        reader.length(request.return_, "return", usual=usual.NONE),
    )
    flat_width = reader.positive(request.flat_width, "flat_width")
    finished_width = reader.positive(request.finished_width, "finished_width")
    seams = tuple(reader.length(seam, "seams", index) for index, seam in enumerate(request.seams))
    forgiven = reader.length(request.take_up_difference, "take_up_difference", usual=usual.FORGIVEN)
    division = reader.positive(request.mark, "mark", usual=usual.MARK)
    reader.check()
    assert pleat is not None, "a heading without a pleat has left a fault"
    cloth = Cloth(
        flat_width=flat_width,
        finished_width=finished_width,
        leading=flat.leading_return + flat.overlap,
        trailing=flat.return_,
        seams=seams,
        take_up=pleat.take_up,
        space=pleat.space,
        forgiven=forgiven,
        pleat_count=request.pleat_count,
    )
    with reader.collecting():
        return lay_out(cloth, flat, division), pleat


def _station(station: marks.Station, units: Units) -> Station:
    return Station(
        kind=station.kind,
        number=UNSET if station.number is None else station.number,
        start=in_units(station.start, units),
        centre=in_units(station.centre, units) if station.kind == "pleat" else UNSET,
        end=in_units(station.end, units),
    )


def _cures(reader: Reader, pleated: Pleated) -> list[Cure]:
    if hides_every_seam(pleated):
        return []
    return [
        Cure(
            change=cure.change,
            amount=in_units(cure.amount, reader.units) if cure.amount else UNSET,
            pleat_count=cure.pleats,
            detail=_CURE_WORDS[cure.change].format(reader.text(cure.amount), cure.pleats),
        )
        for cure in trade_cures.cures(pleated.cloth, reader.usual(usual.STRIP), reader.budget)
    ]


_CURE_WORDS: Final = {
    "pleat-count": "Ask for {1} pleats: they hide every seam.",
    "trim-return-edge": "Trim {0} off the return edge: {1} pleats then hide every seam.",
    "trim-leading-edge": "Trim {0} off the leading edge: {1} pleats then hide every seam.",
}
