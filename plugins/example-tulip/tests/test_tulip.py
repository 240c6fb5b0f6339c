"""The tulip pleat, against figures worked by hand."""

import math

import pytest
import thornfield_headings.tulip
from thornfield_headings.tulip import Tulip, pleat, stemmed

from pleatwright.headings import Impossible, Length, LimitsGiven, inches
from pleatwright.headings.kit import assert_sound


def measure(value: Length | None, usual: int, *_field: str) -> int:
    """Read a length in inches, as the service would."""
    return usual if value is None else inches(str(value))


def fault_of(options: Tulip) -> tuple[tuple[str | int, ...], str]:
    """Return the place and the words of the one fault that these options are refused with."""
    with pytest.raises(Impossible) as refused:
        pleat(options, measure)
    [fault] = refused.value.faults
    return fault.where, fault.detail.format_map(fault.lengths)


def test_the_style_keeps_the_contract() -> None:
    """All that the conformance kit asks."""
    assert_sound(thornfield_headings.tulip)


def test_a_fifth_of_five_inches_makes_a_stem_of_half_an_inch_and_four_inches_go_round_the_lobe() -> None:
    """5 x 0.2 / 2 = 0.5 out and as much back; 5 - 1 = 4 round, so 4 / 3.14159 = 1.27324 across."""
    shape = stemmed(0.2, 5.0)
    assert shape.outline.width_shown == pytest.approx(1.27324, abs=5e-6)
    assert shape.outline.projection == pytest.approx(1.77324, abs=5e-6)
    assert shape.depth_of_fold == pytest.approx(1.77324, abs=5e-6)
    assert shape.outline.svg_path().startswith("M 0 0 L 0 0.5 A 0.63662 0.63662 ")


def test_a_tulip_without_a_stem_is_a_ring() -> None:
    """All the cloth goes round: 4 pi makes a ring 4 across that starts at the face."""
    shape = stemmed(0.0, 4 * math.pi)
    assert shape.outline.projection == pytest.approx(4)
    assert shape.outline.width_shown == pytest.approx(4)


@pytest.mark.parametrize("stem", [0.0, 0.1, 0.2, 0.35, 0.5])
@pytest.mark.parametrize("take_up", [1e-3, 4.0, 5.0, 6.5, 52832.0])
def test_the_developed_length_is_the_take_up(stem: float, take_up: float) -> None:
    """Cloth is neither made nor lost: T s / 2 twice, and pi T (1 - s) / pi."""
    assert stemmed(stem, take_up).outline.developed_length == pytest.approx(take_up, rel=1e-12)


def test_the_lobe_wished_for_settles_the_usual_take_up() -> None:
    """1.5 in across with a fifth in the stem asks for 1.5 x 3.14159265 / 0.8 = 5.89048623 in."""
    found = pleat(Tulip(lobe="1 1/2"), measure)
    assert found.take_up.usual == round(5.89048623 * inches("1"))
    assert (found.take_up.least, found.take_up.most) == (inches("4"), inches("6 1/2"))
    assert found.shape(float(found.take_up.usual)).outline.width_shown == pytest.approx(inches("1 1/2"), abs=0.5)


@pytest.mark.parametrize("lobe", ["1", "1.01", "1.66", "1.7", "0"])
def test_a_lobe_that_the_take_up_cannot_reach_is_refused(lobe: str) -> None:
    """4 to 6 1/2 in with a fifth in the stem make lobes from 4 x 0.8 / pi = 1.0186 to 6.5 x 0.8 / pi = 1.6552 in."""
    where, words = fault_of(Tulip(lobe=lobe))
    assert where == ("lobe",)
    assert words.startswith("the limits of the take-up cannot make this lobe")


@pytest.mark.parametrize("lobe", ["1.0187", "1 1/4", "1.655"])
def test_a_lobe_within_reach_is_made(lobe: str) -> None:
    """The take-up that it asks for lies within the limits."""
    limits = pleat(Tulip(lobe=lobe), measure).take_up
    assert limits.least <= limits.usual <= limits.most


def test_a_lobe_out_of_reach_can_be_had_with_wider_limits_or_another_stem() -> None:
    """1.9 in asks for 7.46 in with the usual stem and 5.97 in with none."""
    assert pleat(Tulip(lobe="1.9", take_up=LimitsGiven(most="8")), measure).take_up.usual < inches("7.5")
    assert pleat(Tulip(lobe="1.9", stem=0.0), measure).take_up.usual < inches("6")


def test_a_lobe_and_a_usual_take_up_cannot_both_be_given() -> None:
    """Either settles the other."""
    where, words = fault_of(Tulip(lobe="1 1/4", take_up=LimitsGiven(usual="5")))
    assert where == ("lobe",)
    assert "leave one of the two out" in words


def test_what_any_pleat_can_be_asked_the_tulip_can_be_asked_too() -> None:
    """The buckram is the request's."""
    assert pleat(Tulip(buckram_depth="3"), measure).buckram_depth == inches("3")
