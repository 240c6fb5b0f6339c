"""Stacks and glass: sums by hand, and what of the glass lies behind a panel unit by unit [geometry]."""

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pleatwright.trade.panel import Panel, finished_widths
from pleatwright.trade.stack import Glass, heading_thickness, stack, third_of_share
from pleatwright.trade.window import Rod

REPEATABLE = settings(derandomize=True, database=None, deadline=None, max_examples=200)


@pytest.mark.parametrize(
    ("face", "depth", "turning", "stiffening", "layers", "thick"),
    [
        # Turned over twice its buckram: the cloth three times.
        (8, 40, 80, 6, 4, 34),
        # Turned over half of the tape: once and a half; a whole unit comes of 10 1/2 + 6.
        (7, 40, 20, 6, 0, 16),
        (8, 40, 0, 0, 0, 8),
        (0, 40, 80, 6, 4, 10),
    ],
)
def test_a_heading_is_as_thick_as_its_cloths_together(face, depth, turning, stiffening, layers, thick):
    assert heading_thickness(face, depth, turning, stiffening, layers) == thick


@REPEATABLE
@given(
    st.integers(0, 200), st.fractions(0, 500, max_denominator=64), st.integers(0, 300), st.integers(0, 300), st.data()
)
def test_a_stack_is_never_less_than_its_cloth_or_its_carriers_and_never_a_unit_more(
    folded, each, slider, overlap, data
):
    """The longer of the two for each, whole units at the end; more of anything never makes it shorter."""
    found = stack(folded, each, slider, overlap)
    exact = max(folded * each, Fraction(folded * slider)) + overlap
    assert exact <= found < exact + 1
    more = data.draw(st.integers(0, 50))
    assert stack(folded + more, each, slider, overlap) >= found
    assert stack(folded, each + more, slider, overlap) >= found
    assert stack(folded, each, slider + more, overlap) >= found
    assert stack(folded, each, slider, overlap + more) == found + more


@REPEATABLE
@given(
    st.integers(1, 120),
    st.none() | st.integers(-40, 160),
    st.integers(1, 120),
    st.dictionaries(st.sampled_from(["left", "right"]), st.integers(0, 120), min_size=1),
)
def test_glass_is_covered_where_a_panel_stands_before_it(width, from_left, rod, stacks):
    """Unit by unit along the wall: the glass from one place to another, a panel from its end of the rod inwards."""
    start = (rod - width) // 2 if from_left is None else from_left
    glass = set(range(start, start + width))
    stands = {"left": lambda length: range(length), "right": lambda length: range(rod - length, rod)}
    covered = Glass(width, from_left).covered(rod, stacks)
    assert covered == {side: len(glass & set(stands[side](length))) for side, length in stacks.items()}


@REPEATABLE
@given(st.integers(1, 500), st.none() | st.integers(-40, 400), st.integers(1, 500))
def test_what_is_beside_the_glass_and_the_glass_are_the_rod(width, from_left, rod):
    beside = Glass(width, from_left).beside(rod)
    assert beside["left"] + width + beside["right"] == rod
    if from_left is None:
        assert 0 <= beside["right"] - beside["left"] <= 1


@REPEATABLE
@given(
    st.integers(20, 500),
    st.integers(0, 9),
    st.integers(0, 8),
    st.integers(1, 19),
    st.sampled_from(["pair", "one-way-left", "one-way-right", "off-centre-pair"]),
)
def test_the_thirds_of_all_panels_come_to_a_third_of_the_rod(width, return_, overlap, parting, draw):
    """Common practice, shared out: but for the half units that a pair's halves are rounded up by."""
    rod = Rod(width, return_, overlap, draw, parting if draw == "off-centre-pair" else None, leading_return=0, runs=())
    thirds = [
        third_of_share(rod, Panel(side, finished, 100, 2, 900, 100, (), 0, overlap, return_))
        for side, finished in finished_widths(rod)
    ]
    assert Fraction(width, 3) <= sum(thirds) <= Fraction(width + 1, 3)
