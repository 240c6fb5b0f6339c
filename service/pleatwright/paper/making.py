"""The papers that a reply comes as: which one is asked for, made of it.

What writes PDF takes long to load, and is loaded when the first is asked for.
"""

from collections.abc import Mapping, Sequence
from typing import Final, TypeVar

from pleatwright.contract.about import HeadingFigures
from pleatwright.contract.estimates import EstimatedWindow, EstimateReply
from pleatwright.contract.papers import HTML, PDF, SVG, PaperAsked, SheetName
from pleatwright.contract.replies import HangingPoint
from pleatwright.faults import Fault, Impossible
from pleatwright.paper import drawings, ticket
from pleatwright.paper.drawings.words import clean
from pleatwright.paper.flat import FlatPaper
from pleatwright.paper.tape import sheets_of, tape
from pleatwright.paper.ticket.html import PageSize

Each = TypeVar("Each")
MOST_SHEETS: Final = 300
"""Of a tape: the widest panel takes some 130 sheets, and more than these would keep the service busy for long."""
_ONE_BY_ONE: Final = "ask for one window after the other"
MOST_ROWS: Final = 6000
"""Pieces of panels that a ticket lists: fifty windows of usual width have some 3000."""


def job_paper(reply: EstimateReply, headings: Mapping[str, HeadingFigures], asked: PaperAsked, form: str) -> bytes:
    """Return a paper of a job, in one of the forms of `contract.papers`; `headings` are the figures of its styles.

    Raises Impossible when there is no such window, panel or layer, and when the paper would be too long.
    """
    if form == SVG:
        return drawings.svg(job_drawing(reply, headings, asked)).encode()
    windows = _chosen(reply.windows, asked.window, "window", "the job has windows 1 to")
    if form == PDF and asked.paper == "tape":
        return _job_tape(reply, windows, asked)
    page = _page(asked.sheet)
    rows = sum(len(panel.pleats.stations) for window in windows for panel in window.panels)
    if rows > MOST_ROWS:
        detail = f"this ticket would list {rows} pieces; there may be {MOST_ROWS}: {_ONE_BY_ONE}"
        raise Impossible(Fault(("window",), detail))
    found = ticket.job_ticket(reply, headings, None if asked.window is None else asked.window - 1)
    if form == HTML:
        return ticket.html(found, page).encode()
    from pleatwright.paper.ticket.pdf import pdf

    return pdf(found, page)


def job_drawing(reply: EstimateReply, headings: Mapping[str, HeadingFigures], asked: PaperAsked) -> drawings.Drawing:
    """Return one drawing of a job. Raises Impossible when there is nothing of the sort in it."""
    units = reply.units
    [window] = _chosen(reply.windows, asked.window or 1, "window", "the job has windows 1 to")
    [panel] = _chosen(window.panels, asked.panel or 1, "panel", "this window has panels 1 to")
    if asked.layer is not None:
        layers = reply.materials.layers if asked.drawing == "cut-plan" else []
        [layer] = _chosen(layers, asked.layer, "layer", "each layer that the job orders has a cut plan: there are")
        return drawings.layer_plan(layer, units)
    match asked.drawing:
        case "panel-flat":
            return drawings.panel_flat(window, panel, units)
        case "panel-finished":
            return drawings.panel_finished(window, panel, units)
        case "heading":
            return drawings.heading_section(headings[window.style])
        case "hang":
            return drawings.hang_section(window, reply.windows, units)
        case "cut-plan":
            fabric = next(each for each in reply.materials.fabrics if each.fabric == window.fabric)
            return drawings.cut_plan(fabric, units)


def panel_paper(panel: FlatPaper, asked: PaperAsked, form: str) -> bytes:
    """Return a paper of one flat panel. Raises Impossible when it cannot be printed on what is asked."""
    if form == SVG:
        return drawings.svg(drawings.heading_strips(panel)).encode()
    if form == PDF:
        _check_sheets(sheets_of(panel.pleats, panel.units, asked.sheet), "sheet", "print it on a roll")
        return _printed(tape(panel.pleats, _pins(panel), panel.side, [panel.style], panel.units, asked.sheet))
    return ticket.html(ticket.panel_ticket(panel), _page(asked.sheet)).encode()


def _pins(panel: FlatPaper) -> Sequence[HangingPoint]:
    return [] if panel.pleats.layout == "points" else panel.pleats.hanging_points


def _job_tape(reply: EstimateReply, windows: Sequence[EstimatedWindow], asked: PaperAsked) -> bytes:
    panels = [
        (window, panel)
        for window in windows
        for panel in _chosen(window.panels, asked.panel, "panel", "this window has panels 1 to")
    ]
    count = sum(sheets_of(panel.pleats, reply.units, asked.sheet) for _, panel in panels)
    _check_sheets(count, "window", _ONE_BY_ONE)
    sheets = [
        sheet
        for window, panel in panels
        for sheet in tape(
            panel.pleats,
            panel.pins.pins,
            panel.side,
            [clean(each) for each in (reply.job or "", window.label, window.style) if each],
            reply.units,
            asked.sheet,
        )
    ]
    return _printed(sheets)


def _printed(sheets: Sequence[drawings.Drawing]) -> bytes:
    from pleatwright.paper.pdf import pages

    return pages("Marking tape", sheets)


def _page(sheet: SheetName) -> PageSize:
    if sheet == "roll":
        raise Impossible(Fault(("sheet",), "a ticket is not printed on a roll: choose a4 or letter", "roll"))
    return sheet


def _chosen(among: Sequence[Each], number: int | None, name: str, there_are: str) -> Sequence[Each]:
    """Return the one of that number, or all of them for None. Raises Impossible when there is none of that number."""
    if number is None:
        return among
    if number > len(among):
        detail = f"{there_are} {len(among)}" if among else "there is none here: leave this out"
        raise Impossible(Fault((name,), detail, str(number)))
    return among[number - 1 : number]


def _check_sheets(count: int, name: str, remedy: str) -> None:
    if count > MOST_SHEETS:
        detail = f"this tape would take {count} sheets; there may be {MOST_SHEETS}: {remedy}"
        raise Impossible(Fault((name,), detail))
