"""Cuts of patterned cloth: raised cuts, runs and refusals; every figure is worked by hand."""

import time
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pleatwright.faults import Impossible
from pleatwright.trade.repeat import MOST_CUTS, raised, shortest_run

REPEATABLE = settings(derandomize=True, database=None, deadline=None)
STRAIGHT, HALF, THIRD = Fraction(0), Fraction(1, 2), Fraction(1, 3)


@pytest.mark.parametrize(
    ("cut_length", "repeat", "to"),
    [(100, 27, 108), (108, 27, 108), (109, 27, 135), (1, 27, 27), (27, 27, 27), (100, 1, 100), (100, 0, 100)],
)
def test_a_cut_is_raised_to_whole_repeats(cut_length, repeat, to):
    assert raised(cut_length, repeat) == to


@REPEATABLE
@given(st.integers(1, 10**8), st.integers(1, 10**6))
def test_a_raised_cut_never_exceeds_the_cut_by_a_whole_repeat(cut_length, repeat):
    to = raised(cut_length, repeat)
    assert to % repeat == 0
    assert 0 <= to - cut_length < repeat


@REPEATABLE
@given(st.integers(1, 10**6), st.integers(1, 50), st.sampled_from((STRAIGHT, HALF, THIRD)))
def test_plain_cloth_is_cut_end_to_end(cut_length, cuts, drop):
    run = shortest_run(cut_length, range(cuts), 0, drop)
    assert run.length == run.rule_of_thumb == cuts * cut_length
    assert run.raised_cut == cut_length
    assert [(cut.number, cut.start, cut.end, cut.phase) for cut in run.cuts] == [
        (number, (number - 1) * cut_length, number * cut_length, 0) for number in range(1, cuts + 1)
    ]


def test_the_last_cut_is_not_charged_a_full_repeat():
    """Cuts of 60 from a repeat of 24, straight: at 0, 72 and 144, and the last ends at 204, not at 216."""
    run = shortest_run(60, [0, 0, 0], 24, STRAIGHT)
    assert [(cut.start, cut.end) for cut in run.cuts] == [(0, 60), (72, 132), (144, 204)]
    assert (run.length, run.raised_cut, run.rule_of_thumb) == (204, 72, 216)


def test_one_cut_takes_its_own_length_and_no_more():
    run = shortest_run(60, [0], 24, HALF)
    assert (run.length, run.raised_cut, run.rule_of_thumb) == (60, 72, 84)


def test_half_drop_cuts_of_half_repeats_in_turn_take_no_waste():
    """60 is 2 1/2 repeats of 24: each cut ends where the next one's pattern starts. By rule, 4 x (72 + 12)."""
    run = shortest_run(60, [0, 1, 2, 3], 24, HALF)
    assert [cut.number for cut in run.cuts] == [1, 2, 3, 4]
    assert (run.length, run.raised_cut, run.rule_of_thumb) == (240, 72, 336)


def test_half_drop_cuts_of_whole_repeats_are_cut_alike_together():
    """72 is 3 repeats: cuts of one phase follow without waste, and one wait of 12 parts the phases: 4 x 72 + 12."""
    run = shortest_run(72, [0, 1, 0, 1], 24, HALF)
    assert [cut.number for cut in run.cuts] == [1, 3, 2, 4]
    assert [cut.start for cut in run.cuts] == [0, 72, 156, 228]
    assert (run.length, run.rule_of_thumb) == (300, 336)


def test_a_third_of_a_repeat_that_is_off_the_grid_is_kept_exactly():
    """A repeat of 100: the second cut starts at 33 1/3 of it, first reached after 50 at 133 1/3."""
    run = shortest_run(50, [0, 1], 100, THIRD)
    by_number = {cut.number: cut for cut in run.cuts}
    assert by_number[2].phase == Fraction(100, 3)
    # The other way about, the first cut waits from 83 1/3 to 100: 66 2/3 on, and the run is 116 2/3.
    assert [(cut.number, cut.start) for cut in run.cuts] == [(2, 0), (1, Fraction(200, 3))]
    assert run.length == 117


def test_the_rule_of_thumb_adds_the_drop_to_every_raised_cut():
    """100 is raised to 120 by 40; 5 x (120 + 40 x 1/3) = 666 2/3, and a part of a grid unit counts as one."""
    assert shortest_run(100, range(5), 40, THIRD).rule_of_thumb == 667
    assert shortest_run(100, range(5), 40, HALF).rule_of_thumb == 700
    assert shortest_run(100, range(5), 40, STRAIGHT).rule_of_thumb == 600


@pytest.mark.parametrize("phases", [[0, 1, 0, 1], [1, 0, 1, 0]])
def test_of_several_shortest_runs_the_one_in_the_order_given_is_taken(phases):
    """Both orders waste nothing, as 60 is 2 1/2 repeats of 24."""
    run = shortest_run(60, phases, 24, HALF)
    assert run.length == 240
    assert [cut.number for cut in run.cuts] == [1, 2, 3, 4]


@REPEATABLE
@given(
    st.integers(1, 10**6),
    st.lists(st.integers(0, 9), min_size=1, max_size=20),
    st.integers(1, 10**6),
    st.sampled_from((STRAIGHT, HALF, THIRD, Fraction(2, 5))),
)
def test_a_run_is_never_longer_than_the_rule_of_thumb(cut_length, phases, repeat, drop):
    run = shortest_run(cut_length, phases, repeat, drop)
    assert len(phases) * cut_length <= run.length <= run.rule_of_thumb
    assert run.raised_cut <= run.rule_of_thumb


@pytest.mark.parametrize(
    ("cut_length", "cuts", "repeat", "where"),
    [
        (0, 1, 24, [("cut_length",)]),
        (-1, 1, 24, [("cut_length",)]),
        (60, 0, 24, [("cuts",)]),
        (60, MOST_CUTS + 1, 24, [("cuts",)]),
        (60, 1, -24, [("vertical_repeat",)]),
        (0, 0, -1, [("cut_length",), ("cuts",), ("vertical_repeat",)]),
    ],
)
def test_cuts_that_cannot_be_are_refused_with_every_fault_at_once(cut_length, cuts, repeat, where):
    with pytest.raises(Impossible) as impossible:
        shortest_run(cut_length, range(cuts), repeat, HALF)
    assert [fault.where for fault in impossible.value.faults] == where
    assert all(fault.allowed for fault in impossible.value.faults)


@pytest.mark.parametrize("drop", [STRAIGHT, HALF, THIRD, Fraction(2, 5)])
@pytest.mark.parametrize("repeat", [0, 24, 25, 997])
def test_a_thousand_cuts_are_put_in_order_quickly(drop, repeat):
    began = time.process_time()
    run = shortest_run(613, range(1_000), repeat, drop)
    assert time.process_time() - began < 2
    assert sorted(cut.number for cut in run.cuts) == list(range(1, 1_001))
