"""Writes a bench ticket as PDF, without a browser."""

from collections.abc import Sequence
from itertools import zip_longest
from typing import Final

from fpdf import FPDF
from fpdf.enums import Align, MethodReturnValue, TableBordersLayout, XPos, YPos
from fpdf.fonts import FontFace

from pleatwright.paper.drawings import Drawing, parted
from pleatwright.paper.drawings.shapes import FILLS, INKS, Fill
from pleatwright.paper.drawings.sheet import TALLEST, bare
from pleatwright.paper.pdf.drawn import put
from pleatwright.paper.pdf.opening import PAGES, POINTS, SANS, SERIF, opened, prepare
from pleatwright.paper.ticket.html import PageSize
from pleatwright.paper.ticket.model import Blanks, Block, Facts, Notes, Section, Table, Ticket, Ticks

_SIZES: Final[dict[PageSize, tuple[float, float]]] = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
_MARGIN: Final = 12.0
_TEXT: Final = 9.0
"""Points of ordinary text."""
_LINE: Final = 4.0
_HEAD: Final = 18.0
_FOOT: Final = 14.0
_BOX: Final = 3.0
_RULE: Final = 0.2
_TO_TICK: Final = "\u2610"


def pdf(ticket: Ticket, page: PageSize) -> bytes:
    """Return the ticket as a PDF, for one size of paper."""
    sheets = _Sheets(ticket, page)
    for number, section in enumerate(ticket.sections):
        sheets.section(section, first=number == 0)
    return bytes(sheets.output())


class _Sheets(FPDF):
    """The sheets of one ticket: fpdf2 puts head and foot on each."""

    def __init__(self, ticket: Ticket, page: PageSize) -> None:
        super().__init__(unit="mm", format=_SIZES[page])
        self.ticket = ticket
        self.running = ""
        opened(self, ticket.title)
        self.set_margins(_MARGIN, _HEAD, _MARGIN)
        self.set_auto_page_break(True, _FOOT)

    def header(self) -> None:
        """Put the names at the head of a sheet, and a line of stitches below them."""
        half = self.epw / 2
        for text, left, align in (
            (self.ticket.title, _MARGIN, Align.L),
            (self.running, _MARGIN + half, Align.R),
        ):
            self.set_xy(left, 8.0)
            self._words(half, self._shortened(text, half - 4), _TEXT, align=align)
        self.set_dash_pattern(1.1, 0.8)
        self._line(13.5)
        self.set_dash_pattern()
        self.set_y(_HEAD)

    def footer(self) -> None:
        """Put at the foot of a sheet what the ticket was made with, and its number."""
        self.set_xy(_MARGIN, self.h - 10.0)
        self._words(self.epw - 20, self._shortened(self.ticket.stamp, self.epw - 24), 7.0)
        self.set_xy(self.w - _MARGIN - 20, self.h - 10.0)
        self.set_text_shaping(False)
        self.set_font(SANS, "", 8.0)
        self.cell(20, _LINE, f"{self.page_no()} / {PAGES}", align=Align.R)

    def section(self, section: Section, *, first: bool) -> None:
        """Put one section on new sheets."""
        self.running = section.name
        self.add_page(orientation="landscape" if section.lying else "portrait")
        if first:
            self._words(self.epw, self.ticket.title, 17.0, family=SERIF)
        self._words(self.epw, section.name, 15.0, family=SERIF)
        self._words(self.epw, section.summary, _TEXT)
        self.ln(2.0)
        for block in section.blocks:
            self._block(block)
        drawings = [part for drawing in section.drawings for part in parted(drawing, TALLEST)]
        if drawings and not section.lying:
            self.add_page(orientation="landscape")
        for drawing in drawings:
            self._drawing(drawing)

    def _drawing(self, drawing: Drawing) -> None:
        left, top, width, height = bare(drawing)
        times = min(self.epw / width, (self.h - _HEAD - _FOOT) / height)
        if self.y + times * height > self.h - _FOOT + 0.01:
            self.add_page(orientation="landscape")
        start = self.y
        at = _MARGIN + (self.epw - times * width) / 2
        self.set_auto_page_break(False)
        put(self, drawing.shapes, at - times * left, start - times * top, times)
        self.set_auto_page_break(True, _FOOT)
        self.set_xy(_MARGIN, start + times * height + 3.0)

    def _block(self, block: Block) -> None:
        if self.y + 4 * _LINE > self.h - _FOOT:
            self.add_page(same=True)
        match block:
            case Notes():
                self._notes(block)
            case Facts():
                self._caption(block.caption)
                self._facts(block)
            case Ticks():
                self._caption(block.caption)
                self._ticks(block)
            case Table():
                self._caption(block.caption)
                head = ["", *block.head] if block.ticked else list(block.head)
                rows = [[_TO_TICK, *row] if block.ticked else list(row) for row in block.rows]
                wide = {number + block.ticked for number in block.wide or range(len(block.head))}
                self._table(head, rows, self._widths(head, rows, wide))
            case Blanks():
                self._caption(block.caption)
                pairs = zip_longest(block.rows[::2], block.rows[1::2], fillvalue=("", ""))
                rows = [[*first, "", *second, ""] for first, second in pairs]
                self._table(["size", "planned", "measured"] * 2, rows, [3, 2, 4, 3, 2, 4])
        self.ln(2.5)

    def _notes(self, block: Notes) -> None:
        lines = [f"- {line}" for line in block.lines]
        inset = 2.5 if block.urgent else 0.0
        tall = sum(self._tall(line, self.epw - 2 * inset) for line in lines) + _LINE + 2 * inset
        if block.urgent and self.y + tall > self.h - _FOOT and tall < self.h - _HEAD - _FOOT:
            self.add_page(same=True)
        start, sheet = self.y, self.page_no()
        self.set_xy(_MARGIN + inset, start + inset)
        self._words(self.epw - 2 * inset, block.caption, _TEXT, style="B")
        for line in lines:
            self.set_x(_MARGIN + inset)
            self._words(self.epw - 2 * inset, line, _TEXT)
        if block.urgent and self.page_no() == sheet:
            self.set_draw_color(INKS["ink"])
            self.set_line_width(0.5)
            self.rect(_MARGIN, start, self.epw, self.y + inset - start)
            self.set_y(self.y + inset)

    def _facts(self, block: Facts) -> None:
        across = block.across
        lines = [block.rows[at : at + across] for at in range(0, len(block.rows), across)]
        rows = [[text for pair in line for text in pair] for line in lines]
        rows[-1] += [""] * (2 * across - len(rows[-1]))
        widths = [4, 7] if across == 2 else [5, 3]
        self._grid(rows, widths * across, TableBordersLayout.HORIZONTAL_LINES)

    def _ticks(self, block: Ticks) -> None:
        half = self.epw / 2
        for pair in zip_longest(block.lines[::2], block.lines[1::2], fillvalue=""):
            if self.y + _LINE + 1 > self.h - _FOOT:
                self.add_page(same=True)
            top = self.y
            for column, text in enumerate(each for each in pair if each):
                left = _MARGIN + column * half
                self._box(left, top + (_LINE - _BOX) / 2)
                self.set_xy(left + _BOX + 1.5, top)
                self._words(half - _BOX - 2, text, _TEXT)
            self.set_y(top + _LINE + 1.0)

    def _table(self, head: list[str], rows: list[list[str]], widths: Sequence[float]) -> None:
        self._grid([head, *rows], widths, TableBordersLayout.ALL, headed=True)

    def _grid(
        self,
        rows: list[list[str]],
        widths: Sequence[float],
        borders: TableBordersLayout,
        *,
        headed: bool = False,
    ) -> None:
        self.set_font(SANS, "", _TEXT)
        self.set_text_color(INKS["ink"])
        self.set_draw_color("#8a8377")
        self.set_line_width(_RULE)
        prepare(self, "".join(text for row in rows for text in row))
        heading = FontFace(emphasis="BOLD", fill_color=FILLS[Fill.CLOTH])
        with self.table(
            width=self.epw,
            col_widths=tuple(widths),
            line_height=_LINE,
            padding=(0.3, 1.2),
            borders_layout=borders,
            first_row_as_headings=headed,
            headings_style=heading,
            text_align=Align.L,
            v_align="TOP",
        ) as table:
            for line in rows:
                row = table.row()
                for text in line:
                    row.cell(text)

    def _widths(self, head: Sequence[str], rows: Sequence[Sequence[str]], wide: set[int]) -> list[float]:
        """Return how wide columns are: what their longest text takes, and the rest of the room to the wide ones."""
        self.set_font(SANS, "B", _TEXT)
        own = [max(self.get_string_width(text) for text in column) + 3.2 for column in zip(head, *rows, strict=True)]
        own = [max(width, 6.5) for width in own]
        room = self.epw - sum(width for number, width in enumerate(own) if number not in wide)
        if room < 20.0 * len(wide):
            return own
        whole = sum(min(own[number], room) for number in wide)
        return [room * min(width, room) / whole if number in wide else width for number, width in enumerate(own)]

    def _caption(self, text: str) -> None:
        self._words(self.epw, text, _TEXT, style="B")
        self.ln(0.5)

    def _words(
        self, width: float, text: str, size: float, *, family: str = SANS, style: str = "", align: Align = Align.L
    ) -> None:
        self._write(text, size, family, style)
        line = _LINE if size <= _TEXT else size / POINTS * 1.2
        self.multi_cell(width, line, text, align=align, new_x=XPos.LMARGIN, new_y=YPos.NEXT)

    def _write(self, text: str, size: float, family: str = SANS, style: str = "") -> None:
        self.set_font(family, style, size)
        self.set_text_color(INKS["ink"])
        prepare(self, text)

    def _tall(self, text: str, width: float) -> float:
        self._write(text, _TEXT)
        found = self.multi_cell(width, _LINE, text, dry_run=True, output=MethodReturnValue.HEIGHT)
        assert isinstance(found, float)
        return found

    def _shortened(self, text: str, width: float) -> str:
        self._write(text, _TEXT)
        if self.get_string_width(text) <= width:
            return text
        while text and self.get_string_width(f"{text}…") > width:
            text = text[:-1]
        return f"{text.rstrip()}…"

    def _box(self, left: float, top: float) -> None:
        self.set_draw_color(INKS["ink"])
        self.set_line_width(0.3)
        self.rect(left, top, _BOX, _BOX)

    def _line(self, y: float) -> None:
        self.set_draw_color(INKS["ink"])
        self.set_line_width(0.35)
        self.line(_MARGIN, y, self.w - _MARGIN, y)
