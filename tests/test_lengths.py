"""Lengths: what is read and to which grid point, what is refused and in which words, and what is written back."""

import re
import time
from contextlib import suppress
from fractions import Fraction

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from pleatwright.lengths import (
    GRID,
    INCH,
    LONGEST,
    LONGEST_TEXT,
    MILLIMETRE,
    PATTERN,
    SIGNED_PATTERN,
    UNITS,
    LengthError,
    each_in_units,
    in_units,
    inches,
    length_text,
    parse_length,
    rounded_in_units,
)

REPEATABLE = settings(derandomize=True, database=None, deadline=None)
AN_EXAMPLE = '"84 1/2 in" or "2146 mm"'

# Worked by hand: an inch is 25.4 x 320 = 8128 grid units, so 84 1/2 in is 84 x 8128 + 4064 = 686816.
ACCEPTED = [
    (84, "in", 682_752),
    (84.5, "in", 686_816),
    ("84 1/2", "in", 686_816),
    ("84-1/2", "in", 686_816),
    ("84½", "in", 686_816),
    ("84 ½", "in", 686_816),
    ("84 1⁄2", "in", 686_816),
    ("84 1/2 in", None, 686_816),
    ("84 1/2in", None, 686_816),
    ("84.50 inches", None, 686_816),
    ("169/2 in", None, 686_816),
    ('84 1/2"', None, 686_816),
    ("84½″", None, 686_816),
    ("84½”", None, 686_816),
    ("  84 1/2 in  ", None, 686_816),
    ("084 01/02 in", None, 686_816),
    ("7 ft 0 1/2 in", None, 686_816),
    ("7 feet 0.5 inches", None, 686_816),
    ("7' 1/2\"", None, 686_816),
    ("7'-½\"", None, 686_816),
    ("7′0½″", None, 686_816),
    ("7’ 0-1/2”", None, 686_816),
    ("6 ft 11 in", None, 674_624),
    ("7'", None, 682_752),
    ("1 foot", None, 97_536),
    ("2146 mm", None, 686_720),
    ("2146", "mm", 686_720),
    (2146, "mm", 686_720),
    ("214.6 cm", None, 686_720),
    (214.6, "cm", 686_720),
    ("2.146 m", None, 686_720),
    ("2 1/4 yd", None, 658_368),
    ("1 yard", None, 292_608),
    ("2 yards", None, 585_216),
    ("2146 mm", "in", 686_720),
    ("1/64 in", None, 127),
    ("⅞ in", None, 7_112),
    ("⅓ yd", None, 97_536),
    (0, "in", 0),
    (-0.0, "in", 0),
    ("0", "mm", 0),
    ("1000 m", None, 320_000_000),
]


@pytest.mark.parametrize(("written", "units", "grid"), ACCEPTED)
def test_a_length_is_read_to_its_exact_grid_point(written, units, grid):
    assert parse_length(written, units) == grid


@pytest.mark.parametrize(("written", "units", "grid"), ACCEPTED)
def test_a_signed_length_is_read_with_either_minus(written, units, grid):
    minuses = ("-", "−") if isinstance(written, str) else ()
    for minus in minuses:
        assert parse_length(f" {minus}{written.strip()}", units, signed=True) == -grid
    assert parse_length(written, units, signed=True) == grid


@pytest.mark.parametrize(
    ("written", "grid"),
    [
        # 8128 / 3 = 2709 1/3; 320 x 0.1015625 = 32.5 lies between two points; 1 / 640 mm is half a unit.
        ("1/3 in", {2_709}),
        ("2/3 in", {5_419}),
        ("0.003 mm", {1}),
        ("0.1015625 mm", {32, 33}),
    ],
)
def test_a_length_between_two_grid_points_is_taken_to_the_nearer(written, grid):
    assert parse_length(written) in grid


REFUSED = [
    ("84", None, "has no unit", AN_EXAMPLE),
    ("84 1/2", None, "has no unit", AN_EXAMPLE),
    (84, None, "has no unit", AN_EXAMPLE),
    (84.5, None, "has no unit", AN_EXAMPLE),
    ("1,5", "cm", "has two meanings", "write 1.5 with a point, or 15 without the comma"),
    ("1,5 cm", None, "has two meanings", "write 1.5 cm with a point, or 15 cm without the comma"),
    ("1,234", "mm", "has two meanings", "write 1.234 with a point, or 1234 without the comma"),
    ("-5", "in", "is negative, and this length cannot be", "leave out the minus sign"),
    ("−5 in", None, "is negative, and this length cannot be", "leave out the minus sign"),
    ("-0", "in", "is negative, and this length cannot be", "leave out the minus sign"),
    (-5, "in", "is negative, and this length cannot be", "leave out the minus sign"),
    (-0.25, "in", "is negative, and this length cannot be", "leave out the minus sign"),
    ("1/0", "in", "divides by zero", AN_EXAMPLE),
    ("84 1/0 in", None, "divides by zero", AN_EXAMPLE),
    ("84 1/00 in", None, "divides by zero", AN_EXAMPLE),
    ("7' 1/0\"", None, "divides by zero", AN_EXAMPLE),
    ("1e5", "in", "has an exponent", AN_EXAMPLE),
    ("1E-5 in", None, "has an exponent", AN_EXAMPLE),
    ("1e5 mm", None, "has an exponent", AN_EXAMPLE),
    ("9**9**7 in", None, "has an exponent", AN_EXAMPLE),
    ("9^9 in", None, "has an exponent", AN_EXAMPLE),
    ("84² in", None, "has an exponent", AN_EXAMPLE),
    ("1" * 41, "in", "is over 40 characters", AN_EXAMPLE),
    ("84 in" + " " * 36, None, "is over 40 characters", AN_EXAMPLE),
    ("84 cubits", None, "has a unit not known here; the units are in, ft, yd, mm, cm and m", AN_EXAMPLE),
    ("84 km", None, "has a unit not known here; the units are in, ft, yd, mm, cm and m", AN_EXAMPLE),
    ("84 IN", None, "has a unit not known here; the units are in, ft, yd, mm, cm and m, in small", AN_EXAMPLE),
    ("84 ins", "in", "has a unit not known here", AN_EXAMPLE),
    ("nan", "in", "has a unit not known here", AN_EXAMPLE),
    ("inf", "in", "has a unit not known here", AN_EXAMPLE),
    (float("nan"), "in", "is not a length", AN_EXAMPLE),
    (float("inf"), "in", "is not a length", AN_EXAMPLE),
    (float("-inf"), "in", "is not a length", AN_EXAMPLE),
    (True, "in", "is not a length", AN_EXAMPLE),
    (False, "in", "is not a length", AN_EXAMPLE),
    ("", "in", "is empty", AN_EXAMPLE),
    ("   ", "in", "is empty", AN_EXAMPLE),
    ("84 3/2 in", None, "has a fraction of one or more", AN_EXAMPLE),
    ("84 2/2 in", None, "has a fraction of one or more", AN_EXAMPLE),
    ("7 ft 12 in", None, "reads as feet and inches, which go up to 11", AN_EXAMPLE),
    ("7 ft 6", "in", "reads as feet and inches, which go up to 11 and end in their unit", AN_EXAMPLE),
    ("7'6", "in", "reads as feet and inches", AN_EXAMPLE),
    ("--5", "in", "is negative, or is not a length", AN_EXAMPLE),
    ("84 in 3", "in", "is not a length", AN_EXAMPLE),
    ("84 in\n", None, "is not a length", AN_EXAMPLE),
    (".5", "in", "is not a length", AN_EXAMPLE),
    ("5.", "in", "is not a length", AN_EXAMPLE),
    ("1/2/3", "in", "is not a length", AN_EXAMPLE),
    ("84½½", "in", "is not a length", AN_EXAMPLE),
    ("1_000", "in", "is not a length", AN_EXAMPLE),
    ("+84", "in", "is not a length", AN_EXAMPLE),
    ("８４", "in", "is not a length", AN_EXAMPLE),
    ("٨٤", "in", "is not a length", AN_EXAMPLE),
    ("84\u00a0in", None, "is not a length", AN_EXAMPLE),
    ("in", None, "is not a length", AN_EXAMPLE),
    ("84%", "in", "is not a length", AN_EXAMPLE),
    ("{0} in", None, "is not a length", AN_EXAMPLE),
    ("1001 m", None, "is longer than 1000 m", "check the figure and its unit"),
    (1e300, "in", "is longer than 1000 m", "check the figure and its unit"),
    ("9" * 40, "in", "is longer than 1000 m", "check the figure and its unit"),
]


@pytest.mark.parametrize(("written", "units", "reason", "remedy"), REFUSED)
def test_what_is_no_length_is_refused_with_the_reason_and_a_remedy(written, units, reason, remedy):
    with pytest.raises(LengthError) as refused:
        parse_length(written, units)
    message = str(refused.value)
    assert reason in message
    assert remedy in message
    assert len(message) < 200


HUGE = {"40 digits": 10**40, "400 digits": 10**400, "400 digits below 0": -(10**400), "5000 digits": 10**5000}


@pytest.mark.parametrize("written", HUGE.values(), ids=HUGE)
@pytest.mark.parametrize("signed", [False, True])
def test_a_whole_number_of_any_size_is_refused_in_words(written, signed):
    with pytest.raises(LengthError):
        parse_length(written, "in", signed=signed)


def test_a_refusal_repeats_no_more_than_a_length_is_long():
    with pytest.raises(LengthError) as refused:
        parse_length("x" * 100_000, "in")
    assert "x" * 40 + "…" in str(refused.value)
    assert "x" * 41 not in str(refused.value)


def test_a_negative_length_over_a_kilometre_is_refused_even_where_signs_are_read():
    with pytest.raises(LengthError, match="longer than 1000 m"):
        parse_length("-1001 m", signed=True)


@pytest.mark.parametrize(
    ("grid", "units", "finest", "text"),
    [
        (686_816, "in", 16, "84 1/2 in"),
        (682_752, "in", 16, "84 in"),
        (4_064, "in", 16, "1/2 in"),
        (-2_032, "in", 16, "-1/4 in"),
        (-686_816, "in", 16, "-84 1/2 in"),
        (0, "in", 16, "0 in"),
        (1, "in", 16, "0 in"),
        (-1, "in", 16, "0 in"),
        (8_127, "in", 16, "1 in"),
        (508, "in", 16, "1/16 in"),
        (127, "in", 64, "1/64 in"),
        (127, "in", 16, "0 in"),
        (Fraction(8_128, 3), "in", 16, "5/16 in"),
        (Fraction(-8_128, 3), "in", 64, "-21/64 in"),
        (658_368, "yd", 16, "2 1/4 yd"),
        (36_576, "yd", 8, "1/8 yd"),
        (686_720, "mm", 16, "2146 mm"),
        (686_720, "cm", 16, "214.6 cm"),
        (686_720, "m", 16, "2.146 m"),
        (-4_160, "mm", 16, "-13 mm"),
        (32, "mm", 16, "0.1 mm"),
        (15, "mm", 16, "0 mm"),
        (-15, "mm", 16, "0 mm"),
        (32, "m", 16, "0.0001 m"),
        (0, "m", 16, "0 m"),
        (8_128, "cm", 16, "2.54 cm"),
        (320_000_000, "m", 16, "1000 m"),
        (320_000_000, "mm", 16, "1000000 mm"),
    ],
)
def test_a_length_is_written_as_a_maker_reads_it(grid, units, finest, text):
    assert length_text(grid, units, finest=finest) == text


@pytest.mark.parametrize(
    ("grid", "units", "number"),
    [
        (686_816, "in", 84.5),
        (686_720, "mm", 2146),
        (686_720, "cm", 214.6),
        (-2_032, "in", -0.25),
        (127, "in", 0.015625),
        (1, "mm", 0.003125),
    ],
)
def test_a_length_is_given_as_a_number(grid, units, number):
    assert in_units(grid, units) == number


def test_what_falls_between_marks_is_given_to_three_decimals():
    assert rounded_in_units(Fraction(5 * 8_128, 3), "in") == 1.667
    assert rounded_in_units(Fraction(-5 * 320, 6), "mm") == -0.833


def test_figures_that_stand_in_code_are_inches():
    assert inches("5 1/2") == 44_704


@REPEATABLE
@given(st.integers(0, 64 * 39_370))
@example(64 * 39_370)
def test_every_sixty_fourth_written_and_read_back_is_itself(sixty_fourths):
    assert parse_length(length_text(127 * sixty_fourths, "in", finest=64)) == 127 * sixty_fourths


@REPEATABLE
@given(st.integers(-64 * 39_370, 64 * 39_370))
def test_every_sixty_fourth_is_read_back_with_its_sign(sixty_fourths):
    assert parse_length(length_text(127 * sixty_fourths, "in", finest=64), signed=True) == 127 * sixty_fourths


@REPEATABLE
@given(st.integers(0, 9_999), st.sampled_from([2, 4, 8, 16, 32, 64]), st.data())
def test_a_mixed_number_is_read_in_every_way_it_is_written(whole, parts, data):
    over = data.draw(st.integers(1, parts - 1))
    grid = whole * 8_128 + over * 8_128 // parts
    for text in (f"{whole} {over}/{parts}", f"{whole}-{over}/{parts}", f"{whole} {over}⁄{parts}"):
        assert parse_length(text, "in") == parse_length(f'{text}"') == parse_length(f"{text} inches") == grid
    feet, rest = divmod(whole, 12)
    assert parse_length(f"{feet} ft {rest} {over}/{parts} in") == grid
    assert parse_length(f"{feet}'-{rest} {over}/{parts}\"") == grid


@REPEATABLE
@given(st.integers(0, 10_000_000), st.sampled_from(["mm", "cm", "m"]))
def test_every_tenth_of_a_millimetre_written_and_read_back_is_itself(tenths, units):
    assert parse_length(length_text(32 * tenths, units)) == 32 * tenths


@REPEATABLE
@given(st.integers(-LONGEST, LONGEST), st.sampled_from(UNITS))
@example(LONGEST, "in")
@example(LONGEST - 1, "cm")
def test_a_number_in_any_unit_tells_its_grid_point(grid, units):
    number = in_units(grid, units)
    assert round(number * GRID[units]) == grid
    assert parse_length(number, units, signed=True) == grid


@REPEATABLE
@given(st.lists(st.integers(-LONGEST, LONGEST)), st.sampled_from(UNITS), st.integers(1, 3))
@example([127, 128, 254], "in", 2)
def test_many_lengths_are_given_as_each_by_itself(many, units, parts):
    whole_or_not = [each // parts if each % parts == 0 else Fraction(each, parts) for each in many]
    assert each_in_units(many, units, parts) == [in_units(each, units) for each in whole_or_not]


@REPEATABLE
@given(st.integers(0, 25_000), st.integers(0, 999_999), st.integers(1, 6), st.sampled_from(UNITS))
def test_a_number_and_its_text_are_the_same_length(whole, digits, places, units):
    text = f"{whole}.{digits % 10**places:0{places}}"
    assert parse_length(f"{whole}", units) == parse_length(whole, units) == parse_length(float(whole), units)
    assert parse_length(text, units) == parse_length(float(text), units) == round(Fraction(text) * GRID[units])


@REPEATABLE
@given(st.fractions(0, 10_000, max_denominator=9_999), st.fractions(0, 10_000, max_denominator=9_999))
def test_a_longer_length_is_never_read_as_the_shorter(one, other):
    lesser, greater = sorted((one, other))
    assert parse_length(f"{lesser}", "in") <= parse_length(f"{greater}", "in")


@REPEATABLE
@given(st.fractions(0, 10_000, max_denominator=99_999), st.sampled_from(sorted(GRID)))
def test_a_length_off_the_grid_is_half_a_grid_unit_away_at_most(length, units):
    exact = length * GRID[units]
    if exact and exact <= Fraction(1, 2):
        with pytest.raises(LengthError, match="smaller than can be measured"):
            parse_length(f"{length}", units)
    elif exact <= LONGEST:
        assert abs(parse_length(f"{length}", units) - exact) <= Fraction(1, 2)


HOSTILE = [
    "9" * 40,
    "9" * 41,
    "9" * 100_000,
    " " * 40,
    " " * 100_000,
    " " * 100_000 + "84 in",
    "84" + " " * 36 + "in",
    "-" * 40,
    "-" * 100_000,
    "-−" * 20 + "5",
    "1 " * 20,
    "1/" * 20,
    "1-" * 20,
    "1." * 20,
    "½" * 40,
    "'" * 40,
    "1'" * 20,
    "1 1/" * 10,
    "9**9**9**9**9**9 in",
    "1e999999999",
    "٨" * 40,
    "８" * 40,
    "१२३४ in",
    "1" + "\u0301" * 39,
    "\u202e84 in",
    "84 in\x00",
    "((((((((((84))))))))))",
    "1," * 50_000,
    "0" * 38 + "/0",
    "1/" + "0" * 38,
    "1/" + "9" * 38,
    "0" * 39 + "1",
    "inches" * 20_000,
]


@pytest.mark.parametrize("text", HOSTILE, ids=lambda text: f"{text[:8]!a}x{len(text)}")
def test_a_hostile_text_is_read_or_refused_at_once(text):
    taken = []
    for _ in range(7):
        began = time.process_time()
        with suppress(LengthError):
            parse_length(text, "in")
        taken.append(time.process_time() - began)
    assert min(taken) < 0.001


SCRAPS = (*"019/⁄.,-−  ½⅝'\"e²x", "84", "in", "ft", "yd", "mm")
TEXTS = st.one_of(st.lists(st.sampled_from(SCRAPS), max_size=9).map("".join), st.text(max_size=12))


@settings(REPEATABLE, max_examples=1_500)
@given(TEXTS)
def test_any_text_is_a_length_or_is_refused_in_a_sentence(text):
    grid = refused = None
    try:
        grid = parse_length(text, "in", signed=True)
    except LengthError as error:
        refused = str(error)
    assert (
        re.fullmatch(r'".*" (?:is|has|reads|divides) .+: .+', refused, re.DOTALL) if refused else abs(grid) <= LONGEST
    )


@pytest.mark.parametrize(("pattern", "signed"), [(PATTERN, False), (SIGNED_PATTERN, True)], ids=["length", "signed"])
@settings(REPEATABLE, max_examples=1_500)
@given(TEXTS)
@example("84 3/2")
@example("7 ft 12 in")
@example("84 in\n")
@example("-0")
def test_the_published_pattern_and_the_reader_agree(pattern, signed, text):
    """JSON Schema searches for a pattern; it cannot tell fractions of one or more, nor the longest length."""
    try:
        parse_length(text, "in", signed=signed)
    except LengthError as refused:
        late = ("fraction of one or more", "longer than 1000 m")
        read = any(reason in str(refused) for reason in late)
    else:
        read = True
    assert bool(re.search(pattern, text)) == read


@pytest.mark.parametrize(("written", "units", "grid"), ACCEPTED)
def test_every_accepted_text_is_within_the_published_pattern(written, units, grid):
    if isinstance(written, str):
        assert re.search(PATTERN, written)
        assert len(written) <= LONGEST_TEXT


def test_the_grid_is_320_to_the_millimetre_and_8128_to_the_inch():
    assert (MILLIMETRE, INCH) == (320, 8_128)
    assert GRID == {"mm": 320, "cm": 3_200, "m": 320_000, "in": 8_128, "ft": 97_536, "yd": 292_608}
