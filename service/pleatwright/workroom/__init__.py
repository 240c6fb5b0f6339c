"""The workroom: takes a request, does the arithmetic with the trade's rules, and says what came of it.

One function for each thing that can be asked, from a request's type to its reply's. Each raises
`pleatwright.faults.Impossible` with every fault found, each worded in the units of the request and placed by its path
in it, and `StyleFailedError` when a heading style itself breaks. What a solver may take seconds over can be begun by
itself, and finished in another thread.
"""

from pleatwright.workroom.begun import Begun
from pleatwright.workroom.clearing import rod
from pleatwright.workroom.comparing import compare
from pleatwright.workroom.cutting import begin_repeat, repeat
from pleatwright.workroom.enough import enough
from pleatwright.workroom.estimating import begin_estimate, estimate
from pleatwright.workroom.hanging import hang
from pleatwright.workroom.jobs import book_faults
from pleatwright.workroom.panelling import panel
from pleatwright.workroom.pleating import pins, pleats
from pleatwright.workroom.pricing import needs_key
from pleatwright.workroom.reader import StyleFailedError
from pleatwright.workroom.styles import heading, headings

__all__ = [
    "Begun",
    "StyleFailedError",
    "begin_estimate",
    "begin_repeat",
    "book_faults",
    "compare",
    "enough",
    "estimate",
    "hang",
    "heading",
    "headings",
    "needs_key",
    "panel",
    "pins",
    "pleats",
    "repeat",
    "rod",
]
