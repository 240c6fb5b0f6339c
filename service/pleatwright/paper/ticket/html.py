"""Writes a bench ticket as one HTML document, which prints on A4 and on Letter, and reads well on a screen.

The text goes through the standard library's XML writer, so that no name can become markup. There is no script in it,
and its one style is always the same, so that a page with a strict policy can allow it by `STYLE_HASH`.
"""

import base64
import hashlib
from collections.abc import Sequence
from importlib.resources import files
from itertools import zip_longest
from typing import Final, Literal
from xml.etree import ElementTree as ET

from pleatwright.paper.drawings import Drawing, parted, svg_element
from pleatwright.paper.drawings.sheet import TALLEST, bare
from pleatwright.paper.ticket.model import Blanks, Block, Facts, Notes, Section, Table, Ticket, Ticks

PageSize = Literal["a4", "letter"]
STYLE: Final = (files("pleatwright.paper.ticket") / "ticket.css").read_text(encoding="utf-8")
STYLE_HASH: Final = f"sha256-{base64.b64encode(hashlib.sha256(STYLE.encode()).digest()).decode()}"
"""As a Content-Security-Policy names the style."""


def html(ticket: Ticket, page: PageSize) -> str:
    """Return the ticket as a document, for one size of paper."""
    root = ET.Element("html", {"lang": "en"})
    head = ET.SubElement(root, "head")
    ET.SubElement(head, "meta", {"charset": "utf-8"})
    ET.SubElement(head, "meta", {"name": "viewport", "content": "width=device-width, initial-scale=1"})
    _text(head, "title", ticket.title)
    _text(head, "style", STYLE)
    body = ET.SubElement(root, "body", {"class": page})
    main = ET.SubElement(body, "main")
    for number, section in enumerate(ticket.sections):
        cell = _sheet(main, ticket, section, "lying" if section.lying else "upright")
        _head(cell, ticket, section, first=number == 0)
        for block in section.blocks:
            _block(cell, block)
        if section.drawings:
            _drawings(cell if section.lying else _sheet(main, ticket, section, "lying"), section.drawings, number)
    return "<!doctype html>\n" + ET.tostring(root, encoding="unicode", method="html") + "\n"


def _text(parent: ET.Element, tag: str, text: str, **attributes: str) -> ET.Element:
    found = ET.SubElement(parent, tag, {key.rstrip("_").replace("_", "-"): value for key, value in attributes.items()})
    found.text = text
    return found


def _head(cell: ET.Element, ticket: Ticket, section: Section, *, first: bool) -> None:
    if first:
        _text(cell, "h1", ticket.title, dir="auto")
    _text(cell, "h2", section.name, dir="auto")
    _text(cell, "p", section.summary, class_="summary", dir="auto")


def _drawings(cell: ET.Element, drawings: Sequence[Drawing], number: int) -> None:
    parts = [part for drawing in drawings for part in parted(drawing, TALLEST)]
    for place, part in enumerate(parts):
        figure = ET.SubElement(cell, "figure", {"class": "drawing"})
        drawn = svg_element(part, f"{number}-{place}")
        # The white about a drawing is the sheet's here.
        left, top, width, height = bare(part)
        drawn.set("viewBox", f"{left:g} {top:g} {width:g} {height:g}")
        figure.append(drawn)


def _sheet(main: ET.Element, ticket: Ticket, section: Section, way: str) -> ET.Element:
    """Return where a section's content goes: in a table, whose head and foot stand again on each sheet of paper."""
    table = ET.SubElement(
        ET.SubElement(main, "section", {"class": way}), "table", {"class": "sheet", "role": "presentation"}
    )
    running = ET.SubElement(_cell(table, "thead"), "div", {"class": "running", "aria-hidden": "true"})
    _text(running, "span", ticket.title, dir="auto")
    _text(running, "span", section.name, dir="auto")
    foot = _cell(table, "tfoot")
    content = _cell(table, "tbody")
    _text(foot, "div", ticket.stamp, class_="stamp", aria_hidden="true")
    return content


def _cell(table: ET.Element, tag: str) -> ET.Element:
    return ET.SubElement(ET.SubElement(ET.SubElement(table, tag), "tr"), "td")


def _block(parent: ET.Element, block: Block) -> None:
    urgent = isinstance(block, Notes) and block.urgent
    own = ET.SubElement(parent, "div", {"class": "block urgent" if urgent else "block"})
    match block:
        case Facts():
            _text(own, "h3", block.caption, dir="auto")
            terms = ET.SubElement(own, "dl", {"class": f"facts by-{block.across}"})
            for word, value in block.rows:
                _text(terms, "dt", word, dir="auto")
                _text(terms, "dd", value, dir="auto")
        case Notes():
            _text(own, "h3", block.caption)
            lines = ET.SubElement(own, "ul", {"class": "notes"})
            for line in block.lines:
                _text(lines, "li", line, dir="auto")
        case Ticks():
            _text(own, "h3", block.caption)
            lines = ET.SubElement(own, "ul", {"class": "ticks"})
            for line in block.lines:
                label = ET.SubElement(ET.SubElement(lines, "li"), "label")
                ET.SubElement(label, "input", {"type": "checkbox"}).tail = f" {line}"
        case Table():
            _table(own, block)
        case Blanks():
            _blanks(own, block)


def _table(parent: ET.Element, block: Table) -> None:
    table = ET.SubElement(parent, "table", {"class": "figures"})
    _text(table, "caption", block.caption, dir="auto")
    head = ET.SubElement(ET.SubElement(table, "thead"), "tr")
    if block.ticked:
        _text(head, "td", "", class_="box")
    for number, word in enumerate(block.head):
        wide = {"class": "wide"} if number in block.wide else {}
        _text(head, "th" if word else "td", word, **({"scope": "col"} if word else {}) | wide)
    body = ET.SubElement(table, "tbody")
    for row in block.rows:
        line = ET.SubElement(body, "tr")
        if block.ticked:
            name = next(cell for cell in row if cell)
            box = {"type": "checkbox", "aria-label": f"{name} done"}
            ET.SubElement(ET.SubElement(line, "td", {"class": "box"}), "input", box)
        for number, cell in enumerate(row):
            wide = {"class": "wide"} if number in block.wide else {}
            _text(line, "td", cell, dir="auto", **wide)


def _blanks(parent: ET.Element, block: Blanks) -> None:
    table = ET.SubElement(parent, "table", {"class": "figures written"})
    _text(table, "caption", block.caption, dir="auto")
    head = ET.SubElement(ET.SubElement(table, "thead"), "tr")
    for word in ("size", "planned", "measured") * 2:
        _text(head, "th", word, scope="col")
    body = ET.SubElement(table, "tbody")
    for first, second in zip_longest(block.rows[::2], block.rows[1::2], fillvalue=("", "")):
        line = ET.SubElement(body, "tr")
        for cell in (*first, "", *second, ""):
            _text(line, "td", cell)
