"""The panel finished: closed and stacked to one scale, its points where the reply has them."""

from itertools import pairwise

import pytest

from pleatwright.lengths import from_units, parse_length
from pleatwright.paper.drawings import panel_finished


@pytest.mark.parametrize("name", ["estimate", "estimate-metric", "estimate-two-layers", "headings/estimate-rods"])
def test_closed_and_stacked_are_to_scale_and_dimensioned(name, estimated, sheet_of, millimetres):
    reply = estimated(name)
    units = reply.units
    for window in reply.windows:
        stacks = {each.side: each.stack for each in window.rod.stacks}
        for panel in window.panels:
            sheet = sheet_of(panel_finished(window, panel, units))
            unit = millimetres[units] / sheet.scale
            ((_, left, top, width, height),) = sheet.rectangles("closed")
            assert width == pytest.approx(panel.finished_width * unit, abs=0.002)
            assert height == pytest.approx(panel.finished_length * unit, abs=0.002)
            ((_, stacked_left, stacked_top, stack, stacked_height),) = sheet.rectangles("stacked")
            assert stack == pytest.approx(stacks[panel.side] * unit, abs=0.002)
            assert (stacked_top, stacked_height) == (top, height)
            assert stacked_left > left + width
            ends, words = sheet.dimension("finished width")
            assert ends[0] == pytest.approx(left, abs=0.002)
            assert ends[2] == pytest.approx(left + width, abs=0.002)
            written = parse_length(words.removeprefix("finished "), units)
            assert abs(written - from_units(panel.finished_width, units)) <= 16
            ends, _ = sheet.dimension("stack")
            assert ends[2] - ends[0] == pytest.approx(stack, abs=0.002)
            for of, x, *_ in sheet.lines(r".* finished"):
                on, number = of.removesuffix(" finished").rsplit(" ", 1)
                (point,) = [each for each in panel.pleats.hanging_points if (each.on, each.number) == (on, int(number))]
                from_leading = x - left if panel.side == "right" else left + width - x
                assert from_leading == pytest.approx(point.finished * unit, abs=0.003)
            assert len(sheet.lines(r".* finished")) == len(panel.pleats.hanging_points)


def test_places_of_points_are_written_beside_them(estimated, sheet_of):
    reply = estimated("estimate")
    window = reply.windows[0]
    for panel in window.panels:
        sheet = sheet_of(panel_finished(window, panel, "in"))
        written = {of.removesuffix(" at"): word for of, word in sheet.words(r"(pleat|overlap|return) \d+ at")}
        assert len(written) == len(panel.pleats.hanging_points) == 18
        for point in panel.pleats.hanging_points:
            word = written[f"{point.on} {point.number}"]
            assert parse_length(word.text, "in") == from_units(point.finished, "in")
        marks = {of.removesuffix(" finished"): x for of, x, *_ in sheet.lines(r".* finished")}
        assert sorted(marks, key=marks.get) == sorted(written, key=lambda of: written[of].x)


def test_a_face_its_overlap_and_its_return_make_the_finished_width(estimated, sheet_of):
    reply = estimated("estimate")
    window = reply.windows[0]
    panel = window.panels[0]
    sheet = sheet_of(panel_finished(window, panel, "in"))
    lengths = {}
    for of in ("overlap", "face", "return"):
        ends, words = sheet.dimension(of)
        text = words or sheet.word(f"{of} at")
        lengths[of] = parse_length(text.removeprefix(f"{of} "), "in")
        assert (ends[2] - ends[0]) * sheet.scale / 25.4 == pytest.approx(lengths[of] / 8128, abs=0.01)
    assert lengths["overlap"] == from_units(panel.overlap, "in")
    assert lengths["return"] == from_units(panel.return_, "in")
    assert sum(lengths.values()) == from_units(panel.finished_width, "in")
    ((_, fold, *_),) = sheet.lines("return fold")
    ((_, left, _, _, _),) = sheet.rectangles("closed")
    assert fold - left == pytest.approx(panel.return_ * 25.4 / sheet.scale, abs=0.002), "at the left of a left panel"


def test_a_figure_too_wide_for_its_piece_starts_at_it_and_runs_outwards(estimated, sheet_of):
    window = estimated("estimate").windows[0]
    for panel in window.panels:
        sheet = sheet_of(panel_finished(window, panel, "in"))
        for of, at_left in (("return", panel.side == "left"), ("overlap", panel.side == "right")):
            ends, _ = sheet.dimension(of)
            ((_, word),) = sheet.words(f"{of} at")
            assert (word.anchor, word.x) == (("end", ends[2]) if at_left else ("start", ends[0]))


def test_too_many_places_are_thinned_and_the_first_and_last_stay(estimated, sheet_of, job):
    window = job["windows"][0]
    window["rod"] = {"width": "1280", "return": "6", "overlap": "4", "draw": "one-way-right"}
    window["make_up"]["width_count"] = 60
    reply = estimated(job)
    panel = reply.windows[0].panels[0]
    sheet = sheet_of(panel_finished(reply.windows[0], panel, "in"))
    written = sheet.words(r"(pleat|overlap|return) \d+ at")
    assert 10 < len(written) < panel.pleats.pleat_count / 2
    places = sorted(word.x for _, word in written)
    assert min(after - place for place, after in pairwise(places)) > 3
    assert len(sheet.lines(r".* finished")) == len(panel.pleats.hanging_points)
    values = {parse_length(word.text, "in") for _, word in written}
    every = [from_units(point.finished, "in") for point in panel.pleats.hanging_points]
    assert values <= set(every)
    assert {min(every), max(every)} <= values
