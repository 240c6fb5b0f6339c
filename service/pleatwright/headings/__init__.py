"""What a heading style is made of. A style imports from here, and from nowhere else in the project."""

from pleatwright.faults import Fault, Impossible
from pleatwright.headings.contract import (
    CONTRACT,
    Heading,
    LimitsGiven,
    Measure,
    Pleat,
    PleatOptions,
    Shape,
    hookimpl,
)
from pleatwright.headings.outline import Outline, fan
from pleatwright.lengths import Length, Limits, inch_limits, inches

__all__ = [
    "CONTRACT",
    "Fault",
    "Heading",
    "Impossible",
    "Length",
    "Limits",
    "LimitsGiven",
    "Measure",
    "Outline",
    "Pleat",
    "PleatOptions",
    "Shape",
    "fan",
    "hookimpl",
    "inch_limits",
    "inches",
]
