"""Exact masses: of cloth by its area, of a cord by its length, and of things by the piece.

A mass is a `Fraction` of grams, a mass per area one of grams a square metre, and a mass per length one of grams a
metre. Each is read from a text that names its unit, since cloth is sold by both: 300 g/m2 is 8.85 oz/yd2. The factors
come from pint, once, as exact fractions.
"""

import re
from fractions import Fraction
from typing import Annotated, Final, Literal

from msgspec import Meta

from pleatwright.factors import FACTORS

LONGEST_TEXT: Final = 20
"""Characters in the longest text that can be a mass."""
_NUMBER: Final = r"[0-9]{1,6}(?:\.[0-9]{1,4})?"
PATTERN: Final = rf"^{_NUMBER} ?(?:kg|g|lbs?|oz)$(?!\n)"
AREA_PATTERN: Final = rf"^{_NUMBER} ?(?:g/m2|g/m²|gsm|oz/yd2|oz/yd²)$(?!\n)"
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


_ALSO: Final = {"lbs": "lb", "gsm": "g/m2", "g/m²": "g/m2", "oz/yd²": "oz/yd2"}
"""Other ways of writing a unit."""
GRAMS: Final = {
    unit.replace("**", ""): factor for base in ("g", "g/m**2", "g/m") for unit, factor in FACTORS[base].items()
}
"""Grams, grams a square metre, or grams a metre in one of each unit: 1 oz = 28.349523125 g exactly [NIST SP 811]."""


def parse_mass(text: str) -> Fraction:
    """Read a text that keeps one of the three patterns, into grams, grams a square metre, or grams a metre.

    >>> parse_mass("20 kg"), parse_mass("300 gsm") == parse_mass("300 g/m2"), float(parse_mass("1 oz/yd2"))
    (Fraction(20000, 1), True, 33.9057474748823)
    """
    number, unit = _PARTS.findall(text)[0]
    return Fraction(number) * GRAMS[_ALSO.get(unit, unit)]


def in_mass_units(grams: Fraction, units: MassUnits) -> float:
    """Return a mass as a number in `units`, to three decimals.

    >>> in_mass_units(Fraction(20000), "kg"), in_mass_units(Fraction(20000), "lb")
    (20.0, 44.092)
    """
    return round(float(grams / GRAMS[units]), 3)


def mass_texts(units: MassUnits, *grams: Fraction) -> list[str]:
    """Write masses as they are read aloud, to three figures or as many more as tell them apart; light ones in g or oz.

    >>> mass_texts("kg", Fraction(12345)), mass_texts("lb", Fraction(453)), mass_texts("kg", Fraction(45))
    (['12.3 kg'], ['16 oz'], ['45 g'])
    >>> mass_texts("kg", Fraction(12345), Fraction(12341))
    ['12.35 kg', '12.34 kg']
    """
    small: str = {"kg": "g", "lb": "oz"}[units]
    unit = small if max(grams) < 2 * GRAMS["lb"] else units
    exact = [mass / GRAMS[unit] for mass in grams]
    written: list[str] = []
    for figures in range(3, _MOST_FIGURES):
        written = [f"{_to_figures(number, figures)} {unit}" for number in exact]
        if len(set(written)) == len(set(grams)):
            break
    return written


_MOST_FIGURES: Final = 16


def _to_figures(number: Fraction, figures: int) -> str:
    """Write a number to so many figures, without an exponent and without idle zeros."""
    whole = len(str(int(number)))
    text = f"{float(number):.{max(figures - whole, 0)}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
