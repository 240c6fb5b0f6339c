"""Exact masses: of cloth by its area, of a cord by its length, and of things by the piece.

A mass is a `Fraction` of grams, a mass per area one of grams a square metre, and a mass per length one of grams a
metre. Each is read from a text that names its unit, since cloth is sold by both: 300 g/m2 is 8.85 oz/yd2. The factors
come from pint's registry, once, as exact fractions.
"""

import re
from fractions import Fraction
from typing import Annotated, Final, Literal

import pint
from msgspec import Meta

LONGEST_TEXT: Final = 20
"""Characters in the longest text that can be a mass."""
_NUMBER: Final = r"[0-9]{1,6}(?:\.[0-9]{1,4})?"
PATTERN: Final = rf"^{_NUMBER} ?(?:kg|g|lb|oz)$(?!\n)"
AREA_PATTERN: Final = rf"^{_NUMBER} ?(?:g/m2|oz/yd2)$(?!\n)"
LENGTH_PATTERN: Final = rf"^{_NUMBER} ?(?:g/m|oz/yd)$(?!\n)"
_PARTS: Final = re.compile(rf"({_NUMBER}) ?(.+)")

Mass = Annotated[
    str,
    Meta(max_length=LONGEST_TEXT, pattern=PATTERN, examples=["20 kg", "45 lb"], description="A mass with its unit."),
]
MassPerArea = Annotated[
    str,
    Meta(
        max_length=LONGEST_TEXT,
        pattern=AREA_PATTERN,
        examples=["300 g/m2", "8.8 oz/yd2"],
        description="Mass per unit area with its unit, as ISO 3801 and ASTM D3776 measure it.",
    ),
]
MassPerLength = Annotated[
    str,
    Meta(
        max_length=LONGEST_TEXT,
        pattern=LENGTH_PATTERN,
        examples=["50 g/m", "1.6 oz/yd"],
        description="Mass per unit length with its unit.",
    ),
]
MassUnits = Literal["kg", "lb"]


def _factors() -> dict[str, Fraction]:
    registry: pint.UnitRegistry[Fraction] = pint.UnitRegistry(non_int_type=Fraction)
    bases = {"g": ("g", "kg", "lb", "oz"), "g/m**2": ("g/m**2", "oz/yd**2"), "g/m": ("g/m", "oz/yd")}
    return {
        unit.replace("**", ""): Fraction(registry.Quantity(Fraction(1), unit).to(base).magnitude)
        for base, units in bases.items()
        for unit in units
    }


GRAMS: Final = _factors()
"""Grams, grams a square metre, or grams a metre in one of each unit: 1 oz = 28.349523125 g exactly [NIST SP 811]."""


def parse_mass(text: str) -> Fraction:
    """Read a text that keeps one of the three patterns, into grams, grams a square metre, or grams a metre.

    >>> parse_mass("20 kg"), parse_mass("300 g/m2"), float(parse_mass("1 oz/yd2"))
    (Fraction(20000, 1), Fraction(300, 1), 33.9057474748823)
    """
    number, unit = _PARTS.findall(text)[0]
    return Fraction(number) * GRAMS[unit]


def in_mass_units(grams: Fraction, units: MassUnits) -> float:
    """Return a mass as a number in `units`, to three decimals.

    >>> in_mass_units(Fraction(20000), "kg"), in_mass_units(Fraction(20000), "lb")
    (20.0, 44.092)
    """
    return round(float(grams / GRAMS[units]), 3)


def mass_text(grams: Fraction, units: MassUnits) -> str:
    """Write a mass as it is read aloud, to three figures; a light one in grams or ounces.

    >>> mass_text(Fraction(12345), "kg"), mass_text(Fraction(453), "lb"), mass_text(Fraction(45), "kg")
    ('12.3 kg', '16 oz', '45 g')
    """
    small: str = {"kg": "g", "lb": "oz"}[units]
    unit = small if grams < 2 * GRAMS["lb"] else units
    number = float(grams / GRAMS[unit])
    return f"{number:.3g} {unit}" if number < 1000 else f"{number:.0f} {unit}"
