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

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import pairwise
from math import ceil, lcm
from typing import TYPE_CHECKING, Any, Final

from pleatwright.trade.bolts import Piece, PlacedCut, Plan, Shortfall, Undecided
from pleatwright.trade.repeat import Wanted
from pleatwright.trade.ring import best_order

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

MOST_WORK: Final = 3.0
"""Of the solver's own deterministic units, which are about seconds, for all that is asked of it about one shelf."""
SLACK: Final = 1e-6
"""What the solver's bound, a float, may be off by."""


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


@dataclass(frozen=True, slots=True)
class _Kind:
    """Cuts that are alike, by their places among those wanted."""

    length: int
    phase: int
    group: int
    cuts: list[int] = field(compare=False)


@dataclass(frozen=True, slots=True)
class _Stretch:
    """A stretch without a flaw; `phase` is None where the cloth may begin anywhere in the pattern."""

    piece: int
    low: int
    high: int
    phase: int | None


@dataclass(frozen=True, slots=True)
class _Answer:
    """A plan, what it comes to, and by how much a better one might still beat it."""

    cuts: tuple[tuple[PlacedCut, ...], ...]
    value: int
    gap: int


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
        self.kinds = [_Kind(*kind, cuts) for kind, cuts in kinds.items()]
        self.stretches = [
            _Stretch(
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
        model = _Model(self, self.stretches, self.lots)
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
        further = _Stretch(len(self.lots), 0, room, None)
        best: tuple[int, str | None] | None = None
        proved = True
        for lot in [*dict.fromkeys(self.lots), None]:
            model = _Model(self, [*self.stretches, further], [*self.lots, lot])
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


class _Model:
    """How many cuts of each kind come from each stretch."""

    def __init__(self, shelf: _Shelf, stretches: Sequence[_Stretch], lots: Sequence[str | None]) -> None:
        from ortools.sat.python import cp_model

        self.cp = cp_model
        self.shelf = shelf
        self.stretches = stretches
        self.model = cp_model.CpModel()
        self.kinds = shelf.kinds
        self.points = sorted(
            {point for kind in self.kinds for point in (kind.phase, self._end(kind))} if shelf.repeat else {0}
        )
        self.used = [self.model.new_bool_var("") for _ in lots]
        self.ends: list[Any] = []
        for at in range(len(lots)):
            length = max((stretch.high for stretch in stretches if stretch.piece == at), default=0)
            self.ends.append(self.model.new_int_var(0, length, ""))
        self.parts = [_Part(self, stretch) for stretch in stretches]
        # This follows from what each stretch says, and lets the solver see how much cloth there must be at the least.
        rooms = [0] * len(lots)
        for stretch in stretches:
            rooms[stretch.piece] += stretch.high - stretch.low
        for at, end in enumerate(self.ends):
            together: Any = sum(part.length for part in self.parts if part.stretch.piece == at)
            self.model.add(end >= together)
            self.model.add(together <= rooms[at] * self.used[at])
        self.model.add(sum(room * used for room, used in zip(rooms, self.used, strict=True)) >= shelf.cloth)
        for number, kind in enumerate(self.kinds):
            self.model.add(sum(part.taken[number] for part in self.parts) == len(kind.cuts))
        for group in sorted({kind.group for kind in self.kinds}):
            chosen = {lot: self.model.new_bool_var("") for lot in dict.fromkeys(lots)}
            self.model.add_exactly_one(chosen.values())
            for part in self.parts:
                for number, kind in enumerate(self.kinds):
                    if kind.group == group:
                        lot = lots[part.stretch.piece]
                        self.model.add_implication(part.takes[number], chosen[lot])

    def _end(self, kind: _Kind) -> int:
        return (kind.phase + kind.length) % self.shelf.repeat

    def least(self, summed: Sequence[Any], value: Callable[[Sequence[Sequence[PlacedCut]]], int]) -> _Answer | None:
        """Return the plan for which the sum is least; None when there is none, or none was found in the work left."""
        self.model.minimize(sum(summed))
        best: _Answer | None = None
        while self.shelf.work_left > 0:
            solver = self.cp.CpSolver()
            solver.parameters.num_workers = 1
            solver.parameters.random_seed = 1
            solver.parameters.max_deterministic_time = self.shelf.work_left
            status = solver.solve(self.model)
            self.shelf.work_left -= solver.response_proto.deterministic_time
            if status not in (self.cp.OPTIMAL, self.cp.FEASIBLE):
                break
            bound = ceil(solver.best_objective_bound - SLACK)
            # The next question may start from this plan.
            self.model.clear_hints()  # type: ignore[no-untyped-call]
            hint = self.model.proto.solution_hint
            hint.vars.extend(range(len(solver.response_proto.solution)))
            hint.values.extend(solver.response_proto.solution)
            apart = [part for part in self.parts if part.demand_joined(solver)]
            found = self._read(solver)
            if found and (best is None or value(found) < best.value):
                best = _Answer(found, value(found), value(found) - bound)
            elif best:
                best = _Answer(best.cuts, best.value, best.value - bound)
            if not apart:
                break
        return best

    def _read(self, solver: "cp_model.CpSolver") -> tuple[tuple[PlacedCut, ...], ...] | None:
        """Return the cuts on each piece in order along it; None when a stretch is too short for them in one run."""
        waiting = [iter(kind.cuts) for kind in self.kinds]
        found: list[list[PlacedCut]] = [[] for _ in self.used]
        for part in self.parts:
            cuts = [
                (next(waiting[number]), kind)
                for number, kind in enumerate(self.kinds)
                for _ in range(solver.value(part.taken[number]))
            ]
            if not cuts:
                continue
            placed = list(self._placed(part.stretch, sorted(cuts, key=lambda cut: cut[0])))
            if placed[-1].end * self.shelf.unit > part.stretch.high:
                return None
            found[part.stretch.piece] += placed
        return tuple(map(tuple, found))

    def _placed(self, stretch: _Stretch, cuts: Sequence[tuple[int, _Kind]]) -> Iterator[PlacedCut]:
        repeat, unit = self.shelf.repeat, self.shelf.unit
        order = list(range(len(cuts)))
        if repeat:
            starts = [Fraction(kind.phase) for _, kind in cuts]
            begin = None if stretch.phase is None else Fraction(stretch.phase)
            order = best_order(starts, [kind.length for _, kind in cuts], repeat, begin)
        at, phase = stretch.low, stretch.phase
        for index, kind in (cuts[each] for each in order):
            if repeat and phase is not None:
                at += (kind.phase - phase) % repeat
            yield PlacedCut(index, Fraction(at, unit), Fraction(at + kind.length, unit))
            at += kind.length
            phase = self._end(kind) if repeat else None


class _Part:
    """The cuts from one stretch: how many of each kind, and how often each part of the ring is carried over."""

    def __init__(self, whole: _Model, stretch: _Stretch) -> None:
        self.whole = whole
        self.stretch = stretch
        model = whole.model
        room = stretch.high - stretch.low
        self.taken = [model.new_int_var(0, min(len(kind.cuts), room // kind.length), "") for kind in whole.kinds]
        self.takes = [model.new_bool_var("") for _ in whole.kinds]
        in_use = model.new_bool_var("")
        for taken, takes, kind in zip(self.taken, self.takes, whole.kinds, strict=True):
            model.add(taken <= len(kind.cuts) * takes)
            model.add(taken >= takes)
            model.add_implication(takes, in_use)
        length = sum(kind.length * taken for kind, taken in zip(whole.kinds, self.taken, strict=True))
        self.carried: list[Any] = []
        if whole.shelf.repeat:
            length += self._flow(in_use)
        self.length: Any = length
        model.add(length <= room * in_use)
        model.add(whole.ends[stretch.piece] >= stretch.low * in_use + length)
        model.add_implication(in_use, whole.used[stretch.piece])

    def _flow(self, in_use: Any) -> Any:
        """Add the flow round the ring, and return the length that is carried."""
        whole, repeat = self.whole, self.whole.shelf.repeat
        model, points = whole.model, whole.points
        most = sum(len(kind.cuts) for kind in whole.kinds)
        self.carried = [model.new_int_var(0, most, "") for _ in points]
        starts = {point: model.new_bool_var("") for point in {kind.phase for kind in whole.kinds}}
        ends = {point: model.new_bool_var("") for point in {whole._end(kind) for kind in whole.kinds}}
        model.add(sum(starts.values()) == in_use)
        model.add(sum(ends.values()) == in_use)
        for at, point in enumerate(points):
            leaving = self._taken(kind.phase == point for kind in whole.kinds)
            coming = self._taken(whole._end(kind) == point for kind in whole.kinds)
            model.add(
                self.carried[at - 1] + coming + starts.get(point, 0) == self.carried[at] + leaving + ends.get(point, 0)
            )
            if point in starts:
                model.add(leaving >= starts[point])
            if point in ends:
                model.add(coming >= ends[point])
        before: Any = 0
        if self.stretch.phase is not None:
            before = sum((point - self.stretch.phase) % repeat * start for point, start in starts.items())
        widths = [after - at for at, after in pairwise([*points, points[0] + repeat])]
        return before + sum(width * times for width, times in zip(widths, self.carried, strict=True))

    def _taken(self, chosen: Iterable[bool]) -> Any:
        """Return how many cuts of the chosen kinds are taken."""
        return sum(taken for taken, wanted in zip(self.taken, chosen, strict=True) if wanted)

    def demand_joined(self, solver: "cp_model.CpSolver") -> bool:
        """Demand, if the cuts of this stretch do not hang together, that such cuts do, in every stretch; tell if so."""
        whole = self.whole
        if not self.carried:
            return False
        used = [kind for kind, takes in zip(whole.kinds, self.takes, strict=True) if solver.value(takes)]
        places = {point: at for at, point in enumerate(whole.points)}
        links = [(places[kind.phase], places[whole._end(kind)]) for kind in used]
        links += [(at, (at + 1) % len(places)) for at, times in enumerate(self.carried) if solver.value(times)]
        groups = _joined(len(places), links)
        roots = {groups[places[kind.phase]] for kind in used}
        for root in sorted(roots) if len(roots) > 1 else ():
            inside = {at for at in range(len(places)) if groups[at] == root}
            for part in whole.parts:
                part._join(inside, places)
        return len(roots) > 1

    def _join(self, inside: set[int], places: dict[int, int]) -> None:
        """Demand something that links the points inside with the others, where there are cuts at both."""
        whole = self.whole
        model = whole.model
        within, without = model.new_bool_var(""), model.new_bool_var("")
        links: list[Any] = [
            times for at, times in enumerate(self.carried) if (at in inside) != ((at + 1) % len(places) in inside)
        ]
        for kind, taken, takes in zip(whole.kinds, self.taken, self.takes, strict=True):
            start, end = places[kind.phase] in inside, places[whole._end(kind)] in inside
            if start != end:
                links.append(taken)
            else:
                model.add_implication(takes, within if start else without)
        model.add(sum(links) >= within + without - 1)


def _joined(count: int, links: Iterable[tuple[int, int]]) -> list[int]:
    """Return for each of the points the name of the group that it hangs together with."""
    group = list(range(count))
    for one, other in links:
        if group[one] != group[other]:
            old, new = group[one], group[other]
            group = [new if each == old else each for each in group]
    return group
