"""The workroom: takes a request, does the arithmetic with the trade's rules, and says what came of it.

One function for each thing that can be asked, from a request's type to its reply's. Each raises
`pleatwright.faults.Impossible` with every fault found, each worded in the units of the request and placed by its path
in it, and `StyleFailedError` when a heading style itself breaks.
"""

from pleatwright.workroom.cutting import repeat
from pleatwright.workroom.estimating import estimate
from pleatwright.workroom.panelling import panel
from pleatwright.workroom.pleating import pins, pleats
from pleatwright.workroom.reader import StyleFailedError
from pleatwright.workroom.styles import heading, headings

__all__ = ["StyleFailedError", "estimate", "heading", "headings", "panel", "pins", "pleats", "repeat"]
