"""Every unit's factor and every way to write a length, by pint with exact fractions.

NIST SP 811, appendix B.8: 1 in = 25.4 mm and 1 yd = 0.9144 m exactly. The grid is 320 to the millimetre.
"""

import random
from fractions import Fraction

import pint
import pytest

from pleatwright.lengths import GRID, in_units, length_text, parse_length

REGISTRY = pint.UnitRegistry(non_int_type=Fraction)
SYMBOLS = {'"': "inch", "″": "inch", "”": "inch", "'": "foot", "′": "foot", "’": "foot"}
"""Marks of the trade that pint has no word for [common practice]."""
WORDS = ("in", "inch", "inches", "ft", "foot", "feet", "yd", "yard", "yards", "mm", "cm", "m", *SYMBOLS)


def by_pint(number, word):
    """The exact length in grid units."""
    return Fraction(REGISTRY.Quantity(Fraction(number), SYMBOLS.get(word, word)).to("mm").magnitude) * 320


def test_an_inch_and_a_yard_are_what_nist_says():
    """NIST SP 811, appendix B.8: both are exact."""
    assert parse_length("1 in") == 320 * Fraction("25.4")
    assert parse_length("1 yd") == 320 * 1000 * Fraction("0.9144")
    assert REGISTRY.Quantity(Fraction(1), "in").to("mm").magnitude == Fraction("25.4")
    assert REGISTRY.Quantity(Fraction(1), "yd").to("m").magnitude == Fraction("0.9144")


@pytest.mark.parametrize("unit", sorted(GRID))
def test_a_unit_of_the_grid_is_as_long_as_pint_has_it(unit):
    assert GRID[unit] == by_pint(1, unit)


@pytest.mark.parametrize("word", WORDS)
def test_a_unit_word_means_what_it_means_to_pint(word):
    assert parse_length(f"1 {word}") == parse_length(f"1{word}") == by_pint(1, word)
    assert parse_length(f"2 1/4 {word}") == by_pint("9/4", word)


def decimal(rng):
    text = f"{rng.randint(0, 900)}.{rng.randint(0, 10**6 - 1):06}"[: rng.randint(5, 9)].rstrip(".")
    return text, Fraction(text)


def whole(rng):
    text = str(rng.randint(0, 1_000))
    return text, Fraction(text)


def fraction(rng):
    over, parts = rng.randint(0, 999), rng.randint(1, 128)
    return f"{over}/{parts}", Fraction(over, parts)


def mixed(rng):
    number, parts = rng.randint(0, 999), rng.choice((2, 3, 4, 5, 8, 10, 16, 32, 64))
    over = rng.randint(0, parts - 1)
    return f"{number}{rng.choice(' -')}{over}{rng.choice('/⁄')}{parts}", number + Fraction(over, parts)


def vulgar(rng):
    glyph, value = rng.choice((("½", "1/2"), ("⅓", "1/3"), ("¾", "3/4"), ("⅝", "5/8"), ("⅙", "1/6"), ("⅒", "1/10")))
    number = rng.randint(0, 999)
    return f"{number}{rng.choice(('', ' '))}{glyph}", number + Fraction(value)


def drawn(seed, count):
    rng = random.Random(seed)
    for _ in range(count):
        text, value = rng.choice((decimal, whole, fraction, mixed, vulgar))(rng)
        yield text, value, rng.choice(WORDS)


def test_a_thousand_lengths_are_read_as_pint_reads_their_figures():
    for number, value, word in drawn(seed=811, count=1_000):
        exact = by_pint(value, word)
        for text in (f"{number} {word}", f"{number}{word}"):
            read = parse_length(text)
            assert abs(read - exact) <= Fraction(1, 2), text
            assert read == exact or exact.denominator > 1, text


def test_a_thousand_lengths_in_feet_and_inches_are_the_sum_of_both():
    rng = random.Random(9144)
    for _ in range(1_000):
        feet, inch = rng.randint(0, 300), rng.randint(0, 11)
        over = rng.randint(0, 63)
        text = f"{feet}{rng.choice((' ft ', 'ft', chr(39), ' feet-'))}{inch} {over}/64{rng.choice((' in', chr(34)))}"
        assert parse_length(text) == by_pint(feet, "ft") + by_pint(inch + Fraction(over, 64), "in"), text


@pytest.mark.parametrize(("units", "other"), [("in", "mm"), ("cm", "in"), ("mm", "cm")])
def test_the_same_length_in_two_units_has_the_numbers_that_pint_gives(units, other):
    rng = random.Random(254)
    for _ in range(300):
        grid = rng.randint(0, 10**7)
        quantity = REGISTRY.Quantity(Fraction(grid, 320), "mm")
        for unit in (units, other):
            assert abs(Fraction(in_units(grid, unit)) - quantity.to(unit).magnitude) <= Fraction(1, 10**6)


def test_a_quantity_in_words_is_as_long_as_pint_has_it():
    rng = random.Random(36)
    for _ in range(300):
        eighths, tenths = rng.randint(1, 800), rng.randint(1, 999)
        number, _, unit = length_text(eighths * 36_576, "yd", finest=8).rpartition(" ")
        assert by_pint(sum(map(Fraction, number.split())), unit) == by_pint(Fraction(eighths, 8), "yard")
        number, _, unit = length_text(tenths * 32_000, "m").rpartition(" ")
        assert by_pint(number, unit) == by_pint(Fraction(tenths, 10), "metre")
