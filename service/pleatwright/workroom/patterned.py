"""A panel pleated to the pattern: every space shows the same motif, and the surplus comes off the edges."""

from collections.abc import Sequence

from pleatwright.contract.notes import Caution
from pleatwright.contract.replies import PatternChoice
from pleatwright.faults import Fault, Impossible
from pleatwright.headings.made import Made, Pleat
from pleatwright.lengths import in_units, rounded_in_units
from pleatwright.trade import marks, pins
from pleatwright.trade.laid_out import HangingPoint, LaidOut
from pleatwright.trade.to_pattern import ToPattern, to_pattern
from pleatwright.workroom.laying import FlatPanel, cloth_of
from pleatwright.workroom.reader import Reader


def lay_out_to_pattern(made: Made, flat: FlatPanel, horizontal_repeat: int) -> tuple[LaidOut, list[ToPattern]]:
    """Return the panel with its pitch a whole part of the horizontal repeat, and every way there is, the best first.

    Raises Impossible when there is none, or when the heading is not sewn in pleats.
    """
    if not isinstance(made, Pleat):
        detail = "only sewn pleats are set out by the pattern: leave this out, or take another heading"
        raise Impossible(Fault(("horizontal_repeat",), detail, "{repeat}", "null", {"repeat": horizontal_repeat}))
    choices = to_pattern(cloth_of(made, flat), horizontal_repeat)
    best = choices[0]
    trim, end = best.leading_trim, flat.flat_width - best.return_trim
    row = marks.stations(
        best.layout,
        [("return", flat.leading_return), ("overlap", flat.overlap)],
        [("return", flat.return_)],
        flat.division,
    )
    inside = [seam for seam in flat.seams if trim < seam < end]
    placed = {seam.at + trim: seam for seam in marks.placed_seams(row, [seam - trim for seam in inside])}
    points = pins.pins(row, flat.edge_inset)
    return LaidOut(
        stations=_moved(row, trim, flat.flat_width),
        seams=[_seam(seam, placed) for seam in flat.seams],
        hanging_points=[HangingPoint(each.on, each.number, each.flat + trim, each.finished) for each in points],
        pleats=best.layout,
    ), choices


def caution_of(reader: Reader, best: ToPattern) -> list[Caution]:
    """Return what to take off the edges before the panel is marked."""
    if not (best.leading_trim or best.return_trim):
        return []
    leading, trailing = reader.text(best.leading_trim), reader.text(best.return_trim)
    return [
        Caution(
            kind="trim-to-the-pattern",
            detail=f"Take {leading} off the leading edge and {trailing} off the return edge, before the side hems are "
            "sewn or into them, and never out of the middle.",
        )
    ]


def choice_figures(reader: Reader, flat: FlatPanel, choices: Sequence[ToPattern]) -> list[PatternChoice]:
    """Return the ways to pleat to the pattern as a reply has them."""
    units = reader.units
    return [
        PatternChoice(
            parts=each.parts,
            pleat_count=each.layout.pleat_count,
            space=rounded_in_units(each.layout.space, units),
            take_up=rounded_in_units(each.take_up, units),
            fullness=round((flat.flat_width - each.leading_trim - each.return_trim) / flat.finished_width, 3),
            leading_trim=in_units(each.leading_trim, units),
            return_trim=in_units(each.return_trim, units),
            seams_in_space=each.layout.seams_in_space,
            seams_in_take_up=each.layout.seams_in_take_up,
        )
        for each in choices
    ]


def _moved(row: Sequence[marks.Station], trim: int, flat_width: int) -> list[marks.Station]:
    found = [marks.Station("surplus", 0, trim)] if trim else []
    found += [marks.Station(each.kind, each.start + trim, each.end + trim, each.number) for each in row]
    if found[-1].end < flat_width:
        found.append(marks.Station("surplus", found[-1].end, flat_width))
    return found


def _seam(seam: int, placed: dict[int, marks.PlacedSeam]) -> marks.PlacedSeam:
    if (found := placed.get(seam)) is None:
        return marks.PlacedSeam(seam, "in-surplus", None, None)
    return marks.PlacedSeam(seam, found.place, found.pleat, found.side)
