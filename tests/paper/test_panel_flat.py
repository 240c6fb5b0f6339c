"""The panel flat: every mark where the reply has it, every figure read back, left and right mirrored."""

import re
from itertools import pairwise

import msgspec
import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from pleatwright.faults import Impossible
from pleatwright.lengths import from_units, parse_length
from pleatwright.paper.drawings import cut_plan, hang_section, panel_flat
from pleatwright.paper.drawings.words import width_of

ENDS = r"(pleat|space|overlap|return|gap|edge|point|gather|surplus|hook)( \d+)?( end)?"
ALL = ["estimate", "estimate-metric", "estimate-two-layers", "headings/estimate-rods"]


def panels(reply):
    return [(window, panel) for window in reply.windows for panel in window.panels]


def ends_of(panel, units):
    """Where pieces end and hooks go, in grid units, straight from the reply."""
    found = {from_units(station.end, units) for station in panel.pleats.stations}
    if panel.pleats.layout == "gathers":
        found |= {from_units(point.flat, units) for point in panel.pleats.hanging_points}
    return sorted(found)


def reads(written, length, units):
    """Whether a figure read back is a length as near as it can be written: 1/64 in exactly, or a tenth of 1 mm."""
    if units == "in":
        return written == length if length % 127 == 0 else abs(written - length) <= 8128 / 32
    return abs(written - length) <= 16


def check_marks(sheet, panel, units, millimetre):
    """Check every mark and every figure of a panel's strips against the reply, in whatever strips they are."""
    ends = ends_of(panel, units)
    drawn = sheet.lines(ENDS)
    # By strip, since all marks of one start at one height; from the leading edge in each.
    way = -1 if panel.side == "left" else 1
    strips = {}
    for of, x, y, to_x, _ in drawn:
        assert x == to_x
        strips.setdefault(y, []).append((way * x, of))
    rows = [sorted(strips[y]) for y in sorted(strips)]
    assert sum(map(len, rows)) == len(ends), "every mark is drawn once"
    figures = sorted((parse_length(word.text, units), of.removesuffix(" at")) for of, word in sheet.words(f"{ENDS} at"))
    assert len(figures) == len(ends), "every mark has one figure"
    for (written, of), end in zip(figures, ends, strict=True):
        assert reads(written, end, units), of
    at = {of: end for (_, of), end in zip(figures, ends, strict=True)}
    assert len(at) == len(ends)
    grid = millimetre / from_units(1, units) / sheet.scale
    for row in rows:
        for (x, of), (after, next_of) in pairwise(row):
            assert after - x == pytest.approx((at[next_of] - at[of]) * grid, abs=0.003)
    outer = sheet.lines("leading edge")
    assert len(outer) == 1
    assert rows[0][0][0] - way * outer[0][1] == pytest.approx(at[rows[0][0][1]] * grid, abs=0.003)


@pytest.mark.parametrize("name", ALL)
def test_every_mark_is_where_the_reply_has_it(name, estimated, sheet_of, millimetres):
    reply = estimated(name)
    for window, panel in panels(reply):
        check_marks(sheet_of(panel_flat(window, panel, reply.units)), panel, reply.units, millimetres[reply.units])


@pytest.mark.parametrize("name", ["estimate", "estimate-metric"])
def test_the_middle_of_each_pleat_is_marked_and_written(name, estimated, sheet_of, millimetres):
    reply = estimated(name)
    for window, panel in panels(reply):
        sheet = sheet_of(panel_flat(window, panel, reply.units))
        pleats = [station for station in panel.pleats.stations if station.kind == "pleat"]
        written = dict(sheet.words(r"pleat \d+ centre at"))
        drawn = {of: x for of, x, *_ in sheet.lines(r"pleat \d+ centre")}
        starts = {of: x for of, x, *_ in sheet.lines(r"(space|overlap|pleat)( \d+)? end")}
        assert len(written) == len(drawn) == len(pleats) > 2
        for pleat in pleats:
            word = written[f"pleat {pleat.number} centre at"]
            centre = from_units(pleat.centre, reply.units)
            assert reads(parse_length(word.text, reply.units), centre, reply.units)
            end = starts[f"pleat {pleat.number} end"]
            half = (pleat.end - pleat.centre) * millimetres[reply.units] / sheet.scale
            assert abs(end - drawn[f"pleat {pleat.number} centre"]) == pytest.approx(half, abs=0.003)


def test_left_and_right_of_a_pair_are_mirrored_and_say_so(estimated, sheet_of):
    reply = estimated("estimate")
    window = reply.windows[0]
    left, right = (sheet_of(panel_flat(window, panel, reply.units)) for panel in window.panels)
    assert left.word("heading") == "Left panel, flat"
    assert right.word("heading") == "Right panel, flat"
    for of in (ENDS, r"pleat \d+ centre", r"seam \d+", "leading side hem", "return side hem", "leading edge"):
        ours, theirs = dict(line[:2] for line in left.lines(of)), dict(line[:2] for line in right.lines(of))
        assert ours.keys() == theirs.keys()
        assert ours
        sums = {round(ours[key] + theirs[key], 2) for key in ours}
        assert sums == {297.0}, "the two would lie on each other, folded down the middle of the paper"
    assert "leading edge at your right" in left.root.find("{*}desc").text
    assert "leading edge at your left" in right.root.find("{*}desc").text


def test_words_at_the_edges_stand_outside_the_panel(estimated, sheet_of):
    window = estimated("estimate").windows[0]
    for panel, leading in zip(window.panels, ("start", "end"), strict=True):
        sheet = sheet_of(panel_flat(window, panel, "in"))
        ((_, left, _, width, _),) = sheet.rectangles("panel")
        ((_, word),) = sheet.words("leading edge word")
        assert word.anchor == leading
        assert word.x == pytest.approx(left + width if leading == "start" else left, abs=0.01)
        ((_, other),) = sheet.words("return edge word")
        assert {word.anchor, other.anchor} == {"start", "end"}


def test_the_whole_panel_has_its_hems_seams_and_sizes(estimated, sheet_of, millimetres):
    for name in ("estimate", "estimate-metric"):
        reply = estimated(name)
        unit = millimetres[reply.units]
        for window, panel in panels(reply):
            sheet = sheet_of(panel_flat(window, panel, reply.units))
            scale = float(re.search(r"1 : (.*)", sheet.word("whole"))[1])
            ((_, left, top, width, height),) = sheet.rectangles("panel")
            assert width == pytest.approx(panel.flat_width * unit / scale, abs=0.002)
            assert height == pytest.approx(panel.finished_length * unit / scale, abs=0.002)
            ends, words = sheet.dimension("flat width")
            assert ends[2] - ends[0] == pytest.approx(width, abs=0.002)
            assert parse_length(words.removeprefix("flat "), reply.units) == from_units(panel.flat_width, reply.units)
            ends, words = sheet.dimension("finished length")
            assert ends[3] - ends[1] == pytest.approx(height, abs=0.002)
            assert parse_length(words, reply.units) == from_units(panel.finished_length, reply.units)
            ((_, _, hem, _, _),) = sheet.lines("bottom hem")
            depth = panel.sewn.bottom_hem / 2
            assert top + height - hem == pytest.approx(depth * unit / scale, abs=0.002)
            assert sheet.dimension("hem depth")[1] == f"hem {depth:g}, if double"
            side = panel.sewn.side_hem / 2 * unit / scale
            for of in ("leading", "return"):
                ((_, x, *_),) = sheet.lines(f"whole {of} side hem")
                from_left = (of == "leading") == (panel.side == "right")
                assert (x - left if from_left else left + width - x) == pytest.approx(side, abs=0.002)
            seams = sorted(x - left for _, x, *_ in sheet.lines(r"whole seam \d+"))
            wanted = [seam.at if panel.side == "right" else panel.flat_width - seam.at for seam in panel.seams]
            assert seams == pytest.approx(sorted(at * unit / scale for at in wanted), abs=0.003)


def test_pieces_are_written_hatched_and_hemmed_where_they_are(estimated, sheet_of):
    window = estimated("estimate").windows[0]
    for panel in window.panels:
        sheet = sheet_of(panel_flat(window, panel, "in"))
        unit = 25.4 / sheet.scale
        way = 1 if panel.side == "right" else -1
        ((_, edge, *_),) = sheet.lines("leading edge")
        stations = {f"{each.kind} {each.number}": each for each in panel.pleats.stations if each.number}
        written = dict(sheet.words(r"(pleat|space) \d+ width"))
        assert len(written) > 16
        for of, word in written.items():
            station = stations[of.removesuffix(" width")]
            assert parse_length(word.text, "in") == from_units(station.end - station.start, "in")
            assert min(station.start, station.end) * unit < way * (word.x - edge) < station.end * unit
        for number in range(1, panel.pleats.pleat_count + 1):
            xs = [x for stroke in sheet.strokes(f"pleat {number} cloth") for x, _ in stroke]
            station = stations[f"pleat {number}"]
            drawn = sorted(way * (x - edge) for x in (min(xs), max(xs)))
            assert drawn == pytest.approx([station.start * unit, station.end * unit], abs=1.31)
        for of, at in (("leading", 1.5), ("return", panel.flat_width - 1.5)):
            ((_, x, *_),) = sheet.lines(f"{of} side hem")
            assert way * (x - edge) == pytest.approx(at * unit, abs=0.003)


def test_turned_figures_read_upwards(estimated, sheet_of):
    window = estimated("estimate").windows[0]
    sheet = sheet_of(panel_flat(window, window.panels[1], "in"))
    turned = [each for each in sheet.root.iter() if "transform" in each.attrib]
    assert len(turned) > 40
    for each in turned:
        assert each.get("transform") == f"rotate(-90 {each.get('x')} {each.get('y')})"
    for of, anchor in ((r"pleat \d+ end at", "end"), (r"pleat \d+ centre at", "start")):
        assert {word.anchor for _, word in sheet.words(of)} == {anchor}, "away from the cloth"


def test_widths_add_up_to_the_flat_width(estimated, sheet_of):
    window = estimated("estimate").windows[0]
    sheet = sheet_of(panel_flat(window, window.panels[1], "in"))
    widths = [word.text for _, word in sheet.words(r"width \d flat")]
    assert len(widths) == 3
    assert sum(parse_length(text, "in") for text in widths) == from_units(154, "in")


def test_a_half_width_is_at_the_return_edge_and_is_called_so(estimated, sheet_of, job):
    job["windows"][0]["rod"]["width"] = "96"
    window = estimated(job).windows[0]
    assert [panel.widths for panel in window.panels] == [2.5, 2.5]
    left, right = (dict(sheet_of(panel_flat(window, panel, "in")).words(r"width \d")) for panel in window.panels)
    assert right["width 3"].x > right["width 1"].x
    assert left["width 3"].x < left["width 1"].x
    drawn = panel_flat(window, window.panels[1], "in")
    assert "of 2.5 widths" in drawn.description


def test_sixty_widths_are_parted_into_strips_that_can_be_read(estimated, sheet_of, job):
    window = job["windows"][0]
    window["rod"] = {"width": "1280", "return": "6", "overlap": "4", "draw": "one-way-left"}
    window["make_up"]["width_count"] = 60
    reply = estimated(job)
    panel = reply.windows[0].panels[0]
    assert panel.widths == 60
    drawing = panel_flat(reply.windows[0], panel, reply.units)
    sheet = sheet_of(drawing)
    check_marks(sheet, panel, reply.units, 25.4)
    titles = [word.text for _, word in sheet.words("strip")]
    assert titles[0].endswith(f"strip 1 of {len(titles)}")
    assert len(titles) > 5
    assert len(drawing.breaks) == len(titles) - 1
    for of in (f"{ENDS} at", r"pleat \d+ centre at"):
        rows = {}
        for _, word in sheet.words(of):
            rows.setdefault(round(word.y, 1), []).append(word.x)
        assert len(rows) == len(titles)
        for row in rows.values():
            assert all(after - x > 2.6 for x, after in pairwise(sorted(row))), "no figure on another"
            assert min(row) > 5
            assert max(row) < sheet.width - 5
    numbers = {int(word.text) for _, word in sheet.words(r"pleat \d+ number")}
    assert numbers == set(range(1, panel.pleats.pleat_count + 1))


def test_a_break_for_paper_cuts_through_no_words(estimated, sheet_of, job):
    window = job["windows"][0]
    window["rod"] |= {"width": "800", "draw": "one-way-left"}
    window["make_up"]["width_count"] = 40
    reply = estimated(job)
    for drawing in (
        panel_flat(reply.windows[0], reply.windows[0].panels[0], reply.units),
        cut_plan(reply.materials.fabrics[0], reply.units),
    ):
        sheet = sheet_of(drawing)
        assert len(drawing.breaks) > 2
        for edge in drawing.breaks:
            for _, word in sheet.words():
                # A level word stands on its baseline; a turned one runs up from its anchor, or down to it.
                long = width_of(word.text, word.size)
                top, foot = word.y - 0.75 * word.size, word.y + 0.25 * word.size
                if word.turned:
                    top, foot = (word.y, word.y + long) if word.anchor == "end" else (word.y - long, word.y)
                assert not top < edge < foot, word
            next_of, _ = min((each for each in sheet.words() if each[1].y > edge), key=lambda each: each[1].y)
            assert next_of in ("strip", "piece"), "a strip goes with its title"
            assert all(not y <= edge <= end for _, _, y, _, end in sheet.lines(f"{ENDS}|cut \\d+ edge"))


def test_a_surplus_is_hatched_and_said_to_come_off(estimated, sheet_of):
    reply = estimated("headings/estimate-rods")
    wave = reply.windows[1]
    sheet = sheet_of(panel_flat(wave, wave.panels[1], reply.units))
    assert parse_length(sheet.word("surplus").removeprefix("cut off "), "in") == from_units(1, "in")


def test_figures_finer_than_a_sixteenth_are_written_exactly(estimated, sheet_of, job, millimetres):
    job["windows"][0]["mark"] = "1/64"
    reply = estimated(job)
    panel = reply.windows[0].panels[0]
    assert any(station.end * 16 % 1 for station in panel.pleats.stations), "the rule is finer than usual"
    check_marks(sheet_of(panel_flat(reply.windows[0], panel, "in")), panel, "in", 25.4)


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    style=st.sampled_from(["three-fold-pinch", "box", "goblet", "pencil", "eyelet", "wave", "tab-top", "gathered"]),
    units=st.sampled_from(["in", "cm", "mm"]),
    rod=st.integers(20, 240),
    cloth=st.sampled_from([45, 54, 60]),
    draw=st.sampled_from(["pair", "one-way-left", "one-way-right"]),
    back=st.sampled_from(["0", "3 1/2 in", "120 mm"]),
)
def test_any_panel_has_its_marks_within_the_paper(
    estimated, sheet_of, millimetres, style, units, rod, cloth, draw, back
):
    heading = {"style": style}
    window = {
        "rod": {"width": f"{rod} in", "return": back, "draw": draw},
        "hang": {"drop": "90 in", "to": "floor"},
        "fabric": "x",
        "heading": heading,
    }
    try:
        reply = estimated({"units": units, "windows": [window], "fabrics": {"x": {"width": f"{cloth} in"}}})
    except Impossible:
        assume(False)
    for each, panel in panels(reply):
        sheet = sheet_of(panel_flat(each, panel, units))
        check_marks(sheet, panel, units, millimetres[units])
        for text, x, y, _ in sheet.all_words():
            assert 0 < x < sheet.width, text
            assert 0 < y < sheet.height, text


def test_an_unknown_hem_is_drawn_as_a_double_one_and_a_known_one_as_it_is(estimated, sheet_of, job):
    window = job["windows"][0]
    del window["make_up"]["bottom_hem"]
    window["make_up"] |= {"bottom_hem_type": "single", "bottom_hem_depth": "5"}
    reply = estimated(job)
    [window] = reply.windows
    panel = window.panels[0]
    assert panel.sewn.bottom_hem_depth == 5
    assert sheet_of(panel_flat(window, panel, "in")).dimension("hem depth")[1] == "hem 5"
    assert sheet_of(hang_section(window, reply.windows, "in")).word("hem figure") == "hem 5"
    # Whoever gave only what it takes may have meant another hem, and is told what is taken for granted.
    unknown = msgspec.structs.replace(panel, sewn=msgspec.structs.replace(panel.sewn, bottom_hem_depth=None))
    window = msgspec.structs.replace(window, panels=[unknown, *window.panels[1:]])
    for shown in (
        sheet_of(panel_flat(window, unknown, "in")).dimension("hem depth")[1],
        sheet_of(hang_section(window, [window], "in")).word("hem figure"),
    ):
        assert shown.endswith(", if double")
        depth = parse_length(shown.removeprefix("hem ").removesuffix(", if double"), "in")
        assert depth == from_units(panel.sewn.bottom_hem / 2, "in")
