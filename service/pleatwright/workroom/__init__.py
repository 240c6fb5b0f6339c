"""The workroom: takes a request, does the arithmetic with the trade's rules, and says what came of it.

One function for each thing that can be asked, from a request's type to its reply's. Each raises
`pleatwright.faults.Impossible` with every fault found, each worded in the units of the request and placed by its path
in it, and `StyleFailedError` when a heading style itself breaks. What may take long can be done in parts as well, so
that others are served meanwhile.
"""

from pleatwright.workroom.clearing import rod, rod_in_parts
from pleatwright.workroom.cloths import cloths
from pleatwright.workroom.comparing import compare, compare_in_parts
from pleatwright.workroom.cutting import repeat, repeat_in_parts
from pleatwright.workroom.enough import enough
from pleatwright.workroom.estimating import estimate, estimate_in_parts
from pleatwright.workroom.hanging import hang
from pleatwright.workroom.jobs import book_faults
from pleatwright.workroom.panelling import panel
from pleatwright.workroom.pleating import pins, pins_paper, pleats, pleats_paper
from pleatwright.workroom.pricing import needs_key
from pleatwright.workroom.reader import StyleFailedError
from pleatwright.workroom.styles import heading, headings

__all__ = [
    "StyleFailedError",
    "book_faults",
    "cloths",
    "compare",
    "compare_in_parts",
    "enough",
    "estimate",
    "estimate_in_parts",
    "hang",
    "heading",
    "headings",
    "needs_key",
    "panel",
    "pins",
    "pins_paper",
    "pleats",
    "pleats_paper",
    "repeat",
    "repeat_in_parts",
    "rod",
    "rod_in_parts",
]
