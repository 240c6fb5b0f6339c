"""The shortest run of cuts, by trying every order of cutting; and what to order, by pint.

The oracle lays cuts one after another in exact fractions: each starts at the first place, not before the end of the
one before it, where the pattern stands as the cut needs it.
"""

import json
import math
import random
from fractions import Fraction
from itertools import pairwise, permutations

import pint
import pytest

from pleatwright.lengths import INCH, MILLIMETRE
from pleatwright.trade.repeat import Wanted, in_turn, order_quantity, phase_after, shortest_run
from pleatwright.trade.ring import best_order
from pleatwright.workroom import repeat

REGISTRY = pint.UnitRegistry(non_int_type=Fraction)
DROPS = ("0", "1/2", "1/3", "1/4", "2/3", "2/5")
CUTS = (1, 2, 3, 4, 5, 5, 6, 6, 7, 7, 7)


def shortest_by_trying(wanted, vertical_repeat, begin=None):
    """The least length to the end of the last cut over all orders of cutting; cuts that are alike are interchangeable.

    It is measured from the start of the first cut, or from that of the cloth where its phase is given.
    """
    kinds = list(dict.fromkeys(wanted))
    takes = [
        [(kind.phase - before.phase - before.length) % vertical_repeat + kind.length for kind in kinds]
        for before in kinds
    ]
    first = [(0 if begin is None else (kind.phase - begin) % vertical_repeat) + kind.length for kind in kinds]

    def onwards(at, left, before):
        if not any(left):
            return at
        return min(
            onwards(at + takes[before][kind], [*left[:kind], left[kind] - 1, *left[kind + 1 :]], kind)
            for kind in range(len(kinds))
            if left[kind]
        )

    counts = [wanted.count(kind) for kind in kinds]
    return min(
        onwards(first[kind], [*counts[:kind], counts[kind] - 1, *counts[kind + 1 :]], kind)
        for kind in range(len(kinds))
    )


def drawn_length(rng, vertical_repeat, drop):
    """A cut around, at or beside a whole number of steps of the pattern."""
    step = Fraction(vertical_repeat, Fraction(drop).denominator)
    return rng.choice(
        (
            rng.randint(1, 5 * vertical_repeat),
            math.ceil(step * rng.randint(1, 12)),
            math.floor(step * rng.randint(1, 12)) + 1,
        )
    )


def alike(drop, seed, count):
    """Cuts of one length, whose phases are drops of the pattern."""
    rng = random.Random(f"{drop} {seed}")
    for _ in range(count):
        vertical_repeat = rng.choice((rng.randint(1, 40), 5 * INCH, 27 * INCH, 640 * MILLIMETRE, rng.randint(1, 10**6)))
        cut_length = drawn_length(rng, vertical_repeat, drop)
        widths = rng.choice((2, 3, 5, 9))
        drops = [rng.randrange(widths) for _ in range(rng.choice(CUTS))]
        yield (
            [Wanted(cut_length, phase_after(each, Fraction(drop), vertical_repeat)) for each in drops],
            vertical_repeat,
        )


def window(rng, cuts, vertical_repeat, drop):
    """Cuts of one window, which start one drop further on each from where its motif is placed."""
    length, motif = drawn_length(rng, vertical_repeat, drop), rng.choice((0, rng.randrange(vertical_repeat)))
    for each in range(cuts):
        phase = (phase_after(each, Fraction(drop), vertical_repeat) + motif) % vertical_repeat
        # Cuts beside each other may differ, as under a slope.
        yield Wanted(length + rng.choice((0, 0, 0, rng.randint(1, vertical_repeat))), phase)


def jobs(drop, seed, count):
    """Cuts of several windows, some placed just where a cut of another window ends."""
    rng = random.Random(f"{drop} {seed}")
    for _ in range(count):
        vertical_repeat = rng.choice((rng.randint(1, 12), rng.randint(1, 40), 27 * INCH, rng.randint(1, 10**6)))
        cuts, left = [], rng.choice(CUTS)
        while left:
            here = rng.randint(1, left)
            cuts += window(rng, here, vertical_repeat, drop)
            left -= here
        for at in range(1, len(cuts)):
            if rng.random() < 0.2:
                other = rng.choice(cuts)
                cuts[at] = Wanted(cuts[at].length, (other.phase + other.length) % vertical_repeat)
        rng.shuffle(cuts)
        yield cuts, vertical_repeat


each_drop = pytest.mark.parametrize("drop", DROPS)
each_kind = pytest.mark.parametrize("cases", [alike, jobs])


@each_drop
@each_kind
def test_no_order_of_cutting_takes_less_cloth(cases, drop):
    for wanted, vertical_repeat in cases(drop, seed=12, count=120):
        run = shortest_run(wanted, vertical_repeat, Fraction(drop))
        exact = shortest_by_trying(wanted, vertical_repeat)
        assert run.cuts[-1].end - run.cuts[0].start == exact
        assert run.length == math.ceil(exact)


@each_drop
@each_kind
def test_every_cut_is_made_once_at_its_phase_and_clear_of_the_one_before(cases, drop):
    for wanted, vertical_repeat in cases(drop, seed=22, count=120):
        run = shortest_run(wanted, vertical_repeat, Fraction(drop))
        assert sorted(cut.number for cut in run.cuts) == list(range(1, len(wanted) + 1))
        first = run.cuts[0]
        assert first.start == 0
        end = Fraction(0)
        for cut in run.cuts:
            assert cut.phase == wanted[cut.number - 1].phase
            assert (cut.start - first.start - cut.phase + first.phase) % vertical_repeat == 0
            assert cut.start >= end
            end = cut.end
            assert end == cut.start + wanted[cut.number - 1].length


@each_drop
@each_kind
def test_no_order_takes_less_of_cloth_that_begins_at_a_given_phase(cases, drop):
    """What lies before the first cut counts too."""
    rng = random.Random(drop)
    for wanted, vertical_repeat in cases(drop, seed=32, count=80):
        begin = rng.choice((Fraction(rng.randrange(vertical_repeat)), rng.choice(wanted).phase))
        order = best_order([cut.phase for cut in wanted], [cut.length for cut in wanted], vertical_repeat, begin)
        assert sorted(order) == list(range(len(wanted)))
        at, phase = Fraction(0), begin
        for cut in (wanted[index] for index in order):
            at += (cut.phase - phase) % vertical_repeat + cut.length
            phase = cut.phase + cut.length
        assert at == shortest_by_trying(wanted, vertical_repeat, begin)


@each_drop
@each_kind
def test_the_drawn_cuts_are_of_every_count_and_some_follow_without_waste(cases, drop):
    drawn = list(cases(drop, seed=12, count=120))
    assert {len(wanted) for wanted, _ in drawn} == set(CUTS)
    assert (
        sum(
            any((one.phase + one.length - other.phase) % whole == 0 for one, other in permutations(wanted, 2))
            for wanted, whole in drawn
        )
        > 10
    )


@each_drop
def test_most_jobs_have_several_lengths_and_phases_off_the_drop(drop):
    drawn = list(jobs(drop, seed=12, count=120))
    steps = Fraction(drop).denominator
    assert sum(len({cut.length for cut in wanted}) > 1 for wanted, _ in drawn) > 60
    assert sum(any(cut.phase * steps % whole for cut in wanted) for wanted, whole in drawn) > 60


@each_drop
def test_many_jobs_take_more_in_the_order_given_or_from_another_beginning(drop):
    given = begun = 0
    for wanted, vertical_repeat in jobs(drop, seed=12, count=60):
        lengths = sum(cut.length for cut in wanted)
        carried = sum(
            (after.phase - before.phase - before.length) % vertical_repeat for before, after in pairwise(wanted)
        )
        exact = shortest_by_trying(wanted, vertical_repeat)
        given += lengths + carried > exact
        order = [cut.number - 1 for cut in shortest_run(wanted, vertical_repeat, Fraction(drop)).cuts]
        begin = wanted[order[-1]].phase
        begun += (
            best_order([cut.phase for cut in wanted], [cut.length for cut in wanted], vertical_repeat, begin) != order
        )
    assert given > 25
    assert begun > 10


def test_three_half_drop_cuts_worked_by_hand():
    """Cuts of 60 from a 24 repeat: 60 is two and a half repeats, so cut 2 is due just where cut 1 ends."""
    run = shortest_run(in_turn(60, 3, 24, Fraction(1, 2)), 24, Fraction(1, 2))
    assert [(cut.number, cut.start, cut.end, cut.phase) for cut in run.cuts] == [
        (1, 0, 60, 0),
        (2, 60, 120, 12),
        (3, 120, 180, 0),
    ]


def quantity(text):
    """A quantity in words as pint has it, in metres."""
    number, _, unit = text.rpartition(" ")
    return REGISTRY.Quantity(sum(map(Fraction, number.split())), unit).to("m").magnitude


ORDERS = [
    # Units of the request, the seller's increment as asked and as pint reads it.
    pytest.param("in", None, (Fraction(1, 8), "yard"), id="eighths of a yard"),
    pytest.param("in", "1/4 yd", (Fraction(1, 4), "yard"), id="quarters of a yard"),
    pytest.param("in", "1/2 yd", (Fraction(1, 2), "yard"), id="half yards"),
    pytest.param("in", "1 yd", (Fraction(1), "yard"), id="whole yards"),
    pytest.param("mm", None, (Fraction(1, 10), "metre"), id="tenths of a metre"),
    pytest.param("cm", "0.5 m", (Fraction(1, 2), "metre"), id="half metres"),
]


@pytest.mark.parametrize(("units", "increment", "sold"), ORDERS)
def test_an_order_is_the_fewest_whole_increments_that_hold_the_run(request_reader, units, increment, sold):
    """NIST SP 811, appendix B.8, by pint: 1 yd = 0.9144 m exactly. Sellers' increments are common practice."""
    rng = random.Random(f"{units} {increment}")
    for _ in range(60):
        request = {
            "units": units,
            "cut_length": f"{rng.randint(100, 4_000)} mm",
            "cuts": rng.randint(1, 12),
            "vertical_repeat": f"{rng.choice((0, 320, 640, 137))} mm",
            "drop_match": rng.choice(("straight", "1/2", "1/3")),
            "increment": increment,
        }
        reply = repeat(request_reader.read("repeat", json.dumps(request).encode()))
        run = REGISTRY.Quantity(Fraction(repr(reply.run_length)), units).to("m").magnitude
        each = REGISTRY.Quantity(*sold).to("m").magnitude
        ordered = REGISTRY.Quantity(Fraction(repr(reply.order_quantity)), units).to("m").magnitude
        assert quantity(reply.order.quantity) == math.ceil((run - Fraction(1, 10**7)) / each) * each
        assert abs(ordered - quantity(reply.order.quantity)) < Fraction(1, 10**6)
        assert reply.order.length == reply.order_quantity


@pytest.mark.parametrize(
    ("run", "increment", "ordered"),
    [
        # In grid units: 1/8 yd = 4 1/2 in = 36576; 0.1 m = 32000.
        (5 * 36 * INCH, 36_576, 5 * 36 * INCH),
        (5 * 36 * INCH + 1, 36_576, 5 * 36 * INCH + 36_576),
        (1, 36_576, 36_576),
        (1_000 * MILLIMETRE, 32_000, 1_000 * MILLIMETRE),
        (1_001 * MILLIMETRE, 32_000, 1_100 * MILLIMETRE),
    ],
)
def test_an_order_worked_by_hand_is_raised_to_the_increment(run, increment, ordered):
    assert order_quantity(run, increment) == ordered
