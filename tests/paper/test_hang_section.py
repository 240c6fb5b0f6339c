"""The hang section: every height where the reply has it, the distance from the wall, the other layer."""

import re
from itertools import pairwise

import pytest

from pleatwright.lengths import from_units, parse_length
from pleatwright.paper.drawings import hang_section
from pleatwright.paper.on_the_wall import HEIGHT_NAMES

NAMES = ["estimate", "estimate-metric", "estimate-two-layers", "headings/estimate-rods"]


def each_window(estimated):
    for name in NAMES:
        reply = estimated(name)
        for window in reply.windows:
            yield reply, window


def test_every_height_is_written_once_and_from_the_top_down(estimated, sheet_of):
    for reply, window in each_window(estimated):
        sheet = sheet_of(hang_section(window, reply.windows, reply.units))
        written = {of.removesuffix(" height"): word for of, word in sheet.words(r"[^,]* height")}
        own = {HEIGHT_NAMES[each.point]: each.height for each in window.hang.heights}
        assert own.keys() <= written.keys() <= own.keys() | {"ceiling"}
        for name, height in own.items():
            value = parse_length(written[name].text, reply.units, signed=True)
            assert abs(value - from_units(height, reply.units)) <= (16 if reply.units != "in" else 8128 / 32)
        rows = sorted((word.y, -own.get(name, 1e9)) for name, word in written.items())
        assert [height for _, height in rows] == sorted(height for _, height in rows)
        assert all(after[0] - row[0] > 4 for row, after in pairwise(rows)), "no row on another"


def test_cloth_hangs_to_scale_from_its_top_to_its_hem(estimated, sheet_of, millimetres):
    for reply, window in each_window(estimated):
        sheet = sheet_of(hang_section(window, reply.windows, reply.units))
        unit = millimetres[reply.units] / sheet.scale
        heights = {each.point: each.height for each in window.hang.heights}
        cloth = sheet.points("sheer" if window.behind else "cloth")[0]
        floor = heights.get("floor")
        foot = heights["hem"] if floor is None else max(heights["hem"], floor)
        assert cloth[1][1] - cloth[0][1] == pytest.approx((heights["heading-top"] - foot) * unit, abs=0.003)
        assert cloth[0][0] == cloth[1][0]
        if floor is not None and heights["hem"] < floor:
            assert cloth[2][1] == cloth[1][1]
            assert cloth[2][0] - cloth[1][0] == pytest.approx((floor - heights["hem"]) * unit, abs=0.003)
        else:
            assert len(cloth) == 2
        wall = sheet.lines("wall")[0][1]
        returned = max(panel.return_ for panel in window.panels)
        if returned:
            assert cloth[0][0] - wall == pytest.approx(returned * unit, abs=0.003)
            ends, words = sheet.dimension("return")
            assert ends[2] - ends[0] == pytest.approx(returned * unit, abs=0.003)
            assert parse_length(words.removeprefix("return "), reply.units) == from_units(returned, reply.units)
        else:
            assert "not to scale" in sheet.word("no return")
        for each in window.hang.heights:
            leader = sheet.points(f"{HEIGHT_NAMES[each.point]} leader")[0]
            down = heights["heading-top"] - max(each.height, heights.get("floor", each.height))
            assert leader[0][1] - cloth[0][1] == pytest.approx(down * unit, abs=0.003)
            assert leader[-1][1] == pytest.approx(
                next(word.y for of, word in sheet.words(re.escape(HEIGHT_NAMES[each.point]))) - 0.9, abs=0.002
            )
        if floor is not None:
            line = sheet.lines("floor line")[0]
            assert line[2] - cloth[0][1] == pytest.approx((heights["heading-top"] - floor) * unit, abs=0.003)


def test_the_top_is_shown_closer_with_its_measures(estimated, sheet_of, millimetres):
    for reply, window in each_window(estimated):
        sheet = sheet_of(hang_section(window, reply.windows, reply.units))
        small, large = re.search(r"(\S+) : (\S+)$", sheet.word("The top view")).groups()
        unit = millimetres[reply.units] * float(small) / float(large)
        heights = {each.point: each.height for each in window.hang.heights}
        spans = {"heading": heights["heading-top"] - heights["heading-foot"]}
        above = heights["heading-top"] - heights["carrying-point"]
        spans["above carrying point" if above >= 0 else "below carrying point"] = abs(above)
        if window.hang.pin_depth is not None:
            spans["pin depth"] = window.hang.pin_depth
        if window.hang.to_ceiling is not None:
            spans["to ceiling"] = window.hang.to_ceiling
        for of, length in spans.items():
            ends, _ = sheet.dimension(of)
            assert ends[3] - ends[1] == pytest.approx(length * unit, abs=0.003), of
            value = parse_length(sheet.word(f"{of} figure").removeprefix(f"{of} "), reply.units)
            tolerance = 16 if reply.units != "in" else 8128 / 32
            assert abs(value - from_units(length, reply.units)) <= tolerance


def test_pin_and_hem_are_drawn_where_they_are(estimated, sheet_of):
    reply = estimated("estimate")
    sheet = sheet_of(hang_section(reply.windows[0], reply.windows, "in"))
    heights = {each.point: each.height for each in reply.windows[0].hang.heights}
    small, large = re.search(r"(\S+) : (\S+)$", sheet.word("The top view")).groups()
    views = [(25.4 / sheet.scale, 0), (25.4 * float(small) / float(large), 1)]
    for unit, view in views:
        top = sheet.points("cloth")[view][0] if view == 0 else None
        pin = sheet.points("pin")[view]
        rise = (heights["carrying-point"] - heights["pin"]) * unit
        assert pin[0][1] - pin[-1][1] == pytest.approx(rise, abs=0.003)
        assert max(x for x, _ in pin) == pin[0][0]
        if top:
            assert pin[0][0] == top[0]
            assert pin[0][1] - top[1] == pytest.approx((heights["heading-top"] - heights["pin"]) * unit, abs=0.003)
    hem = sheet.points("turned hem")[0]
    ys = [y for _, y in hem]
    assert max(ys) - min(ys) == pytest.approx(4 * 25.4 / sheet.scale, abs=0.003)
    assert max(ys) == sheet.points("cloth")[0][-1][1]
    assert [x for x, _ in hem[1:3]] == [hem[1][0]] * 2, "turned to the back, up to its depth"
    assert hem[1][1] != hem[2][1]
    assert hem[1][0] < hem[0][0]


def test_a_sheer_hangs_behind_its_over_drapery_in_both_their_drawings(estimated, sheet_of):
    reply = estimated("estimate-two-layers")
    over, sheer = reply.windows
    assert (over.behind, sheer.behind) == (None, "Bay, over-drapery")
    for window, other in ((over, "sheer behind, hem height"), (sheer, "over-drapery, hem height")):
        sheet = sheet_of(hang_section(window, reply.windows, reply.units))
        (front,), (back,) = (sheet.points(of)[:1] for of in ("cloth", "sheer"))
        wall = sheet.lines("wall")[0][1]
        assert wall < back[0][0] < front[0][0]
        assert (front[0][0] - wall) / (back[0][0] - wall) == pytest.approx(16 / 6, abs=0.01)
        assert sheet.words(other)
        assert len(sheet.lines("ceiling line")) == 2, "the room is the same, whoever's request has it"
    assert not sheet_of(hang_section(over, [over], reply.units)).points("sheer")


@pytest.mark.parametrize(
    ("kind", "shape"),
    [("rings", "circle"), ("clip-rings", "circle"), ("traverse-rod", "rect"), ("ceiling-track", "rect")],
)
def test_the_mount_is_drawn_as_what_it_is(kind, shape, estimated, sheet_of, job):
    job["windows"][0]["hang"] = {"mount": {"kind": kind, "height": "96"}, "to": "floor"}
    if kind == "clip-rings":
        del job["windows"][0]["pin"]
    window = estimated(job).windows[0]
    assert window.hang.mount == kind
    sheet = sheet_of(hang_section(window, [window], "in"))
    heights = {each.point: each.height for each in window.hang.heights}
    rods = [each for each in sheet.root.iter() if each.get("data-of") == "rod" and not each.tag.endswith("}g")]
    assert {each.tag.rpartition("}")[2] for each in rods} == {shape}
    deep = float(rods[0].get("height") or 0) or 2 * float(rods[0].get("r"))
    assert deep == pytest.approx((heights["rod-top"] - heights["rod-underside"]) * 25.4 / sheet.scale, abs=0.003)
    assert bool(sheet.lines("bracket")) == (kind != "ceiling-track")


def test_what_is_longer_than_its_drop_stays_within_the_paper(estimated, sheet_of):
    reply = estimated("estimate-metric")
    sheet = sheet_of(hang_section(reply.windows[0], reply.windows, reply.units))
    for points in sheet.points("cloth"):
        assert max(x for x, _ in points) < sheet.width - 6
    _, words = sheet.dimension("on the floor")
    assert parse_length(words.removeprefix("on the floor "), "cm") == from_units(12, "cm")
