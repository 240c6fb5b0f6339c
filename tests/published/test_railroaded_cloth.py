"""Railroaded cloth, by sums worked by hand and by geometry. What is turned and what is not is common practice."""

import pytest

from pleatwright.faults import Impossible

# 96 + 1/4 - 1 = 95 1/4 finished; 8 of turning and 8 of hem make 111 1/4 across the bolt.
WINDOW = {
    "rod": {"width": 96, "return": 3.5, "overlap": 3},
    "hang": {"carrying_height": 96, "heading_above": 0.25, "clearance": 1},
    "heading": {"style": "three-fold-pinch"},
    "fullness": 2.4,
}
SHEER = {"width": 118, "railroaded": True}


@pytest.fixture
def panels(ask):
    return lambda **fabric: ask("panel", WINDOW | {"units": "in", "fabric": SHEER | fabric}).panels


@pytest.fixture
def job(ask):
    """The estimate of one window, and its cloth."""

    def asked(window=None, **fabric):
        window = WINDOW | {"label": "bay", "fabric": "sheer"} | (window or {})
        reply = ask("estimate", {"units": "in", "windows": [window], "fabrics": {"sheer": SHEER | fabric}})
        return reply, reply.materials.fabrics[0]

    return asked


def test_a_panel_is_one_run_as_long_as_its_fullness_asks_for(panels):
    """(96 + 3) / 2 + 3 1/2 = 53; 2.4 x 53 = 127.2 in flat to the nearest grid unit above, and 3 in at each edge."""
    for panel in panels():
        assert panel.finished_width == 53
        assert panel.flat_width == pytest.approx(127.2, abs=1 / 8128)
        assert panel.cut_length == pytest.approx(133.2, abs=1 / 8128)
        assert (panel.widths, panel.seams) == (1, [])
        assert panel.fullness == 2.4


def test_the_cloth_is_two_such_runs(job):
    """To the sixteenth above: 133 1/4 twice."""
    reply, cloth = job()
    assert (cloth.cuts, cloth.run_length) == (2, 266.5)
    assert [panel.pleats.stations[-1].end for panel in reply.windows[0].panels] == [
        panel.flat_width for panel in reply.windows[0].panels
    ]
    assert [piece.half for cut in cloth.sequence for piece in cut.pieces] == [False, False]


@pytest.mark.parametrize(("width", "fits"), [(111.25, True), (111.2, False), (118, True), (54, False)])
def test_a_bolt_is_turned_only_if_it_is_as_wide_as_a_cut_is_long(panels, width, fits):
    if fits:
        assert panels(width=width)
        return
    with pytest.raises(Impossible) as impossible:
        panels(width=width)
    [fault] = impossible.value.faults
    assert fault.where == ("fabric", "railroaded")
    assert "111 1/4 in" in fault.detail


@pytest.mark.parametrize(("selvage", "shrinkage", "fits"), [(3, 0, True), (3.5, 0, False), (0, 5, True), (0, 6, False)])
def test_selvages_and_shrinkage_come_off_the_width_that_is_turned(panels, selvage, shrinkage, fits):
    """118 - 2 x 3 = 112; 118 x 0.95 = 112.1, x 0.94 = 110.92."""
    fabric = {"selvage": selvage, "shrinkage": {"width": shrinkage}}
    if fits:
        assert panels(**fabric)
        return
    with pytest.raises(Impossible):
        panels(**fabric)


@pytest.mark.parametrize(
    ("fabric", "where"),
    [
        ({"one_way": True}, "railroaded"),
        ({"vertical_repeat": 12, "motif": {"at": 1, "below_heading": 2}}, "motif"),
        ({"railroaded": False, "bolt_length": 400}, "bolt_length"),
        ({"bolt_length": 0.5}, "bolt_length"),
    ],
)
def test_cloth_that_cannot_be_turned_so_is_refused(panels, fabric, where):
    with pytest.raises(Impossible) as impossible:
        panels(**fabric)
    assert [fault.where for fault in impossible.value.faults] == [("fabric", where)]


def test_widths_are_not_asked_of_railroaded_cloth(ask):
    with pytest.raises(Impossible) as impossible:
        ask("panel", WINDOW | {"units": "in", "fabric": SHEER, "make_up": {"width_count": 2}})
    assert [fault.where for fault in impossible.value.faults] == [("make_up", "width_count")]


def test_a_panel_longer_than_a_bolt_is_seamed_where_the_bolt_ends(job):
    """A bolt of 100 in: 3 in of hem, 1/2 in of seam, so the seam is 96 1/2 in from the edge, and hidden like any other.

    127 1/5 + 6 + 1 in the seam = 134 1/5, less 100 is 34 1/5.
    """
    reply, cloth = job(bolt_length=100)
    for panel in reply.windows[0].panels:
        assert [seam.at for seam in panel.seams] == [96.5]
        assert panel.cut_length == 100
        assert [seam.place for seam in panel.pleats.seams] == ["beside-pleat"]
    lengths = [cut.end - cut.start for cut in cloth.sequence]
    assert sorted(lengths) == [34.25, 34.25, 100, 100]


@pytest.mark.parametrize("bolt_length", [None, 100, 60])
@pytest.mark.parametrize("repeat", [12, 25.25])
def test_the_pattern_goes_on_across_the_panel_and_across_the_parting(job, repeat, bolt_length):
    """Along the bolt is across the window: it starts at both leading edges alike, and goes on at every seam [geometry].

    Of a right panel, a length starts where the edge is less the hem, or where the last one ended less two allowances;
    of a left one, it ends there.
    """
    _, cloth = job(vertical_repeat=repeat, bolt_length=bolt_length)
    placed = {(piece.panel, piece.width): cut for cut in cloth.sequence for piece in cut.pieces}
    for side, onward in (("right", 1), ("left", -1)):
        edge = -3.0
        for width in range(1, 1 + len([each for each in placed if each[0] == side])):
            cut = placed[side, width]
            # The cut is raised to the rule; what the panel has of it is a hair less, at the end away from the edge.
            length = {100: 100, 60: 60}.get(bolt_length, 133.2)
            if bolt_length and width == len(placed) / 2:
                length = 133.2 + (width - 1) * (1 - bolt_length)
            start = edge if onward > 0 else -edge - length
            off = (cut.phase - start) % repeat
            assert min(off, repeat - off) < 1e-3
            edge += length - 1


def test_turned_cloth_is_enough_for_so_many_windows_and_no_longer_drop(ask):
    """Two runs of 133 1/4 a window: 1000 in are enough for three windows of 266 1/2."""
    reply = ask("enough", WINDOW | {"units": "in", "fabric": SHEER, "cloth_length": 1000})
    assert (reply.windows.count, reply.windows.run_length) == (3, 799.5)
    assert (reply.drop, reply.fullness) == (None, None)


def test_a_layer_behind_it_needs_a_width_of_its_own(job):
    with pytest.raises(Impossible) as impossible:
        job({"lining": {}})
    assert [fault.where for fault in impossible.value.faults] == [("windows", 0, "lining", "width")]
    reply, _ = job({"lining": {"width": 54}})
    # 127 1/5 and 1 turned in at each edge: 129 1/5 of 54 - 1 a width and one more: 2 1/2 widths are 133.
    assert reply.materials.layers[0].cuts == 5


def test_the_worksheet_shows_the_lengths(ask):
    reply = ask("panel", WINDOW | {"units": "in", "fabric": SHEER | {"bolt_length": 100}, "worksheet": True})
    steps = {step.name: step for step in reply.worksheet}
    found = steps["left panel: lengths of railroaded cloth"]
    assert (found.result, found.figures["seams"]) == (2, 1)
