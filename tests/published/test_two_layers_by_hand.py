"""A sheer behind its over-drapery, by heights worked by hand [geometry]; how far it stays back is common practice."""

import math

import msgspec
import pytest

from pleatwright.faults import Impossible

STEP = 0.003125
"""Millimetres in one step of the grid that lengths are read onto: 320 to the millimetre."""
OVER = {
    "label": "Over",
    "rod": {"width": 96, "return": 6},
    # Rod 90 up, its eye 3/4 lower at 89 1/4; the heading 1/4 above that reaches 89 1/2.
    "hang": {"mount": {"kind": "traverse-rod", "height": 90, "carrier_below": "3/4"}, "heading_above": "1/4"},
    "fabric": "linen",
    "heading": {"style": "three-fold-pinch"},
    "fullness": 2.25,
    "lining": None,
}
SHEER = {
    "label": "Sheer",
    "rod": {"width": 90, "return": 2},
    "behind": {"window": "Over"},
    "fabric": "voile",
    "heading": {"style": "pencil"},
    "lining": None,
}
FABRICS = {"linen": {"width": 54}, "voile": {"width": 118, "railroaded": True}}


@pytest.fixture
def job(ask):
    """The windows of a job by their labels."""

    def asked(*windows):
        reply = ask("estimate", {"units": "in", "windows": list(windows), "fabrics": FABRICS})
        return {window.label: window for window in reply.windows}

    return asked


def heights_of(window):
    return {each.point: each.height for each in window.hang.heights}


def kinds(window):
    return [caution.kind for caution in window.cautions]


def over(**hang):
    return OVER | {"hang": OVER["hang"] | hang}


def test_a_sheer_hangs_below_the_top_and_above_the_hem_of_its_over_drapery(job):
    """Over: top 89 1/2, hem 1. Half an inch within it at both ends: 89 and 1 1/2, so 87 1/2 long.

    The hooks of its tape rise 3/4, and it stands 1/4 above what carries it, at 88 3/4: 1 in down, at 88. A tape of 3
    reaches down to 86.
    """
    windows = job(OVER, SHEER)
    assert heights_of(windows["Over"]) == {
        "rod-top": 90,
        "heading-top": 89.5,
        "carrying-point": 89.25,
        "rod-underside": 89,
        "pin": 87.875,
        "heading-foot": 85.5,
        "hem": 1,
        "floor": 0,
    }
    assert heights_of(windows["Sheer"]) == {
        "heading-top": 89,
        "carrying-point": 88.75,
        "pin": 88,
        "heading-foot": 86,
        "hem": 1.5,
        "floor": 0,
    }
    sheer = windows["Sheer"].hang
    assert (sheer.finished_length, sheer.hung_length, sheer.pin_depth, sheer.clearance) == (87.5, 87.5, 1, 1.5)
    assert {panel.finished_length for panel in windows["Sheer"].panels} == {87.5}
    assert (windows["Over"].hang_to, windows["Sheer"].hang_to) == ("floor", "floor")


def test_a_sheer_stays_as_far_within_its_over_drapery_as_it_is_asked_to(job):
    """Top 89 1/2 - 2 = 87 1/2, hem 1 + 3/4 = 1 3/4: 85 3/4 long."""
    behind = {"window": "Over", "lower_at_heading": 2, "shorter_at_hem": "3/4"}
    window = job(OVER, SHEER | {"behind": behind})["Sheer"]
    assert (heights_of(window)["heading-top"], heights_of(window)["hem"]) == (87.5, 1.75)
    assert window.hang.finished_length == 85.75


def test_a_sheer_on_a_rod_of_its_own_is_made_longer_by_what_its_rod_draws_up(job):
    """Once round its rod is 2 pi, and the pocket just closes round it: pi deep, and it reaches down 2.

    Its top is 89 and there is its rod's; hung it is 89 - 1 1/2 = 87 1/2 long, made pi - 2 longer.
    """
    heading = {"style": "rod-pocket", "rod_girth": 2 * math.pi, "ease": 0}
    window = job(OVER, SHEER | {"heading": heading})["Sheer"]
    found = heights_of(window)
    assert (found["heading-top"], found["carrying-point"], found["hem"]) == (89, 89, 1.5)
    assert window.hang.hung_length == 87.5
    assert window.hang.finished_length == pytest.approx(87.5 + math.pi - 2, abs=2e-4)


@pytest.mark.parametrize(
    ("hang", "shorter", "hem", "clearance", "to"),
    [
        # A sill at 30: over 1/2 above it, the sheer 1/2 above that.
        ({"to": "sill", "to_height": 30}, "1/2", 31, 1, "sill"),
        # An apron that ends at 24: over 1 below it, the sheer 1/2.
        ({"to": "apron", "to_height": 24}, "1/2", 23.5, -0.5, "apron"),
        # 6 of the over-drapery lie on the floor, 5 1/2 of the sheer.
        ({"to": "puddle"}, "1/2", -5.5, -5.5, "puddle"),
        # 1 of the over-drapery breaks on the floor; 1 shorter, the sheer just touches it and breaks no more.
        ({"to": "break"}, 1, 0, 0, "floor"),
        ({"to": "break"}, "1 1/2", 0.5, 0.5, "floor"),
    ],
)
def test_a_sheer_hangs_to_what_its_over_drapery_hangs_to(job, hang, shorter, hem, clearance, to):
    """UFGS 12 22 00 for the over-drapery's clearances at sill and apron; break and puddle are common practice."""
    behind = {"window": "Over", "shorter_at_hem": shorter}
    window = job(over(**hang), SHEER | {"behind": behind})["Sheer"]
    assert (heights_of(window)["hem"], window.hang.clearance, window.hang_to) == (hem, clearance, to)
    assert window.hang.finished_length == 89 - hem


def test_a_sheer_behind_a_panel_known_by_its_drop_is_measured_from_the_same_sill(job):
    """Over carried 60 above the sill, 1/4 more at its top, 1/2 clear: the sheer from 59 3/4 down to 1."""
    sill = OVER | {"hang": {"drop": 60, "to": "sill", "heading_above": "1/4"}}
    window = job(sill, SHEER)["Sheer"]
    assert (window.hang.measured_from, heights_of(window)["heading-top"], heights_of(window)["hem"]) == (
        "sill",
        59.75,
        1,
    )
    assert window.hang.finished_length == 58.75


METRIC = {
    # Top 2206, hem 25.
    "over": OVER
    | {"rod": {"width": 2400, "return": 150}, "hang": {"carrying_height": 2200, "heading_above": 6, "clearance": 25}},
    "sheer": SHEER | {"rod": {"width": 2300, "return": 50}},
}
FABRICS_MM = {"linen": {"width": 1370}, "voile": {"width": 3000, "railroaded": True}}


@pytest.fixture
def own(ask):
    """The kinds of cautions of a sheer with heights of its own, in millimetres; or the pointers of what is wrong."""

    def asked(hang, over=METRIC["over"], **more):
        windows = [over, METRIC["sheer"] | {"hang": hang} | more]
        try:
            reply = ask("estimate", {"units": "mm", "windows": windows, "fabrics": FABRICS_MM})
        except Impossible as impossible:
            return ["/" + "/".join(map(str, fault.where)) for fault in impossible.faults]
        return kinds(reply.windows[1])

    return asked


@pytest.mark.parametrize(
    ("carrying", "clearance", "where"),
    [
        # As high and as long as its over-drapery, it does not show.
        (2200, 25, []),
        (2200, 25 - STEP, ["/windows/1/hang/clearance"]),
        (2200 + STEP, 25, ["/windows/1/hang/carrying_height"]),
        (2200 + STEP, 25 - STEP, ["/windows/1/hang/clearance", "/windows/1/hang/carrying_height"]),
        (2100, 100, []),
    ],
)
def test_a_sheer_with_heights_of_its_own_is_refused_a_hair_past_its_over_drapery(own, carrying, clearance, where):
    assert own({"carrying_height": carrying, "heading_above": 6, "clearance": clearance}) == where


def test_a_sheer_with_heights_of_its_own_takes_none_from_its_over_drapery(own):
    behind = {"window": METRIC["sheer"]["behind"]["window"], "lower_at_heading": 20, "shorter_at_hem": "30 mm"}
    hang = {"carrying_height": 2100, "heading_above": 6, "clearance": 100}
    assert own(hang, behind=behind) == ["/windows/1/behind/lower_at_heading", "/windows/1/behind/shorter_at_hem"]


def test_a_sheer_is_told_by_how_much_it_shows(ask):
    """Hem at 20 where the other's is at 25; top at 2216 where the other's is at 2206."""
    sheer = METRIC["sheer"] | {"hang": {"carrying_height": 2210, "heading_above": 6, "clearance": 20}}
    with pytest.raises(Impossible) as impossible:
        ask("estimate", {"units": "mm", "windows": [METRIC["over"], sheer], "fabrics": FABRICS_MM})
    longer, higher = impossible.value.faults
    assert (longer.seen, longer.allowed) == ("a hem at 20 mm", "a hem at 25 mm or higher")
    assert (higher.seen, higher.allowed) == ("a heading at 2216 mm", "a heading up to 2206 mm")


def test_a_sheer_to_the_floor_behind_a_panel_to_the_sill_is_longer(own):
    """Hem at 25 below one at 813."""
    sill = METRIC["over"] | {"hang": {"carrying_height": 2200, "to": "sill", "to_height": 800}}
    assert own({"carrying_height": 2100}, over=sill) == ["/windows/1/hang/clearance"]


@pytest.mark.parametrize(
    ("hang_of_over", "hang_of_sheer"),
    [
        # Over 1400 above a sill, its hem 13 above that; the sheer to the floor, which is longer by all of the wall.
        ({"drop": 1400, "to": "sill"}, {"carrying_height": 1300, "clearance": 25}),
        # The sheer 1300 above the sill, its hem 20 above that: no telling where that is beside 25 above the floor.
        ({"carrying_height": 2200}, {"drop": 1300, "to": "sill", "clearance": 30}),
    ],
)
def test_heights_from_the_floor_are_not_compared_with_heights_from_the_sill(own, hang_of_over, hang_of_sheer):
    """Geometry: how high the sill is nobody says, so whether the sheer shows cannot be told; it must not be passed."""
    assert own(hang_of_sheer, over=METRIC["over"] | {"hang": hang_of_over}) != []


@pytest.mark.parametrize(
    ("windows", "where", "words"),
    [
        ([OVER, SHEER | {"behind": {"window": "Ovre"}}], ["/windows/1/behind/window"], "no other window"),
        ([OVER, OVER, SHEER], ["/windows/2/behind/window"], "several windows"),
        ([OVER, SHEER | {"behind": {"window": "Sheer"}}], ["/windows/1/behind/window"], "no other window"),
        (
            [OVER, SHEER, SHEER | {"label": "Third", "behind": {"window": "Sheer"}}],
            ["/windows/2/behind/window"],
            "front",
        ),
        # Two that hang behind each other: neither is an over-drapery.
        (
            [SHEER | {"label": "A", "behind": {"window": "B"}}, SHEER | {"label": "B", "behind": {"window": "A"}}],
            ["/windows/0/behind/window", "/windows/1/behind/window"],
            "front",
        ),
        # Without a label a window is called by its number.
        ([OVER | {"label": None}, SHEER], ["/windows/1/behind/window"], "no other window"),
        ([OVER, {name: SHEER[name] for name in SHEER if name != "behind"}], ["/windows/1/hang"], "missing"),
    ],
)
def test_a_sheer_hangs_behind_one_other_window_that_hangs_behind_none(job, windows, where, words):
    with pytest.raises(Impossible) as impossible:
        job(*windows)
    assert ["/" + "/".join(map(str, fault.where)) for fault in impossible.value.faults] == where
    assert all(words in fault.detail for fault in impossible.value.faults)


def test_a_window_without_a_label_is_named_by_its_number(job):
    windows = job(OVER | {"label": None}, SHEER | {"behind": {"window": "Window 1"}})
    assert heights_of(windows["Sheer"])["heading-top"] == 89


def test_two_sheers_may_hang_behind_one_over_drapery(job):
    """Half an inch, and an inch and a half, below its top of 89 1/2."""
    second = SHEER | {"label": "Second", "behind": {"window": "Over", "lower_at_heading": "1 1/2"}}
    windows = job(OVER, SHEER, second)
    assert [heights_of(windows[label])["heading-top"] for label in ("Sheer", "Second")] == [89, 88]


def test_the_order_of_the_windows_has_no_part_in_their_figures(job):
    """Plain cloth, so that no pattern starts with the first window."""
    first, second, third = OVER, SHEER, OVER | {"label": "Other", "rod": {"width": 120, "return": 3}}
    told = [
        {label: msgspec.json.encode(window) for label, window in job(*windows).items()}
        for windows in ([first, second, third], [second, third, first], [third, first, second])
    ]
    assert told[0] == told[1] == told[2]


# The hooks' tape of a pencil heading draws 1 1/4 of cloth to 1 1/4 / 2 1/4 = 5/9, in waves of two half circles of a
# radius of 5/36 on legs: (5/4 - 5 pi / 18) / 4 + 5/36 = 0.2332 stands out to the front [geometry; TRADE, 4].
PENCIL = (5 / 4 - 5 * math.pi / 18) / 4 + 5 / 36
# Eyelets 6 apart with half the width shown: 12 of cloth on 6, 4 1/2 - 3 pi / 4 = 2.1438 to the back as to the front.
EYELETS = 4.5 - 3 * math.pi / 4


@pytest.mark.parametrize(
    ("heading", "widths", "stands_back"),
    [
        # A pinch stands out to the room alone.
        ({"style": "three-fold-pinch"}, 2.5, 0),
        ({"style": "eyelet", "gap": {"least": 4, "usual": 6, "most": 8}}, 2, EYELETS),
    ],
)
def test_rods_are_too_near_where_the_folds_between_them_have_less_than_half_an_inch_to_spare(
    job, heading, widths, stands_back
):
    """The sheer stands out to the front, the over-drapery to the back. The half inch is the project's own choice."""
    needed = PENCIL + stands_back + 0.5
    over = OVER | {"heading": heading, "hang": {"carrying_height": 89.25}, "make_up": {"width_count": widths}}

    def apart(distance):
        return kinds(job(over | {"rod": {"width": 96, "return": 2 + distance}}, SHEER)["Sheer"])

    assert "rods-too-near" not in apart(needed + 0.001)
    assert "rods-too-near" in apart(needed - 0.001)


def test_a_rod_in_front_of_its_over_drapery_is_told_to_be_none_apart(job):
    """The sheer 6 from the wall, the over-drapery 4: 0 apart, where 0.2332 + 1/2 = 0.73, say 3/4, is needed."""
    windows = job(OVER | {"rod": {"width": 96, "return": 4}}, SHEER | {"rod": {"width": 90, "return": 6}})
    near = next(caution for caution in windows["Sheer"].cautions if caution.kind == "rods-too-near")
    assert "The rods are 0 in apart" in near.detail
    assert "set them 3/4 in apart" in near.detail
    assert "rods-too-near" not in kinds(windows["Over"])
