"""Outlines of pleats: shapes whose lengths and extents are known by hand [geometry]."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pleatwright.headings import Outline, fan

REPEATABLE = settings(derandomize=True, database=None, deadline=None)
WHOLE = 2 * math.pi
SIZES = st.floats(0.01, 1_000)

SHAPES = {
    # Outline, developed length, projection, width shown; None where the test of slanting cloth has it.
    "nothing": (Outline(), 0, 0, 0),
    "a line along the face": (Outline().line(3, 0), 3, 0, 0),
    "a triangle of sides 3, 4 and 5": (Outline().line(0, 4).line(3, 0), 9, 4, None),
    "a box of 2 by 1": (Outline().line(0, 1).line(2, 1).line(2, 0), 4, 1, 2),
    "a tab that leans out to either side": (
        Outline().line(-1, 2).line(4, 2).line(0, 0),
        math.sqrt(5) + 5 + math.sqrt(20),
        2,
        5,
    ),
    "a fold behind the face": (Outline().line(-2, -1).line(2, -1).line(0, 0), 2 * math.sqrt(5) + 4, 0, 0),
    "half a circle out": (Outline().arc(1, 0, -math.pi), math.pi, 1, 2),
    "half a circle in": (Outline().arc(1, 0, math.pi), math.pi, 0, 0),
    "a whole circle": (Outline().arc(0, 2, WHOLE), 4 * math.pi, 4, 4),
    "a whole circle the other way": (Outline().arc(0, 2, -WHOLE), 4 * math.pi, 4, 4),
    "a quarter circle": (Outline().arc(0, 1, math.pi / 2), math.pi / 2, 1, None),
    "three quarters of a circle": (Outline().arc(0, 1, 1.5 * math.pi), 1.5 * math.pi, 2, 2),
    "a keyhole": (Outline().line(0, 3).arc(0, 4, WHOLE).line(0, 0), 6 + WHOLE, 5, 2),
}


@pytest.mark.parametrize(("outline", "length", "projection", "shown"), SHAPES.values(), ids=SHAPES)
def test_a_shape_is_as_long_and_as_far_out_and_as_wide_as_worked_by_hand(outline, length, projection, shown):
    assert outline.developed_length == pytest.approx(length)
    assert outline.projection == pytest.approx(projection, abs=1e-12)
    if shown is not None:
        assert outline.width_shown == pytest.approx(shown, abs=0)


@pytest.mark.parametrize(
    ("outline", "shown"),
    [
        # One fold laid over to one side, from the stitching at 0 to its tip at 2.
        (Outline().line(2, 1).line(0, 0), 2),
        # From behind the face at -1 to the front at 1, through the face at 0.
        (Outline().line(-1, -1).line(1, 1).line(0, 0), 1),
        # A triangle on 0 to 3, and a quarter of a circle of radius 1.
        (Outline().line(0, 4).line(3, 0), 3),
        (Outline().arc(0, 1, math.pi / 2), 1),
        # Half a circle of radius 1, and on along the face.
        (Outline().arc(1, 0, -math.pi).line(5, 0), 2),
    ],
)
def test_cloth_that_slants_out_shows_from_where_it_leaves_the_face(outline, shown):
    assert outline.width_shown == pytest.approx(shown)


@pytest.mark.parametrize(
    ("outline", "path"),
    [
        (Outline(), "M 0 0"),
        (Outline().line(1.5, -2), "M 0 0 L 1.5 -2"),
        (Outline().line(1 / 3, 0), "M 0 0 L 0.333333 0"),
        (Outline().line(-1e-9, 1e-9), "M 0 0 L 0 0"),
        (Outline().arc(0, 1, math.pi / 2), "M 0 0 A 1 1 0 0 1 1 1"),
        (Outline().arc(0, 1, -math.pi / 2), "M 0 0 A 1 1 0 0 0 -1 1"),
        (Outline().line(0, 2).arc(0, 3, math.pi / 3), "M 0 0 L 0 2 A 1 1 0 0 1 0.866025 2.5"),
    ],
)
def test_a_path_is_written_in_the_grammar_of_svg(outline, path):
    """SVG 2, chapter "Paths": moveto, lineto, and an arc with its radii, flags and end."""
    assert outline.svg_path() == path


def test_a_path_is_scaled_with_its_radii():
    path = Outline().line(0, 2).arc(0, 3, math.pi / 2).svg_path(10)
    assert path == "M 0 0 L 0 20 A 10 10 0 0 1 10 30"


@pytest.mark.parametrize("turn", [WHOLE, -WHOLE, 1.5 * math.pi, 3 * math.pi, math.pi + 0.001])
def test_an_arc_of_more_than_half_a_turn_is_drawn_in_parts_that_svg_can_draw(turn):
    """SVG 2: an arc whose ends are the same is not drawn, and its large-arc flag tells the longer way round."""
    words = Outline().arc(0, 1, turn).svg_path().split()
    arcs = [words[at + 1 : at + 8] for at, word in enumerate(words) if word == "A"]
    assert len(arcs) >= math.ceil(abs(turn) / math.pi)
    assert {(rx, ry, large, sweep) for rx, ry, _, large, sweep, _, _ in arcs} == {("1", "1", "0", str(int(turn > 0)))}
    at = (0.0, 0.0)
    for *_, x, y in arcs:
        assert math.dist(at, (float(x), float(y))) > 0.5
        at = (float(x), float(y))
    assert at == pytest.approx((math.sin(turn), 1 - math.cos(turn)), abs=1e-6)


@REPEATABLE
@given(st.integers(1, 9), SIZES, st.floats(0, math.pi))
def test_a_fan_takes_up_its_folds_out_and_back(folds, depth, spread):
    outline = fan(folds, depth, spread)
    assert outline.developed_length == pytest.approx(2 * folds * depth)
    ends = [piece.end for piece in outline.pieces]
    assert len(ends) == 2 * folds
    assert all(math.hypot(*tip) == pytest.approx(depth) for tip in ends[::2])
    assert all(end == (0, 0) for end in ends[1::2])


@REPEATABLE
@given(st.integers(2, 9), SIZES, st.floats(0.01, math.pi - 0.01))
def test_a_fan_is_as_wide_as_its_outer_folds_are_apart(folds, depth, spread):
    outline = fan(folds, depth, spread)
    assert outline.width_shown == pytest.approx(2 * depth * math.sin(spread / 2))
    straight_out = depth if folds % 2 else depth * math.cos(spread / (folds - 1) / 2)
    assert outline.projection == pytest.approx(straight_out)


def test_a_single_fold_stands_straight_out():
    outline = fan(1, 2.0, math.pi)
    assert [piece.end for piece in outline.pieces] == [(0, 2), (0, 0)]
    assert (outline.projection, outline.width_shown) == (2, 0)


PLACES = st.integers(-900, 900).map(lambda hundredths: hundredths / 100) | st.integers(-3, 3)
TURNS = st.integers(-700, 700).map(lambda hundredths: hundredths / 100) | st.integers(-4, 4).map(
    lambda n: n * math.pi / 2
)


@settings(REPEATABLE, max_examples=400)
@given(PLACES, PLACES, PLACES, PLACES, TURNS, PLACES, PLACES)
def test_a_line_and_an_arc_and_a_line_reach_as_far_as_their_points(x, y, centre_x, centre_y, turn, end_x, end_y):
    """Points laid along the path as finely as a thousandth of its size [geometry]."""
    outline = Outline().line(x, y).arc(centre_x, centre_y, turn).line(end_x, end_y)
    radius = math.dist((x, y), (centre_x, centre_y))
    angles = math.atan2(y - centre_y, x - centre_x) + turn * np.linspace(0, 1, 20_001)
    arc = np.stack([centre_x + radius * np.cos(angles), centre_y + radius * np.sin(angles)], axis=1)
    along = np.linspace(0, 1, 20_001)[:, None]
    path = np.concatenate([along * (x, y), arc, arc[-1] + along * (np.array([end_x, end_y]) - arc[-1])])
    size = abs(path).max() + radius
    front = path[path[:, 1] > 1e-8 * size, 0]
    assert outline.projection == pytest.approx(path[:, 1].max(), abs=1e-6 * size)
    assert outline.width_shown == pytest.approx(np.ptp(front) if front.size else 0, abs=2e-3 * size)
    assert outline.developed_length == pytest.approx(np.hypot(*np.diff(path, axis=0).T).sum(), rel=1e-6)


def test_adding_to_an_outline_leaves_the_first_as_it_was():
    first = Outline().line(1, 0)
    first.line(2, 0)
    assert first == Outline().line(1, 0)
