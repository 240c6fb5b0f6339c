"""Cuts along the bolt, and what to order."""

from collections.abc import Sequence

import msgspec
from msgspec import UNSET

from pleatwright.contract.replies import CutPlace, Order, PieceServed, RepeatReply, RunFigures
from pleatwright.contract.requests import RepeatRequest
from pleatwright.lengths import in_units, length_text, parse_length
from pleatwright.trade.repeat import Run, order_quantity, shortest_run
from pleatwright.workroom import usual, worksheet
from pleatwright.workroom.panelling import DROPS
from pleatwright.workroom.reader import Reader

EIGHTH_OF_A_YARD = parse_length("1/8 yd")


def repeat(request: RepeatRequest) -> RepeatReply:
    """Return the shortest run of cuts of one length; each cut starts one drop of the pattern after the one before."""
    reader = Reader(request.units)
    cut_length = reader.positive(request.cut_length, "cut_length")
    vertical_repeat = reader.length(request.vertical_repeat, "vertical_repeat", usual=usual.NONE)
    increment = reader.positive(request.increment, "increment", usual=usual.INCREMENT)
    drop = DROPS[request.drop_match]
    reader.check()
    with reader.collecting():
        run = shortest_run(cut_length, range(request.cuts), vertical_repeat, drop)
    return RepeatReply(
        **msgspec.structs.asdict(run_figures(reader, run, increment)),
        units=request.units,
        cautions=[],
        assumed=reader.assumed,
        made_with=reader.made_with,
        worksheet=worksheet.run_steps(cut_length, vertical_repeat, drop, increment, run, request.units)
        if request.worksheet
        else UNSET,
    )


def run_figures(
    reader: Reader, run: Run, increment: int, served: Sequence[Sequence[PieceServed]] | None = None
) -> RunFigures:
    """Return the figures of a run; `served` has the pieces that each cut serves, by the cut's number."""
    units = reader.units
    ordered = order_quantity(run.length, increment)
    return RunFigures(
        raised_cut_length=in_units(run.raised_cut, units),
        run_length=in_units(run.length, units),
        order_quantity=in_units(ordered, units),
        order=order(reader, run.length, increment),
        rule_of_thumb_length=in_units(run.rule_of_thumb, units),
        sequence=[
            CutPlace(
                cut=cut.number,
                start=in_units(cut.start, units),
                end=in_units(cut.end, units),
                phase=in_units(cut.phase, units),
                pieces=list(served[cut.number - 1]) if served else UNSET,
            )
            for cut in run.cuts
        ],
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
