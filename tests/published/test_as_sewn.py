"""A panel measured as sewn, beside its plan: sums by hand, and the tolerance of UFGS 12 22 00."""

import pytest

from pleatwright.faults import Impossible

# The worked layout of a 96 in rod: 127 in flat, 53 finished, seams at 50 1/2 and 103 1/2, 13 pleats, spaces of 3 7/8.
PLAN = {"flat_width": "127", "seams": ["50 1/2", "103 1/2"]}
PANEL = {
    "units": "in",
    "heading": {"style": "three-fold-pinch"},
    "finished_width": "53",
    "overlap": "3",
    "return": "3 1/2",
    "planned": PLAN,
}


def sewn(ask, flat, *seams, **more):
    return ask("pleats", PANEL | {"flat_width": flat, "seams": list(seams)} | more)


def test_a_panel_sewn_as_planned_has_nothing_moved(ask):
    reply = sewn(ask, "127", "50 1/2", "103 1/2")
    found = reply.as_sewn
    assert (found.flat_width_off, found.seams_off, found.moved) == (0, [0, 0], [])
    assert found.within_tolerance
    assert not [each for each in reply.cautions if each.kind == "off-plan"]


def test_what_moved_is_told_with_where_it_was_and_is(ask):
    """The first seam an eighth out, the second a quarter, the edge a quarter: the marks follow the seams [geometry]."""
    reply = sewn(ask, "127 1/4", "50 5/8", "103 3/4")
    found = reply.as_sewn
    assert (found.flat_width_off, found.seams_off) == (0.25, [0.125, 0.25])
    assert found.within_tolerance
    assert found.planned_count == reply.pleat_count == 13
    assert all(each.end - each.planned == pytest.approx(each.by, abs=1e-6) for each in found.moved)
    ends = {(each.kind, each.number): each.end for each in reply.stations}
    assert all(ends[each.kind, each.number] == each.end for each in found.moved)
    # The return's end is the edge, and has moved with it; the overlap's has not.
    assert (found.moved[-1].kind, found.moved[-1].by) == ("return", 0.25)
    assert "overlap" not in {each.kind for each in found.moved}
    # Each seam is hidden still, and the finished width still comes out: spaces of 46 1/2 / 12 in.
    assert {seam.place for seam in reply.seams} == {"beside-pleat"}
    assert reply.space == 3.875


@pytest.mark.parametrize(
    ("units", "flat", "within"),
    [
        # UFGS 12 22 00: finished sizes within 1/4 in, 6 mm.
        ("in", "127 1/4", True),
        ("in", "127 17/64", False),
        ("in", "126 3/4", True),
        ("in", "126 47/64", False),
        ("mm", "3231.8 mm", True),
        ("mm", "3231.9 mm", False),
    ],
)
def test_a_panel_is_within_a_quarter_of_an_inch_or_six_millimetres_of_its_plan(ask, units, flat, within):
    """UFGS 12 22 00. 127 in are 3225.8 mm."""
    lengths = {
        "units": units,
        "finished_width": "53 in",
        "overlap": "3 in",
        "return": "3 1/2 in",
        "planned": {"flat_width": "127 in", "seams": ["50 1/2 in", "103 1/2 in"]},
    }
    reply = sewn(ask, f"{flat.removesuffix(' mm')} {units}", "50 1/2 in", "103 1/2 in", **lengths)
    assert reply.as_sewn.within_tolerance is within
    assert bool([each for each in reply.cautions if each.kind == "off-plan"]) is not within


def test_a_plan_with_another_count_of_pleats_is_told_so(ask):
    """101 in of cloth over 12 pleats at the fewest, 165 over 16 at the most."""
    reply = sewn(ask, "127", "50 1/2", "103 1/2", planned={"flat_width": "150", "seams": ["50 1/2", "103 1/2"]})
    assert reply.as_sewn.planned_count > reply.pleat_count


@pytest.mark.parametrize(
    ("planned", "where"),
    [
        ({"flat_width": "127", "seams": ["50 1/2"]}, ("planned", "seams")),
        ({"flat_width": "0", "seams": ["50 1/2", "103 1/2"]}, ("planned", "flat_width")),
        ({"flat_width": "200", "seams": ["50 1/2", "103 1/2"]}, ("planned", "flat_width")),
        ({"flat_width": "127", "seams": ["103 1/2", "50 1/2"]}, ("planned", "seams", 1)),
    ],
)
def test_a_plan_that_cannot_be_is_refused_in_its_place(ask, planned, where):
    with pytest.raises(Impossible) as impossible:
        sewn(ask, "127", "50 1/2", "103 1/2", planned=planned)
    assert where in [fault.where for fault in impossible.value.faults]


def test_eyelets_are_told_where_they_move_to(ask):
    """The same for points: with the plan's count, each gap is a sixteenth of the cloth [geometry]."""
    panel = {"units": "in", "heading": {"style": "eyelet"}, "flat_width": "101 1/4", "finished_width": "48"}
    reply = ask("pleats", panel | {"planned": {"flat_width": "101"}})
    assert reply.as_sewn.planned_count == reply.points.count
    assert reply.as_sewn.moved[-1].by == 0.25
