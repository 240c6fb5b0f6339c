"""UFGS 12 22 00, "Curtains and Drapes", paragraph 2.2.1.1 "Panels", checked through a request for a window's panels.

"200 percent" fullness is twice the rod width plus overlaps and returns; full or half widths give at least that;
3 in (75 mm) of overlap at the centre; floor length hangs 1 in (25 mm) clear, sill length 1/2 in (13 mm) clear, apron
length 1 in (25 mm) below; tolerance 1/4 in (6 mm) either way.
"""

import json

import pytest

from pleatwright.contract.reading import UnreadableError
from pleatwright.workroom import panel


@pytest.fixture
def ask(headings, request_reader):
    """Ask for the panels of a window 120 in wide, with some of its figures changed."""

    def asked(**changes):
        window = {
            "units": "in",
            "rod": {"width": 120, "return": 3.5},
            "hang": {"carrying_height": 96, "heading_above": 0.25},
            "fabric": {"width": 54},
            "heading": {"style": "three-fold-pinch"},
            "fullness": 2,
            "worksheet": True,
        }
        return panel(request_reader.read("panel", json.dumps(window | changes).encode()), headings)

    return asked


@pytest.fixture
def ask_in_metric(ask):
    """Ask for the panels of a window 3000 mm wide, with some of its figures changed."""

    def asked(**changes):
        window = {
            "units": "mm",
            "rod": {"width": 3000, "return": 90},
            "hang": {"carrying_height": 2440, "heading_above": 6},
            "fabric": {"width": 1370},
        }
        return ask(**window | changes)

    return asked


def results(reply, step):
    return [each.result for each in reply.worksheet if each.name.endswith(f": {step}")]


def assumed(reply):
    return {each.at: each.value for each in reply.assumed}


@pytest.mark.parametrize(
    ("fullness", "flat", "widths", "sewn"),
    [
        # Finished width 120 / 2 + 3 / 2 + 3 1/2 = 65. 2 1/2 widths sew to 127, 3 to 154, 3 1/2 to 180, 4 to 207.
        (2, 130, 3, 154),
        (2.5, 162.5, 3.5, 180),
        (3, 195, 4, 207),
    ],
)
def test_fullness_is_times_the_finished_width_with_its_overlap_and_return(ask, fullness, flat, widths, sewn):
    """Paragraph 2.2.1.1: times the rod width plus overlaps and returns, at the least, from full or half widths."""
    reply = ask(fullness=fullness)
    assert [each.finished_width for each in reply.panels] == [65, 65]
    assert results(reply, "flat width asked") == [flat, flat]
    assert [(each.widths, each.flat_width) for each in reply.panels] == [(widths, sewn)] * 2
    assert all(each.fullness >= fullness for each in reply.panels)


@pytest.mark.parametrize("written", ["200%", "200 percent", 200])
def test_two_hundred_percent_is_refused_and_said_to_mean_twice_the_width(ask, written):
    """Paragraph 2.2.1.1: 200 percent is 2 times. Stage-curtain work calls three times so [common practice]."""
    with pytest.raises(UnreadableError) as refused:
        ask(fullness=written)
    (fault,) = refused.value.faults
    assert fault.where == ("fullness",)
    assert "2 times the width in federal guide specifications (UFGS 12 22 00)" in fault.detail
    assert "3 times in stage-curtain work" in fault.detail


def test_the_leading_edges_cross_by_three_inches_unless_asked_otherwise(ask, ask_in_metric):
    """Paragraph 2.2.1.1: at least 75 mm, 3 in. Half of it widens each panel."""
    reply = ask()
    assert assumed(reply)["/rod/overlap"] == 3
    assert [each.finished_width for each in reply.panels] == [60 + 1.5 + 3.5] * 2
    metric = ask_in_metric()
    assert assumed(metric)["/rod/overlap"] == 75
    assert [each.finished_width for each in metric.panels] == [1500 + 37.5 + 90] * 2


@pytest.mark.parametrize(("overlap", "cautioned"), [(2.75, True), (3, False), (4, False)])
def test_less_overlap_than_three_inches_is_cautioned_against(ask, overlap, cautioned):
    """Paragraph 2.2.1.1: a minimum."""
    reply = ask(rod={"width": 120, "return": 3.5, "overlap": overlap})
    assert any(each.kind == "small-overlap" and "3 in" in each.detail for each in reply.cautions) == cautioned


@pytest.mark.parametrize(
    ("hangs", "inch", "millimetre"),
    [
        # From the top of the heading, 96 1/4 in or 2446 mm above the floor.
        ({"to": "floor"}, 96.25 - 1, 2446 - 25),
        ({"to": "sill", "to_height": "36 in"}, 96.25 - 36 - 0.5, 2446 - 914.4 - 13),
        ({"to": "apron", "to_height": "33 in"}, 96.25 - 33 + 1, 2446 - 838.2 + 25),
    ],
    ids=lambda each: each["to"] if isinstance(each, dict) else None,
)
def test_a_panel_hangs_as_far_clear_as_the_specification_has_it(ask, ask_in_metric, hangs, inch, millimetre):
    """Paragraph 2.2.1.1: floor 25 mm (1 in) above, sill 13 mm (1/2 in) above, apron 25 mm (1 in) below."""
    imperial = ask(hang={"carrying_height": 96, "heading_above": 0.25, **hangs})
    assert [each.finished_length for each in imperial.panels] == [inch, inch]
    metric = ask_in_metric(hang={"carrying_height": 2440, "heading_above": 6, **hangs})
    assert [each.finished_length for each in metric.panels] == [millimetre, millimetre]


def test_finished_sizes_hold_within_a_quarter_of_an_inch(ask, ask_in_metric):
    """Paragraph 2.2.1.1: plus or minus 6 mm, 1/4 in."""
    assert ask().tolerance == 0.25
    assert ask_in_metric().tolerance == 6
