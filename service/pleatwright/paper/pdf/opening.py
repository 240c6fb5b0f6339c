"""A new PDF with its fonts, in which the same content gives the same bytes."""

import logging
import unicodedata
from datetime import UTC, datetime
from importlib.resources import files
from pathlib import Path
from typing import Final

from fpdf import FPDF

from pleatwright import __version__

SANS: Final = "sans"
SERIF: Final = "serif"
POINTS: Final = 72 / 25.4
"""Points in a millimetre."""
PAGES: Final = "\x1f\x1f"
"""What stands for the count of pages until that is known: nobody types it in a name, as they might fpdf2's own {nb}."""
_FALLBACK: Final = "fallback"
_FONTS: Final = (
    (SANS, "", "LiberationSans-Regular.ttf"),
    (SANS, "B", "LiberationSans-Bold.ttf"),
    (SANS, "I", "LiberationSans-Italic.ttf"),
    (SERIF, "", "LiberationSerif-Regular.ttf"),
    (_FALLBACK, "", "DejaVuSans.ttf"),
)
_BORN: Final = datetime(2000, 1, 1, tzinfo=UTC)
"""When every document says that it was made: nothing in it may depend on the clock."""

# A character that no font has is left out; a warning for each would fill the log with clients' names.
logging.getLogger("fpdf").setLevel(logging.ERROR)
logging.getLogger("fontTools").setLevel(logging.ERROR)


def opened(pdf: FPDF, title: str) -> FPDF:
    """Return a PDF made ready: its title, its fonts, and nothing that varies from one making to the next."""
    folder = Path(str(files("pleatwright.paper") / "fonts"))
    for family, style, file in _FONTS:
        pdf.add_font(family, style, folder / file)
    pdf.set_fallback_fonts([_FALLBACK], exact_match=False)
    pdf.set_creation_date(_BORN)
    pdf.alias_nb_pages(PAGES)
    pdf.set_title(title)
    pdf.set_creator(f"pleatwright {__version__}")
    pdf.set_lang("en")
    pdf.c_margin = 0
    pdf.set_auto_page_break(False)
    return pdf


def prepare(pdf: FPDF, text: str) -> None:
    """Have the text that comes next shaped if its script needs it: what joins, and what runs right to left."""
    pdf.set_text_shaping(
        any(
            unicodedata.bidirectional(character) in ("R", "AL", "AN") or unicodedata.combining(character)
            for character in text
        )
    )
