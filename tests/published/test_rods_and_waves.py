"""Cloth round a rod against a convex hull, and waves of cloth against the points along them [geometry]."""

import math

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from shapely import LineString, multipoints

from pleatwright.headings.outline import wave
from pleatwright.headings.rod import loop_drop, loop_length

REPEATABLE = settings(derandomize=True, database=None, deadline=None, max_examples=100)
STEPS = 1_024
RATIOS = st.floats(1, 6)
WIDTHS = st.floats(0.5, 100)
GIRTHS = st.floats(1, 12)


def hull_around(girth, below):
    """Length of a cord pulled tight round a circle and a point below it: the perimeter of their convex hull."""
    radius = girth / math.tau
    angles = np.linspace(0, math.tau, 20_000, endpoint=False)
    circle = np.stack([radius * np.cos(angles), radius * np.sin(angles)], axis=1)
    return multipoints(np.vstack([circle, (0, -radius - below)])).convex_hull.exterior.length


@REPEATABLE
@given(GIRTHS, st.floats(0, 6))
@example(math.pi, 0.0)
def test_a_loop_is_as_long_as_a_cord_round_the_rod_and_the_point_where_it_is_sewn(girth, below):
    """[geometry]: the convex hull of a circle of 20 000 points and one below."""
    assert loop_length(girth, below) == pytest.approx(hull_around(girth, below), rel=1e-7)


@REPEATABLE
@given(GIRTHS, st.floats(0.125, 6))
def test_a_loop_is_sewn_together_as_far_down_as_a_cord_of_its_length_reaches(girth, below):
    """[geometry]: from the top of the rod, its diameter and what is below it."""
    assert loop_drop(girth, hull_around(girth, below)) == pytest.approx(girth / math.pi + below, abs=1e-5)


@REPEATABLE
@given(GIRTHS)
def test_a_loop_just_round_the_rod_is_its_girth_and_closes_at_its_underside(girth):
    assert loop_length(girth, 0) == pytest.approx(girth, rel=1e-12)
    assert loop_drop(girth, girth) == pytest.approx(girth / math.pi, rel=1e-6)


def test_a_loop_round_a_rod_of_two_inches_worked_by_hand():
    """Radius 1, sewn 1 below: tangents of root 3 from a point at 2, and 240 degrees of the circle [geometry]."""
    assert loop_length(2 * math.pi, 1) == pytest.approx(2 * math.sqrt(3) + 4 * math.pi / 3, rel=1e-12)
    assert loop_drop(2 * math.pi, 2 * math.sqrt(3) + 4 * math.pi / 3) == pytest.approx(3, rel=1e-9)


def test_a_loop_round_a_rod_of_two_inches_with_tangents_at_right_angles():
    """Radius 1, sewn at root 2 from the middle: tangents of 1, and 270 degrees of the circle [geometry]."""
    assert loop_length(2 * math.pi, math.sqrt(2) - 1) == pytest.approx(2 + 3 * math.pi / 2, rel=1e-12)


@REPEATABLE
@given(GIRTHS, st.floats(0.01, 6), st.floats(0.01, 6))
def test_a_longer_loop_reaches_farther_down(girth, below, farther):
    """Twice as much farther at the most, there and back [geometry: the triangle's inequality]."""
    more = loop_length(girth, below + farther) - loop_length(girth, below)
    assert 0 < more <= 2 * farther * (1 + 1e-9)
    assert loop_drop(girth, loop_length(girth, below)) < loop_drop(girth, loop_length(girth, below + farther))


def along(outline):
    return np.array(list(outline.walked(STEPS)))


def walked_to(points):
    """How much cloth lies along the points up to each."""
    return np.concatenate([[0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])


@REPEATABLE
@given(RATIOS, WIDTHS)
@example(1.0, 4.0)
@example(math.pi / 2, 4.0)
@example(1 + 1e-9, 4.0)
@example(math.nextafter(1, 2), 4.0)
def test_a_wave_is_as_long_as_its_cloth(ratio, shown):
    """The chords along it [geometry]: cloth is neither made nor lost."""
    outline = wave(ratio * shown, shown)
    assert LineString(along(outline)).length == pytest.approx(ratio * shown, rel=1e-6)
    assert outline.developed_length == pytest.approx(ratio * shown, rel=1e-9)


@REPEATABLE
@given(RATIOS, WIDTHS)
@example(1.0, 4.0)
@example(math.pi / 2, 4.0)
@example(1 + 1e-9, 4.0)
@example(math.nextafter(1, 2), 4.0)
def test_a_wave_ends_on_the_face_as_far_along_as_it_is_wide(ratio, shown):
    outline = wave(ratio * shown, shown)
    points = along(outline)
    assert points[0] == pytest.approx((0, 0), abs=1e-9 * shown)
    assert points[-1] == pytest.approx((shown, 0), abs=1e-6 * shown)
    assert outline.end == pytest.approx((shown, 0), abs=1e-6 * shown)


@REPEATABLE
@given(RATIOS, WIDTHS)
def test_a_wave_stands_as_far_to_the_back_as_to_the_front(ratio, shown):
    """Half a turn about the middle of its width maps it on itself [geometry]."""
    outline = wave(ratio * shown, shown)
    points = along(outline)
    assert points[:, 1].max() == pytest.approx(-points[:, 1].min(), abs=1e-6 * shown)
    assert outline.projection == pytest.approx(points[:, 1].max(), abs=1e-5 * shown)
    walked = walked_to(points)
    even = np.stack([np.interp(np.linspace(0, walked[-1], 500), walked, each) for each in points.T], axis=1)
    assert (shown, 0) - even[::-1] == pytest.approx(even, abs=1e-5 * shown)


@REPEATABLE
@given(RATIOS, WIDTHS)
def test_half_the_cloth_of_a_wave_is_in_front_of_the_face_over_half_the_width(ratio, shown):
    """The front half comes first; none of it passes behind the face, nor of the other half before it."""
    points = along(wave(ratio * shown, shown))
    walked = walked_to(points)
    hair = 1e-6 * shown
    first, second = points[walked < walked[-1] / 2 - hair], points[walked > walked[-1] / 2 + hair]
    assert first[:, 1].min() >= -hair
    assert second[:, 1].max() <= hair
    assert -hair <= first[:, 0].min() <= first[:, 0].max() <= shown / 2 + hair
    assert shown / 2 - hair <= second[:, 0].min() <= second[:, 0].max() <= shown + hair


@pytest.mark.parametrize(
    ("cloth", "shown", "projection"),
    [
        # Two half circles of a quarter of the width: 2 pi of cloth on 4 stand 1 proud.
        (2 * math.pi, 4, 1),
        (math.pi / 2, 1, 0.25),
        (math.pi, 2, 0.5),
        # Four legs take what is over: 2 pi + 4 on 4 has legs of 1, and 2 pi + 8 legs of 2.
        (2 * math.pi + 4, 4, 2),
        (2 * math.pi + 8, 4, 3),
        # 8 on 4: (8 - 2 pi) / 4 + 1 = 3 - pi / 2.
        (8, 4, 3 - math.pi / 2),
        # 12 on 6, half circles of 1 1/2: (12 - 3 pi) / 4 + 3 / 2.
        (12, 6, 4.5 - 3 * math.pi / 4),
    ],
)
def test_a_full_wave_projects_as_worked_by_hand(cloth, shown, projection):
    """Half circles on legs that stand straight out [geometry]."""
    outline = wave(cloth, shown)
    assert outline.projection == pytest.approx(projection, rel=1e-9)
    assert along(outline)[:, 1].max() == pytest.approx(projection, rel=1e-6)


@pytest.mark.parametrize("angle", [15, 60, 90, 120, 150])
def test_a_shallow_wave_projects_as_arcs_worked_by_hand(angle):
    """Two arcs of radius 1 that turn by an angle: chord 2 sin(a / 2), length a, height 1 - cos(a / 2) [geometry]."""
    turn = math.radians(angle)
    outline = wave(2 * turn, 4 * math.sin(turn / 2))
    assert outline.projection == pytest.approx(1 - math.cos(turn / 2), rel=1e-6)


def test_a_wave_without_fullness_lies_flat():
    outline = wave(4, 4)
    assert (outline.projection, outline.end) == (0, (4, 0))


@REPEATABLE
@given(RATIOS, RATIOS, WIDTHS)
@example(math.pi / 2 - 1e-6, math.pi / 2 + 1e-6, 4.0)
def test_more_cloth_on_the_same_width_never_projects_less(one, other, shown):
    """Nor more than half of its own half, there and back [geometry]."""
    less, more = (wave(ratio * shown, shown).projection for ratio in sorted((one, other)))
    assert less <= more + 1e-9 * shown
    assert more <= max(one, other) * shown / 4 + 1e-9 * shown
