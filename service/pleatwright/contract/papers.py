"""What a client may ask of the papers that a reply comes as: drawings, the bench ticket, the marking tape."""

from dataclasses import dataclass
from typing import Final, Literal, get_args

from pleatwright.contract.cut_lists import Side

SVG: Final = "image/svg+xml"
HTML: Final = "text/html"
PDF: Final = "application/pdf"

DrawingName = Literal["panel-flat", "panel-finished", "heading", "hang", "cut-plan"]
DRAWINGS: Final[tuple[DrawingName, ...]] = get_args(DrawingName)
PaperName = Literal["tape", "ticket"]
PAPERS: Final[tuple[PaperName, ...]] = get_args(PaperName)
SheetName = Literal["a4", "letter", "roll"]
SHEETS: Final[tuple[SheetName, ...]] = get_args(SheetName)
SIDES: Final[tuple[Side, ...]] = get_args(Side)


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperAsked:
    """Which paper of a reply is asked for; what has no bearing on it is passed over.

    Windows, panels and layers count from 1. None is the first, of a drawing, and all of them, of a ticket or a tape.
    """

    drawing: DrawingName = "panel-flat"
    window: int | None = None
    panel: int | None = None
    layer: int | None = None
    paper: PaperName = "tape"
    sheet: SheetName = "a4"
    side: Side = "right"


@dataclass(frozen=True, slots=True)
class Parameter:
    """A parameter of a query: one of `choices`, else a whole number from 1 to `most`, else a length's text."""

    name: str
    description: str
    choices: tuple[str, ...] = ()
    most: int = 0
    usual: str | None = None


_SHEET: Final = Parameter(
    "sheet",
    "What a ticket or a tape is printed on; a roll for a tape only.",
    SHEETS,
    usual="a4",
)
OF_JOB: Final = (
    Parameter("drawing", "As image/svg+xml: which drawing.", DRAWINGS, usual="panel-flat"),
    Parameter(
        "window",
        "Of a paper: which window of the job, counted from 1. Left out, the first for a drawing, else all.",
        most=50,
    ),
    Parameter("panel", "The same of the window's panels, left before right.", most=2),
    Parameter(
        "layer",
        "Of a cut plan: which of the linings and other layers that the job orders, instead of the window's fabric.",
        most=100,
    ),
    Parameter("paper", "As application/pdf: the marking tape at full size, or the bench ticket.", PAPERS, usual="tape"),
    _SHEET,
)
OF_PANEL: Final = (
    Parameter(
        "side",
        "Of a paper: which panel this is. A right panel's leading edge is at the left, face up.",
        SIDES,
        usual="right",
    ),
    _SHEET,
)
