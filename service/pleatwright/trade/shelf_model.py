"""The model that CP-SAT solves for a shelf: how many cuts of each kind come from each stretch without a flaw."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import pairwise
from math import ceil
from typing import TYPE_CHECKING, Any, Final, Protocol

from pleatwright.trade.bolts import PlacedCut
from pleatwright.trade.ring import best_order, joined

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

SLACK: Final = 1e-6
"""What the solver's bound, a float, may be off by."""


@dataclass(frozen=True, slots=True)
class Kind:
    """Cuts that are alike, by their places among those wanted."""

    length: int
    phase: int
    group: int
    cuts: list[int] = field(compare=False)


@dataclass(frozen=True, slots=True)
class Stretch:
    """A stretch without a flaw; `phase` is None where the cloth may begin anywhere in the pattern."""

    piece: int
    low: int
    high: int
    phase: int | None


@dataclass(frozen=True, slots=True)
class Answer:
    """A plan, what it comes to, and by how much a better one might still beat it."""

    cuts: tuple[tuple[PlacedCut, ...], ...]
    value: int
    gap: int


class Question(Protocol):
    """What is asked: kinds of cuts and a repeat, in whole numbers of a unit, and the work that may still be done."""

    unit: int
    repeat: int
    kinds: list[Kind]
    work_left: float

    @property
    def cloth(self) -> int:
        """All the cuts, end to end."""


class Model:
    """How many cuts of each kind come from each stretch."""

    def __init__(self, shelf: Question, stretches: Sequence[Stretch], lots: Sequence[str | None]) -> None:
        from ortools.sat.python import cp_model

        self.cp = cp_model
        self.shelf = shelf
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

    def _end(self, kind: Kind) -> int:
        return (kind.phase + kind.length) % self.shelf.repeat

    def least(self, summed: Sequence[Any], value: Callable[[Sequence[Sequence[PlacedCut]]], int]) -> Answer | None:
        """Return the plan for which the sum is least; None when there is none, or none was found in the work left."""
        self.model.minimize(sum(summed))
        best: Answer | None = None
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
            self.model.clear_hints()  # type: ignore[no-untyped-call]  # the solver's own, which has no types
            hint = self.model.proto.solution_hint
            hint.vars.extend(range(len(solver.response_proto.solution)))
            hint.values.extend(solver.response_proto.solution)
            apart = [part for part in self.parts if part.demand_joined(solver)]
            found = self._read(solver)
            if found and (best is None or value(found) < best.value):
                best = Answer(found, value(found), value(found) - bound)
            elif best:
                best = Answer(best.cuts, best.value, best.value - bound)
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

    def _placed(self, stretch: Stretch, cuts: Sequence[tuple[int, Kind]]) -> Iterator[PlacedCut]:
        repeat, unit = self.shelf.repeat, self.shelf.unit
        order: Sequence[int] = range(len(cuts))
        if repeat:
            phases, lengths = [kind.phase for _, kind in cuts], [kind.length for _, kind in cuts]
            order = best_order(phases, lengths, repeat, stretch.phase)
        at, phase = stretch.low, stretch.phase
        for index, kind in (cuts[each] for each in order):
            if repeat and phase is not None:
                at += (kind.phase - phase) % repeat
            yield PlacedCut(index, Fraction(at, unit), Fraction(at + kind.length, unit))
            at += kind.length
            phase = self._end(kind) if repeat else None


class _Part:
    """The cuts from one stretch: how many of each kind, and how often each part of the ring is carried over."""

    def __init__(self, whole: Model, stretch: Stretch) -> None:
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
        groups = joined(len(places), links)
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
