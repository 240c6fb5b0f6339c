"""Cuts from the pieces on the shelf: which cut comes from which piece, and where.

A piece has a length, a dye lot, perhaps flaws, and a phase of the pattern at its start. Every cut is taken whole from
one piece, at its own phase of the pattern, with no flaw inside it; the cuts of one window, or of the whole room, come
from one lot. The best plan takes the fewest pieces, and then the least cloth: the sum, over the pieces, of what lies
before the end of the last cut.

Flaws part a piece into clear stretches. How many cuts of each kind come from each stretch is chosen by CP-SAT of
OR-tools; how long they are together follows from the ring of the pattern (`trade/ring.py`), as flows of whole numbers:
what arrives at a point of the ring leaves it. That the cuts of a stretch hang together, so that they can be cut in one
run, is demanded where a plan lacks it, and the question asked again.

The solver's work is bounded by a count of its own and not by a clock, so that the same shelf gives the same plan; when
the count runs out, the best plan so far comes back with the gap to what could still be proved.
"""

from collections.abc import Iterable, Sequence
from fractions import Fraction
from math import ceil, lcm
from typing import Final

from pleatwright.trade.bolts import Piece, PlacedCut, Plan, Shortfall, Undecided
from pleatwright.trade.repeat import Wanted
from pleatwright.trade.shelf_model import Kind, Model, Stretch

MOST_WORK: Final = 3.0
"""Of the solver's own deterministic units, which are about seconds, for all that is asked of it about one shelf."""


def plan(
    wanted: Sequence[Wanted],
    groups: Sequence[int],
    pieces: Sequence[Piece],
    repeat: int,
    most_work: float = MOST_WORK,
) -> Plan | Shortfall | Undecided:
    """Return the best plan for the cuts; what is missing, when there is none.

    `groups` has a number for each cut: cuts with the same number come from one lot.

    >>> cuts = [Wanted(60), Wanted(60), Wanted(30)]
    >>> best = plan(cuts, [0, 0, 0], [Piece(200), Piece(125), Piece(155)], 0)
    >>> [[cut.index for cut in piece] for piece in best.cuts], best.proved
    ([[0, 1, 2], [], []], True)
    >>> plan(cuts, [0, 0, 0], [Piece(125)], 0)
    Shortfall(length=30, lot='', proved=True)
    """
    return _Shelf(wanted, groups, pieces, repeat, most_work).plan()


def size_of(wanted: Sequence[Wanted], groups: Sequence[int], pieces: Sequence[Piece]) -> int:
    """Return the size of the question: kinds of cuts times clear stretches.

    >>> size_of([Wanted(60), Wanted(60), Wanted(30)], [0, 0, 0], [Piece(200), Piece(125)])
    4
    """
    kinds = len({(cut, group) for cut, group in zip(wanted, groups, strict=True)})
    return kinds * sum(len(list(piece.clear())) for piece in pieces)


class _Shelf:
    """The question, in whole numbers of a unit that every phase is one of."""

    def __init__(
        self, wanted: Sequence[Wanted], groups: Sequence[int], pieces: Sequence[Piece], repeat: int, most_work: float
    ) -> None:
        self.unit = lcm(*(cut.phase.denominator for cut in wanted))
        self.repeat = repeat * self.unit
        kinds: dict[tuple[int, int, int], list[int]] = {}
        for index, (cut, group) in enumerate(zip(wanted, groups, strict=True)):
            kinds.setdefault((cut.length * self.unit, int(cut.phase * self.unit), group), []).append(index)
        self.kinds = [Kind(*kind, cuts) for kind, cuts in kinds.items()]
        self.stretches = [
            Stretch(
                at,
                low * self.unit,
                high * self.unit,
                (piece.phase + low) * self.unit % self.repeat if self.repeat else None,
            )
            for at, piece in enumerate(pieces)
            for low, high in piece.clear()
        ]
        self.lots: list[str | None] = [piece.lot for piece in pieces]
        self.work_left = most_work

    @property
    def cloth(self) -> int:
        """All the cuts, end to end."""
        return sum(kind.length * len(kind.cuts) for kind in self.kinds)

    def plan(self) -> Plan | Shortfall | Undecided:
        """Ask for the fewest pieces, then for the least cloth; for what is missing, if there is no plan."""
        model = Model(self, self.stretches, self.lots)
        fewest = model.least(model.used, _pieces_used)
        if fewest is None:
            return Undecided() if self.work_left <= 0 else self._shortfall()
        model.model.add(sum(model.used) <= fewest.value)
        least = model.least(model.ends, self._cloth_taken)
        if least is None:
            # Nothing is known of a plan with less cloth than the one that was found for the fewest pieces.
            gap = self._cloth_taken(fewest.cuts) - self.cloth
            return Plan(fewest.cuts, fewest.gap, Fraction(gap, self.unit))
        return Plan(least.cuts, fewest.gap, Fraction(least.gap, self.unit))

    def _shortfall(self) -> Shortfall | Undecided:
        """Ask for the shortest further piece, of each lot or of a lot of its own, with which there is a plan."""
        room = self.cloth + self.repeat * (sum(len(kind.cuts) for kind in self.kinds) + 1)
        further = Stretch(len(self.lots), 0, room, None)
        best: tuple[int, str | None] | None = None
        proved = True
        for lot in [*dict.fromkeys(self.lots), None]:
            model = Model(self, [*self.stretches, further], [*self.lots, lot])
            answer = model.least(model.ends[-1:], self._last_taken)
            proved = proved and answer is not None and not answer.gap
            if answer and (best is None or ceil(Fraction(answer.value, self.unit)) < best[0]):
                best = ceil(Fraction(answer.value, self.unit)), lot
        return Shortfall(*best, proved) if best else Undecided()

    def _cloth_taken(self, cuts: Iterable[Sequence[PlacedCut]]) -> int:
        return sum(int(piece[-1].end * self.unit) for piece in cuts if piece)

    def _last_taken(self, cuts: Sequence[Sequence[PlacedCut]]) -> int:
        return self._cloth_taken(cuts[-1:])


def _pieces_used(cuts: Iterable[Sequence[PlacedCut]]) -> int:
    return sum(1 for piece in cuts if piece)
