"""Pieces on the shelf: their clear stretches, and what is refused; every figure is worked by hand."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pleatwright.trade.bolts import Flaw, Piece, Plan, shelf_faults

REPEATABLE = settings(derandomize=True, database=None, deadline=None)


@pytest.mark.parametrize(
    ("flaws", "clear"),
    [
        ([], [(0, 100)]),
        ([(40, 60)], [(0, 40), (60, 100)]),
        # A point parts the piece and takes nothing.
        ([(40, 40)], [(0, 40), (40, 100)]),
        ([(40, 40), (40, 40)], [(0, 40), (40, 100)]),
        # At an end.
        ([(0, 10)], [(10, 100)]),
        ([(90, 100)], [(0, 90)]),
        ([(0, 0), (100, 100)], [(0, 100)]),
        # In any order.
        ([(60, 70), (20, 20)], [(0, 20), (20, 60), (70, 100)]),
        # One over another, one inside another, one at the end of another.
        ([(20, 50), (40, 60)], [(0, 20), (60, 100)]),
        ([(20, 60), (30, 40)], [(0, 20), (60, 100)]),
        ([(20, 60), (45, 45)], [(0, 20), (60, 100)]),
        ([(20, 40), (40, 60)], [(0, 20), (60, 100)]),
        ([(20, 40), (20, 60), (20, 20)], [(0, 20), (60, 100)]),
        # Nothing is left.
        ([(0, 100)], []),
        ([(0, 50), (50, 100)], []),
    ],
)
def test_the_clear_stretches_lie_between_the_flaws(flaws, clear):
    assert list(Piece(100, flaws=tuple(Flaw(*flaw) for flaw in flaws)).clear()) == clear


@REPEATABLE
@given(st.lists(st.tuples(st.integers(0, 20), st.integers(0, 20)).map(sorted), max_size=5))
def test_what_is_neither_flawed_nor_clear_is_nothing(flaws):
    """Unit by unit along a piece of 20; and no point flaw lies inside a clear stretch."""
    clear = list(Piece(20, flaws=tuple(Flaw(*flaw) for flaw in flaws)).clear())
    flawed = {unit for start, end in flaws for unit in range(start, end)}
    units = [unit for start, end in clear for unit in range(start, end)]
    assert units == [unit for unit in range(20) if unit not in flawed]
    assert not any(start < place < end for start, end in clear for flaw in flaws for place in flaw)


@pytest.mark.parametrize("flaw", [(0, 0), (0, 100), (100, 100), (30, 30), (30, 31)])
@pytest.mark.parametrize(("phase", "repeat"), [(0, 0), (0, 24), (23, 24)])
def test_pieces_that_can_be_are_not_refused(flaw, phase, repeat):
    assert shelf_faults([Piece(100, "A", phase, (Flaw(*flaw),))], repeat) == []


def test_a_shelf_with_nothing_on_it_has_no_faults():
    assert shelf_faults([], 24) == []


@pytest.mark.parametrize(
    "flaw",
    [
        pytest.param((90, 101), id="ends beyond the piece"),
        pytest.param((101, 101), id="beyond the piece"),
        pytest.param((-1, 10), id="starts before the piece"),
        pytest.param((60, 40), id="ends before it starts"),
    ],
)
def test_a_flaw_that_cannot_be_is_refused(flaw):
    (fault,) = shelf_faults([Piece(100), Piece(100, flaws=(Flaw(5, 6), Flaw(*flaw)))], 0)
    assert fault.where == ("bolts", 1, "flaws", 1)
    assert fault.seen.format(**fault.lengths) == f"{flaw[0]} to {flaw[1]}"
    assert fault.allowed.format(**fault.lengths) == "from 0 to 100"


@pytest.mark.parametrize(
    ("phase", "repeat", "allowed"),
    [(24, 24, "less than 24"), (25, 24, "less than 24"), (5, 0, "nothing, for plain cloth")],
)
def test_a_phase_of_a_repeat_or_more_is_refused(phase, repeat, allowed):
    (fault,) = shelf_faults([Piece(100, phase=phase), Piece(100)], repeat)
    assert fault.where == ("bolts", 0, "phase")
    assert fault.seen.format(**fault.lengths) == str(phase)
    assert fault.allowed.format(**fault.lengths) == allowed


def test_every_fault_is_named_at_once():
    pieces = [Piece(100, "", 30, (Flaw(60, 40), Flaw(0, 101))), Piece(50, "", 24), Piece(50, "", 23, (Flaw(0, 51),))]
    assert [fault.where for fault in shelf_faults(pieces, 24)] == [
        ("bolts", 0, "flaws", 0),
        ("bolts", 0, "flaws", 1),
        ("bolts", 0, "phase"),
        ("bolts", 1, "phase"),
        ("bolts", 2, "flaws", 0),
    ]


@pytest.mark.parametrize(("gaps", "proved"), [((0, 0), True), ((1, 0), False), ((0, 1), False), ((1, 1), False)])
def test_a_plan_is_proved_when_nothing_can_beat_it(gaps, proved):
    assert Plan((), *gaps).proved == proved
