"""Cuts of patterned cloth: raised cuts, runs and refusals; every figure is worked by hand."""

import random
import time
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pleatwright.faults import Impossible
from pleatwright.trade.repeat import MOST_CUTS, Wanted, in_turn, phase_after, raised, shortest_run

REPEATABLE = settings(derandomize=True, database=None, deadline=None)
STRAIGHT, HALF, THIRD = Fraction(0), Fraction(1, 2), Fraction(1, 3)


def run_of(cut_length, drops, repeat, drop):
    """The shortest run of cuts of one length, each some drops of the pattern on."""
    return shortest_run([Wanted(cut_length, phase_after(each, drop, repeat)) for each in drops], repeat, drop)


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
    run = shortest_run(in_turn(cut_length, cuts, 0, drop), 0, drop)
    assert run.length == run.rule_of_thumb == cuts * cut_length
    assert run.saved == 0
    assert [(cut.number, cut.start, cut.end, cut.phase) for cut in run.cuts] == [
        (number, (number - 1) * cut_length, number * cut_length, 0) for number in range(1, cuts + 1)
    ]


def test_the_last_cut_is_not_charged_a_full_repeat():
    """Cuts of 60 from a repeat of 24, straight: at 0, 72 and 144, and the last ends at 204, not at 216."""
    run = shortest_run(in_turn(60, 3, 24, STRAIGHT), 24, STRAIGHT)
    assert [(cut.start, cut.end) for cut in run.cuts] == [(0, 60), (72, 132), (144, 204)]
    assert (run.length, raised(60, 24), run.rule_of_thumb, run.saved) == (204, 72, 216, 12)


def test_one_cut_takes_its_own_length_and_no_more():
    run = shortest_run(in_turn(60, 1, 24, HALF), 24, HALF)
    assert (run.length, raised(60, 24), run.rule_of_thumb, run.saved) == (60, 72, 84, 24)


def test_half_drop_cuts_of_half_repeats_in_turn_take_no_waste():
    """60 is 2 1/2 repeats of 24: each cut ends where the next one's pattern starts. By rule, 4 x (72 + 12)."""
    run = shortest_run(in_turn(60, 4, 24, HALF), 24, HALF)
    assert [cut.number for cut in run.cuts] == [1, 2, 3, 4]
    assert (run.length, raised(60, 24), run.rule_of_thumb, run.saved) == (240, 72, 336, 96)


def test_half_drop_cuts_of_whole_repeats_are_cut_alike_together():
    """72 is 3 repeats: cuts of one phase follow without waste, and one wait of 12 parts the phases: 4 x 72 + 12."""
    run = run_of(72, [0, 1, 0, 1], 24, HALF)
    assert [cut.number for cut in run.cuts] == [1, 3, 2, 4]
    assert [cut.start for cut in run.cuts] == [0, 72, 156, 228]
    assert (run.length, run.rule_of_thumb, run.saved) == (300, 336, 36)


def test_a_third_of_a_repeat_that_is_off_the_grid_is_kept_exactly():
    """A repeat of 100: the second cut starts at 33 1/3 of it, first reached after 50 at 133 1/3."""
    run = shortest_run(in_turn(50, 2, 100, THIRD), 100, THIRD)
    by_number = {cut.number: cut for cut in run.cuts}
    assert by_number[2].phase == Fraction(100, 3)
    # The other way about, the first cut waits from 83 1/3 to 100: 66 2/3 on, and the run is 116 2/3.
    assert [(cut.number, cut.start) for cut in run.cuts] == [(2, 0), (1, Fraction(200, 3))]
    assert run.length == 117


def test_the_rule_of_thumb_adds_the_drop_to_every_raised_cut():
    """100 is raised to 120 by 40; 5 x (120 + 40 x 1/3) = 666 2/3, and a part of a grid unit counts as one."""
    assert run_of(100, range(5), 40, THIRD).rule_of_thumb == 667
    assert run_of(100, range(5), 40, HALF).rule_of_thumb == 700
    assert run_of(100, range(5), 40, STRAIGHT).rule_of_thumb == 600


def test_the_rule_of_thumb_raises_each_cut_by_itself():
    """By a repeat of 40 with a half-drop: 100 to 120, 30 to 40 and 80 as it is, and 20 more each."""
    wanted = [Wanted(100), Wanted(30, Fraction(7)), Wanted(80)]
    assert shortest_run(wanted, 40, HALF).rule_of_thumb == 140 + 60 + 100


def test_cuts_of_two_lengths_from_two_phases_worked_by_hand():
    """By 24: 30 from 0 ends at 6, where 42 from 6 starts; that ends at 0 again, and so all follow without waste."""
    run = shortest_run([Wanted(42, Fraction(6)), Wanted(30), Wanted(42, Fraction(6)), Wanted(30)], 24, STRAIGHT)
    assert (run.length, run.rule_of_thumb) == (144, 2 * 48 + 2 * 48)
    assert {run.cuts[0].phase, run.cuts[1].phase} == {0, 6}
    assert [cut.start for cut in run.cuts[1:]] == [cut.end for cut in run.cuts[:-1]]


def test_rounds_that_do_not_meet_are_joined_with_the_least_carried():
    """By 24, cuts of 24 from 0 and from 9: each round wastes nothing, and from one to the other is 9, or 15 back."""
    run = shortest_run([Wanted(24, Fraction(9)), Wanted(24), Wanted(24, Fraction(9)), Wanted(24)], 24, STRAIGHT)
    assert [(cut.number, cut.start) for cut in run.cuts] == [(2, 0), (4, 24), (1, 57), (3, 81)]
    assert (run.length, run.saved) == (105, -9)


@pytest.mark.parametrize("drops", [[0, 1, 0, 1], [1, 0, 1, 0]])
def test_of_several_shortest_runs_the_cuts_that_are_alike_come_in_the_order_given(drops):
    """Both orders waste nothing, as 60 is 2 1/2 repeats of 24."""
    run = run_of(60, drops, 24, HALF)
    assert run.length == 240
    for phase in (0, 12):
        alike = [cut.number for cut in run.cuts if cut.phase == phase]
        assert alike == sorted(alike)
        assert len(alike) == 2


@REPEATABLE
@given(st.lists(st.tuples(st.integers(1, 3), st.integers(0, 2)), min_size=1, max_size=20), st.integers(3, 9))
def test_cuts_that_are_alike_come_in_the_order_given(drawn, repeat):
    wanted = [Wanted(length * 5, Fraction(phase)) for length, phase in drawn]
    run = shortest_run(wanted, repeat, STRAIGHT)
    for cut in wanted:
        alike = [each.number for each in run.cuts if wanted[each.number - 1] == cut]
        assert alike == sorted(alike)


@REPEATABLE
@given(st.lists(st.integers(1, 10**6), min_size=1, max_size=20))
def test_plain_cloth_is_cut_in_the_order_given(lengths):
    run = shortest_run(list(map(Wanted, lengths)), 0, HALF)
    assert [cut.number for cut in run.cuts] == list(range(1, len(lengths) + 1))
    assert run.length == run.rule_of_thumb == sum(lengths)


@pytest.mark.parametrize(
    ("drops", "drop", "phase"),
    [(0, HALF, 0), (1, HALF, 12), (2, HALF, 0), (3, HALF, 12), (2, THIRD, 16), (4, THIRD, 8), (5, STRAIGHT, 0)],
)
def test_the_phase_some_drops_on_is_less_than_a_repeat(drops, drop, phase):
    assert phase_after(drops, drop, 24) == phase


def test_cuts_in_turn_start_one_drop_further_on_each():
    assert in_turn(60, 4, 25, THIRD) == [
        Wanted(60),
        Wanted(60, Fraction(25, 3)),
        Wanted(60, Fraction(50, 3)),
        Wanted(60),
    ]


@REPEATABLE
@given(
    st.integers(1, 10**6),
    st.lists(st.integers(0, 9), min_size=1, max_size=20),
    st.integers(1, 10**6),
    st.sampled_from((STRAIGHT, HALF, THIRD, Fraction(2, 5))),
)
def test_a_run_is_never_longer_than_the_rule_of_thumb(cut_length, drops, repeat, drop):
    run = run_of(cut_length, drops, repeat, drop)
    assert len(drops) * cut_length <= run.length <= run.rule_of_thumb
    assert run.saved == run.rule_of_thumb - run.length
    assert raised(cut_length, repeat) <= run.rule_of_thumb


@pytest.mark.parametrize(
    ("cut_length", "cuts", "where"),
    [
        (0, 1, [("cut_length",)]),
        (-1, 1, [("cut_length",)]),
        (60, 0, [("cuts",)]),
        (60, MOST_CUTS + 1, [("cuts",)]),
        (0, 0, [("cut_length",), ("cuts",)]),
    ],
)
@pytest.mark.parametrize("repeat", [0, 24])
def test_cuts_that_cannot_be_are_refused_with_every_fault_at_once(cut_length, cuts, repeat, where):
    with pytest.raises(Impossible) as impossible:
        in_turn(cut_length, cuts, repeat, HALF)
    assert [fault.where for fault in impossible.value.faults] == where
    assert all(fault.allowed for fault in impossible.value.faults)


@pytest.mark.parametrize("drop", [STRAIGHT, HALF, THIRD, Fraction(2, 5)])
@pytest.mark.parametrize("repeat", [0, 24, 25, 997])
def test_a_thousand_cuts_are_put_in_order_quickly(drop, repeat):
    began = time.process_time()
    run = shortest_run(in_turn(613, MOST_CUTS, repeat, drop), repeat, drop)
    assert time.process_time() - began < 2
    assert sorted(cut.number for cut in run.cuts) == list(range(1, MOST_CUTS + 1))


@pytest.mark.parametrize("repeat", [24, 997, 204_800])
def test_many_cuts_of_many_lengths_are_put_in_order_quickly(repeat):
    rng = random.Random(repeat)
    lengths = rng.sample(range(100, 900_000), 60)
    wanted = [Wanted(lengths[cut % 60], phase_after(rng.randrange(3), THIRD, repeat)) for cut in range(300)]
    began = time.process_time()
    run = shortest_run(wanted, repeat, THIRD)
    assert time.process_time() - began < 2
    assert sorted(cut.number for cut in run.cuts) == list(range(1, 301))
    assert sum(cut.length for cut in wanted) <= run.length <= run.rule_of_thumb
