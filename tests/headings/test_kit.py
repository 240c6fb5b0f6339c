"""The conformance kit finds what is wrong with a style, and nothing wrong with those that ship."""

import itertools
import math
from dataclasses import replace
from typing import Annotated

import pytest
from msgspec import Meta

from pleatwright.command import main
from pleatwright.headings import (
    CONTRACT,
    Fault,
    Heading,
    Impossible,
    Length,
    Outline,
    Pleat,
    PleatOptions,
    Shape,
    fan,
    hookimpl,
    inch_limits,
    inches,
)
from pleatwright.headings.host import find_headings
from pleatwright.headings.kit import assert_sound, check, draw, usual

INSTALLED = find_headings().installed


class Lupin(PleatOptions, frozen=True, tag="lupin"):
    """Options of a style made for these tests."""


def shape(take_up):
    return Shape(fan(2, take_up / 4, 1.0), take_up / 4, 4)


PLEAT = Pleat(2, "face", "top", 1, inches("4"), inch_limits("3", "4", "5"), inch_limits("3", "3 1/2", "4"), shape)
LUPIN = Heading.of_pleat(CONTRACT, "Lupin", "Two folds.", "Fold and stitch.", Lupin, PLEAT)


def fault_of(heading, keeps):
    """The one fault in the report, which must be that of the property named."""
    report = check(heading)
    [finding] = [finding for finding in report.findings if finding.fault]
    assert keeps in finding.keeps
    assert not report.sound
    assert finding.fault in str(report)
    return finding.fault


@pytest.mark.parametrize("style", INSTALLED)
def test_every_style_that_is_installed_is_sound(style):
    report = check(INSTALLED[style].heading)
    assert report.sound, str(report)
    assert len(report.findings) == 8


def test_a_sound_style_passes_in_one_call():
    class Plugin:
        @staticmethod
        @hookimpl
        def pleatwright_headings():
            yield LUPIN

    assert_sound(Plugin)


def test_an_unsound_style_fails_the_call_with_its_report():
    class Plugin:
        @staticmethod
        @hookimpl
        def pleatwright_headings():
            yield LUPIN
            yield replace(LUPIN, making=" ")

    with pytest.raises(AssertionError, match="NOT SOUND") as failure:
        assert_sound(Plugin)
    assert "no line on its making" in str(failure.value)


def test_cloth_lost_between_the_least_and_the_usual_take_up_is_found():
    """Sound at the three take-ups that the host looks at, and nowhere else."""
    sound_at = {float(take_up) for take_up in (inches("3"), inches("4"), inches("5"))}

    def leaky(take_up):
        return shape(take_up if take_up in sound_at else take_up * 0.99)

    fault = fault_of(Heading.of_pleat(CONTRACT, "L", "s", "m", Lupin, replace(PLEAT, shape=leaky)), "cloth")
    assert "loses cloth" in fault


def test_an_option_without_a_description_is_found():
    class Bare(PleatOptions, frozen=True, tag="bare"):
        """Options."""

        petals: int = 3

    fault = fault_of(Heading.of_pleat(CONTRACT, "L", "s", "m", Bare, PLEAT), "description")
    assert "option petals has no description" in fault


def test_an_answer_that_changes_is_found():
    counter = itertools.count(1)

    def moody(options, measure):
        return replace(PLEAT, hand_tacks=next(counter)).with_options(options, measure)

    fault = fault_of(Heading(CONTRACT, "L", "s", "m", Lupin, moody), "same answer")
    assert "another hand_tacks" in fault


class Wild(PleatOptions, frozen=True, tag="wild"):
    """Options."""

    stem: Annotated[Length | None, Meta(description="Length of the stem.")] = None


def test_a_style_that_breaks_on_an_option_is_found_with_the_option():
    def brittle(options, measure):
        if options.stem is not None:
            1 // (measure(options.stem, 0, "stem") - inches("3"))
        return PLEAT.with_options(options, measure)

    fault = fault_of(Heading(CONTRACT, "L", "s", "m", Wild, brittle), "reason ready")
    assert "ZeroDivisionError" in fault
    assert '"stem":"3 in"' in fault


def test_a_refusal_without_a_reason_is_found():
    def curt(options, measure):
        if options.stem is not None:
            raise Impossible(Fault(("stem",), ""))
        return PLEAT.with_options(options, measure)

    assert "without a reason" in fault_of(Heading(CONTRACT, "L", "s", "m", Wild, curt), "reason ready")


def test_a_slow_style_is_found():
    def slow(options, measure):
        if options.stem is not None:
            for number in range(10_000_000):
                math.sqrt(number)
        return PLEAT.with_options(options, measure)

    assert '"stem"' in fault_of(Heading(CONTRACT, "L", "s", "m", Wild, slow), "its time")


def test_a_circle_is_drawn_round_in_characters_twice_as_high_as_wide():
    rows = draw(replace(PLEAT, shape=lambda take_up: Shape(Outline().arc(0, 1, 2 * math.pi), 2, 2)), 41).splitlines()
    assert (max(map(len, rows)), len(rows)) == (21, 11)
    assert {character for row in rows for character in row} == {" ", "*"}


def test_a_package_is_checked_from_the_command_line(capsys):
    assert main(["headings", "check", "pleatwright"]) == 0
    out = capsys.readouterr().out
    for style in INSTALLED:
        assert f"{style}: sound" in out
    assert main(["headings", "check", "no-such-package"]) == 1
    assert "no package no-such-package brings headings" in capsys.readouterr().err


def test_a_style_with_its_defaults_is_the_usual_one():
    assert usual(LUPIN).take_up == inch_limits("3", "4", "5")
