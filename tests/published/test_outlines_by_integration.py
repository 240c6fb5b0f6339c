"""The outline of every installed style, integrated numerically from its SVG path: no cloth made, none lost [geometry].

The path's grammar is that of SVG 2, chapter "Paths"; arcs go from endpoints to centres by its appendix of
implementation notes, "Conversion from endpoint to center parameterization". Lengths and bounds are shapely's, from
points so fine that a chord differs from its arc by less than a part in ten million.
"""

import math

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from shapely import LineString, box

from pleatwright.headings.host import find_headings
from pleatwright.lengths import INCH

STYLES = find_headings().installed
STEPS = 4_096
CLOSE = 1e-6
REPEATABLE = settings(derandomize=True, database=None, deadline=None, max_examples=30)
OVER_THE_RANGE = st.floats(0, 1)


def pleat_of(style):
    heading = STYLES[style].heading
    return heading.pleat(heading.options(), lambda value, usual, *field: usual)


def take_up_at(style, part):
    """A take-up in inches, `part` of the way from the least that is allowed to the most."""
    limits = pleat_of(style).take_up
    return (limits.least + part * (limits.most - limits.least)) / INCH


def sampled(path):
    """Points along an SVG path of M, L and A, in absolute coordinates."""
    words = path.replace(",", " ").split()
    pieces, at = [], None
    while words:
        command = words.pop(0)
        given_numbers = [float(words.pop(0)) for _ in range({"M": 2, "L": 2, "A": 7}[command])]
        end = np.array(given_numbers[-2:])
        if command == "M":
            assert at is None, "one path, drawn in one go"
            pieces.append(end[None, :])
        elif command == "L":
            pieces.append(end[None, :])
        else:
            pieces.append(arc(at, end, *given_numbers[:5]))
        at = end
    return LineString(np.concatenate(pieces))


def arc(start, end, rx, ry, rotation, large, sweep):
    """Points of an elliptical arc after its start."""
    assert not np.array_equal(start, end), "SVG draws no arc from a point to itself"
    turn = math.radians(rotation)
    to_axes = np.array([[math.cos(turn), math.sin(turn)], [-math.sin(turn), math.cos(turn)]])
    x, y = to_axes @ (start - end) / 2
    short = (x / rx) ** 2 + (y / ry) ** 2
    if short > 1:
        rx, ry = rx * math.sqrt(short), ry * math.sqrt(short)
    over = (rx * y) ** 2 + (ry * x) ** 2
    root = math.sqrt(max(0.0, ((rx * ry) ** 2 - over) / over)) * (1 if large != sweep else -1)
    centre = np.array([root * rx * y / ry, -root * ry * x / rx])
    first = math.atan2((y - centre[1]) / ry, (x - centre[0]) / rx)
    last = math.atan2((-y - centre[1]) / ry, (-x - centre[0]) / rx)
    swept = (last - first) % math.tau if sweep else -((first - last) % math.tau)
    angles = first + swept * np.arange(1, STEPS + 1) / STEPS
    points = np.stack([rx * np.cos(angles), ry * np.sin(angles)], axis=1) + centre
    return points @ to_axes + (start + end) / 2


def in_front(line):
    """The part of the path that stands in front of the face, by a hair or more."""
    return line.intersection(box(-100, 1e-9, 100, 100))


def test_the_sampler_knows_the_length_of_a_quarter_circle_and_of_three_quarters():
    """By hand: pi / 2 and 3 pi / 2 of a radius of 1 [geometry]."""
    assert sampled("M 1 0 A 1 1 0 0 1 0 1").length == pytest.approx(math.pi / 2, rel=1e-7)
    assert sampled("M 1 0 A 1 1 0 0 1 0 1").bounds == pytest.approx((0, 0, 1, 1), abs=1e-9)
    for sweep, bounds in ((0, (-1, -1, 1, 1)), (1, (0, 0, 2, 2))):
        line = sampled(f"M 1 0 A 1 1 0 1 {sweep} 0 1")
        assert line.length == pytest.approx(3 * math.pi / 2, rel=1e-7)
        assert line.bounds == pytest.approx(bounds, abs=1e-6)


def test_the_sampler_knows_the_length_of_an_ellipse():
    """Ramanujan's approximation for semi-axes 2 and 1, good to a part in ten million here [geometry]."""
    h = (1 / 3) ** 2
    whole = math.pi * 3 * (1 + 3 * h / (10 + math.sqrt(4 - 3 * h)))
    assert sampled("M 2 0 A 2 1 0 0 1 -2 0 A 2 1 0 0 1 2 0").length == pytest.approx(whole, rel=1e-6)
    assert sampled("M 0 2 A 2 1 90 0 1 0 -2 A 2 1 90 0 1 0 2").length == pytest.approx(whole, rel=1e-6)


@pytest.mark.parametrize("style", STYLES)
@REPEATABLE
@given(OVER_THE_RANGE)
@example(0.0)
@example(1.0)
def test_the_path_of_a_style_is_as_long_as_its_take_up(style, part):
    """Cloth is neither made nor lost [geometry]."""
    take_up = take_up_at(style, part)
    line = sampled(pleat_of(style).shape(take_up).outline.svg_path())
    assert line.length == pytest.approx(take_up, rel=CLOSE)


@pytest.mark.parametrize("style", STYLES)
@REPEATABLE
@given(OVER_THE_RANGE)
@example(0.0)
@example(1.0)
def test_a_style_says_it_is_as_long_as_its_take_up(style, part):
    """Cloth is neither made nor lost [geometry]: in inches and in grid units."""
    take_up = take_up_at(style, part)
    for scale in (1, INCH):
        outline = pleat_of(style).shape(take_up * scale).outline
        assert outline.developed_length == pytest.approx(take_up * scale, rel=1e-9)


@pytest.mark.parametrize("style", STYLES)
@REPEATABLE
@given(OVER_THE_RANGE)
@example(0.0)
@example(1.0)
def test_a_style_projects_and_shows_as_much_as_its_path(style, part):
    """The bounds of the path [geometry]."""
    outline = pleat_of(style).shape(take_up_at(style, part)).outline
    line = sampled(outline.svg_path())
    assert outline.projection == pytest.approx(max(0, line.bounds[3]), abs=2e-6)
    front = in_front(line)
    least, _, most, _ = (0, 0, 0, 0) if front.is_empty else front.bounds
    assert outline.width_shown == pytest.approx(most - least, abs=2e-6)


@pytest.mark.parametrize("style", STYLES)
@REPEATABLE
@given(OVER_THE_RANGE)
def test_a_style_starts_and_ends_at_its_stitching(style, part):
    """The two marks of a pleat are sewn together [geometry]."""
    line = sampled(pleat_of(style).shape(take_up_at(style, part)).outline.svg_path())
    assert line.coords[0] == pytest.approx((0, 0), abs=1e-6)
    assert line.coords[-1] == pytest.approx((0, 0), abs=1e-6)


@pytest.mark.parametrize("style", STYLES)
@REPEATABLE
@given(OVER_THE_RANGE, st.floats(0.01, 100))
def test_a_style_has_one_shape_at_any_scale(style, part, scale):
    """A shape is drawn in the unit of its take-up [geometry]."""
    take_up = take_up_at(style, part)
    one, other = (pleat_of(style).shape(take_up * times) for times in (1, scale))
    assert other.depth_of_fold == pytest.approx(one.depth_of_fold * scale)
    assert other.outline.projection == pytest.approx(one.outline.projection * scale)
    assert other.outline.width_shown == pytest.approx(one.outline.width_shown * scale)


DEPTHS = {
    # Each fold goes out and back, so n folds stand take-up / 2n proud.
    "three-fold-pinch": lambda take_up: take_up / 6,
    "two-fold-pinch": lambda take_up: take_up / 4,
    "euro-three-fold": lambda take_up: take_up / 6,
    "butterfly": lambda take_up: take_up / 4,
    # A cup's circumference is its take-up: the depth is the diameter.
    "goblet": lambda take_up: take_up / math.pi,
    # The underlay is half the take-up wide, a quarter to either side of where the edges meet.
    "inverted": lambda take_up: take_up / 4,
}


@pytest.mark.parametrize("style", DEPTHS)
@REPEATABLE
@given(OVER_THE_RANGE)
@example(0.0)
@example(1.0)
def test_a_fold_is_as_deep_as_its_share_of_the_take_up(style, part):
    """[geometry]: by the formula, and by the farthest that the cloth gets from the stitching."""
    take_up = take_up_at(style, part)
    shape = pleat_of(style).shape(take_up)
    assert shape.depth_of_fold == pytest.approx(DEPTHS[style](take_up), rel=1e-12)
    points = np.array(sampled(shape.outline.svg_path()).coords)
    assert shape.depth_of_fold == pytest.approx(np.hypot(*points.T).max(), abs=2e-6)


@REPEATABLE
@given(OVER_THE_RANGE)
def test_an_inverted_pleat_lies_behind_the_face_under_edges_that_meet(part):
    """An underlay take-up / 2 wide, nothing in front [geometry]."""
    take_up = take_up_at("inverted", part)
    outline = pleat_of("inverted").shape(take_up).outline
    left, low, right, high = sampled(outline.svg_path()).bounds
    assert right - left == pytest.approx(take_up / 2, abs=2e-6)
    assert low <= high <= 0
    assert (outline.projection, outline.width_shown) == (0, 0)


@pytest.mark.parametrize(("style", "folds"), [("three-fold-pinch", 3), ("two-fold-pinch", 2), ("butterfly", 2)])
def test_a_pinch_has_as_many_tips_as_folds(style, folds):
    """A tip is where the cloth turns back [geometry]."""
    points = np.array(sampled(pleat_of(style).shape(6.0).outline.svg_path()).coords)
    assert np.isclose(np.hypot(*points.T), DEPTHS[style](6.0), atol=2e-6).sum() == folds
