"""Exact lengths: a grid of whole numbers, a strict grammar to read them by, and trade fractions to write them in.

A length is an `int` of grid units, 320 to the millimetre and so 8128 to the inch: every 1/64 in and every
1/320 mm is a whole number, and sums come out exact. A length between two grid points is taken to the nearer one
(at most 1/640 mm away), once, when it is read.

The factors come from pint's registry, once, as exact fractions. pint's own parser is not used: it reads
"3 1/2 in" as 1.5 in and "1,5 cm" as 15 cm, and a power tower keeps it busy for seconds.
"""

import math
import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Annotated, Final, Literal, get_args

from msgspec import Meta

from pleatwright.factors import FACTORS

Units = Literal["in", "cm", "mm"]
"""The units a request may be made in; every length of its reply is a number in them."""

UNITS: Final[tuple[Units, ...]] = get_args(Units)
LONGEST_TEXT: Final = 40
"""Characters in the longest text that can be a length."""


def _grid_factors() -> dict[str, int]:
    grid = {}
    for name, millimetres in FACTORS["mm"].items():
        units = millimetres * 320
        if units.denominator != 1:
            raise ArithmeticError(f"1 {name} is not a whole number of grid units")
        grid[name] = int(units)
    return grid


GRID: Final = _grid_factors()
"""Grid units in one of each unit: 1 in = 25.4 mm and 1 yd = 0.9144 m exactly [NIST SP 811, appendix B.8]."""

INCH: Final = GRID["in"]
MILLIMETRE: Final = GRID["mm"]
LONGEST: Final = 1000 * GRID["m"]
"""The longest length that is read: 1 km, more cloth than any bolt holds."""

_VULGAR: Final = "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"
_WORDS: Final = {
    "in": ("inches", "inch", "in", '"', "″", "”"),
    "ft": ("feet", "foot", "ft", "'", "′", "’"),
    "yd": ("yards", "yard", "yd"),
    "mm": ("mm",),
    "cm": ("cm",),
    "m": ("m",),
}
_UNIT_OF: Final = {word: unit for unit, words in _WORDS.items() for word in words}
_RATIO: Final = "[0-9]+[/⁄]0*[1-9][0-9]*"
_TAIL: Final = rf"\.[0-9]+|[ -]{_RATIO}|[/⁄]0*[1-9][0-9]*| ?[{_VULGAR}]"
_NUMBER: Final = rf"(?:[0-9]+(?:{_TAIL})?|[{_VULGAR}])"
_UNDER_TWELVE: Final = rf"(?:(?:0?[0-9]|1[01])(?:\.[0-9]+|[ -]{_RATIO}| ?[{_VULGAR}])?|{_RATIO}|[{_VULGAR}])"
_ANY_UNIT: Final = "|".join(_UNIT_OF)
_FEET: Final = "|".join(_WORDS["ft"])
_INCHES: Final = "|".join(_WORDS["in"])
_COMPOUND: Final = rf"[0-9]+ ?(?:{_FEET})[ -]?{_UNDER_TWELVE} ?(?:{_INCHES})"

PATTERN: Final = rf"^ *(?:{_NUMBER}(?: ?(?:{_ANY_UNIT}))?|{_COMPOUND}) *$(?!\n)"
"""The grammar of a length as one regular expression, the same to Python and to ECMA-262. Linear time.

To Python `$` alone would match before a line break at the end as well.
"""
SIGNED_PATTERN: Final = f"^ *[-−]?{PATTERN[3:]}"
"""The same for a length that may be negative, such as a clearance."""

LARGEST_BARE: Final = 1_000_000
"""The largest bare number that can be a length: 1 km in millimetres."""

Length = Annotated[
    Annotated[int, Meta(ge=0, le=LARGEST_BARE)]
    | Annotated[float, Meta(ge=0, le=LARGEST_BARE)]
    | Annotated[str, Meta(max_length=LONGEST_TEXT, pattern=PATTERN)],
    Meta(title="Length", description="A length."),
]
"""A length as a client writes it, held to the grammar wherever it stands; `parse_length` reads it."""
SignedLength = Annotated[
    Annotated[int, Meta(ge=-LARGEST_BARE, le=LARGEST_BARE)]
    | Annotated[float, Meta(ge=-LARGEST_BARE, le=LARGEST_BARE)]
    | Annotated[str, Meta(max_length=LONGEST_TEXT, pattern=SIGNED_PATTERN)],
    Meta(title="SignedLength", description="A length that may be negative."),
]
"""The same for a length that may be negative."""

_SINGLE: Final = re.compile(rf"([-−]?)({_NUMBER})(?: ?({_ANY_UNIT}))?")
_FEET_AND_INCHES: Final = re.compile(rf"([-−]?)([0-9]+) ?(?:{_FEET})[ -]?({_UNDER_TWELVE}) ?(?:{_INCHES})")
_EXAMPLE: Final = 'write it as 84.5, "84 1/2 in" or "2146 mm"'


Exact = int | Fraction
"""A length in grid units that may fall between two grid points; an `int`, far cheaper, wherever it does not."""


@dataclass(frozen=True, slots=True)
class Limits:
    """The least, the usual and the most that a length may be, in grid units."""

    least: int
    usual: int
    most: int


def inch_limits(least: str, usual: str, most: str) -> Limits:
    """Return limits written in inches, for figures that stand in code.

    >>> inch_limits("1", "1 1/2", "2") == Limits(INCH, 3 * INCH // 2, 2 * INCH)
    True
    """
    return Limits(inches(least), inches(usual), inches(most))


class LengthError(ValueError):
    """A text or number that is not a length; the message says why and shows one that is."""


def parse_length(value: str | float, units: str | None = None, *, signed: bool = False) -> int:
    r"""Read a length into grid units.

    `value` is a number in `units`, or a text that may name its own unit. `units` is the unit of a bare number, or
    None when there is none to fall back on. Negative lengths are read only when `signed`.

    Raises LengthError, naming the reason and an example, for anything else.

    >>> parse_length("84 1/2 in") == parse_length("7' 1/2\"") == parse_length(84.5, "in") == 84 * INCH + INCH // 2
    True
    >>> parse_length("1,5", "cm")
    Traceback (most recent call last):
    pleatwright.lengths.LengthError: "1,5" has two meanings: write 1.5 with a point, or 15 without the comma
    """
    if isinstance(value, str):
        sign, top, bottom = _exact_from_text(value, units)
    else:
        sign, top, bottom = _exact_from_number(value, units)
    if sign and not signed:
        raise LengthError(f"{quoted(value)} is negative, and this length cannot be: leave out the minus sign")
    if top > LONGEST * bottom:
        raise LengthError(f"{quoted(value)} is longer than 1000 m: check the figure and its unit")
    nearest = nearest_whole(top, bottom)
    if top and not nearest:
        raise LengthError(f"{quoted(value)} is smaller than can be measured: check the figure and its unit")
    return -nearest if sign else nearest


def inches(text: str) -> int:
    """Return a length written in inches, for figures that stand in code.

    >>> inches("5 1/2") == 11 * INCH // 2
    True
    """
    return parse_length(text, "in")


def nearest_whole(top: int, bottom: int) -> int:
    """Return the whole number nearest to a ratio of whole numbers, the even one of two: `round` of the fraction.

    >>> nearest_whole(7, 2), nearest_whole(-7, 3), nearest_whole(5, 2)
    (4, -2, 2)
    """
    if bottom == 1:
        return top
    whole, over = divmod(top, bottom)
    return whole + (2 * over > bottom or (2 * over == bottom and whole % 2 == 1))


_Exact = tuple[bool, int, int]
"""Whether there is a minus sign, and what stands behind it in grid units: a ratio of two whole numbers."""


def _exact_from_number(value: float, units: str | None) -> _Exact:
    if units is None:
        raise LengthError(f"{quoted(value)} has no unit: {_EXAMPLE.replace('84.5, ', '')}")
    if isinstance(value, bool) or not (isinstance(value, int) or math.isfinite(value)):
        raise LengthError(f"{quoted(value)} is not a length: {_EXAMPLE}")
    # repr gives back the decimal that was written; the float itself lies a hair beside it.
    top, bottom = (value, 1) if isinstance(value, int) else Decimal(repr(value)).as_integer_ratio()
    return top < 0, abs(top) * GRID[units], bottom


def _exact_from_text(text: str, units: str | None) -> _Exact:
    stripped = text.strip(" ") if len(text) <= LONGEST_TEXT else ""
    if found := _SINGLE.fullmatch(stripped):
        sign, number, word = found.groups()
        unit = _UNIT_OF[word] if word else units
        if unit is None:
            raise LengthError(f"{quoted(text)} has no unit: {_EXAMPLE.replace('84.5, ', '')}")
        top, bottom = _number(number, text)
        return bool(sign), top * GRID[unit], bottom
    if found := _FEET_AND_INCHES.fullmatch(stripped):
        sign, feet, over = found.groups()
        top, bottom = _number(over, text)
        if top >= 12 * bottom:
            raise LengthError(f"{quoted(text)} has over 11 inches after the feet: {_EXAMPLE}")
        return bool(sign), int(feet) * GRID["ft"] * bottom + top * INCH, bottom
    raise LengthError(_reason(text))


def _number(text: str, whole_text: str) -> tuple[int, int]:
    """Return a number as the ratio of two whole ones."""
    if text.isascii() and text.isdecimal():
        return int(text), 1
    if "." in text:
        return Decimal(text).as_integer_ratio()
    if text[-1] in _VULGAR:
        whole = text[:-1].rstrip(" ")
        over = Fraction(unicodedata.numeric(text[-1])).limit_denominator(10)
        top, bottom = over.numerator, over.denominator
    else:
        ratio, _, divisor = text.replace("⁄", "/").partition("/")
        whole, _, above = ratio.replace("-", " ").rpartition(" ")
        top, bottom = int(above), int(divisor)
        if whole and top >= bottom:
            raise LengthError(f"{quoted(whole_text)} has a fraction of one or more: {_EXAMPLE}")
    return (int(whole) * bottom if whole else 0) + top, bottom


_WHY: Final[tuple[tuple[str, str], ...]] = (
    (r"^ *$", "is empty: {example}"),
    (r"[0-9],[0-9]", "has two meanings: write {point} with a point, or {joined} without the comma"),
    (r"[0-9][eE][-+]?[0-9]|\^|\*\*|[⁰¹²³⁴-⁹]", "has an exponent, which could be meant in several ways: {example}"),
    (r"[/⁄]0+(?![0-9.])", "divides by zero: {example}"),
    (r"^ *[-−]", "is negative, or is not a length: {example}"),
    (r"[0-9](?!(?:ft|foot|feet|yd|m)[0-9])[A-Za-z]+[0-9]", "has a letter among its figures: {example}"),
    (r"(?<![A-Za-z])(?!(?:in|inch|inches|ft|foot|feet|yd|yard|yards|mm|cm|m)(?![A-Za-z]))[A-Za-z]+",
     "has a unit not known here; the units are in, ft, yd, mm, cm and m, in small letters: {example}"),
    (rf"[0-9] ?(?:{_FEET})[ -]?[0-9]", "reads as feet and inches, which go up to 11 and end in their unit: {example}"),
)  # fmt: skip
_REASONS: Final = tuple((re.compile(pattern), words) for pattern, words in _WHY)


def _reason(text: str) -> str:
    if len(text) > LONGEST_TEXT:
        return f"{quoted(text)} is over {LONGEST_TEXT} characters, too long for a length: {_EXAMPLE}"
    stripped = text.strip()
    for pattern, words in _REASONS:
        if pattern.search(stripped):
            point, joined = stripped.replace(",", "."), stripped.replace(",", "")
            return f"{quoted(text)} {words.format(example=_EXAMPLE, point=point, joined=joined)}"
    return f"{quoted(text)} is not a length: {_EXAMPLE}"


def quoted(value: str | float) -> str:
    """Repeat what a client gave, in a sentence.

    >>> quoted("84 ells"), quoted(84)
    ('"84 ells"', '84')
    """
    return f'"{seen(value)}"' if isinstance(value, str) else seen(value)


def seen(value: str | float) -> str:
    """Repeat what a client gave, short enough to read.

    >>> seen("84 ells"), seen(10**50)
    ('84 ells', 'a number of over 40 digits')
    """
    if isinstance(value, str):
        return value if len(value) <= LONGEST_TEXT else f"{value[:LONGEST_TEXT]}…"
    if isinstance(value, int) and abs(value) >= 10**LONGEST_TEXT:
        return f"a number of over {LONGEST_TEXT} digits"
    return str(value)


_ENDS_WITHIN_SIX: Final = {unit: grid // math.gcd(grid, 10**6) for unit, grid in GRID.items()}
"""A length that is a multiple of so many grid units is, in that unit, a number that ends within six decimals."""


def in_units(value: int | Fraction, units: Units) -> float:
    """Give a length as a number of `units`, to six decimals, which is enough to tell any two grid points apart.

    >>> in_units(2 * INCH + INCH // 64, "in"), in_units(INCH, "cm")
    (2.015625, 2.54)
    """
    grid = GRID[units]
    if not isinstance(value, int):
        return round(value.numerator / (value.denominator * grid), 6)
    if value % _ENDS_WITHIN_SIX[units] == 0:
        return value / grid
    millionths, over = divmod(value * 2_000_000 + grid, 2 * grid)
    return millionths / 1_000_000 if over else round(value / grid, 6)


def each_in_units(values: Iterable[int], units: Units, parts: int = 1) -> list[float]:
    """Give many lengths as `in_units` gives each; they are in grid units, or in so many `parts` of one.

    >>> each_in_units([INCH, 2 * INCH], "in"), each_in_units([INCH], "in", parts=2)
    ([1.0, 2.0], [0.5])
    """
    grid, ends = GRID[units] * parts, _ENDS_WITHIN_SIX[units] * parts
    return [value / grid if value % ends == 0 else _part_in_units(value, parts, units) for value in values]


def _part_in_units(value: int, parts: int, units: Units) -> float:
    whole, over = divmod(value, parts)
    return in_units(Fraction(value, parts) if over else whole, units)


def from_units(value: float, units: Units) -> int:
    """Return the grid length that `in_units` gave as `value`; the nearest one to any other number.

    >>> from_units(in_units(12345, "in"), "in")
    12345
    """
    return round(Fraction(repr(value)) * GRID[units])


def rounded_in_units(value: Fraction | int, units: Units) -> float:
    """Give a length that falls between the marks of a rule as a number of `units`, to three decimals.

    >>> rounded_in_units(Fraction(5 * INCH, 3), "in")
    1.667
    """
    return round(value.numerator / (value.denominator * GRID[units]), 3)


def length_text(value: int | Fraction, units: str, *, finest: int = 16) -> str:
    """Write a length as a maker reads it: trade fractions of an inch or a yard down to 1/`finest`, or metric decimals.

    What falls between two divisions is written as the nearer one. Metric is written to a tenth of a millimetre.

    >>> length_text(84 * INCH + INCH // 2, "in"), length_text(-INCH // 4, "in"), length_text(214 * 3200 + 1920, "cm")
    ('84 1/2 in', '-1/4 in', '214.6 cm')
    """
    top, bottom = abs(value.numerator), value.denominator * GRID[units]
    if units in ("in", "yd"):
        whole, parts = divmod(nearest_whole(top * finest, bottom), finest)
        common = math.gcd(parts, finest)
        over = f"{parts // common}/{finest // common}" if parts else ""
        shown = f"{whole} {over}".rstrip() if whole or not over else over
    else:
        tenths = nearest_whole(top * 10, value.denominator * MILLIMETRE)
        shown = f"{tenths / (10 * GRID[units] // MILLIMETRE):.4f}".rstrip("0").rstrip(".")
    return f"{'-' if value < 0 and shown != '0' else ''}{shown} {units}"
