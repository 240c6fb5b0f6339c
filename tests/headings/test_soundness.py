"""What a gather, points, and what any heading says of itself must be like, for a style to be let in."""

from dataclasses import replace
from fractions import Fraction
from typing import Annotated, Literal

import pytest
from msgspec import Meta

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
    heading_above=inches("1"),
)
TAPE = replace(POINTS, gap=inch_limits("4", "4", "4"), finished_gap=inch_limits("1", "2", "2"), edge=Fraction(0))


def heading(made):
    return Heading(CONTRACT, "Sedge", "A style for tests.", "Sew it.", Sedge, lambda options, measure: made)


@pytest.mark.parametrize("made", [GATHER, POINTS, TAPE, replace(GATHER, hook_spacing=None, heading_above=0)])
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
        (replace(GATHER, materials=("tape",)), "has materials that are no tuple of Material"),
        (
            replace(GATHER, materials=Material("tape", "point")),
            "has materials that are no tuple of Material: mind the comma",
        ),
        (
            replace(GATHER, materials=(Material("Tape!", "point"),)),
            "has a material of kind 'Tape!': write it in small letters",
        ),
        (
            replace(GATHER, materials=(Material("tape", "yard"),)),
            "has material tape per 'yard', which is none of flat-width",
        ),
        (replace(GATHER, materials=(Material("tape", "flat-width", 0),)), "has material tape of size 0"),
        (replace(GATHER, materials=(Material("tape", "flat-width", extra=-1),)), "has material tape with extra -1"),
        (
            replace(GATHER, notices=(Notice("Loud", "Mind it."),)),
            "has a notice of kind 'Loud': write it as a style's name",
        ),
        (replace(GATHER, notices=(Notice("loud", " "),)), "has a notice loud without a detail"),
        (replace(GATHER, notices=(Notice("loud", "Mind {it}."),)), "speaks of a length"),
        (replace(GATHER, heading_above=0.5), "has heading_above 0.5"),
        (replace(GATHER, hook_spacing=None), "has no heading_above, which no pin settles for it"),
        (replace(POINTS, heading_above=None), "has no heading_above, which no pin settles for it"),
        (replace(GATHER, depth=3), 'has depth 3 grid units: write inches("3")'),
        (replace(POINTS, gap=Limits(4, 6, 8)), 'has gap 4 grid units: write inches("4")'),
        (replace(GATHER, drawn_up=-1), "has drawn_up -1: a whole number of 0 or more"),
        (replace(GATHER, pin_rise=0), "has pin_rise 0: a whole number of 1 or more"),
        (replace(POINTS, word="Peg!"), "has the word 'Peg!' for its points: write it in small letters"),
        (replace(POINTS, word=7), "has the word 7 for its points"),
        (replace(POINTS, gap=inches("4")), "has no Limits of gap"),
        (replace(POINTS, gap=inch_limits("6", "4", "8")), "gap: limits go up"),
        (replace(POINTS, gap=Limits(4.5, 5, 6)), "has gap 4.5"),
        (replace(POINTS, finished_gap=inch_limits("0", "1", "2")), "finished_gap: limits go up"),
        (replace(POINTS, parity="prime"), "has parity 'prime', which is none of any, even, odd"),
        (replace(POINTS, edge=Fraction(1)), "has an edge of 1 gaps"),
        (replace(POINTS, clear=-1), "has clear -1"),
        (replace(POINTS, clear=inches("2 1/2")), "so near one another"),
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


class Braid(HeadingOptions, frozen=True, tag="braid"):
    """Options with a choice."""

    pattern: Annotated[Literal["honeycomb", "diamond"], Meta(description="Pattern of the smocking.")] = "honeycomb"
    lined: Annotated[bool, Meta(description="Whether a band lines it.")] = False


BRAID = Heading(CONTRACT, "Braid", "A style for tests.", "Sew it.", Braid, lambda options, measure: GATHER)


def test_a_style_with_choices_is_sound_when_each_of_them_is():
    report = check(BRAID)
    assert report.sound, str(report)


@pytest.mark.parametrize(
    ("spoilt", "reason"),
    [
        (lambda options: options.pattern == "diamond", '"pattern":"diamond"'),
        (lambda options: options.lined, '"lined":true'),
    ],
)
def test_the_kit_tries_each_choice_that_an_option_leaves(spoilt, reason):
    def leaky(options, measure):
        return replace(GATHER, shape=lambda cloth, shown: folds(cloth * 0.9, shown)) if spoilt(options) else GATHER

    found = [finding.fault for finding in check(replace(BRAID, make=leaky)).findings if finding.fault]
    assert found
    assert all(reason in fault and "loses cloth" in fault for fault in found)


def test_an_option_that_is_read_by_another_name_is_found():
    def careless(options, measure):
        return replace(GATHER, depth=measure(None, GATHER.depth, "dept"))

    with pytest.raises(UnsoundError, match="reads an option 'dept' that it does not have"):
        check_heading(replace(BRAID, make=careless))


def test_limits_of_fullness_are_exact():
    assert fullness_limits("1.8", "2.25", "3") == FullnessLimits(Fraction(9, 5), Fraction(9, 4), Fraction(3))
