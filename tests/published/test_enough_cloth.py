"""What a length of cloth is enough for: sums by hand, and each answer asked again the other way round [geometry]."""

import random

import pytest

WINDOW = {
    "units": "in",
    "rod": {"width": 96, "return": 3.5, "overlap": 3},
    "hang": {"carrying_height": 96, "heading_above": 0.25, "clearance": 1},
    "fabric": {"width": 54},
    "heading": {"style": "three-fold-pinch"},
    "make_up": {"width_count": 2},
    "cloth_length": 720,
}


def test_plain_cloth_is_enough_for_what_a_maker_works_out_by_hand(ask):
    """Cuts of 95 1/4 + 16 = 111 1/4. Four take 445 of 720; 720 / 4 = 180 less 16 is 164; six take 667 1/2, eight 890.

    Six cuts are three widths a panel: 154 in flat for 53.
    """
    reply = ask("enough", WINDOW)
    assert (reply.as_asked.enough, reply.as_asked.run_length, reply.as_asked.left_over) == (True, 445, 275)
    assert (reply.drop.finished_length, reply.drop.longer, reply.drop.cut_length) == (164, 164 - 95.25, 180)
    assert (reply.fullness.widths, reply.fullness.run_length) == (3, 667.5)
    assert reply.fullness.fullness == [pytest.approx(154 / 53, abs=1e-3)] * 2
    assert (reply.windows.count, reply.windows.run_length) == (1, 445)


def test_too_little_cloth_is_told_by_how_much(ask):
    reply = ask("enough", WINDOW | {"cloth_length": 100})
    assert (reply.as_asked.enough, reply.as_asked.left_over) == (False, 100 - 445)
    assert reply.fullness is None
    # 100 / 4 = 25, less 16.
    assert reply.drop.finished_length == 9
    assert (reply.windows.count, reply.windows.run_length) == (0, 0)


def test_cloth_for_nothing_at_all_has_no_drop(ask):
    """Four turnings and hems of 16 in are 64 in."""
    assert ask("enough", WINDOW | {"cloth_length": 64}).drop is None


def test_a_tape_that_fixes_the_fullness_leaves_none_to_choose(ask):
    heading = {"heading": {"style": "wave"}, "make_up": {}}
    assert ask("enough", WINDOW | heading).fullness is None


def drawn():
    rng = random.Random(1860)
    for _ in range(40):
        repeat = rng.choice((0, 12, 25.25, 27))
        yield {
            "units": "in",
            "rod": {
                "width": rng.randint(48, 140),
                "return": 3,
                "overlap": 3,
                "draw": rng.choice(("pair", "one-way-left")),
            },
            "hang": {"carrying_height": rng.randint(60, 110)},
            "fabric": {
                "width": 54,
                "vertical_repeat": repeat,
                "drop_match": rng.choice(("straight", "1/2", "1/3")),
                "motif": rng.choice((None, {"at": 3, "below_heading": 5}, {"at": 3, "height": 4, "above_hem": 2}))
                if repeat
                else None,
            },
            "heading": {"style": rng.choice(("three-fold-pinch", "pencil"))},
            "fullness": 2.25,
            "cloth_length": rng.randint(300, 2500),
        }


@pytest.mark.parametrize("window", list(drawn()))
def test_each_answer_is_enough_and_the_next_is_not(ask, window):
    """A sixteenth longer, half a width more, or one window more is too much: asked again as a window, and as a job."""
    reply = ask("enough", window)
    cloth = window["cloth_length"]
    assert reply.as_asked.enough == (reply.as_asked.run_length <= cloth)

    def again(**changes):
        return ask("enough", window | changes).as_asked

    for longer, enough in ((reply.drop.longer, True), (reply.drop.longer + 1 / 16, False)):
        height = window["hang"]["carrying_height"] + longer
        assert again(hang={"carrying_height": height}).enough is enough
    job = {key: window[key] for key in ("rod", "hang", "heading", "fullness")} | {"fabric": "print"}
    for count, enough in ((reply.windows.count, True), (reply.windows.count + 1, False)):
        windows = [job | {"label": f"{number}"} for number in range(count)]
        if windows:
            made = ask("estimate", {"units": "in", "windows": windows, "fabrics": {"print": window["fabric"]}})
            assert (made.materials.fabrics[0].run_length <= cloth) is enough
    if reply.fullness:
        taken = again(fullness=None, make_up={"width_count": reply.fullness.widths})
        assert (taken.enough, taken.run_length) == (True, reply.fullness.run_length)
