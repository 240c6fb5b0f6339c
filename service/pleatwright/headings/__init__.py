"""What a heading style is made of. A style imports from here, and from nowhere else in the project."""

from pleatwright.faults import Fault, Impossible
from pleatwright.headings.contract import CONTRACT, Heading, hookimpl
from pleatwright.headings.made import (
    FullnessLimits,
    Gather,
    Made,
    Material,
    Notice,
    Pleat,
    Points,
    Shape,
    fullness_limits,
    limits_faults,
    waved,
)
from pleatwright.headings.options import HeadingOptions, LimitsGiven, Measure, PleatOptions, TapeOptions, limits_asked
from pleatwright.headings.outline import Outline, fan, wave
from pleatwright.headings.rod import loop_drop, loop_length
from pleatwright.lengths import Length, Limits, inch_limits, inches

__all__ = [
    "CONTRACT",
    "Fault",
    "FullnessLimits",
    "Gather",
    "Heading",
    "HeadingOptions",
    "Impossible",
    "Length",
    "Limits",
    "LimitsGiven",
    "Made",
    "Material",
    "Measure",
    "Notice",
    "Outline",
    "Pleat",
    "PleatOptions",
    "Points",
    "Shape",
    "TapeOptions",
    "fan",
    "fullness_limits",
    "hookimpl",
    "inch_limits",
    "inches",
    "limits_asked",
    "limits_faults",
    "loop_drop",
    "loop_length",
    "wave",
    "waved",
]
