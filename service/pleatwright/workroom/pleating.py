"""The heading of a flat panel laid out, and its pins."""

from itertools import pairwise
from typing import Final

import msgspec
from msgspec import UNSET

from pleatwright.contract import replies
from pleatwright.contract.cut_lists import Side
from pleatwright.contract.replies import Cure, PinFigures, PinsReply, PleatFigures, PleatsReply
from pleatwright.contract.requests import PinsRequest, PleatsRequest
from pleatwright.faults import Fault
from pleatwright.headings.host import Headings
from pleatwright.headings.made import Made, Pleat
from pleatwright.headings.options import HeadingOptions
from pleatwright.lengths import each_in_units, in_units, rounded_in_units, seen
from pleatwright.paper.flat import FlatPaper
from pleatwright.trade import marks
from pleatwright.trade.laid_out import EvenPoints, HangingPoint, LaidOut
from pleatwright.workroom import cautions, usual, worksheet
from pleatwright.workroom.as_sewn import as_sewn, caution_of, read_planned
from pleatwright.workroom.laying import FlatPanel, cures_of, lay_out, overlap_faults
from pleatwright.workroom.measured import read_heading_above, read_pin, set_depth
from pleatwright.workroom.patterned import caution_of as trim_caution
from pleatwright.workroom.patterned import choice_figures, lay_out_to_pattern
from pleatwright.workroom.reader import Reader


def pleats(request: PleatsRequest[HeadingOptions], headings: Headings) -> PleatsReply:
    """Return where the pleats and spaces of a flat panel go, or its gathers, or the points it hangs from."""
    return _pleats(request, headings)[0]


def pleats_paper(request: PleatsRequest[HeadingOptions], headings: Headings, side: Side) -> FlatPaper:
    """Return the same panel for its papers; `side` says which one it is."""
    reply, made = _pleats(request, headings)
    return _paper(request, reply, reply, None, made, side)


def _pleats(request: PleatsRequest[HeadingOptions], headings: Headings) -> tuple[PleatsReply, Made]:
    reader = Reader(request.units)
    read = reader.made(headings, request.heading)
    flat = _read_flat(reader, request, read, reader.usual(usual.PIN_INSET))
    plan = read_planned(reader, request.planned, flat) if request.planned else None
    repeat = reader.length(request.horizontal_repeat, "horizontal_repeat", usual=usual.NONE)
    if repeat and plan:
        detail = "a panel pleated to the pattern is set out afresh from what was measured: leave the plan out"
        reader.fault(Fault(("planned",), detail, None, "null"))
    made = reader.settled(read)
    choices = None
    with reader.collecting():
        if repeat:
            laid_out, choices = lay_out_to_pattern(made, flat, repeat)
        else:
            laid_out = lay_out(made, flat)
    largest = reader.largest_pleat(headings, request.heading, made, laid_out)
    found = as_sewn(reader, made, plan, flat, laid_out) if plan else None
    reply = PleatsReply(
        **msgspec.structs.asdict(pleat_figures(reader, made, flat, laid_out)),
        units=request.units,
        as_sewn=found,
        pattern=choice_figures(reader, flat, choices) if choices else None,
        cautions=[
            *cautions.of_heading(reader, made),
            *cautions.of_layout(reader, made, laid_out, largest),
            *(caution_of(reader, found) if found else ()),
            *(trim_caution(reader, choices[0]) if choices else ()),
        ],
        assumed=reader.assumed,
        made_with=reader.made_with,
        worksheet=worksheet.heading_steps(flat, laid_out, request.units) if request.worksheet else UNSET,
    )
    return reply, made


def pins(request: PinsRequest[HeadingOptions], headings: Headings) -> PinsReply:
    """Return where the pins or hooks of a flat panel go; none for a heading that is not pinned."""
    return _pins(request, headings)[0]


def pins_paper(request: PinsRequest[HeadingOptions], headings: Headings, side: Side) -> FlatPaper:
    """Return the panel with its pins for its papers; `side` says which one it is."""
    reply, reader, made, flat, laid_out = _pins(request, headings)
    return _paper(request, reply, pleat_figures(reader, made, flat, laid_out), reply, made, side)


def _pins(
    request: PinsRequest[HeadingOptions], headings: Headings
) -> tuple[PinsReply, Reader, Made, FlatPanel, LaidOut]:
    reader = Reader(request.units)
    if request.planned:
        reader.fault(
            Fault(("planned",), "pins go where the pleats are, not where they were to be: leave it out", None, "null")
        )
    if request.horizontal_repeat is not None:
        detail = "ask for the pleats of this panel first, trim its edges, and then for the pins of what is left"
        reader.fault(Fault(("horizontal_repeat",), detail, seen(request.horizontal_repeat), "null"))
    read = reader.made(headings, request.heading)
    pin = read_pin(reader.under("pin"), request.pin, read)
    above = read_heading_above(reader, request.heading_above, read, pin)
    flat = _read_flat(reader, request, read, pin.edge_inset)
    made = reader.settled(read)
    with reader.collecting():
        laid_out = lay_out(made, flat)
        depth = set_depth(pin, above, flat.division, made.depth) if made.is_pinned else None
    largest = reader.largest_pleat(headings, request.heading, made, laid_out)
    reply = PinsReply(
        **msgspec.structs.asdict(pin_figures(reader, depth, _hanging_points(reader, laid_out.hanging_points))),
        units=request.units,
        cautions=[*cautions.of_heading(reader, made), *cautions.of_layout(reader, made, laid_out, largest)],
        assumed=reader.assumed,
        made_with=reader.made_with,
        worksheet=worksheet.pin_steps(above, pin.rise, depth, laid_out, request.units) if request.worksheet else UNSET,
    )
    return reply, reader, made, flat, laid_out


def _paper(
    request: PleatsRequest[HeadingOptions],
    reply: PleatsReply | PinsReply,
    figures: PleatFigures,
    pins: PinFigures | None,
    made: Made,
    side: Side,
) -> FlatPaper:
    [style] = reply.made_with.styles
    return FlatPaper(
        style=style,
        side=side,
        units=request.units,
        depth=made.depth,
        pleats=figures,
        pins=pins,
        cautions=reply.cautions,
        assumed=reply.assumed,
        made_with=reply.made_with,
    )


def pleat_figures(reader: Reader, made: Made, flat: FlatPanel, laid_out: LaidOut) -> PleatFigures:
    """Return the figures of a panel laid out, with what would hide the seams that are not hidden."""
    units, layout = reader.units, laid_out.pleats
    return PleatFigures(
        layout=made.layout,
        pleat_count=layout.pleat_count if layout else 0,
        space_count=layout.pleat_count - 1 if layout else 0,
        space=rounded_in_units(layout.space, units) if layout else None,
        take_up=replies.Range(
            least=rounded_in_units(layout.least_take_up, units), most=rounded_in_units(layout.most_take_up, units)
        )
        if layout
        else None,
        points=_points(reader, made, laid_out.points),
        stations=_stations(reader, laid_out.stations),
        seams=[_seam(reader, seam) for seam in laid_out.seams],
        hanging_points=_hanging_points(reader, laid_out.hanging_points),
        cures=[] if laid_out.hides_every_seam else _cures(reader, made, flat),
    )


def pin_figures(reader: Reader, depth: int | None, points: list[replies.HangingPoint]) -> PinFigures:
    """Return the figures of a panel's pins or hooks; `depth` is None for a heading that is not pinned."""
    if depth is None:
        return PinFigures(pin_depth=None, pin_count=0, pins=[])
    return PinFigures(pin_depth=in_units(depth, reader.units), pin_count=len(points), pins=points)


def _read_flat(reader: Reader, request: PleatsRequest[HeadingOptions], made: Made | None, edge_inset: int) -> FlatPanel:
    """Read a panel as it lies flat."""
    leading_return = reader.length(request.leading_return, "leading_return", usual=usual.NONE)
    overlap = reader.length(request.overlap, "overlap", usual=usual.NONE)
    if made:
        reader.fault(*overlap_faults(made, overlap))
    return FlatPanel(
        flat_width=reader.positive(request.flat_width, "flat_width"),
        finished_width=reader.positive(request.finished_width, "finished_width"),
        leading_return=leading_return,
        overlap=overlap,
        return_=reader.length(request.return_, "return", usual=usual.NONE),
        seams=tuple(reader.length(seam, "seams", index) for index, seam in enumerate(request.seams)),
        forgiven=_read_forgiven(reader, request.take_up_difference, made),
        pleat_count=request.pleat_count,
        edge_inset=edge_inset,
        division=reader.positive(request.mark, "mark", usual=usual.MARK),
    )


def _read_forgiven(reader: Reader, given: float | str | None, made: Made | None) -> int:
    if made is None or isinstance(made, Pleat):
        return reader.length(given, "take_up_difference", usual=usual.FORGIVEN)
    if given is not None:
        detail = "this heading has no take-ups to differ: leave it out"
        reader.fault(Fault(("take_up_difference",), detail, seen(given), "null"))
    return 0


def _stations(reader: Reader, row: list[marks.Station]) -> list[replies.Station]:
    units = reader.units
    edges = each_in_units([row[0].start, *(piece.end for piece in row)], units)
    centres = iter(each_in_units([piece.start + piece.end for piece in row if piece.kind == "pleat"], units, parts=2))
    return [
        replies.Station(
            kind=piece.kind,
            number=UNSET if piece.number is None else piece.number,
            start=start,
            centre=next(centres) if piece.kind == "pleat" else UNSET,
            end=end,
        )
        for piece, (start, end) in zip(row, pairwise(edges), strict=True)
    ]


def _seam(reader: Reader, seam: marks.PlacedSeam) -> replies.PlacedSeam:
    return replies.PlacedSeam(
        at=in_units(seam.at, reader.units),
        place=seam.place,
        pleat=seam.pleat,
        side=seam.side,
        point=UNSET if seam.point is None else seam.point,
    )


def _points(reader: Reader, made: Made, points: EvenPoints | None) -> replies.EvenPoints | None:
    if points is None:
        return None
    return replies.EvenPoints(
        word=made.word,
        count=points.count,
        gap=rounded_in_units(points.gap, reader.units),
        finished_gap=rounded_in_units(points.finished_gap, reader.units),
    )


def _hanging_points(reader: Reader, points: list[HangingPoint]) -> list[replies.HangingPoint]:
    flat = each_in_units([point.flat for point in points], reader.units)
    finished = each_in_units([point.finished for point in points], reader.units)
    return [
        replies.HangingPoint(on=point.on, number=point.number, flat=on_flat, finished=on_finished)
        for point, on_flat, on_finished in zip(points, flat, finished, strict=True)
    ]


def _cures(reader: Reader, made: Made, flat: FlatPanel) -> list[Cure]:
    return [
        Cure(
            change=cure.change,
            amount=in_units(cure.amount, reader.units) if cure.amount else UNSET,
            count=cure.count,
            detail=_CURE_WORDS[cure.change].format(reader.text(cure.amount), f"{cure.count} {made.word}s"),
        )
        for cure in cures_of(made, flat, reader.usual(usual.STRIP), reader.budget)
    ]


_CURE_WORDS: Final = {
    "pleat-count": "Ask for {1}: they hide every seam.",
    "trim-return-edge": "Trim {0} off the return edge: {1} then hide every seam.",
    "trim-leading-edge": "Trim {0} off the leading edge: {1} then hide every seam.",
}
