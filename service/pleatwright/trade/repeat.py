"""Cuts along the bolt when the cloth has a pattern: phases, the shortest run, and what to order.

Each cut must start at its own phase of the vertical repeat V, or widths would not meet level. With a drop of p/q of the
repeat there are q phases, V/q apart. Counting the bolt in steps of V/q, a cut takes h = ceil(cut length · q / V) steps
before the next may start, and then waits for the step at which that one's phase comes round. The last cut waits for
nothing. The shortest run is the order of cutting with the fewest steps waited.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from typing import Final

from pleatwright.faults import Fault, Impossible

MOST_CUTS: Final = 1000


@dataclass(frozen=True, slots=True)
class Cut:
    """One cut of the run: which one it is, where it starts and ends on the bolt, and at which phase of the pattern.

    `start`, `end` and `phase` are exact grid lengths; a third of a repeat may fall between two grid points.
    """

    number: int
    start: Fraction
    end: Fraction
    phase: Fraction


@dataclass(frozen=True, slots=True)
class Run:
    """The cuts in the order of cutting, and the length they take.

    `raised_cut` is the cut raised to whole repeats. `rule_of_thumb` is what the usual reckoning would order: every cut
    raised, and the drop added to each.
    """

    cuts: tuple[Cut, ...]
    length: int
    raised_cut: int
    rule_of_thumb: int


def raised(cut_length: int, repeat: int) -> int:
    """Return the least whole number of repeats that is not below the cut length; the length itself for plain cloth.

    >>> raised(100, 27), raised(108, 27), raised(100, 0)
    (108, 108, 100)
    """
    return -(-cut_length // repeat) * repeat if repeat else cut_length


def shortest_run(cut_length: int, phases: Sequence[int], repeat: int, drop: Fraction) -> Run:
    """Return the shortest run of cuts of one length, the i-th of which starts at `phases[i]` drops of the pattern.

    The order of cutting is the best there is, and of several the one that keeps closest to the order given.

    Raises Impossible for a cut or a count that cannot be.

    A half-drop of 24 in on cuts of 60 in: in turn they need no waste at all.

    >>> run = shortest_run(60, [0, 1, 0, 1], 24, Fraction(1, 2))
    >>> run.length, run.raised_cut, run.rule_of_thumb
    (240, 72, 336)
    """
    _check(cut_length, len(phases), repeat)
    if not repeat:
        ends = [cut_length * (index + 1) for index in range(len(phases))]
        cuts = tuple(
            Cut(number, Fraction(end - cut_length), Fraction(end), Fraction(0)) for number, end in enumerate(ends, 1)
        )
        return Run(cuts, cut_length * len(phases), cut_length, cut_length * len(phases))
    steps = drop.denominator
    step = Fraction(repeat, steps)
    advance = -(-cut_length * steps // repeat)
    waiting: list[list[int]] = [[] for _ in range(steps)]
    for number, phase in enumerate(phases, 1):
        waiting[phase * drop.numerator % steps].append(number)
    cuts_found = []
    at, here = 0, -1
    for residue in _best_order(waiting, advance % steps):
        if here >= 0:
            at += advance + (residue - here - advance) % steps
        here = residue
        start = at * step
        cuts_found.append(Cut(waiting[residue].pop(0), start, start + cut_length, residue * step))
    raised_cut = raised(cut_length, repeat)
    return Run(
        tuple(cuts_found),
        ceil(at * step + cut_length),
        raised_cut,
        ceil(len(phases) * (raised_cut + drop * repeat)),
    )


def _best_order(waiting: Sequence[Sequence[int]], natural: int) -> list[int]:
    """Return phases in the order of cutting with the fewest steps waited; `waiting` has the cuts of each phase."""
    steps = len(waiting)
    left = [len(numbers) for numbers in waiting]
    order: list[int] = []
    for _ in range(sum(left)):

        def rank(phase: int) -> tuple[int, int]:
            waits = (phase - order[-1] - natural) % steps if order else 0
            next_cut = waiting[phase][len(waiting[phase]) - left[phase]]
            return waits + _least_waits(left, phase, natural), next_cut

        here = min((phase for phase in range(steps) if left[phase]), key=rank)
        order.append(here)
        left[here] -= 1
    return order


def _least_waits(counts: list[int], first: int, natural: int) -> int:
    """Return the fewest steps waited in any order of these cuts that begins at phase `first`.

    A cut at phase r is done at phase r + natural, and is carried forward round the ring of phases to where the next
    one starts. With the last phase fixed too, how much crosses each point of the ring follows from the counts, up to
    whole turns of the ring for all; the fewest turns that cross nothing backwards is a lower bound. It is reached
    when the crossings join all the phases in one round trip (two that cross the same point can change places), and a
    whole turn more always joins them.
    """
    steps = len(counts)
    present = [phase for phase in range(steps) if counts[phase]]
    best = None
    for last in present:
        if last == first and counts[first] == 1 and len(present) > 1:
            continue
        arrivals = [counts[(phase - natural) % steps] for phase in range(steps)]
        arrivals[(last + natural) % steps] -= 1
        starts = list(counts)
        starts[first] -= 1
        crossing, carried = [], 0
        for phase in range(steps):
            carried += arrivals[phase] - starts[phase]
            crossing.append(carried)
        turns = -min(crossing)
        crossing = [carried + turns for carried in crossing]
        leaving = [counts[phase] - (phase == last) for phase in range(steps)]
        links = [(phase, steps + (phase + natural) % steps) for phase in range(steps) if leaving[phase]]
        links += [(steps + phase, steps + (phase + 1) % steps) for phase in range(steps) if crossing[phase]]
        links += [(steps + phase, phase) for phase in range(steps) if starts[phase]]
        waits = sum(crossing) + (0 if _joined(present, links) else steps)
        if best is None or waits < best:
            best = waits
    assert best is not None, "there is at least one cut"
    return best


def _joined(nodes: list[int], links: list[tuple[int, int]]) -> bool:
    """Tell whether the links join all the nodes."""
    reached = {nodes[0]}
    while True:
        wider = reached | {b for a, b in links if a in reached} | {a for a, b in links if b in reached}
        if wider == reached:
            return reached.issuperset(nodes)
        reached = wider


def order_quantity(length: int, increment: int) -> int:
    """Return the length raised to whole increments of the seller's.

    >>> order_quantity(100, 36)
    108
    """
    return raised(length, increment)


def _check(cut_length: int, cuts: int, repeat: int) -> None:
    faults = []
    if cut_length <= 0:
        faults.append(
            Fault(
                ("cut_length",),
                "a cut must be longer than nothing: check the figure",
                "{cut}",
                "more than 0",
                {"cut": cut_length},
            )
        )
    if not 1 <= cuts <= MOST_CUTS:
        faults.append(Fault(("cuts",), f"between 1 and {MOST_CUTS} cuts make a run", str(cuts), f"1 to {MOST_CUTS}"))
    if repeat < 0:
        faults.append(
            Fault(
                ("vertical_repeat",),
                "a repeat is 0 for plain cloth, or more",
                "{repeat}",
                "0 or more",
                {"repeat": repeat},
            )
        )
    if faults:
        raise Impossible(*faults)
