"""The shortest run of cuts, by trying every order of cutting; and what to order, by pint.

The oracle lays cuts one after another in exact fractions: each starts at the first place, not before the end of the
one before it, where the pattern stands as the cut needs it.
"""

import json
import math
import random
from fractions import Fraction

import pint
import pytest

from pleatwright.lengths import INCH, MILLIMETRE
from pleatwright.trade.repeat import order_quantity, shortest_run
from pleatwright.workroom import repeat

REGISTRY = pint.UnitRegistry(non_int_type=Fraction)
DROPS = ("0", "1/2", "1/3", "1/4", "2/3", "2/5")
CUTS = (1, 2, 3, 4, 5, 5, 6, 6, 7, 7, 7)


def shortest_by_trying(cut_length, needs, vertical_repeat):
    """The length of the shortest run over all orders of cutting; equal needs are interchangeable."""

    def onwards(start, placed, left):
        end = start + cut_length
        if not left:
            return end
        runs = []
        for need in set(left):
            rest = list(left)
            rest.remove(need)
            wait = (need - (placed + cut_length)) % vertical_repeat
            runs.append(onwards(end + wait, need, rest))
        return min(runs)

    def begun(need):
        rest = list(needs)
        rest.remove(need)
        return onwards(Fraction(0), need, rest)

    return min(begun(need) for need in set(needs))


def drawn(drop, seed, count):
    """Cuts around, at and beside whole steps of the pattern."""
    rng = random.Random(f"{drop} {seed}")
    for _ in range(count):
        vertical_repeat = rng.choice((rng.randint(1, 40), 5 * INCH, 27 * INCH, 640 * MILLIMETRE, rng.randint(1, 10**6)))
        steps = Fraction(vertical_repeat, Fraction(drop).denominator)
        cut_length = rng.choice(
            (
                rng.randint(1, 5 * vertical_repeat),
                math.ceil(steps * rng.randint(1, 12)),
                math.floor(steps * rng.randint(1, 12)) + 1,
            )
        )
        widths = rng.choice((2, 3, 5, 9))
        phases = [rng.randrange(widths) for _ in range(rng.choice(CUTS))]
        yield cut_length, phases, vertical_repeat


@pytest.mark.parametrize("drop", DROPS)
def test_no_order_of_cutting_takes_less_cloth(drop):
    for cut_length, phases, vertical_repeat in drawn(drop, seed=12, count=120):
        needs = [phase * Fraction(drop) % 1 * vertical_repeat for phase in phases]
        run = shortest_run(cut_length, phases, vertical_repeat, Fraction(drop))
        exact = shortest_by_trying(cut_length, needs, vertical_repeat)
        assert run.cuts[-1].end - run.cuts[0].start == exact
        assert run.length == math.ceil(exact)


@pytest.mark.parametrize("drop", DROPS)
def test_every_cut_is_made_once_at_its_phase_and_clear_of_the_one_before(drop):
    for cut_length, phases, vertical_repeat in drawn(drop, seed=22, count=120):
        run = shortest_run(cut_length, phases, vertical_repeat, Fraction(drop))
        assert sorted(cut.number for cut in run.cuts) == list(range(1, len(phases) + 1))
        first = run.cuts[0]
        assert first.start == 0
        end = Fraction(0)
        for cut in run.cuts:
            assert cut.phase == phases[cut.number - 1] * Fraction(drop) % 1 * vertical_repeat
            assert (cut.start - first.start - cut.phase + first.phase) % vertical_repeat == 0
            assert cut.start >= end
            end = cut.end
            assert end == cut.start + cut_length


@pytest.mark.parametrize("drop", DROPS)
def test_the_drawn_cuts_are_of_every_count_and_some_fit_the_pattern_exactly(drop):
    cases = list(drawn(drop, seed=12, count=120))
    assert {len(phases) for _, phases, _ in cases} == set(CUTS)
    steps = Fraction(drop).denominator
    assert sum(cut * steps % whole == 0 for cut, _, whole in cases) > 10


def test_three_half_drop_cuts_worked_by_hand():
    """Cuts of 60 from a 24 repeat: 60 is two and a half repeats, so cut 2 is due just where cut 1 ends."""
    run = shortest_run(60, [0, 1, 0], 24, Fraction(1, 2))
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
