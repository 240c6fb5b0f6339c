"""Stacks worked by hand, and the rod that clears the glass by trying every rod one by one [geometry].

What folds, cloth and carriers take is geometry with the project's own thicknesses; a third of the rod, shown beside it,
is the rule of thumb of common practice.
"""

import json
import math
from fractions import Fraction

import msgspec
import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from pleatwright import workroom
from pleatwright.faults import Fault, Impossible
from pleatwright.lengths import inches
from pleatwright.trade.stack import clear_rod

REPEATABLE = settings(derandomize=True, database=None, deadline=None, max_examples=200)
LIMITS_OF_PINCH = (4, 7), (3, 4.5)
"""Take-up and space of a three-fold pinch, in inches, as TRADE has them: common practice."""
CLOTH = {"width": "137 cm", "thickness": "0.5 mm"}
LINING = {"thickness": "0.25 mm"}
STIFFENING = 0.6
"""Buckram or tape, in millimetres: the project's own figure where a request works in metric."""


@pytest.fixture
def rod(ask):
    """Ask for the rod of one window, in millimetres."""

    def asked(style, glass=800, cloth=CLOTH, from_left=None, **more):
        request = {"units": "mm", "heading": {"style": style}, "fabric": cloth}
        return ask("rod", request | {"glass": {"width": glass, "from_left": from_left}} | more)

    return asked


@pytest.fixture
def window(ask):
    """Ask for one window of a job, in inches."""

    def asked(rod, style="three-fold-pinch", mount=None, **more):
        hang = {"mount": {"kind": "traverse-rod", "height": 90} | (mount or {})}
        one = {"rod": rod, "hang": hang, "fabric": "linen", "heading": {"style": style}, "lining": None} | more
        fabrics = {"linen": {"width": 54}, "voile": {"width": 118, "railroaded": True}}
        return ask("estimate", {"units": "in", "windows": [one], "fabrics": fabrics}).windows[0]

    return asked


def kinds(reply):
    return [caution.kind for caution in reply.cautions]


def test_the_stack_of_a_pinch_worked_by_hand(rod):
    """Cloth turned over twice its buckram lies in three, 1.5; buckram 0.6; lining 0.25: 2.35 thick.

    A three-fold pinch is six of that side by side, and the space between two is folded in two: 8 x 2.35 = 18.8 each.
    The 75 that cross lie flat before them. Its carriers tell how many pleats there are.
    """
    reply = rod("three-fold-pinch", rod={"width": 2400}, make_up={"width_count": 2.5}, lining=LINING)
    pleats = [each.sliding for each in reply.sliders]
    assert pleats[0] == pleats[1] >= 10
    assert [each.stack for each in reply.stacks] == pytest.approx([18.8 * pleats[0] + 75] * 2, abs=0.02)


def test_the_stack_of_goblets_is_as_long_as_their_fillers(rod, window):
    """A goblet is as wide as its cup, take-up / pi, far wider than two thicknesses; and the space folds in two.

    In inches: cloth of 1/32 in three and a buckram of 1/40 are 19/160 thick, two of it 19/80.
    """
    made = window({"width": 96}, "goblet")
    for panel, stack in zip(made.panels, made.rod.stacks, strict=True):
        cup = panel.pleats.take_up.most / math.pi
        assert stack.stack == pytest.approx(panel.pleats.pleat_count * (cup + 19 / 80) + 3, abs=0.01)


def test_the_stack_of_a_gather_worked_by_hand(rod):
    """A tape of 3 in with 1 1/2 in turned over: cloth once and a half, 0.75, and the tape's 0.6: 1.35 thick.

    A fold of 1 1/4 in, 31.75, there and back is two of that, 2.7. Three widths of 1370 less 75 at both edges and 12 at
    each side of two seams are 3912: 123.2 folds, so 124: 334.8, and the 75 that cross.
    """
    reply = rod("pencil", rod={"width": 2400}, make_up={"width_count": 3})
    assert [each.stack for each in reply.stacks] == pytest.approx([334.8 + 75] * 2, abs=0.02)


@pytest.mark.parametrize("mount", ["traverse-rod", "ceiling-track", "rings"])
def test_the_folds_of_a_gather_hang_several_to_a_carrier(rod, mount):
    """The same panel. Its hooks are 3 in apart at the most, on 1327 1/2: some 20 carriers of 12 mm, 240, or 6 mm.

    They fit beside one another in the 334.8 that the cloth takes; 124 carriers would take 1488, more than the panel's
    share of the rod, and there are none of them.
    """
    reply = rod("pencil", rod={"width": 2400}, make_up={"width_count": 3}, mount={"kind": mount})
    for slider, stack in zip(reply.sliders, reply.stacks, strict=True):
        assert slider.sliding * 12 < 334.8
        assert stack.stack == pytest.approx(334.8 + 75, abs=0.02)


@pytest.mark.parametrize(
    ("thickness", "each"),
    [
        # A tape turned over its own depth: 2 x 0.5 + 0.6 is 1.6 thick, thinner than a carrier of 5/8 in.
        (0.5, 15.875),
        # 2 x 10 + 0.6: half a wave, there and back for two snaps, is 20.6 of cloth to each.
        (10, 20.6),
    ],
)
def test_the_stack_of_waves_is_of_carriers_or_of_thick_cloth(rod, thickness, each):
    """One carrier to a snap, and the first snap where the 75 that cross end."""
    reply = rod("wave", cloth=CLOTH | {"thickness": thickness}, rod={"width": 2400})
    for slider, stack in zip(reply.sliders, reply.stacks, strict=True):
        assert stack.stack == pytest.approx(each * slider.sliding + 75, abs=0.02)


def test_a_pleat_takes_no_less_of_the_rod_than_its_carrier(rod):
    """18.8 a pleat as above: a carrier of 18 fits behind it, one of 20 does not."""
    for length, each in ((18, 18.8), (20, 20)):
        mount = {"kind": "traverse-rod", "carrier_length": length}
        reply = rod("three-fold-pinch", rod={"width": 2400}, lining=LINING, mount=mount)
        assert reply.stacks[0].stack == pytest.approx(each * reply.sliders[0].sliding + 75, abs=0.02)


@pytest.mark.parametrize(
    ("draw", "thirds"),
    [
        ({"draw": "pair"}, [400, 400]),
        ({"draw": "one-way-left"}, [800]),
        ({"draw": "one-way-right", "leading_return": 90}, [800]),
        ({"draw": "off-centre-pair", "parting": 900}, [300, 500]),
        ({"draw": "fixed-pair", "panel_width": 450}, [150, 150]),
    ],
)
def test_a_third_of_what_a_panel_covers_is_shown_beside_its_stack(ask, draw, thirds):
    """Common practice. A rod of 2400; what crosses at the centre and what returns to the wall has no part in it."""
    one = {
        "rod": {"width": 2400} | draw,
        "hang": {"carrying_height": 2200},
        "fabric": "linen",
        "heading": {"style": "pencil"},
    }
    reply = ask("estimate", {"units": "mm", "windows": [one], "fabrics": {"linen": {"width": 1370}}})
    assert [each.rule_of_thumb for each in reply.windows[0].rod.stacks] == thirds


def test_a_panel_that_takes_all_its_share_of_the_rod_hardly_opens(rod):
    """Pinches of felt 15 thick: 3 x 15 + 0.6, eight times that, 364.8 a pleat; 13 or so of them on half of 2400."""
    assert "hardly-opens" in kinds(rod("three-fold-pinch", cloth=CLOTH | {"thickness": 15}, rod={"width": 2400}))
    assert "hardly-opens" not in kinds(rod("three-fold-pinch", rod={"width": 2400}))


@st.composite
def openings(draw):
    """A glass and, for each rod that can be tried, the stacks on it; None where no panels can be made for it.

    Stacks go up and down as they like: one width of cloth more is all at once in the stack.
    """
    step, glass, spare = draw(st.integers(1, 12)), draw(st.integers(1, 80)), draw(st.integers(0, 9))
    sides = draw(st.sampled_from([("left", "right"), ("left",), ("right",)]))
    stacks = st.fixed_dictionaries({side: st.integers(0, 60) for side in sides})
    first = max(1, math.ceil(Fraction(glass + 2 * spare, step)))
    tried = draw(st.lists(stacks | st.none(), min_size=1, max_size=40))
    return step, glass, spare, {first + number: given for number, given in enumerate(tried)}


def clears(rod, glass, spare, stacks, *, both_sides):
    """Whether the glass can be so placed on a rod that it is clear, with room to spare at each side of it."""
    left, right = (stacks.get(side, 0) + spare for side in ("left", "right"))
    if both_sides:
        # In the middle, so that the wider of the two stacks says how much there is at each side.
        return 2 * max(left, right) + glass <= rod
    return left + glass + right <= rod


@REPEATABLE
@given(openings(), st.booleans())
@example((10, 100, 0, {10: None, 11: None, 12: {"left": 10, "right": 10}}), True)
@example((10, 100, 0, {10: {"left": 90}, 11: {"left": 90}, 12: {"left": 21}, 13: {"left": 5}}), False)
def test_the_shortest_rod_in_whole_steps_that_clears_the_glass_is_found(opening, both_sides):
    """By brute force: every rod from the glass on, one by one, whatever its stacks; some cannot be made at all."""
    step, glass, spare, stacks_of = opening
    # Beyond what is drawn, panels that take nothing: some rod always does.
    last = max(stacks_of) + 200
    nothing = dict.fromkeys(next((each for each in stacks_of.values() if each is not None), {"left": 0}), 0)

    def stacks_on(width):
        assert width % step == 0
        stacks = stacks_of.get(width // step, nothing)
        if stacks is None:
            raise Impossible(Fault(("fullness",), "no panels"))
        return stacks

    found = clear_rod(glass, spare, step, both_sides, stacks_on)
    do = [
        steps * step
        for steps in range(1, last)
        if (stacks := stacks_of.get(steps, nothing)) is not None
        and clears(steps * step, glass, spare, stacks, both_sides=both_sides)
    ]
    assert found.width == min(do)
    assert found.stacks == stacks_on(found.width)
    assert found.left_of_glass + glass + found.right_of_glass == found.width
    assert found.left_of_glass >= found.stacks.get("left", 0) + spare
    assert found.right_of_glass >= found.stacks.get("right", 0) + spare
    if both_sides:
        assert abs(found.left_of_glass - found.right_of_glass) <= 1


@REPEATABLE
@given(st.integers(1, 50), st.integers(1, 500), st.booleans())
def test_where_no_rod_clears_the_glass_it_is_said_after_a_bounded_search(step, glass, all_refused):
    """Stacks as long as the rod itself, or no panels at all: 400 rods are tried, and then no more."""
    tried = []

    def stacks_on(width):
        tried.append(width)
        if all_refused:
            raise Impossible(Fault(("fullness",), "no panels"))
        return {"left": width}

    with pytest.raises(Impossible) as impossible:
        clear_rod(glass, 0, step, False, stacks_on)
    assert len(tried) <= 400
    assert impossible.value.faults[0].where == (("fullness",) if all_refused else ("rod", "step"))


def test_where_panels_can_be_made_and_none_clears_the_glass_that_is_what_is_said():
    """Too narrow for pleats at first, and then always too thick a stack: what is wrong is the stack."""

    def stacks_on(width):
        if width < 20:
            raise Impossible(Fault(("rod", "width"), "no pleats on so narrow a rod"))
        return {"left": width}

    with pytest.raises(Impossible) as impossible:
        clear_rod(10, 0, 1, False, stacks_on)
    assert impossible.value.faults[0].where != ("rod", "width")


def test_for_wide_glass_rods_are_tried_in_a_coarser_step_so_that_some_rod_is_found(rod):
    """400 rods in steps of 10 mm reach 4 m beyond the glass, and a stack may take half of the rod."""
    for glass, step in ((2000, 10), (2001, 20), (12_000, 60)):
        reply = rod("goblet", glass=glass)
        assert reply.clears
        assert reply.width % step == 0
        assert {each.at: each.value for each in reply.assumed}["/rod/step"] == step


def test_a_rod_that_is_there_is_not_looked_for(ask):
    request = {"units": "mm", "heading": {"style": "goblet"}, "fabric": CLOTH, "glass": {"width": 800}}
    with pytest.raises(Impossible) as impossible:
        ask("rod", request | {"rod": {"width": 1500, "spare": 5, "step": 10}})
    assert [fault.where for fault in impossible.value.faults] == [("rod", "spare"), ("rod", "step")]


def test_no_panel_covers_more_glass_than_its_rod_is_long(rod):
    """Geometry: before a rod of 150 there can hang no more than 150, however thick the stack."""
    thick = CLOTH | {"thickness": 12}
    reply = rod("three-fold-pinch", glass=2000, cloth=thick, rod={"width": 400, "draw": "one-way-left", "return": 0})
    assert reply.stacks[0].stack > 400
    assert reply.stacks[0].glass_covered == 400


STYLES = ["three-fold-pinch", "goblet", "box", "pencil", "wave", "rod-pocket", "tab-top"]


def clear_as_it_is(ask, request, width, placed):
    """Whether the same panels leave the glass clear on a rod that is there, so wide, the glass so placed on it."""
    asked = {
        **request,
        "rod": {name: given for name, given in request["rod"].items() if name not in ("spare", "step")}
        | {"width": width},
    }
    if placed is not None:
        asked["glass"] = request["glass"] | {"from_left": placed}
    try:
        return ask("rod", asked).clears
    except Impossible:
        return False


@pytest.mark.parametrize("style", STYLES)
@pytest.mark.parametrize("draw", ["pair", "one-way-left", "one-way-right"])
def test_no_rod_shorter_by_any_number_of_steps_clears_the_glass(ask, style, draw):
    """Every shorter rod one by one, as one that is there: a pair with the glass in its middle, else at its far end."""
    fabric = {"width": 54}
    request = {
        "units": "in",
        "heading": {"style": style},
        "fabric": fabric,
        "glass": {"width": 60},
        "rod": {"draw": draw, "step": 2},
    }
    found = ask("rod", request)
    assert found.clears
    assert found.width % 2 == 0
    beyond = {each.side: each.stack for each in found.stacks}
    assert found.left_of_glass >= beyond.get("left", 0)
    assert found.right_of_glass >= beyond.get("right", 0)
    assert found.left_of_glass + 60 + found.right_of_glass == found.width

    def placed(width):
        return {"pair": None, "one-way-left": width - 60, "one-way-right": 0}[draw]

    assert clear_as_it_is(ask, request, found.width, placed(found.width))
    shorter = range(60, round(found.width), 2)
    assert not [width for width in shorter if clear_as_it_is(ask, request, width, placed(width))]


def test_a_one_way_draw_leaves_all_the_rod_beyond_the_glass_on_the_side_where_it_stacks(rod):
    """40 to spare at the other side, and the stack and 40 at its own; what the step leaves over goes there as well."""
    for side, other in (("left", "right"), ("right", "left")):
        reply = rod("three-fold-pinch", rod={"draw": f"one-way-{side}", "spare": 40, "step": 25})
        beside = {"left": reply.left_of_glass, "right": reply.right_of_glass}
        assert beside[other] == 40
        assert reply.stacks[0].stack + 40 <= beside[side] < reply.stacks[0].stack + 40 + 25
        assert (reply.width % 25, sum(beside.values()) + 800) == (0, reply.width)


@pytest.mark.parametrize(
    ("glass", "from_left", "covered"),
    [
        # Stacks of 319.4 at each end of 2400. 1775.2 in the middle leaves 312.4 at each side: 7 is covered.
        (1775.2, None, [7, 7]),
        (1761.2, None, [0, 0]),
        # 300 from the left: 19.4 covered there; 2400 - 300 - 1700 = 400 at the right, and clear.
        (1700, 300, [19.4, 0]),
        (1700, 0, [319.4, 0]),
        # On past the right end by 200: all of that stack is over glass.
        (2000, 600, [0, 319.4]),
        # 400 past each end.
        (3200, None, [319.4, 319.4]),
        # A pane of 100 behind the left stack, and all of it covered.
        (100, 50, [100, 0]),
    ],
)
def test_what_stays_covered_on_a_rod_that_is_there_worked_by_hand(rod, glass, from_left, covered):
    """13 pleats, as the carriers tell, of 8 x 2.35 as above, and the 75 that cross: 244.4 + 75 = 319.4."""
    sewn = {"make_up": {"width_count": 2.5}, "lining": LINING, "rod": {"width": 2400}}
    reply = rod("three-fold-pinch", glass, from_left=from_left, **sewn)
    assert [each.sliding for each in reply.sliders] == [13, 13]
    assert [each.stack for each in reply.stacks] == pytest.approx([319.4] * 2, abs=0.02)
    assert [each.glass_covered for each in reply.stacks] == pytest.approx(covered, abs=0.02)
    assert reply.clears == (covered == [0, 0])
    assert kinds(reply).count("glass-covered") == sum(each > 0 for each in covered)
    left = (2400 - glass) / 2 if from_left is None else from_left
    assert (reply.left_of_glass, reply.right_of_glass) == pytest.approx((left, 2400 - left - glass), abs=0.004)
    assert ("glass-past-the-rod" in kinds(reply)) == (left + glass > 2400)


RUNS = [30, 60, 30]
"""Bends 30 and 90 from the left end of a rod of 120."""


@pytest.mark.parametrize(
    ("draw", "bends"),
    [
        # Each panel 60 + 1 1/2 + 3 1/2 = 65 wide. Its return ends where the rod does: 65 - 3 1/2 - 30.
        ({"draw": "pair"}, [(1, 30, "left", 31.5), (2, 90, "right", 31.5)]),
        # 120 + 3 1/2: from the left end 30 and 90.
        ({"draw": "one-way-left"}, [(1, 30, "left", 90), (2, 90, "left", 30)]),
        # From the right end 90 and 30; a return of 2 before the leading edge comes on top.
        ({"draw": "one-way-right", "leading_return": 2}, [(1, 30, "right", 32), (2, 90, "right", 92)]),
        # The left 40 + 1 1/2: 41 1/2 - 30; the right 80 + 1 1/2: 81 1/2 - 30.
        ({"draw": "off-centre-pair", "parting": 40}, [(1, 30, "left", 11.5), (2, 90, "right", 51.5)]),
        # Where the edges meet, 1 1/2 of both crosses it.
        (
            {"draw": "off-centre-pair", "parting": 30},
            [(1, 30, "left", 1.5), (1, 30, "right", 1.5), (2, 90, "right", 61.5)],
        ),
        # The left reaches 1 1/2 past the parting and stops a half short of the bend: the right alone is there.
        ({"draw": "off-centre-pair", "parting": 28}, [(1, 30, "right", 3.5), (2, 90, "right", 63.5)]),
        # Panels of 35 at either end: 5 past the bend.
        ({"draw": "fixed-pair", "panel_width": 35}, [(1, 30, "left", 5), (2, 90, "right", 5)]),
        ({"draw": "fixed-pair", "panel_width": 25}, []),
    ],
)
def test_where_each_bend_meets_a_closed_panel_worked_by_hand(window, draw, bends):
    """Followed along the rod from the end where the panel's return starts [geometry]."""
    made = window({"runs": RUNS, "return": 3.5} | draw, "pencil", fabric="voile")
    assert [(each.bend, each.at, each.side, each.finished) for each in made.rod.bends] == bends
    assert made.rod.width == 120
    carried = {panel.side: panel.pleats.hanging_points for panel in made.panels}
    for bend in made.rod.bends:
        off = min(abs(point.finished - bend.finished) for point in carried[bend.side])
        assert bend.off == pytest.approx(off, abs=1e-6)
        on, number = bend.nearest.split()
        nearest = next(point for point in carried[bend.side] if (point.on, point.number) == (on, int(number)))
        assert abs(nearest.finished - bend.finished) == pytest.approx(off, abs=1e-6)
    near = [bend for bend in made.rod.bends if bend.off < 1]
    assert kinds(made).count("carrier-in-a-bend") == len(near)


def test_a_rod_of_one_run_has_no_bends(window):
    assert window({"runs": [120]}).rod.bends == []
    assert window({"width": 120}).rod.bends == []


def test_runs_that_do_not_come_to_the_width_are_refused(window):
    """30 + 60 + 30 is 120."""
    assert window({"runs": RUNS, "width": 120}).rod.width == 120
    with pytest.raises(Impossible) as impossible:
        window({"runs": RUNS, "width": "120 1/64"})
    (fault,) = impossible.value.faults
    assert fault.where == ("windows", 0, "rod", "runs")
    assert (fault.seen, fault.allowed) == ("120 in", "120 1/64 in in all")
    with pytest.raises(Impossible) as impossible:
        window({})
    assert [fault.where for fault in impossible.value.faults] == [("windows", 0, "rod", "width")]


def test_a_panel_stacks_round_the_bend_where_its_run_is_shorter_than_its_stack(window):
    """The end runs made as long as the stack, and then a hair shorter."""
    stack = window({"width": 120}).rod.stacks[0].stack
    for end, told in ((stack, []), (stack - 0.001, ["left", "right"])):
        made = window({"runs": [end, 120 - 2 * end, end]})
        assert made.rod.stacks[0].stack == stack
        assert [
            caution.detail.split()[0].lower() for caution in made.cautions if caution.kind == "stack-round-a-bend"
        ] == told


def test_a_panel_takes_a_carrier_for_each_pleat_and_is_told_when_they_are_too_few(window):
    """TRADE's window of 120 in with three widths a panel: 16 pleats by exhaustive search with exact fractions.

    One pin is in the piece that crosses, on the arm of the master carrier, one at the end of the return.
    """
    sewn = {"make_up": {"width_count": 3}}
    for carriers, told in ((16, 0), (15, 2)):
        made = window({"width": 120, "return": 3.5}, mount={"carriers": carriers}, **sewn)
        assert [(each.sliding, each.overlap, each.return_) for each in made.rod.sliders] == [(16, 1, 1)] * 2
        assert kinds(made).count("too-few-carriers") == told


def test_a_rod_is_as_long_as_its_face_and_its_returns(window):
    """120 and 3 1/2 at each end; one way, at one end, and the other return if there is one."""
    assert window({"width": 120, "return": 3.5}).rod.length == 127
    assert window({"width": 120, "return": 3.5, "draw": "one-way-left"}).rod.length == 123.5
    assert window({"width": 120, "return": 3.5, "draw": "one-way-left", "leading_return": 2}).rod.length == 125.5


@REPEATABLE
@given(
    st.integers(30 * 4, 400 * 4).map(lambda quarters: Fraction(quarters, 4)),
    st.integers(180, 300).map(lambda hundredths: Fraction(hundredths, 100)),
    st.integers(2, 150),
)
@example(Fraction(300), Fraction(193, 100), 200)
def test_the_counts_that_suit_fixed_carriers_are_all_that_keep_the_limits(
    headings, request_reader, width, fullness, carriers
):
    """By enumeration. Turned cloth has no seam, so a count n does if span / (n - 1) is a space that is allowed and
    (flat - finished) / n a take-up that is; no more of them than carriers, and of those the five largest.
    """
    flat = Fraction(math.ceil(fullness * width * inches("1")), inches("1"))
    (least_take_up, most_take_up), (least_space, most_space) = LIMITS_OF_PINCH
    counts = [
        count
        for count in range(2, 1001)
        if least_space <= width / (count - 1) <= most_space and least_take_up <= (flat - width) / count <= most_take_up
    ]
    assume(counts)
    request = {
        "units": "in",
        "heading": {"style": "three-fold-pinch"},
        "fabric": {"width": 118, "railroaded": True},
        "fullness": float(fullness),
        "glass": {"width": 20},
        "rod": {"width": float(width), "draw": "one-way-left", "return": 0},
        "mount": {"kind": "traverse-rod", "carriers": carriers},
    }
    reply = workroom.rod(request_reader.read("rod", json.dumps(request).encode()), headings)
    suits = [(each.pleat_count, each.idle, each.hides_every_seam) for each in reply.sliders[0].suits]
    largest = sorted((count for count in counts if count <= carriers), reverse=True)[:5]
    assert suits == [(count, carriers - count, True) for count in largest]


def test_carriers_of_rods_without_a_fixed_count_suit_nothing_in_particular(window):
    """Neither do those of a heading without pleats, nor is there a carrier where the rod goes through."""
    assert all(each.suits is msgspec.UNSET for each in window({"width": 120}).rod.sliders)
    assert all(each.suits is msgspec.UNSET for each in window({"width": 120}, "pencil", {"carriers": 20}).rod.sliders)
    through = window({"width": 120}, "rod-pocket", hang={"carrying_height": 90})
    assert through.rod.sliders == []
