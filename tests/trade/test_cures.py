"""Cures: what would hide the seams that no layout hides. Each is applied, and every lesser one is tried."""

from functools import cache
from random import Random

import pytest
from msgspec.structs import replace

from pleatwright.faults import Impossible
from pleatwright.lengths import INCH, Limits
from pleatwright.trade.cloth import Cloth
from pleatwright.trade.cures import MOST_TRIMS, Cure, cures, hiding_pleats
from pleatwright.trade.layout import MOST_WORK, best_layout, can_hide
from pleatwright.trade.marks import placed_seams, stations
from pleatwright.trade.search import Budget

STRIP = INCH // 2


def found_for(cloth, strip):
    budget = Budget(MOST_WORK)

    def count(flat_width, seams, asked):
        return hiding_pleats(replace(cloth, flat_width=flat_width, seams=seams, pleat_count=asked), budget)

    return cures(cloth.flat_width, cloth.seams, cloth.pleat_count, strip, count)


def trimmed(cloth, edge, amount):
    """The cloth with a strip off one edge: the seams stay where they are in the cloth."""
    flat = cloth.flat_width - amount
    if edge == "trim-return-edge":
        return replace(cloth, flat_width=flat, seams=tuple(seam for seam in cloth.seams if seam < flat))
    return replace(cloth, flat_width=flat, seams=tuple(seam - amount for seam in cloth.seams if seam > amount))


def hides(cloth):
    try:
        return can_hide(cloth, Budget(MOST_WORK))
    except Impossible:
        return False


def applied(cloth, cure):
    if cure.change == "pleat-count":
        return replace(cloth, pleat_count=cure.count)
    return replace(trimmed(cloth, cure.change, cure.amount), pleat_count=cure.count)


def drawn(rng):
    """A panel of a few widths, its take-ups kept close together, so that many a seam cannot be hidden."""
    width = rng.randint(40 * 8, 56 * 8) * INCH // 8
    pieces = [width] * rng.randint(2, 4)
    if rng.random() < 0.4:
        pieces.append(width // 2)
    flat = sum(pieces) - 6 * INCH
    seams = [sum(pieces[:end]) - 3 * INCH for end in range(1, len(pieces))]
    finished = flat * rng.randint(38, 46) // 100
    usual = (flat - finished) * 4 // (finished - 6 * INCH) * INCH
    near = rng.choice((INCH // 4, INCH // 2, INCH))
    return Cloth(
        flat,
        finished,
        3 * INCH,
        3 * INCH,
        tuple(seams),
        Limits(usual - near, usual, usual + near),
        Limits(7 * INCH // 2, 15 * INCH // 4, 17 * INCH // 4),
        pleat_count=rng.choice((None, None, *range(8, 30))),
    )


@cache
def exposed():
    """Panels with a layout that does not hide every seam, each with its cures."""
    rng, found = Random(1845), []
    while len(found) < 250:
        cloth = drawn(rng)
        try:
            layout = best_layout(cloth)
        except Impossible:
            continue
        if layout.seams_in_space or layout.seams_in_take_up:
            found.append((cloth, found_for(cloth, STRIP)))
    return found


def test_every_cure_applied_hides_every_seam():
    for cloth, found in exposed():
        for cure in found:
            cured = applied(cloth, cure)
            layout = best_layout(cured)
            assert (layout.seams_in_space, layout.seams_in_take_up) == (0, 0)
            row = stations(layout, [("overlap", cloth.leading)], [("return", cloth.trailing)], INCH // 16)
            assert all(seam.place == "beside-pleat" for seam in placed_seams(row, cured.seams))


def test_a_strip_trimmed_hides_every_seam_whatever_count_is_then_chosen():
    for cloth, found in exposed():
        for cure in found:
            if cure.change != "pleat-count":
                layout = best_layout(trimmed(cloth, cure.change, cure.amount))
                assert (layout.seams_in_space, layout.seams_in_take_up) == (0, 0)


def test_no_smaller_strip_of_the_step_hides_every_seam():
    for cloth, found in exposed():
        trims = [cure for cure in found if cure.change != "pleat-count"]
        assert len(trims) <= 1
        least = trims[0].amount if trims else (MOST_TRIMS + 1) * STRIP
        assert least % STRIP == 0
        for amount in range(STRIP, least, STRIP):
            assert not hides(trimmed(cloth, "trim-return-edge", amount))
            assert not hides(trimmed(cloth, "trim-leading-edge", amount))


def test_of_two_strips_alike_the_one_off_the_return_edge_is_named():
    named = {cure.change for _, found in exposed() for cure in found}
    assert named == {"pleat-count", "trim-return-edge", "trim-leading-edge"}
    for cloth, found in exposed():
        for cure in found:
            if cure.change == "trim-leading-edge":
                assert not hides(trimmed(cloth, "trim-return-edge", cure.amount))


def test_another_count_is_a_cure_only_where_one_was_asked_and_one_is_there():
    for cloth, found in exposed():
        others = [cure for cure in found if cure.change == "pleat-count"]
        if cloth.pleat_count is None:
            assert not others
            continue
        assert bool(others) == hides(replace(cloth, pleat_count=None))
        assert all(cure.amount == 0 and cure.count != cloth.pleat_count for cure in others)


def test_a_panel_worked_by_hand_is_cured_by_leaving_its_count_open():
    """55 flat, 15 finished, no flat pieces, a seam at 25; take-ups of 8 to 10, spaces of 3 to 5.

    Five pleats have spaces of 3 3/4. Two before the seam take up (25 - 3 3/4) / 2 = 10 5/8 or, with a space next to it,
    (25 - 7 1/2) / 2 = 8 3/4, which leaves (30 - 7 1/2) / 3 = 7 1/2 for the rest: neither is within limits. Four have
    spaces of 5 and take up 10 each, and the second ends at 25. A strip off would leave five less than 8 to take up.
    """
    cloth = Cloth(55, 15, 0, 0, (25,), Limits(8, 9, 10), Limits(3, 4, 5), pleat_count=5)
    assert best_layout(cloth).seams_in_take_up == 1
    assert found_for(cloth, 1) == [Cure("pleat-count", 0, 4)]


@pytest.mark.parametrize(("seam", "change"), [(270, "trim-leading-edge"), (300, "trim-return-edge")])
def test_a_panel_worked_by_hand_is_cured_by_trimming_one_edge(seam, change):
    """570 flat, 150 finished, no flat pieces; take-ups of 95 to 106 and spaces of 50: four pleats.

    A seam at 270 is 2 pleats and a space from the leading edge if they take up (270 - 50) / 2 = 110, too much. With 5
    off that edge it is 107 1/2, still too much, and with 10 off it is 105, which leaves (300 - 100) / 2 = 100 for the
    other two. A seam at 300 is as far from the other edge.
    """
    cloth = Cloth(570, 150, 0, 0, (seam,), Limits(95, 100, 106), Limits(50, 50, 50))
    assert found_for(cloth, 5) == [Cure(change, 10, 4)]


@pytest.mark.parametrize(
    ("seams", "change"),
    [
        ((8, 270), "trim-leading-edge"),
        ((10, 270), "trim-leading-edge"),
        ((300, 562), "trim-return-edge"),
        ((300, 560), "trim-return-edge"),
    ],
)
def test_a_seam_in_the_strip_that_is_trimmed_goes_with_it(seams, change):
    """The same panel with a second seam 8 or 10 from the edge: the strip of 10 takes it away."""
    cloth = Cloth(570, 150, 0, 0, seams, Limits(95, 100, 106), Limits(50, 50, 50))
    assert found_for(cloth, 5) == [Cure(change, 10, 4)]


def test_no_cure_is_looked_for_once_the_work_allowed_is_done():
    cloth = Cloth(570, 150, 0, 0, (270,), Limits(95, 100, 106), Limits(50, 50, 50))
    assert hiding_pleats(replace(cloth, flat_width=560, seams=(260,)), Budget(MOST_WORK)) == 4
    assert hiding_pleats(replace(cloth, flat_width=560, seams=(260,)), Budget(0)) is None


def test_a_seam_in_a_flat_piece_is_beyond_cure():
    """It lies 80 into an overlap of 100: twelve strips of 5 do not reach it, and leave it in the overlap."""
    cloth = Cloth(670, 250, 100, 0, (80,), Limits(95, 100, 106), Limits(50, 50, 50))
    assert found_for(cloth, 5) == []


@pytest.mark.parametrize("strip", [INCH // 4, INCH, 2 * INCH])
def test_strips_are_tried_in_the_steps_asked_for(strip):
    tried = [cure.amount for cloth, _ in exposed()[:60] for cure in found_for(cloth, strip) if cure.amount]
    assert tried
    assert all(amount % strip == 0 and 0 < amount <= MOST_TRIMS * strip for amount in tried)
