"""Cuts from the pieces on the shelf, as a reply has them."""

from collections.abc import Sequence
from fractions import Fraction
from typing import Final, Literal

from msgspec import Struct

from pleatwright.contract.cut_lists import BoltCuts, FlawPlace, ShelfFigures
from pleatwright.contract.cut_lists import Shortfall as ShortfallFigures
from pleatwright.faults import Fault, Impossible
from pleatwright.lengths import in_units
from pleatwright.trade.bolts import Piece, PlacedCut, Plan, Shortfall
from pleatwright.trade.cuts import Served
from pleatwright.trade.repeat import Cut, Wanted
from pleatwright.trade.ring import joined
from pleatwright.trade.shelf import MOST_WORK, plan, size_of
from pleatwright.workroom import usual
from pleatwright.workroom.cut_figures import cut_place, order
from pleatwright.workroom.reader import Reader

MOST_SIZE: Final = 8000
"""Kinds of cuts times clear stretches in one question: what the solver can be asked in its time."""


class Shelf(Struct, frozen=True):
    """Pieces of one fabric, what they are called, whose cuts come from one lot, and the repeat, 0 for plain cloth."""

    pieces: Sequence[Piece]
    labels: Sequence[str]
    one_lot: Literal["window", "room", "none"]
    vertical_repeat: int


class ServedCuts(Struct, frozen=True):
    """Cuts that are wanted: what each serves, and in what divisions of the rule it is cut."""

    wanted: Sequence[Wanted]
    divisions: Sequence[int]
    served: Sequence[Sequence[Served]] | None = None
    labels: Sequence[str] | None = None


def shelf_figures(reader: Reader, shelf: Shelf, cuts: ServedCuts, most_work: float = MOST_WORK) -> ShelfFigures:
    """Return the cuts taken from the pieces on the shelf, or what is missing. Raises Impossible when it is too much."""
    pieces = shelf.pieces
    if shelf.one_lot == "none":
        pieces = [Piece(piece.length, "", piece.phase, piece.flaws) for piece in pieces]
    groups = _groups(cuts, shelf.one_lot)
    if size_of(cuts.wanted, groups, pieces) > MOST_SIZE:
        detail = "these are too many pieces and flaws for so many kinds of cuts: offer fewer pieces, or split the job"
        raise Impossible(Fault(("bolts",), detail))
    found = plan(cuts.wanted, groups, pieces, shelf.vertical_repeat, most_work)
    match found:
        case Plan():
            return ShelfFigures(
                outcome="proved" if found.proved else "best-found",
                bolts=[_bolt(reader, shelf, at, placed, cuts) for at, placed in enumerate(found.cuts) if placed],
                bolts_gap=found.pieces_gap,
                cloth_gap=in_units(found.cloth_gap, reader.units),
                shortfall=None,
            )
        case Shortfall():
            asked = order(reader, found.length, reader.usual(usual.INCREMENT))
            return ShelfFigures(
                outcome="short",
                bolts=[],
                bolts_gap=0,
                cloth_gap=0,
                shortfall=ShortfallFigures(
                    length=in_units(found.length, reader.units),
                    quantity=asked.quantity,
                    lot=found.lot or None,
                    proved=found.proved,
                ),
            )
        case _:
            return ShelfFigures(outcome="undecided", bolts=[], bolts_gap=0, cloth_gap=0, shortfall=None)


def _groups(cuts: ServedCuts, one_lot: Literal["window", "room", "none"]) -> list[int]:
    """Return for each cut the group that comes from one lot; windows that share a cut are one."""
    if one_lot != "window" or cuts.served is None:
        return [0] * len(cuts.wanted)
    windows = 1 + max(piece.window for served in cuts.served for piece in served)
    links = [(served[0].window, piece.window) for served in cuts.served for piece in served]
    group = joined(windows, links)
    return [group[served[0].window] for served in cuts.served]


def _bolt(reader: Reader, shelf: Shelf, at: int, placed: Sequence[PlacedCut], cuts: ServedCuts) -> BoltCuts:
    units, piece = reader.units, shelf.pieces[at]
    places = []
    for cut in placed:
        wanted, division = cuts.wanted[cut.index], cuts.divisions[cut.index]
        start = Fraction(round(cut.start / division) * division)
        on_rule = Cut(cut.index + 1, start, start + wanted.length, wanted.phase)
        places.append(cut_place(reader, on_rule, cuts.served[cut.index] if cuts.served else None, cuts.labels))
    taken = placed[-1].end
    lost = taken - sum((cut.end - cut.start for cut in placed), Fraction(0))
    return BoltCuts(
        bolt=shelf.labels[at],
        lot=piece.lot or None,
        length=in_units(piece.length, units),
        phase=in_units(piece.phase, units),
        flaws=[
            FlawPlace(start=in_units(flaw.start, units), end=in_units(flaw.end, units))
            for flaw in sorted(piece.flaws, key=lambda flaw: (flaw.start, flaw.end))
        ],
        cuts=places,
        left_over=in_units(piece.length - taken, units),
        lost=in_units(lost, units),
    )
