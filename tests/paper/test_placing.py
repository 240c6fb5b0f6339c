"""Labels that do not collide: in order, apart, and as near to their places as can be."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pleatwright.lengths import MILLIMETRE
from pleatwright.paper.drawings.placing import SCALES, scale_for, spread

wanted = st.lists(st.floats(0, 100), min_size=1, max_size=12).map(sorted)


@given(wanted)
def test_places_are_apart_and_within_where_there_is_room(places):
    found = spread(places, 3.0, 0.0, 100.0)
    assert all(after - place >= 3.0 - 1e-9 for place, after in pairwise(found))
    assert found[0] >= -1e-9
    assert found[-1] <= 100.0 + 1e-9


@given(wanted)
def test_places_apart_already_stay(places):
    apart = [place + 5 * number for number, place in enumerate(places)]
    assert spread(apart, 3.0, -1000.0, 1000.0) == pytest.approx(apart)


@given(wanted, st.lists(st.floats(0, 2), min_size=12, max_size=12))
def test_no_other_places_are_nearer(places, steps):
    found = spread(places, 3.0, -1000.0, 1000.0)
    other, at = [], places[0] - 10
    for place, step in zip(places, steps, strict=False):
        at = max(at + 3.0, place - step)
        other.append(at)

    def off(these):
        return sum((a - b) ** 2 for a, b in zip(these, places, strict=True))

    assert off(found) <= off(other) + 1e-6


@given(st.integers(1, 10**9), st.floats(10, 300))
def test_the_scale_is_the_largest_that_fits(length, room):
    scale = scale_for(length, room)
    assert length / MILLIMETRE / scale <= room + 1e-6
    larger = [each for each in SCALES if each < scale]
    assert not larger or length / MILLIMETRE / larger[-1] > room
