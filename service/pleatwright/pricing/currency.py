"""Currencies as ISO 4217 has them, and rounding to their minor units by a stated rule."""

from contextlib import AbstractContextManager
from decimal import (
    ROUND_DOWN,
    ROUND_HALF_EVEN,
    ROUND_HALF_UP,
    ROUND_UP,
    Context,
    Decimal,
    DivisionByZero,
    InvalidOperation,
    Overflow,
    localcontext,
)
from typing import Final, Literal

from iso4217 import Currency

Rounding = Literal["half-up", "half-even", "up", "down"]
"""Half away from zero, half to the even neighbour, always away from zero, always towards zero."""

MODES: Final[dict[Rounding, str]] = {
    "half-up": ROUND_HALF_UP,
    "half-even": ROUND_HALF_EVEN,
    "up": ROUND_UP,
    "down": ROUND_DOWN,
}
DIGITS: Final = 50
"""Digits that the arithmetic keeps: a figure of the largest rate, quantity and percentage takes under 40."""


class CurrencyError(ValueError):
    """A code in which nothing can be priced; the message says why, without the code."""


def exactly() -> AbstractContextManager[Context]:
    """Return the context all of the arithmetic is done in, whatever the caller's own is."""
    return localcontext(
        Context(prec=DIGITS, rounding=ROUND_HALF_EVEN, traps=[InvalidOperation, DivisionByZero, Overflow])
    )


def minor_units(code: str) -> int:
    """Return the decimals of a currency's minor unit. Raises CurrencyError when it has none, or is no currency.

    >>> minor_units("GBP"), minor_units("JPY"), minor_units("KWD")
    (2, 0, 3)
    """
    try:
        decimals = Currency(code).exponent
    except ValueError:
        raise CurrencyError(
            "this is no currency of ISO 4217: write its three capital letters, such as GBP, USD or EUR"
        ) from None
    if decimals is None:
        raise CurrencyError("ISO 4217 gives this no minor unit, so nothing can be priced in it: name a currency")
    return decimals


def rounded(value: Decimal, decimals: int, rounding: Rounding) -> Decimal:
    """Return `value` to so many decimals by the rule; nothing is never negative.

    >>> rounded(Decimal("2.675"), 2, "half-up"), rounded(Decimal("2.665"), 2, "half-even")
    (Decimal('2.68'), Decimal('2.66'))
    """
    with exactly():
        return value.quantize(Decimal((0, (1,), -decimals)), rounding=MODES[rounding]) + 0
