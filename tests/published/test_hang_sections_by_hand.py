"""Hang sections worked by hand: every height of a panel on its wall, and the question the other way round [geometry].

The sums are plain geometry, worked in the comments. Usual figures are common practice, but for the clearances and the
tolerance, which are those of UFGS 12 22 00.
"""

import json
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pleatwright import workroom
from pleatwright.faults import Impossible

REPEATABLE = settings(derandomize=True, database=None, deadline=None, max_examples=150)
STEP = 0.003125
"""Millimetres in one step of the grid that lengths are read onto: 320 to the millimetre."""


@pytest.fixture(scope="module")
def hang(headings, request_reader):
    """Ask how one panel hangs."""

    def asked(units, style, heights, pin=None, **more):
        heading = style if isinstance(style, dict) else {"style": style}
        request = {"units": units, "heading": heading, "hang": heights, "pin": pin or {}} | more
        return workroom.hang(request_reader.read("hang", json.dumps(request).encode()), headings)

    return asked


@pytest.fixture(scope="module")
def pointers(hang):
    """JSON pointers of everything that is wrong with such a question."""

    def asked(*question, **more):
        with pytest.raises(Impossible) as impossible:
            hang(*question, **more)
        assert not [fault for fault in impossible.value.faults if "{" in f"{fault.detail}{fault.seen}{fault.allowed}"]
        return ["/" + "/".join(map(str, fault.where)) for fault in impossible.value.faults]

    return asked


def heights_of(reply):
    return [(each.point, each.height) for each in reply.heights]


def kinds(reply):
    """Cautions, without those that every panel on a wall carries."""
    standing = {"cords", "heat-and-flame", "load", "tools", "room-behind-the-rod"}
    return [caution.kind for caution in reply.cautions if caution.kind not in standing]


def test_a_window_on_a_traverse_rod_worked_by_hand(hang):
    """Rod 90 up: the eye 3/4 below is at 89 1/4, the underside 1 below at 89.

    The heading stands 1/4 above the eye: 89 1/2. The pin rises 1 3/8 to the eye: 89 1/4 - 1 3/8 = 87 7/8, which is
    1 5/8 below the top. Buckram of 4: its foot is at 85 1/2. The hem clears the floor by 1: 88 1/2 long.
    To a ceiling of 96 there are 6 1/2; the heading covers 89 1/2 - 89 = 1/2 of the rod.
    """
    mount = {"kind": "traverse-rod", "height": 90, "depth": 1, "carrier_below": "3/4", "ceiling": 96}
    reply = hang("in", "three-fold-pinch", {"mount": mount, "heading_above": "1/4"}, {"rise": "1 3/8"})
    assert heights_of(reply) == [
        ("ceiling", 96),
        ("rod-top", 90),
        ("heading-top", 89.5),
        ("carrying-point", 89.25),
        ("rod-underside", 89),
        ("pin", 87.875),
        ("heading-foot", 85.5),
        ("hem", 1),
        ("floor", 0),
    ]
    assert (reply.finished_length, reply.hung_length, reply.heading_above) == (88.5, 88.5, 0.25)
    assert (reply.pin_depth, reply.to_ceiling, reply.below_rod, reply.clearance) == (1.625, 6.5, -0.5, 1)
    assert (reply.measured_from, kinds(reply)) == ("floor", [])


def test_a_window_under_a_ceiling_track_that_breaks_on_the_floor_worked_by_hand(hang):
    """Ceiling 2600: the eye 20 below is at 2580, the underside 15 below at 2585.

    10 above the eye is 2590; a rise of 35 is 2545, 45 below the top; a buckram of 100 reaches down to 2490.
    25 of it lies on the floor: 2590 + 25 = 2615 long. 10 to the ceiling; 2585 - 2590 = -5.
    """
    mount = {"kind": "ceiling-track", "height": 2600, "depth": 15, "carrier_below": 20}
    heights = {"mount": mount, "heading_above": 10, "to": "break", "clearance": -25}
    reply = hang("mm", {"style": "two-fold-pinch", "buckram_depth": 100}, heights, {"rise": 35})
    assert heights_of(reply) == [
        ("ceiling", 2600),
        ("rod-top", 2600),
        ("heading-top", 2590),
        ("rod-underside", 2585),
        ("carrying-point", 2580),
        ("pin", 2545),
        ("heading-foot", 2490),
        ("floor", 0),
        ("hem", -25),
    ]
    assert (reply.finished_length, reply.hung_length, reply.heading_above) == (2615, 2615, 10)
    assert (reply.pin_depth, reply.to_ceiling, reply.below_rod, reply.clearance) == (45, 10, -5, -25)
    assert kinds(reply) == []


def test_a_window_on_rings_to_the_sill_worked_by_hand(hang):
    """Rod 220 up, 3 across: underside 217. A ring of 5 inside hangs with its inside at 215, its eye 1.2 lower: 213.8.

    The pin is set 4 down and rises 3.5: 0.5 above the eye, 214.3, and 210.3 where it goes in. Buckram of 10: 204.3.
    Sill 80, 1.3 clear: 81.3. 214.3 - 81.3 = 133 long. 217 - 214.3 = 2.7 below the rod.
    """
    mount = {"kind": "rings", "height": 220, "rod_diameter": 3, "ring": 5, "eye": 1.2}
    heights = {"mount": mount, "to": "sill", "to_height": 80, "clearance": 1.3}
    reply = hang("cm", {"style": "goblet", "buckram_depth": 10}, heights, {"rise": 3.5, "depth": 4})
    assert heights_of(reply) == [
        ("rod-top", 220),
        ("rod-underside", 217),
        ("heading-top", 214.3),
        ("carrying-point", 213.8),
        ("pin", 210.3),
        ("heading-foot", 204.3),
        ("hem", 81.3),
        ("sill", 80),
        ("floor", 0),
    ]
    assert (reply.finished_length, reply.hung_length, reply.heading_above) == (133, 133, 0.5)
    assert (reply.pin_depth, reply.to_ceiling, reply.below_rod, reply.clearance) == (4, None, 2.7, 1.3)
    assert kinds(reply) == []


def test_a_window_on_clip_rings_to_the_apron_worked_by_hand(hang):
    """Rod 84 up, 1 across: underside 83. Ring 1 1/2, the foot of the jaws 1 1/4 lower: 84 - 2 3/4 = 81 1/4.

    The jaws hold 3/8: 81 5/8. Buckram of 4: 77 5/8. An inch below an apron that ends at 24: 23, so 58 5/8 long.
    Nothing is pinned. 83 - 81 5/8 = 1 3/8 below the rod.
    """
    mount = {"kind": "clip-rings", "height": 84, "rod_diameter": 1, "ring": "1 1/2", "eye": "1 1/4"}
    heights = {"mount": mount, "heading_above": "3/8", "to": "apron", "to_height": 24, "clearance": -1}
    reply = hang("in", "inverted", heights)
    assert heights_of(reply) == [
        ("rod-top", 84),
        ("rod-underside", 83),
        ("heading-top", 81.625),
        ("carrying-point", 81.25),
        ("heading-foot", 77.625),
        ("apron", 24),
        ("hem", 23),
        ("floor", 0),
    ]
    assert (reply.finished_length, reply.hung_length, reply.heading_above) == (58.625, 58.625, 0.375)
    assert (reply.pin_depth, reply.to_ceiling, reply.below_rod, reply.clearance) == (None, None, 1.375, -1)
    assert kinds(reply) == []


def test_a_window_of_tabs_over_a_rod_worked_by_hand(hang):
    """Once round the rod is 2 pi, so it is 2 across: rod 96 up, underside 94. The panel starts 1 below: 93.

    The facing is 3 deep: 90. The hem clears by 1: 92 long.
    """
    heights = {"mount": {"kind": "through-heading", "height": 96, "rod_diameter": 2}, "clearance": 1}
    reply = hang("in", {"style": "tab-top", "rod_girth": 2 * math.pi, "below": 1}, heights)
    assert heights_of(reply) == [
        ("rod-top", 96),
        ("carrying-point", 96),
        ("rod-underside", 94),
        ("heading-top", 93),
        ("heading-foot", 90),
        ("hem", 1),
        ("floor", 0),
    ]
    assert (reply.finished_length, reply.hung_length, reply.heading_above) == (92, 92, -3)
    assert (reply.pin_depth, reply.to_ceiling, reply.below_rod) == (None, None, 1)


def test_a_window_of_eyelets_on_a_rod_worked_by_hand(hang):
    """Middles 2 down and holes 1 1/2 across: the tops of the holes are 1 1/4 down, and they lie on the rod's top.

    Rod 96 up, 1 1/8 across: underside 94 7/8; panel's top 97 1/4, its buckram of 4 down to 93 1/4; 98 - 97 1/4 = 3/4
    to the ceiling. The hem 1/2 clear: 96 3/4 long.
    """
    mount = {"kind": "through-heading", "height": 96, "rod_diameter": "1 1/8", "ceiling": 98}
    heading = {"style": "eyelet", "set_down": 2, "hole": 1.5, "rod_girth": 1.125 * math.pi}
    reply = hang("in", heading, {"mount": mount, "clearance": "1/2"})
    assert heights_of(reply) == [
        ("ceiling", 98),
        ("heading-top", 97.25),
        ("rod-top", 96),
        ("carrying-point", 96),
        ("rod-underside", 94.875),
        ("heading-foot", 93.25),
        ("hem", 0.5),
        ("floor", 0),
    ]
    assert (reply.finished_length, reply.hung_length, reply.heading_above) == (96.75, 96.75, 1.25)
    assert (reply.pin_depth, reply.to_ceiling, reply.below_rod) == (None, 0.75, -2.375)


POCKETS = [
    # Just round a rod of radius 1: half of 2 pi deep, and it reaches down the diameter.
    (0, math.pi, 2),
    # Tangents at right angles: half of 2 + 3 pi / 2 deep, and it reaches down 1 + root 2.
    (1 - math.pi / 4, 1 + 3 * math.pi / 4, 1 + math.sqrt(2)),
]


@pytest.mark.parametrize(("ease", "pocket", "reach"), POCKETS)
def test_a_window_of_a_pocket_drawn_up_by_its_rod_worked_by_hand(hang, ease, pocket, reach):
    """A frill of 1 stands above a rod 96 up: 97. 1 clear of the floor it hangs 96 long; flat it is as much longer as
    the pocket is deeper than it reaches down round the rod.
    """
    heights = {"mount": {"kind": "through-heading", "height": 96, "rod_diameter": 2}}
    reply = hang("in", {"style": "rod-pocket", "rod_girth": 2 * math.pi, "ease": ease, "frill": 1}, heights)
    found = dict(heights_of(reply))
    assert (found["heading-top"], found["carrying-point"], found["rod-underside"], found["hem"]) == (97, 96, 94, 1)
    assert reply.hung_length == 96
    assert reply.finished_length == pytest.approx(96 + pocket - reach, abs=2e-4)


@pytest.mark.parametrize(("ease", "pocket", "reach"), POCKETS)
def test_the_foot_of_a_pocket_is_as_far_down_as_the_pocket_reaches_round_its_rod(hang, ease, pocket, reach):
    """Geometry: the pocket is sewn together `reach` below the top of its rod, 96 up; that line is its foot."""
    heights = {"mount": {"kind": "through-heading", "height": 96, "rod_diameter": 2}}
    reply = hang("in", {"style": "rod-pocket", "rod_girth": 2 * math.pi, "ease": ease, "frill": 1}, heights)
    assert dict(heights_of(reply))["heading-foot"] == pytest.approx(96 - reach, abs=2e-4)


@pytest.mark.parametrize(
    ("to", "drop", "clearance", "hem", "length", "measured_from"),
    [
        # The eye 60 up, the heading 1/4 above it; 1/2 above the sill: 60 1/4 - 1/2.
        ("sill", 60, 0.5, 0.5, 59.75, "sill"),
        # An inch below the apron: 60 1/4 + 1.
        ("apron", 60, -1, -1, 61.25, "apron"),
        # The floor itself is what heights are measured from in any case: 90 1/4 - 1.
        ("floor", 90, 1, 1, 89.25, "floor"),
        ("puddle", 90, -6, -6, 96.25, "floor"),
    ],
)
def test_a_drop_alone_measures_heights_from_what_the_panel_hangs_to(
    hang, to, drop, clearance, hem, length, measured_from
):
    """UFGS 12 22 00 for the clearances of sill, apron and floor: they are what is taken when none is given."""
    for said in ({}, {"clearance": clearance}):
        reply = hang("in", "three-fold-pinch", {"drop": drop, "to": to, "heading_above": "1/4"} | said)
        found = dict(heights_of(reply))
        assert (found["carrying-point"], found["heading-top"], found["hem"]) == (drop, drop + 0.25, hem)
        assert (reply.finished_length, reply.clearance, reply.measured_from) == (length, clearance, measured_from)
        assert found[measured_from] == 0
        assert ("floor" in found) == (measured_from == "floor")


def test_a_drop_places_the_mount_above_the_point_that_carries(hang):
    """The eye 60 above the sill: a rod's top 2 in and 1/2 in higher, 62 1/2, and its underside 1 3/8 below that."""
    mount = {"kind": "rings", "rod_diameter": "1 3/8", "ring": 2, "eye": "1/2"}
    found = dict(heights_of(hang("in", "three-fold-pinch", {"drop": 60, "to": "sill", "mount": mount})))
    assert (found["rod-top"], found["rod-underside"], found["carrying-point"]) == (62.5, 61.125, 60)


def test_a_ceiling_measured_from_the_floor_is_not_taken_for_one_measured_from_the_sill(hang, pointers):
    """Geometry: 60 above the sill and 96 above the floor say nothing of each other; how high the sill is is not known.

    It must be refused, as a mount's height is, or at least have no part in the heights.
    """
    mount = {"kind": "traverse-rod", "ceiling": 96}
    assert pointers("in", "three-fold-pinch", {"drop": 60, "to": "sill", "mount": mount}) == ["/hang/mount/ceiling"]


@st.composite
def windows(draw):
    """A pinned panel on any mount it can hang from, in sixteenths of an inch: every sum is exact in a float."""
    kind = draw(st.sampled_from(["traverse-rod", "ceiling-track", "rings", None]))
    height = draw(st.integers(80 * 16, 110 * 16)) / 16
    # No more than the 1 7/8 that the eye is at most below the ceiling, so that the heading stays out of it.
    above = draw(st.integers(0, 10)) / 16
    rise = draw(st.integers(4, 24)) / 16
    below = draw(st.integers(14, 30)) / 16
    heights = {"heading_above": above}
    if kind in ("traverse-rod", "ceiling-track"):
        heights["mount"] = {"kind": kind, "height": height, "carrier_below": below}
        carrying = height - below
    elif kind == "rings":
        heights["mount"] = {"kind": kind, "height": height, "rod_diameter": 1, "ring": 1.5, "eye": below}
        carrying = height - 1.5 - below
    else:
        heights["carrying_height"] = carrying = height
    to = draw(st.sampled_from(["floor", "sill", "apron", "break", "puddle"]))
    level = 0.0
    if to in ("sill", "apron"):
        level = heights["to_height"] = draw(st.integers(10 * 16, 40 * 16)) / 16
    size = draw(st.integers(1, 40)) / 16
    clearance = heights["clearance"] = -size if to in ("break", "puddle", "apron") else size
    return heights | {"to": to}, rise, (carrying, above, level, clearance)


@REPEATABLE
@given(windows())
def test_every_height_adds_up_whatever_the_mount(hang, window):
    """Carrying + depth - rise = top = carrying + above; pin = top - depth; top - hem = length; hem - level = clearance.

    Forward: the panel is made for the heights. All of it in sixteenths of an inch, so that sums are exact.
    """
    heights, rise, (carrying, above, level, clearance) = window
    reply = hang("in", "three-fold-pinch", heights, {"rise": rise})
    found = dict(heights_of(reply))
    assert found["carrying-point"] == carrying
    assert found["heading-top"] == carrying + above == carrying + reply.pin_depth - rise
    assert found["pin"] == carrying - rise == found["heading-top"] - reply.pin_depth
    assert found["heading-foot"] == found["heading-top"] - 4
    assert found["hem"] == level + clearance
    assert reply.finished_length == reply.hung_length == carrying + above - level - clearance
    assert (reply.heading_above, reply.clearance) == (above, clearance)
    assert list(found.values()) == sorted(found.values(), reverse=True)
    if "rod-underside" in found:
        assert reply.below_rod == found["rod-underside"] - found["heading-top"]
    if "ceiling" in found:
        assert reply.to_ceiling == found["ceiling"] - found["heading-top"]


@REPEATABLE
@given(windows(), st.integers(-24, 24), st.integers(0, 12))
def test_a_panel_asked_about_in_reverse_hangs_as_it_was_made_to(hang, window, longer, deeper):
    """Made for these heights and pinned as told, the hem lands where it was asked to; longer or pinned deeper, off by
    as much: a length of so many sixteenths more is so much lower, a pin as much deeper so much higher [geometry].
    """
    heights, rise, (carrying, above, _, clearance) = window
    made = hang("in", "three-fold-pinch", heights, {"rise": rise})
    asked = {name: given for name, given in heights.items() if name != "heading_above"}

    def reverse(pin_depth, length):
        pin = {"rise": rise, "depth": pin_depth}
        return hang("in", "three-fold-pinch", asked, pin, finished_length=length)

    back = reverse(made.pin_depth, made.finished_length)
    assert heights_of(back) == heights_of(made)
    assert (back.clearance, kinds(back)) == (clearance, kinds(made))
    assert reverse(made.pin_depth, made.finished_length + longer / 16).clearance == clearance - longer / 16
    # Never so deep that the heading would stand in the ceiling, 14/16 above the eye at the least.
    more = min(deeper / 16, 13 / 16 - above)
    other = reverse(made.pin_depth + more, made.finished_length)
    assert dict(heights_of(other))["heading-top"] == carrying + above + more
    assert other.clearance == clearance + more


@REPEATABLE
@given(st.integers(60_000, 90_000), st.integers(1_000, 2_500), st.integers(1_000, 4_000), st.sampled_from([1, 5, 10]))
def test_a_pin_set_on_the_rule_moves_the_hem_by_half_a_division_at_the_most(hang, carrying, above, rise, division):
    """A pin is marked on the nearest division, and everything below hangs from it [geometry: nearest rounding].

    In hundredths of a millimetre, which the grid of 320 to the millimetre may move by 1/640 mm each. In reverse, with
    the depth and the length that were told, the hem is where it was forward. The heading stands a division or more
    above the eye, so that the nearest division is never less than the rise.
    """
    heights = {"carrying_height": carrying / 100, "clearance": 25}
    made = hang("mm", "three-fold-pinch", heights | {"heading_above": above / 100}, {"rise": rise / 100}, mark=division)
    assert made.pin_depth % division == 0
    assert abs(made.clearance - 25) <= division / 2 + 3 * STEP
    pin = {"rise": rise / 100, "depth": made.pin_depth}
    back = hang("mm", "three-fold-pinch", heights, pin, finished_length=made.finished_length)
    assert heights_of(back) == heights_of(made)


def test_a_pin_set_on_the_rule_is_never_set_above_the_heading(hang):
    """A hook of a pencil tape rises 3/4 in, 19.05 mm; with the heading level with the eye, 19 mm down is too high.

    20 mm is the division to mark [geometry]; asked in reverse, the service refuses the 19 mm that it told.
    """
    made = hang("mm", "pencil", {"carrying_height": 2000, "heading_above": 0})
    assert made.pin_depth == 20
    back = hang(
        "mm", "pencil", {"carrying_height": 2000}, {"depth": made.pin_depth}, finished_length=made.finished_length
    )
    assert heights_of(back) == heights_of(made)


def test_a_made_panel_pinned_so_lands_where_worked_by_hand(hang):
    """Rod 90, ring 2 and eye 1/2: 87 1/2. Pinned 1 3/4 down with a rise of 1 3/8 the top is 3/8 above: 87 7/8.

    86 1/2 long, the hem is at 1 3/8; asked 1 clear, it is 3/8 too high.
    """
    mount = {"kind": "rings", "height": 90, "rod_diameter": "1 3/8", "ring": 2, "eye": "1/2"}
    pin = {"rise": "1 3/8", "depth": "1 3/4"}
    reply = hang("in", "three-fold-pinch", {"mount": mount}, pin, finished_length="86 1/2")
    assert dict(heights_of(reply))["hem"] == reply.clearance == 1.375
    assert kinds(reply) == ["hem-off"]
    off = next(caution for caution in reply.cautions if caution.kind == "hem-off")
    assert "3/8 in too high" in off.detail
    assert "3/8 in shallower" in off.detail


def on(kind, heading_stands, ceiling=None, **more):
    """Heights, in millimetres, with the heading so far above the eye: a rise of 35, and a pin as deep as that takes."""
    own = {
        # Eye 1970, underside 1975.
        "traverse-rod": {"depth": 25, "carrier_below": 30},
        # Eye 1980, underside 1985.
        "ceiling-track": {"depth": 15, "carrier_below": 20},
        # Eye 1938, underside 1965.
        "rings": {"rod_diameter": 35, "ring": 50, "eye": 12},
    }[kind]
    mount = {"kind": kind, "height": 2000} | own | ({"ceiling": ceiling} if ceiling else {}) | more
    pin = {"rise": 35, "depth": 35 + heading_stands}
    return "mm", {"style": "three-fold-pinch", "buckram_depth": 100}, {"mount": mount}, pin


def test_light_shows_as_soon_as_a_heading_is_a_hair_below_the_underside_of_its_rod(hang):
    """Geometry: 1970 + 5 = 1975, where the underside is."""
    assert kinds(hang(*on("traverse-rod", 5))) == []
    assert kinds(hang(*on("traverse-rod", 5 - STEP))) == ["light-above-heading"]
    assert kinds(hang(*on("ceiling-track", 5))) == []
    assert kinds(hang(*on("ceiling-track", 5 - STEP))) == ["light-above-heading"]


def test_a_gap_is_told_as_wide_as_it_is(hang):
    """Geometry: the eye 30 below the top of a rod 25 deep, and the heading level with it: 5."""
    light = next(caution for caution in hang(*on("traverse-rod", 0)).cautions if caution.kind == "light-above-heading")
    assert "a gap of 5 mm" in light.detail


@pytest.mark.parametrize(
    ("units", "clear", "carrier_below"), [("mm", 6, 20), ("mm", 6, 30), ("in", 0.25 * 25.4, 19.05)]
)
def test_a_heading_scrapes_the_ceiling_a_hair_within_the_clearance(hang, units, clear, carrier_below):
    """No source: 1/4 in or 6 mm are the project's own choice. The heading reaches to the ceiling less the clearance."""
    heights = {"mount": {"kind": "ceiling-track", "height": "2000 mm", "carrier_below": f"{carrier_below} mm"}}
    heading = {"style": "three-fold-pinch", "buckram_depth": "100 mm"}

    def at(stands):
        return kinds(hang(units, heading, heights, {"rise": "35 mm", "depth": f"{35 + stands:.6f} mm"}))

    assert at(carrier_below - clear) == []
    assert at(carrier_below - clear + STEP) == ["scrapes-ceiling"]


def test_a_heading_that_reaches_the_ceiling_is_refused_and_one_a_hair_lower_scrapes(hang, pointers):
    """Geometry: the eye is 20 below the ceiling, so 20 above it there is no room left."""
    assert kinds(hang(*on("ceiling-track", 20 - STEP))) == ["scrapes-ceiling"]
    assert pointers(*on("ceiling-track", 20)) == ["/hang/heading_above"]
    # On the wall: the eye at 1970, a ceiling at 2003.
    assert kinds(hang(*on("traverse-rod", 33 - STEP, ceiling=2003))) == ["scrapes-ceiling"]
    assert pointers(*on("traverse-rod", 33, ceiling=2003)) == ["/hang/heading_above"]


def test_a_panel_that_is_made_is_refused_in_the_ceiling_as_well(hang, pointers):
    """Made already or not, it cannot hang there."""
    # The top is a hair below 2000: with a clearance of 25, 1975 long less that hair.
    assert kinds(hang(*on("ceiling-track", 20 - STEP), finished_length=1975 - STEP)) == ["scrapes-ceiling"]
    assert pointers(*on("ceiling-track", 20), finished_length=1975) == ["/hang/heading_above"]


def test_a_heading_on_rings_rubs_a_hair_above_the_underside_of_the_rod(hang):
    """Geometry: the eye is 62 below the top of a rod 35 across, and so 27 below its underside."""
    assert kinds(hang(*on("rings", 27))) == []
    assert kinds(hang(*on("rings", 27 + STEP))) == ["rubs-on-rod"]


def test_a_pin_a_hair_below_the_buckram_is_a_caution_on_a_made_panel_and_refused_on_one_to_be_made(hang, pointers):
    """A pin must enter the buckram, here of 100: common practice."""
    heading, heights = {"style": "three-fold-pinch", "buckram_depth": 100}, {"carrying_height": 2000}
    deep, deeper = ({"rise": 35, "depth": 100 + over} for over in (0, STEP))
    # The top is 2065 up; 2040 long, the hem is 25 clear.
    assert kinds(hang("mm", heading, heights, deep, finished_length=2040)) == []
    assert kinds(hang("mm", heading, heights, deeper, finished_length=2040)) == ["pin-below-buckram"]
    assert kinds(hang("mm", heading, heights, deep)) == []
    assert pointers("mm", heading, heights, deeper) == ["/pin/depth"]


@pytest.mark.parametrize(("units", "tolerance"), [("mm", 6), ("in", 0.25 * 25.4)])
@pytest.mark.parametrize(("direction", "words"), [(1, "too high"), (-1, "too low")])
def test_a_hem_is_off_a_hair_beyond_the_tolerance(hang, units, tolerance, direction, words):
    """UFGS 12 22 00: sizes hold within 1/4 in or 6 mm. Top at 2006, asked 30 clear: 1976 long."""

    def made(off):
        pin = {"rise": "35 mm", "depth": "41 mm"}
        heights = {"carrying_height": "2000 mm", "clearance": "30 mm"}
        return hang(units, "three-fold-pinch", heights, pin, finished_length=f"{1976 - direction * off:.6f} mm")

    assert kinds(made(tolerance)) == []
    off = made(tolerance + STEP)
    assert kinds(off) == ["hem-off"]
    assert any(words in caution.detail for caution in off.cautions)


@pytest.mark.parametrize(("style", "made_for"), [("eyelet", 96.25), ("three-fold-pinch", None)])
def test_only_a_panel_that_is_made_has_a_hem_that_can_be_off(hang, style, made_for):
    """Made 2 in too long for 96 + 1 1/4 - 1 on eyelets (middles 2 down, holes of 1 1/2), the hem is 2 in too low."""
    heading = {"style": style} | ({"set_down": 2, "hole": 1.5} if style == "eyelet" else {})
    reply = hang("in", heading, {"carrying_height": 96})
    assert kinds(reply) == []
    if made_for:
        assert reply.finished_length == made_for
        assert kinds(hang("in", heading, {"carrying_height": 96}, finished_length=made_for + 2)) == ["hem-off"]


PINCH = "three-fold-pinch"
TRACK = {"kind": "traverse-rod"}
RINGS = {"kind": "rings", "rod_diameter": 35, "ring": 50, "eye": 12}


@pytest.mark.parametrize(
    ("heading", "heights", "pin", "where"),
    [
        # A pin set less deep than it rises would stand above the heading.
        (PINCH, {"carrying_height": 2000}, {"rise": 35, "depth": 35 - STEP}, ["/pin/depth"]),
        (PINCH, {"carrying_height": 2000, "heading_above": 6}, {"depth": 41}, ["/hang/heading_above"]),
        (PINCH, {"carrying_height": 2000, "drop": 1900}, {}, ["/hang/carrying_height"]),
        (PINCH, {"drop": 1900, "to": "sill", "to_height": 800}, {}, ["/hang/to_height"]),
        # 2000 less a carrier of 20 is 1980.
        (PINCH, {"carrying_height": 1981, "mount": TRACK | {"height": 2000}}, {}, ["/hang/carrying_height"]),
        (PINCH, {"mount": RINGS | {"height": 2000, "ring": 35}}, {}, ["/hang/mount/ring"]),
        (PINCH, {"mount": TRACK | {"height": 2000, "ceiling": 2000 - STEP}}, {}, ["/hang/mount/ceiling"]),
        (PINCH, {"mount": {"kind": "through-heading", "height": 2000}}, {}, ["/hang/mount/kind"]),
        ("eyelet", {"mount": RINGS | {"height": 2000}}, {}, ["/hang/mount/kind"]),
        ("tab-top", {"mount": TRACK | {"height": 2000}}, {}, ["/hang/mount/kind"]),
        ("rod-pocket", {"mount": {"kind": "clip-rings", "height": 2000}}, {}, ["/hang/mount/kind"]),
        (PINCH, {}, {}, ["/hang/carrying_height"]),
        (PINCH, {"mount": TRACK}, {}, ["/hang/mount/height"]),
        # Ring and eye take 62 of a rod that is 62 up.
        (PINCH, {"mount": RINGS | {"height": 62}}, {}, ["/hang/mount/height"]),
        # As long as its heading of 4 in is deep.
        (PINCH, {"mount": RINGS | {"height": 62 + 95.6}, "clearance": 0}, {}, ["/hang/mount/height"]),
        (PINCH, {"carrying_height": 2000, "to": "sill"}, {}, ["/hang/to_height"]),
        (PINCH, {"carrying_height": 2000, "to_height": 800}, {}, ["/hang/to_height"]),
        (PINCH, {"mount": {"kind": "clip-rings", "height": 2000}}, {"rise": 35}, ["/pin/rise"]),
        ("eyelet", {"carrying_height": 2000}, {"depth": 35}, ["/pin/depth"]),
        # Ninety above the eye and a rise of 35 is beyond a buckram of 4 in.
        (PINCH, {"carrying_height": 2000, "heading_above": 90}, {"rise": 35}, ["/pin/rise"]),
        (PINCH, {"carrying_height": 800, "to": "sill", "to_height": 900}, {}, ["/hang/carrying_height"]),
    ],
)
def test_what_cannot_be_is_refused_at_its_place(pointers, heading, heights, pin, where):
    assert sorted(pointers("mm", heading, heights, pin)) == where


@pytest.mark.parametrize(
    ("heights", "where"),
    [
        # From a rod 2000 up the eye would be at 1980; the request says nothing of a carrying height.
        ({"drop": 1900, "mount": TRACK | {"height": 2000}}, "/hang/mount/height"),
        # A rod 1920 up, above the sill; a ceiling 1910 up, above the floor.
        ({"drop": 1900, "to": "sill", "mount": TRACK | {"ceiling": 1910}}, "/hang/mount/ceiling"),
    ],
)
def test_one_figure_too_many_is_told_once(pointers, heights, where):
    assert pointers("mm", PINCH, heights, {}) == [where]


@pytest.mark.parametrize(
    ("heading", "heights", "pin"),
    [
        (PINCH, {"carrying_height": 2000}, {"rise": 35, "depth": 35}),
        (PINCH, {"carrying_height": 1980, "mount": TRACK | {"height": 2000, "carrier_below": 20}}, {}),
        (PINCH, {"mount": RINGS | {"height": 2000, "ring": 35 + STEP}}, {}),
        (PINCH, {"mount": TRACK | {"height": 2000, "ceiling": 2000}}, {}),
        # One step of the grid longer than its heading of 4 in: the eye at 95.6, and 6 above it.
        (PINCH, {"mount": RINGS | {"height": 62 + 95.6 + STEP}, "clearance": 0}, {}),
    ],
)
def test_what_is_refused_can_be_a_hair_to_the_other_side(hang, heading, heights, pin):
    assert hang("mm", heading, heights, pin).finished_length > 0


@pytest.mark.parametrize("above", [-1, 110])
def test_a_heading_that_no_pin_can_carry_is_refused_at_a_field_of_the_request(pointers, above):
    """Below the eye, or beyond the buckram of 4 in: both are for the `heading_above` of the hang to put right."""
    assert pointers("mm", PINCH, {"carrying_height": 2000, "heading_above": above}) == ["/hang/heading_above"]


def test_a_panel_shorter_than_its_own_heading_is_refused(pointers, hang):
    """Geometry: from 2006 down to a sill at 1976, 30 long, a buckram of 100 and pins 41 down, below the hem."""
    heights = {"carrying_height": 2000, "heading_above": 6, "to": "sill", "to_height": 1976, "clearance": 0}
    style = {"style": PINCH, "buckram_depth": 100}
    assert pointers("mm", style, heights, {"rise": 35}) == ["/hang/carrying_height"]
    made = {"carrying_height": 2000}
    assert pointers("mm", style, made, {"rise": 35}, finished_length=100) == ["/finished_length"]
    assert hang("mm", style, made, {"rise": 35}, finished_length=100 + STEP).hung_length == 100 + STEP


def test_everything_that_is_wrong_is_told_at_once(pointers):
    """Ring no wider than its rod; ceiling below it; the eye at 1938 and said to be at 1500; no height of the sill; the
    pin above the heading, whose height is settled twice; a rule without divisions.
    """
    mount = RINGS | {"height": 2000, "ring": 30, "ceiling": 1900}
    heights = {"mount": mount, "carrying_height": 1500, "heading_above": 10, "to": "sill"}
    found = pointers("mm", PINCH, heights, {"rise": 35, "depth": 20}, mark=0)
    assert sorted(found) == [
        "/hang/carrying_height",
        "/hang/heading_above",
        "/hang/mount/ceiling",
        "/hang/mount/ring",
        "/hang/to_height",
        "/mark",
        "/pin/depth",
    ]


def test_jaws_that_hold_a_frill_hold_no_more_of_it_than_of_any_heading(hang):
    """Usual figures differ by mount: on clip rings a pleated heading stands 3/8 in above the foot of the jaws."""
    mount = {"kind": "clip-rings", "height": 90}
    assert hang("in", PINCH, {"mount": mount}).heading_above == 0.375


def test_clips_grip_a_gathered_heading_at_the_top_of_its_frill(hang):
    """Common practice: jaws grip the top edge. What stands above a pinned tape has no part in that."""
    mount = {"kind": "clip-rings", "height": 90}
    assert hang("in", "gathered", {"mount": mount}).heading_above == 0.375


@pytest.mark.parametrize("above", [0, -1])
def test_a_heading_that_does_not_reach_into_the_jaws_is_refused(pointers, above):
    """Geometry: what is in the jaws is what stands above their foot; nothing of it there, nothing is held."""
    heights = {"mount": {"kind": "clip-rings", "height": 90}, "heading_above": above}
    assert pointers("in", PINCH, heights) == ["/hang/heading_above"]


@pytest.mark.parametrize(
    ("style", "diameter"),
    [
        ("tab-top", "1 3/8"),
        ("rod-pocket", "1 3/8"),
        ("eyelet", "1 1/8"),
    ],
)
def test_the_rod_that_a_heading_is_said_to_be_made_for_goes_through_it(hang, style, diameter):
    """The contract: a usual girth of 4 3/8 in is "of a 1 3/8 in rod", and the eyelets' 3 1/2 in "of a 1 1/8 in rod".

    Geometry: 1 1/8 pi is 3.53, a hair more than 3 1/2, and a hole of 1 9/16 leaves such a rod 7/16 of play.
    """
    heights = {"mount": {"kind": "through-heading", "height": 96, "rod_diameter": diameter}}
    assert hang("in", style, heights).finished_length > 0


@pytest.mark.parametrize("style", ["eyelet", "tab-top", "rod-pocket"])
def test_a_rod_too_thick_for_the_heading_made_for_another_is_refused(pointers, style):
    """Geometry: a rod 3 in across is 9.4 in round; no hole of 1 9/16 goes over it, and no tab for a girth of 4 3/8."""
    heights = {"mount": {"kind": "through-heading", "height": 96, "rod_diameter": 3}}
    assert pointers("in", style, heights) == ["/hang/mount/rod_diameter"]
