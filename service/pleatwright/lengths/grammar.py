"""The strict grammar that a length is read by, and what is said of a text that is none."""

import math
import re
import unicodedata
from decimal import Decimal
from fractions import Fraction
from typing import Annotated, Final

from msgspec import Meta

from pleatwright.lengths.grid import GRID, INCH, LONGEST, Limits, nearest_whole

LONGEST_TEXT: Final = 40
"""Characters in the longest text that can be a length."""
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
    pleatwright.lengths.grammar.LengthError: "1,5" has two meanings: write 1.5 with a point, or 15 without the comma
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


def inch_limits(least: str, usual: str, most: str) -> Limits:
    """Return limits written in inches, for figures that stand in code.

    >>> inch_limits("1", "1 1/2", "2") == Limits(INCH, 3 * INCH // 2, 2 * INCH)
    True
    """
    return Limits(inches(least), inches(usual), inches(most))


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
