"""What hems, seams, shrinkage and layers take, by sums worked by hand. No source is claimed: common practice."""

import pytest

from pleatwright.faults import Impossible

WINDOW = {
    "rod": {"width": 96, "return": 3.5, "overlap": 3},
    "hang": {"carrying_height": 96, "heading_above": 0.25, "clearance": 1},
    "heading": {"style": "three-fold-pinch"},
    "fullness": 2.25,
}


@pytest.fixture
def panel(ask):
    """One panel of a window with this make-up and fabric."""

    def asked(make_up=None, **fabric):
        request = {"units": "in", "fabric": {"width": 54, **fabric}, "make_up": make_up or {}, **WINDOW}
        return ask("panel", request).panels[0]

    return asked


@pytest.mark.parametrize(
    ("make_up", "cut"),
    [
        # 96 + 1/4 - 1 = 95 1/4 finished; the turning wraps a 4 in buckram: 103 1/4 before the hem.
        ({}, 103.25 + 8),
        ({"bottom_hem_type": "double"}, 103.25 + 2 * 4),
        ({"bottom_hem_type": "double", "bottom_hem_depth": 3}, 103.25 + 2 * 3),
        ({"bottom_hem_type": "single", "bottom_hem_depth": 3}, 103.25 + 3 + 0.5),
        ({"bottom_hem_type": "faced"}, 103.25 + 0.5),
        # An inch to spare in each cut, for squaring.
        ({"ease": 1}, 103.25 + 8 + 1),
    ],
)
def test_a_bottom_hem_takes_what_its_type_says(panel, make_up, cut):
    """Common practice: a double hem is turned twice, a single one once with its edge under, a facing takes a seam."""
    assert panel(make_up).cut_length == cut


@pytest.mark.parametrize(
    ("make_up", "flat"),
    [
        # Three widths of 54: 162, less 3 at each edge and 1 in each of two seams, is 154.
        ({}, 154),
        ({"side_hem_type": "double"}, 154),
        ({"side_hem_type": "double", "side_hem_depth": 1}, 156),
        ({"side_hem_type": "single", "side_hem_depth": 1.5}, 162 - 2 - 2 * 2),
        ({"seam_type": "plain"}, 154),
        # 5/8 in at each side of a seam: 2 1/2 in all.
        ({"seam_type": "french"}, 162 - 6 - 2.5),
        ({"seam_type": "flat-felled"}, 162 - 6 - 2.5),
        ({"seam_type": "overlocked"}, 162 - 6 - 1),
        # Half an inch to spare in each width.
        ({"width_ease": 0.5}, 154 - 1.5),
    ],
)
def test_side_hems_and_seams_take_what_their_types_say(panel, make_up, flat):
    assert panel({"width_count": 3} | make_up).flat_width == flat


@pytest.mark.parametrize(
    ("make_up", "where"),
    [
        ({"side_hem": 3, "side_hem_type": "double"}, "side_hem"),
        ({"bottom_hem": 8, "bottom_hem_type": "single"}, "bottom_hem"),
        ({"bottom_hem_depth": 4}, "bottom_hem_depth"),
        ({"seam_allowance": 0.5, "seam_type": "plain"}, "seam_allowance"),
    ],
)
def test_a_hem_or_a_seam_given_twice_is_refused(panel, make_up, where):
    with pytest.raises(Impossible) as impossible:
        panel(make_up)
    assert [fault.where for fault in impossible.value.faults] == [("make_up", where)]


def test_cloth_that_shrinks_is_cut_longer_and_comes_out_narrower(panel):
    """3 percent of the length: what is left of the cut, 97 hundredths of it, is what was needed. 2 percent of 54 in."""
    shrunk = panel({"width_count": 3}, shrinkage={"length": 3, "width": 2})
    assert 0.97 * shrunk.cut_length == pytest.approx(111.25, abs=1e-3)
    assert shrunk.cut_length >= 111.25 / 0.97
    assert shrunk.flat_width == pytest.approx(154 - 3 * 54 * 0.02, abs=1e-3)


@pytest.mark.parametrize(("shrinkage", "repeat"), [(None, 25.25), ({"length": 5}, 25.25)])
def test_a_motif_stands_below_the_heading_on_cloth_that_shrinks(ask, shrinkage, repeat):
    """The motif starts 4 in into the repeat; 6 in and a turning of 8 above it, unshrunk, is where cuts start."""
    fabric = {"width": 54, "vertical_repeat": repeat, "motif": {"at": 4, "below_heading": 6}, "shrinkage": shrinkage}
    window = WINDOW | {"label": "bay", "fabric": "print"}
    reply = ask("estimate", {"units": "in", "windows": [window], "fabrics": {"print": fabric}})
    above = (6 + 8) / (1 - (shrinkage or {"length": 0})["length"] / 100)
    for cut in reply.materials.fabrics[0].sequence:
        assert cut.phase == pytest.approx((4 - above) % repeat, abs=1e-3)


def test_a_motif_stands_above_the_hem_of_every_window(ask):
    """9 in high and 2 in above the hem, so that its top is 11 above it: cuts of 95 1/4 + 8 start 92 1/4 before that."""
    fabric = {"width": 54, "vertical_repeat": 25.25, "motif": {"at": 4, "height": 9, "above_hem": 2}}
    window = WINDOW | {"label": "bay", "fabric": "print"}
    reply = ask("estimate", {"units": "in", "windows": [window], "fabrics": {"print": fabric}})
    assert {cut.phase for cut in reply.materials.fabrics[0].sequence} == {(4 - (95.25 + 8 - 11)) % 25.25}


LAYERS = [
    # The face has 154 in flat of 3 widths. A lining of 54 in turned in by 1 at each edge: 54 x 3 - 2 - 2 = 158, 2 1/2
    # widths would be 131.
    ("lining", {"width": 54}, 3, 95.25 - 1 + 4 + 1),
    # 110 in wide: 1 1/2 widths are 165 - 1 - 2 = 162, one is 108.
    ("lining", {"width": 110}, 1.5, 95.25 - 1 + 4 + 1),
    # 156 in wide, which one width turned in by 1 at each edge reaches exactly.
    ("lining", {"width": 156, "shorter": 2, "bottom_hem": 0}, 1, 95.25 - 2 + 1),
    ("lining", {"width": 154, "narrower": 1, "bottom_hem": 0, "top_turning": 0}, 1, 95.25 - 1),
    # Without hems and turnings, edge to edge: 3 x 54 = 162.
    ("interlining", {"width": 54}, 3, 95.25),
    ("interlining", {"width": 154}, 1, 95.25),
    ("blackout", {"width": 60}, 3, 95.25),
    ("blackout", {"width": 60, "bottom_hem": 2, "shorter": 0.5}, 3, 95.25 + 2 - 0.5),
    # Without a width of its own: as many as the face.
    ("lining", {}, 3, 95.25 - 1 + 4 + 1),
]


@pytest.mark.parametrize(("name", "layer", "widths", "cut"), LAYERS)
def test_a_layer_has_widths_and_cuts_of_its_own(ask, name, layer, widths, cut):
    window = WINDOW | {"label": "bay", "fabric": "linen", "make_up": {"width_count": 3}, name: layer}
    reply = ask("estimate", {"units": "in", "windows": [window], "fabrics": {"linen": {"width": 54}}})
    [found] = reply.windows[0].materials.layers
    assert (found.layer, found.widths, found.cut_length) == (name, [widths, widths], cut)
    # Two panels; two halves make one cut.
    assert found.cuts == -(-2 * widths // 1)
    assert found.length == found.cuts * cut
    [ordered] = reply.materials.layers
    assert (ordered.layer, ordered.cuts, len(ordered.sequence)) == (name, found.cuts, found.cuts)
    # To the next eighth of a yard.
    assert 0 <= ordered.length - found.length < 4.5
    served = [piece for place in ordered.sequence for piece in place.pieces]
    assert len(served) == 2 * (-(-widths // 1))


def test_a_blackout_panel_is_made_in_three_layers_each_ordered_by_itself(ask):
    layers = {"lining": {"width": 54}, "interlining": {"width": 60}, "blackout": {"width": 110}}
    window = WINDOW | {"label": "bay", "fabric": "linen", **layers}
    reply = ask("estimate", {"units": "in", "windows": [window], "fabrics": {"linen": {"width": 54}}})
    assert [(each.layer, each.width) for each in reply.materials.layers] == [
        ("lining", 54),
        ("interlining", 60),
        ("blackout", 110),
    ]


def test_linings_of_one_width_are_ordered_together_and_of_another_apart(ask):
    windows = [
        WINDOW | {"label": f"bay {width}, {number}", "fabric": "linen", "lining": {"width": width}}
        for width in (54, 110)
        for number in (1, 2)
    ]
    reply = ask("estimate", {"units": "in", "windows": windows, "fabrics": {"linen": {"width": 54}}})
    assert [
        (each.width, len({piece.window for cut in each.sequence for piece in cut.pieces}))
        for each in reply.materials.layers
    ] == [(54, 2), (110, 2)]


@pytest.mark.parametrize(
    ("layer", "where"),
    [
        ({"shorter": 96}, "shorter"),
        ({"width": 54, "narrower": 80}, "narrower"),
        ({"width": 1, "selvage": 1}, "width"),
        ({"width": 1.25}, "width"),
    ],
)
def test_a_layer_of_which_nothing_is_left_is_refused_in_its_place(ask, layer, where):
    window = WINDOW | {"label": "bay", "fabric": "linen", "lining": layer}
    with pytest.raises(Impossible) as impossible:
        ask("estimate", {"units": "in", "windows": [window], "fabrics": {"linen": {"width": 54}}})
    assert [fault.where for fault in impossible.value.faults] == [("windows", 0, "lining", where)]
