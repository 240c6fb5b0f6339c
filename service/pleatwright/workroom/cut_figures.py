"""Cuts and orders as a reply has them."""

from collections.abc import Sequence

from msgspec import UNSET

from pleatwright.contract.cut_lists import CutPlace, Order, PieceServed, RunFigures
from pleatwright.lengths import in_units, length_text, parse_length
from pleatwright.trade.cuts import Served
from pleatwright.trade.repeat import Cut, Run, order_quantity, raised
from pleatwright.workroom.reader import Reader

EIGHTH_OF_A_YARD = parse_length("1/8 yd")


def run_figures(
    reader: Reader,
    run: Run,
    cut_length: int,
    vertical_repeat: int,
    increment: int,
    served: Sequence[Sequence[Served]] | None = None,
) -> RunFigures:
    """Return the figures of a run of cuts of one length; `served` has what each cut serves, by the cut's number."""
    units = reader.units
    return RunFigures(
        raised_cut_length=in_units(raised(cut_length, vertical_repeat), units),
        run_length=in_units(run.length, units),
        order_quantity=in_units(order_quantity(run.length, increment), units),
        order=order(reader, run.length, increment),
        rule_of_thumb_length=in_units(run.rule_of_thumb, units),
        rule_of_thumb_waste=in_units(run.saved, units),
        sequence=[cut_place(reader, cut, served[cut.number - 1] if served else None) for cut in run.cuts],
    )


def cut_place(
    reader: Reader, cut: Cut, served: Sequence[Served] | None, labels: Sequence[str] | None = None
) -> CutPlace:
    """Return the place of a cut; `labels` are those of the windows, in the list of a whole job."""
    units = reader.units
    return CutPlace(
        cut=cut.number,
        start=in_units(cut.start, units),
        end=in_units(cut.end, units),
        phase=in_units(cut.phase, units),
        pieces=UNSET if served is None else [_piece_served(piece, labels) for piece in served],
    )


def _piece_served(piece: Served, labels: Sequence[str] | None) -> PieceServed:
    return PieceServed(
        window=labels[piece.window] if labels else UNSET,
        panel=piece.side,
        width=piece.width,
        half=piece.half is not None,
        half_of_cut=piece.half or UNSET,
    )


def order(reader: Reader, length: int, increment: int) -> Order:
    """Return what to ask the seller for: the length raised to the increment, in the request's units and in words."""
    ordered = order_quantity(length, increment)
    return Order(length=in_units(ordered, reader.units), quantity=quantity_text(reader, ordered))


def quantity_text(reader: Reader, ordered: int) -> str:
    """Write a quantity of cloth in yards, to the eighth, or in metres; in the request's units if it is neither."""
    if reader.units != "in":
        return length_text(ordered, "m")
    return length_text(ordered, "yd", finest=8) if ordered % EIGHTH_OF_A_YARD == 0 else length_text(ordered, "in")
