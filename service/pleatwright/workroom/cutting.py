"""Cuts along the bolt, and what to order."""

import msgspec
from msgspec import UNSET

from pleatwright.contract.cut_lists import ShelfFigures
from pleatwright.contract.notes import Progress
from pleatwright.contract.replies import RepeatReply
from pleatwright.contract.requests import RepeatRequest
from pleatwright.trade.repeat import Wanted, in_turn, raised, shortest_run
from pleatwright.workroom import usual, worksheet
from pleatwright.workroom.cut_figures import run_figures
from pleatwright.workroom.fabrics import labels_of, read_bolts, read_drop
from pleatwright.workroom.reader import Reader
from pleatwright.workroom.shelving import ServedCuts, Shelf, shelf_figures
from pleatwright.workroom.work import Work, at_once


def repeat(request: RepeatRequest) -> RepeatReply:
    """Return the shortest run of cuts of one length; each cut starts one drop of the pattern after the one before."""
    return at_once(repeat_in_parts(request))


def repeat_in_parts(request: RepeatRequest) -> Work[RepeatReply]:
    """Return `repeat`, cuts from the pieces on the shelf being a part for another thread."""
    reader = Reader(request.units)
    cut_length = reader.positive(request.cut_length, "cut_length")
    vertical_repeat = reader.length(request.vertical_repeat, "vertical_repeat", usual=usual.NONE)
    increment = reader.positive(request.increment, "increment", usual=usual.INCREMENT)
    drop = read_drop(request.drop_match)
    pieces = read_bolts(reader, request.bolts, vertical_repeat)
    division = reader.positive(request.mark, "mark", usual=usual.MARK) if pieces else 1
    reader.check()
    with reader.collecting():
        wanted = in_turn(cut_length, request.cuts, vertical_repeat, drop)

    run = shortest_run(wanted, vertical_repeat, drop)

    def from_shelf() -> ShelfFigures:
        shelf = Shelf(pieces, labels_of(request.bolts), request.one_lot, vertical_repeat)
        on_rule = [Wanted(raised(cut.length, division), cut.phase) for cut in wanted]
        with reader.collecting():
            return shelf_figures(reader, shelf, ServedCuts(on_rule, [division] * len(wanted)))

    shelf = None
    if pieces:
        yield Progress(doing="cuts from the pieces on the shelf", done=0, of=None)
        shelf = yield from_shelf
    return RepeatReply(
        **msgspec.structs.asdict(run_figures(reader, run, cut_length, vertical_repeat, increment)),
        shelf=shelf,
        units=request.units,
        cautions=[],
        assumed=reader.assumed,
        made_with=reader.made_with,
        worksheet=worksheet.run_steps(cut_length, vertical_repeat, drop, increment, run, request.units)
        if request.worksheet
        else UNSET,
    )
