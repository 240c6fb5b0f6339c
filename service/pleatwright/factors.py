"""Exact factors of units, worked out by pint from their definitions [NIST SP 811, appendix B.8].

These units only: to read all that pint has would be a fifth of a worker's start. The tests hold the two against each
other.
"""

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from fractions import Fraction
from typing import Any, Final


@contextmanager
def _without_numpy() -> Iterator[None]:
    """Have numpy pass for not installed, unless somebody has it already.

    pint takes it in wherever it is there. No figure here needs it, and it would be a quarter of a worker's memory.
    """
    modules: dict[str, Any] = sys.modules
    if "numpy" in modules:
        yield
        return
    modules["numpy"] = None
    try:
        yield
    finally:
        del modules["numpy"]


with _without_numpy():
    import pint

_DEFINITIONS: Final = (
    "kilo- = 1000 = k-",
    "centi- = 0.01 = c-",
    "milli- = 0.001 = m-",
    "meter = [length] = m",
    "yard = 0.9144 * meter = yd",
    "foot = yard / 3 = ft",
    "inch = foot / 12 = in",
    "gram = [mass] = g",
    "pound = 0.45359237 * kilogram = lb",
    "ounce = pound / 16 = oz",
)
_WANTED: Final = {
    "mm": ("mm", "cm", "m", "in", "ft", "yd"),
    "g": ("g", "kg", "lb", "oz"),
    "g/m**2": ("g/m**2", "oz/yd**2"),
    "g/m": ("g/m", "oz/yd"),
}


def _read() -> dict[str, dict[str, Fraction]]:
    registry: pint.UnitRegistry[Fraction] = pint.UnitRegistry(_DEFINITIONS, non_int_type=Fraction)
    return {
        base: {unit: Fraction(registry.Quantity(Fraction(1), unit).to(base).magnitude) for unit in units}
        for base, units in _WANTED.items()
    }


FACTORS: Final = _read()
"""How many of a base there are in one of each of its units."""
