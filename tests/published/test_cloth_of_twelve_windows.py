"""A job of twelve windows in one half-drop print, cut from five pieces in two lots with seven flaws.

Nothing here is taken from the code under test but its reply: every figure is checked against the request, by sums and
by the geometry of a half-drop.
"""

import json
from fractions import Fraction
from itertools import pairwise
from pathlib import Path

import pytest

JOB = json.loads(
    (Path(__file__).parents[2] / "openapi" / "examples" / "cloth" / "estimate-twelve-windows.json").read_text()
)
[CLOTH] = JOB["fabrics"].values()
REPEAT = Fraction(101, 4)
YARD = 36
RULE = Fraction(1, 16)


def inches(text):
    """A length of this request: yards, or inches with a fraction."""
    words = text.removesuffix(" yd").split()
    return sum(map(Fraction, words)) * (YARD if text.endswith(" yd") else 1)


@pytest.fixture(scope="module")
def reply(headings, request_reader):
    from pleatwright import workroom

    return workroom.estimate(request_reader.read("estimate", json.dumps(JOB).encode()), headings)


@pytest.fixture(scope="module")
def fabric(reply):
    [fabric] = reply.materials.fabrics
    return fabric


def exact(value):
    return Fraction(repr(value))


def lengths_of(reply):
    """The cut length of every window, by its label: of all its panels alike."""
    return {window.label: exact(window.panels[0].cut_length) for window in reply.windows}


def test_a_cut_is_as_long_as_a_maker_reckons(reply):
    """96 + 1/4 - 1/2 + 8 + 8 = 111 3/4, and 12 in less from 84, 6 from 90. The pinch pleat wraps a 4 in buckram."""
    heights = {each["label"]: Fraction(each["hang"]["carrying_height"]) for each in JOB["windows"]}
    for label, length in lengths_of(reply).items():
        assert length == heights[label] + Fraction(1, 4) - Fraction(1, 2) + 16


def test_every_width_of_every_panel_is_served_once(reply, fabric):
    wanted = sorted(
        (window.label, panel.side, width, width > panel.widths)
        for window in reply.windows
        for panel in window.panels
        for width in range(1, -(-int(panel.widths * 2) // 2) + 1)
    )
    for places in (fabric.sequence, [cut for bolt in fabric.shelf.bolts for cut in bolt.cuts]):
        served = sorted((each.window, each.panel, each.width, each.half) for cut in places for each in cut.pieces)
        assert served == wanted
        assert sorted(cut.cut for cut in places) == list(range(1, fabric.cuts + 1))


@pytest.mark.parametrize("on_shelf", [False, True])
def test_widths_drop_by_half_a_repeat_and_the_pattern_stands_at_one_height(reply, fabric, on_shelf):
    """Half-drop: of a right panel each width starts half a repeat later, of a left one earlier [geometry].

    The motif starts 4 in into the repeat and 6 in below the first window's heading, and its cuts start 8 in above that:
    4 - 6 - 8 + 25 1/4 = 15 1/4. A window that hangs lower by 12 in starts its pattern 12 in later.
    """
    places = [cut for bolt in fabric.shelf.bolts for cut in bolt.cuts] if on_shelf else fabric.sequence
    heights = {each["label"]: Fraction(each["hang"]["carrying_height"]) for each in JOB["windows"]}
    for cut in places:
        for piece in cut.pieces:
            first = Fraction(61, 4) + heights["North bay"] - heights[piece.window]
            onward = 1 if piece.panel == "right" else -1
            assert exact(cut.phase) == (first + onward * (piece.width - 1) * REPEAT / 2) % REPEAT


def test_halves_of_one_cut_go_to_opposite_panels(fabric):
    """On a patterned cloth a right panel's outer half is the left of the cut, a left panel's the right [geometry]."""
    halves = [piece for cut in fabric.sequence for piece in cut.pieces if piece.half]
    assert halves
    assert all(piece.half_of_cut == {"right": "left", "left": "right"}[piece.panel] for piece in halves)
    for cut in fabric.sequence:
        assert len(cut.pieces) == 1 or {piece.half_of_cut for piece in cut.pieces} == {"left", "right"}


def test_the_run_cuts_each_at_its_phase_and_wastes_less_than_the_rule_of_thumb(reply, fabric):
    lengths = lengths_of(reply)
    at, before = Fraction(0), None
    for cut in fabric.sequence:
        start, end, phase = map(exact, (cut.start, cut.end, cut.phase))
        assert end - start == lengths[cut.pieces[0].window]
        assert start >= at
        if before is not None:
            assert (start - before[0] - (phase - before[1])) % REPEAT == 0
            assert start - at < REPEAT
        at, before = end, (start, phase)
    assert exact(fabric.run_length) == at
    # Each cut raised to whole repeats, and half a repeat added to each [common practice].
    thumb = sum(-(-lengths[cut.pieces[0].window] // REPEAT) * REPEAT + REPEAT / 2 for cut in fabric.sequence)
    assert exact(fabric.rule_of_thumb_length) == thumb
    assert exact(fabric.rule_of_thumb_waste) == thumb - at > 1000


def test_each_piece_is_cut_in_order_at_the_right_phase_clear_of_every_flaw(reply, fabric):
    lengths = lengths_of(reply)
    pieces = {piece["label"]: piece for piece in CLOTH["bolts"]}
    assert len(pieces) == 5
    assert sum(len(piece["flaws"]) for piece in pieces.values()) == 7
    assert fabric.shelf.outcome in ("proved", "best-found")
    for bolt in fabric.shelf.bolts:
        piece = pieces[bolt.bolt]
        assert bolt.lot == piece["lot"]
        for cut in bolt.cuts:
            start, end = exact(cut.start), exact(cut.end)
            assert (start / RULE).denominator == (end / RULE).denominator == 1
            assert end - start == lengths[cut.pieces[0].window]
            off = (start + inches(piece["phase"]) - exact(cut.phase)) % REPEAT
            assert min(off, REPEAT - off) <= RULE / 2
            for flaw in piece["flaws"]:
                at, to = inches(flaw["start"]), inches(flaw.get("end", flaw["start"]))
                assert end <= at + RULE / 2 or start >= to - RULE / 2
        assert all(after.start >= before.end for before, after in pairwise(bolt.cuts))
        last = exact(bolt.cuts[-1].end)
        assert bolt.cuts[0].start >= 0
        assert abs(inches(piece["length"]) - last - exact(bolt.left_over)) <= RULE / 2
        assert abs(last - sum(lengths[cut.pieces[0].window] for cut in bolt.cuts) - exact(bolt.lost)) <= RULE / 2


def test_each_window_is_of_one_lot(fabric):
    lots = {}
    for bolt in fabric.shelf.bolts:
        for cut in bolt.cuts:
            for piece in cut.pieces:
                lots.setdefault(piece.window, set()).add(bolt.lot)
    assert set(lots) == {window["label"] for window in JOB["windows"]}
    assert all(len(found) == 1 for found in lots.values())


def test_the_pieces_are_as_few_as_they_can_be(reply, fabric):
    """All the cuts come to more than the three longest pieces: no plan takes fewer than four."""
    lengths = lengths_of(reply)
    cloth = sum(lengths[cut.pieces[0].window] for cut in fabric.sequence)
    longest = sorted((inches(piece["length"]) for piece in CLOTH["bolts"]), reverse=True)
    assert sum(longest[:3]) < cloth
    assert len(fabric.shelf.bolts) == 4
    assert fabric.shelf.bolts_gap == 0


def test_what_another_plan_could_save_is_no_more_than_what_this_one_loses(fabric):
    """No plan can lose less than nothing."""
    lost = sum(exact(bolt.lost) for bolt in fabric.shelf.bolts)
    assert 0 <= exact(fabric.shelf.cloth_gap) <= lost + RULE
