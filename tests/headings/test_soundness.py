"""What a gather, points, and what any heading says of itself must be like, for a style to be let in."""

from dataclasses import replace
from fractions import Fraction

import pytest

from pleatwright.headings import (
    CONTRACT,
    FullnessLimits,
    Gather,
    Heading,
    HeadingOptions,
    Limits,
    Material,
    Notice,
    Points,
    Shape,
    fullness_limits,
    inch_limits,
    inches,
    wave,
)
from pleatwright.headings.kit import check
from pleatwright.headings.soundness import UnsoundError, check_heading


class Sedge(HeadingOptions, frozen=True, tag="sedge"):
    """Options of a style made for these tests."""


def folds(cloth, shown):
    outline = wave(cloth, shown)
    return Shape(outline, outline.projection, 2)


GATHER = Gather(inches("3"), inches("2"), fullness_limits("1.5", "2", "3"), inches("3"), inches("1"), folds)
POINTS = Points(
    word="peg",
    depth=inches("3"),
    top_turning=inches("3"),
    fullness=fullness_limits("1.5", "2", "2.5"),
    gap=inch_limits("4", "6", "8"),
    parity="even",
    waves=True,
    shape=folds,
    edge=Fraction(1, 2),
)
TAPE = replace(POINTS, gap=inch_limits("4", "4", "4"), finished_gap=inch_limits("1", "2", "2"), edge=Fraction(0))


def heading(made):
    return Heading(CONTRACT, "Sedge", "A style for tests.", "Sew it.", Sedge, lambda options, measure: made)


@pytest.mark.parametrize("made", [GATHER, POINTS, TAPE, replace(GATHER, hook_spacing=None)])
def test_a_sound_heading_of_any_kind_keeps_everything_the_kit_asks(made):
    report = check(heading(made))
    assert report.sound, str(report)
    assert len(report.findings) == 8


@pytest.mark.parametrize(
    ("made", "reason"),
    [
        ("a gather", "makes a str, not a Pleat, a Gather or Points"),
        (replace(GATHER, depth=0), "has depth 0: a whole number of 1 or more"),
        (replace(GATHER, depth=3.5), "has depth 3.5: a whole number of 1 or more"),
        (replace(GATHER, top_turning=-1), "has top_turning -1: a whole number of 0 or more"),
        (replace(GATHER, fold=True), "has fold True: a whole number of 1 or more"),
        (replace(GATHER, hook_spacing=0), "has hook_spacing 0: a whole number of 1 or more"),
        (replace(GATHER, fullness=fullness_limits("0.5", "2", "3")), "has no FullnessLimits"),
        (replace(GATHER, fullness=fullness_limits("2", "1.5", "3")), "has no FullnessLimits"),
        (replace(GATHER, fullness=fullness_limits("2", "3", "7")), "has no FullnessLimits"),
        (replace(GATHER, fullness=2), "has no FullnessLimits"),
        (replace(GATHER, shape=lambda cloth, shown: folds(cloth * 0.9, shown)), "loses cloth"),
        (replace(GATHER, shape=lambda cloth, shown: folds(cloth, shown * 0.9)), "does not end 5418.67 along the face"),
        (replace(GATHER, materials=("tape",)), "has a material without a name"),
        (replace(GATHER, materials=(Material("", "point"),)), "has a material without a name"),
        (replace(GATHER, materials=(Material("tape", "yard"),)), "has a material without a name"),
        (replace(GATHER, materials=(Material("tape", "flat-width", 0),)), "has a material without a name"),
        (replace(GATHER, materials=(Material("tape", "flat-width", extra=-1),)), "has a material without a name"),
        (replace(GATHER, notices=(Notice("Loud", "Mind it."),)), "has a notice without a kind or a detail"),
        (replace(GATHER, notices=(Notice("loud", " "),)), "has a notice without a kind or a detail"),
        (replace(GATHER, notices=(Notice("loud", "Mind {it}."),)), "speaks of a length"),
        (replace(GATHER, heading_above=0.5), "has heading_above 0.5"),
        (replace(GATHER, drawn_up=-1), "has drawn_up -1: a whole number of 0 or more"),
        (replace(GATHER, pin_rise=0), "has pin_rise 0: a whole number of 1 or more"),
        (replace(POINTS, word="Peg!"), "has no word for its points"),
        (replace(POINTS, word=7), "has no word for its points"),
        (replace(POINTS, gap=inches("4")), "has no Limits of gap"),
        (replace(POINTS, gap=inch_limits("6", "4", "8")), "gap: limits go up"),
        (replace(POINTS, gap=Limits(4.5, 5, 6)), "has gap 4.5"),
        (replace(POINTS, finished_gap=inch_limits("0", "1", "2")), "finished_gap: limits go up"),
        (replace(POINTS, parity="prime"), "has parity 'prime', which is none of any, even, odd"),
        (replace(POINTS, edge=Fraction(1)), "has an edge of 1 gaps"),
        (replace(POINTS, clear=-1), "has clear -1"),
        (replace(POINTS, count=7), "asks for 7 points, no even count"),
        (replace(POINTS, count=0), "has count 0: a whole number of 2 or more"),
    ],
)
def test_a_figure_that_cannot_be_used_is_refused_in_words(made, reason):
    with pytest.raises(UnsoundError) as unsound:
        check_heading(heading(made))
    assert reason in str(unsound.value)
    report = check(heading(made))
    assert not report.sound
    assert reason in str(report)


@pytest.mark.parametrize(
    "made",
    [
        # A shape that takes no scale but its own.
        replace(GATHER, shape=lambda cloth, shown: folds(cloth, shown if cloth > 100 else shown / 2)),
        # Sound at the three places that are looked at when it is let in, and nowhere else.
        replace(
            GATHER,
            shape=lambda cloth, shown: folds(cloth if cloth / shown in (1.5, 2, 3) else cloth * 0.99, shown),
        ),
    ],
)
def test_the_kit_looks_further_than_the_host(made):
    check_heading(heading(made))
    assert not check(heading(made)).sound


def test_an_answer_that_changes_its_hooks_is_found():
    spacings = iter(range(inches("2"), inches("3")))

    def moody(options, measure):
        return replace(GATHER, hook_spacing=next(spacings))

    report = check(replace(heading(GATHER), make=moody))
    assert [finding.fault for finding in report.findings if finding.fault] == [
        "asked twice, it answers with another hook_spacing"
    ]


def test_limits_of_fullness_are_exact():
    assert fullness_limits("1.8", "2.25", "3") == FullnessLimits(Fraction(9, 5), Fraction(9, 4), Fraction(3))
