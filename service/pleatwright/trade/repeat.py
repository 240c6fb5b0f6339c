"""Cuts along the bolt when the cloth has a pattern: phases, the shortest run, and what to order.

Each cut must start at its own phase of the vertical repeat, or widths would not meet level. Between two cuts the cloth
is carried forward to where the pattern stands as the next one needs it; the last cut waits for nothing. The shortest
run is the order of cutting that carries the least (`trade/ring.py`).
"""

from collections.abc import Sequence
from fractions import Fraction
from math import ceil
from typing import Final

from msgspec import Struct

from pleatwright.faults import Fault, Impossible
from pleatwright.lengths import Exact
from pleatwright.trade.ring import best_order

MOST_CUTS: Final = 1000


class Wanted(Struct, frozen=True):
    """A cut that is wanted: its length, and the phase of the pattern at its start, less than a repeat."""

    length: int
    phase: Exact = 0


class Cut(Struct, frozen=True):
    """One cut of the run: which one it is, where it starts and ends on the bolt, and at which phase of the pattern.

    `start`, `end` and `phase` are exact grid lengths; a third of a repeat may fall between two grid points.
    """

    number: int
    start: Exact
    end: Exact
    phase: Exact


class Run(Struct, frozen=True):
    """The cuts in the order of cutting, and the length they take.

    `rule_of_thumb` is what the usual reckoning would order: every cut raised, and the drop added to each.
    """

    cuts: tuple[Cut, ...]
    length: int
    rule_of_thumb: int

    @property
    def saved(self) -> int:
        """What the rule of thumb would have wasted; less than nothing where it falls short, as it may."""
        return self.rule_of_thumb - self.length


def raised(cut_length: int, repeat: int) -> int:
    """Return the least whole number of repeats that is not below the cut length; the length itself for plain cloth.

    >>> raised(100, 27), raised(108, 27), raised(100, 0)
    (108, 108, 100)
    """
    return -(-cut_length // repeat) * repeat if repeat else cut_length


def phase_after(drops: int, drop: Fraction, repeat: int) -> Exact:
    """Return the phase some drops of the pattern further on.

    >>> phase_after(3, Fraction(1, 2), 24), phase_after(1, Fraction(1, 3), 25)
    (12, Fraction(25, 3))
    """
    parts = drop.denominator
    phase = drops * drop.numerator % parts * repeat
    return phase // parts if phase % parts == 0 else Fraction(phase, parts)


def in_turn(cut_length: int, cuts: int, repeat: int, drop: Fraction) -> list[Wanted]:
    """Return cuts of one length, each of which starts one drop of the pattern further on than the one before.

    Raises Impossible for a cut or a count that cannot be.
    """
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
    if faults:
        raise Impossible(*faults)
    return [Wanted(cut_length, phase_after(cut, drop, repeat)) for cut in range(cuts)]


def shortest_run(wanted: Sequence[Wanted], repeat: int, drop: Fraction) -> Run:
    """Return the shortest run of the cuts, which start at their phases of a repeat, 0 for plain cloth.

    The order of cutting is the best there is; plain cloth is cut in the order given. `drop` is for the rule of thumb.

    A half-drop of 24 in on cuts of 60 in: in turn they need no waste at all.

    >>> run = shortest_run(in_turn(60, 4, 24, Fraction(1, 2)), 24, Fraction(1, 2))
    >>> run.length, run.rule_of_thumb
    (240, 336)
    """
    order: Sequence[int] = range(len(wanted))
    if repeat:
        order = best_order([cut.phase for cut in wanted], [cut.length for cut in wanted], repeat)
    found: list[Cut] = []
    at: Exact = 0
    for index in order:
        cut = wanted[index]
        if found and repeat:
            at += (cut.phase - found[-1].phase - wanted[found[-1].number - 1].length) % repeat
        found.append(Cut(index + 1, at, at + cut.length, cut.phase))
        at += cut.length
    dropped = len(wanted) * drop.numerator * repeat
    rule_of_thumb = sum([raised(cut.length, repeat) for cut in wanted]) - (-dropped // drop.denominator)
    return Run(tuple(found), ceil(at), rule_of_thumb)


def order_quantity(length: int, increment: int) -> int:
    """Return the length raised to whole increments of the seller's.

    >>> order_quantity(100, 36)
    108
    """
    return raised(length, increment)
