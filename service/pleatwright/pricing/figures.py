"""The figures of a rate book, each of which words its own faults. No fault's wording repeats the figure."""

import unicodedata
from collections.abc import Callable
from decimal import Decimal
from typing import Annotated, Any, Final

from msgspec import Meta

from pleatwright.lengths import LengthError, parse_length

Money = Annotated[Decimal, Meta(title="Money", description="A sum of the book's currency.")]
Percent = Annotated[Decimal, Meta(title="Percent", description="A percentage that is put on something.")]
Part = Annotated[Decimal, Meta(title="Part", description="A percentage that is part of something, or a tax.")]
Hours = Annotated[Decimal, Meta(title="Hours", description="A time in hours.")]
Name = Annotated[str, Meta(title="Name", description="A name for people to read.")]

MOST_MONEY: Final = 1_000_000_000
MOST_DECIMALS: Final = 6
LONGEST_NAME: Final = 80
"""Characters in the longest name, as long as a job's own names of cloth may be."""


def why_not(figure: str, value: Any) -> str | None:
    """Return why `value` is none of the figures named `figure`, with a remedy; None when it is one.

    >>> why_not("Money", Decimal("0.0125")) is None, why_not("Part", 120)
    (True, 'this is a percentage of 100 or less')
    """
    return FIGURES[figure](value)


def decimals(value: Decimal) -> int:
    """Return how many decimals a figure has, without the noughts at its end.

    >>> decimals(Decimal("0.0120")), decimals(Decimal("1.5e3"))
    (3, 0)
    """
    _, digits, exponent = value.as_tuple()
    if not isinstance(exponent, int) or not value:
        return 0
    ending = next(at for at, digit in enumerate(reversed(digits)) if digit)
    return max(0, -exponent - ending)


def same_name(name: str) -> str:
    """Return what all spellings of a name have in common, that differ in case and spacing only.

    >>> same_name(" Plain  LINEN") == same_name("Plain linen")
    True
    """
    return " ".join(name.split()).casefold()


def _number(value: Any, most: int, too_much: str) -> str | None:
    if isinstance(value, bool) or not isinstance(value, int | Decimal):
        return "this is a plain number: write it without quotes, currency sign or unit"
    if value < 0:
        return "this cannot be negative: leave out the minus sign"
    if value > most:
        return too_much
    if decimals(Decimal(value)) > MOST_DECIMALS:
        return f"this has over {MOST_DECIMALS} decimals: round it"
    return None


def _money(value: Any) -> str | None:
    return _number(value, MOST_MONEY, "this is over a thousand million: check the figure")


def _percent(value: Any) -> str | None:
    return _number(value, 1000, "this is a percentage of 1000 or less")


def _part(value: Any) -> str | None:
    return _number(value, 100, "this is a percentage of 100 or less")


def _hours(value: Any) -> str | None:
    return _number(value, 1000, "this is a time of 1000 hours or less")


def _name(value: Any) -> str | None:
    if not isinstance(value, str):
        return "this is a name: write it in quotes"
    if not value.strip():
        return "this name is empty: write one"
    if len(value) > LONGEST_NAME:
        return f"a name has up to {LONGEST_NAME} characters: shorten it"
    if any(unicodedata.category(each) == "Cc" for each in value):
        return "a name is of one line, without tabs and other control characters: leave them out"
    return None


def _length(value: Any) -> str | None:
    try:
        if isinstance(value, str):
            parse_length(value)
            return None
    except LengthError:
        pass
    return 'this is no length with its unit: write it as "84 1/2 in" or "2146 mm"'


FIGURES: Final[dict[str, Callable[[Any], str | None]]] = {
    "Money": _money,
    "Percent": _percent,
    "Part": _part,
    "Hours": _hours,
    "Name": _name,
    "Length": _length,
}
