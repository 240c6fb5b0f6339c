"""Exact lengths: a grid of whole numbers, a strict grammar to read them by, and trade fractions to write them in.

A length is an `int` of grid units, 320 to the millimetre and so 8128 to the inch: every 1/64 in and every
1/320 mm is a whole number, and sums come out exact. A length between two grid points is taken to the nearer one
(at most 1/640 mm away), once, when it is read.

The factors come from pint, once, as exact fractions. pint's own parser is not used: it reads "3 1/2 in" as 1.5 in and
"1,5 cm" as 15 cm, and a power tower keeps it busy for seconds.
"""

from pleatwright.lengths.grammar import (
    LARGEST_BARE,
    LONGEST_TEXT,
    PATTERN,
    SIGNED_PATTERN,
    Length,
    LengthError,
    SignedLength,
    inch_limits,
    inches,
    parse_length,
    quoted,
    seen,
)
from pleatwright.lengths.grid import GRID, INCH, LONGEST, MILLIMETRE, UNITS, Exact, Limits, Units, nearest_whole
from pleatwright.lengths.telling import each_in_units, from_units, in_units, length_text, rounded_in_units

__all__ = [
    "GRID",
    "INCH",
    "LARGEST_BARE",
    "LONGEST",
    "LONGEST_TEXT",
    "MILLIMETRE",
    "PATTERN",
    "SIGNED_PATTERN",
    "UNITS",
    "Exact",
    "Length",
    "LengthError",
    "Limits",
    "SignedLength",
    "Units",
    "each_in_units",
    "from_units",
    "in_units",
    "inch_limits",
    "inches",
    "length_text",
    "nearest_whole",
    "parse_length",
    "quoted",
    "rounded_in_units",
    "seen",
]
