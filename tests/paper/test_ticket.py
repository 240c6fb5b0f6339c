"""The bench ticket, read back from its HTML and from its PDF, and held against the estimate that it is of."""

import base64
import hashlib
import io
import re
from decimal import Decimal
from fractions import Fraction
from html.parser import HTMLParser

import pdfplumber
import pytest

from pleatwright import workroom
from pleatwright.contract.papers import HTML, PDF, PaperAsked
from pleatwright.contract.requests import PinsRequest
from pleatwright.faults import Impossible
from pleatwright.paper.making import MOST_ROWS, job_paper, panel_paper
from pleatwright.paper.ticket import STYLE_HASH

VOID = {"meta", "input", "br", "hr", "img", "link"}
JOBS = ["estimate", "estimate-metric", "headings/estimate-rods", "estimate-two-layers"]
SIZES = {"a4": (595, 842), "letter": (612, 792)}


class Page(HTMLParser):
    """An HTML document as a list of what is in it: tables of cells, texts by their element, every attribute."""

    def __init__(self, source):
        super().__init__(convert_charrefs=True)
        self.tables, self.texts, self.tags, self.ids, self.open = [], {}, [], [], []
        self.attributes = []
        self.feed(source)
        self.close()
        assert not self.open, self.open

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        self.attributes += attrs
        self.ids += [value for name, value in attrs if name == "id"]
        if tag == "table":
            self.tables.append([])
        elif tag == "tr" and self.tables:
            self.tables[-1].append([])
        elif tag in ("td", "th") and self.tables:
            self.tables[-1][-1].append("")
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        if self.open:
            self.texts.setdefault(self.open[-1], []).append(data)
            if self.open[-1] in ("td", "th") and self.tables:
                self.tables[-1][-1][-1] += data

    @property
    def rows(self):
        return [row for table in self.tables for row in table]

    @property
    def words(self):
        return " ".join(text for texts in self.texts.values() for text in texts)


@pytest.fixture(scope="module")
def papers(headings):
    """Return a ticket of a reply in one form."""

    def make(reply, form, **asked):
        figures = {style: workroom.heading(style, headings, reply.units) for style in reply.made_with.styles}
        return job_paper(reply, figures, PaperAsked(paper="ticket", **asked), form)

    return make


def written(value, units):
    """A length as a maker writes it: trade fractions where it has one, else to 1/16 in or to 0.1 mm."""
    if units != "in":
        return f"{Decimal(repr(value)).quantize(Decimal('0.1' if units == 'mm' else '0.01')):f}".rstrip("0").rstrip(".")
    exact = Fraction(repr(value)) * 64
    parts = 64 if exact.denominator == 1 else 16
    whole, over = divmod(round(Fraction(repr(value)) * parts), parts)
    fraction = str(Fraction(over, parts)) if over else ""
    return " ".join(filter(None, [str(whole) if whole or not over else "", fraction]))


@pytest.mark.parametrize("job", JOBS)
def test_each_station_pin_seam_and_cut_is_in_the_html(job, estimated, papers):
    reply = estimated(job)
    page = Page(papers(reply, HTML).decode())
    units = reply.units
    rows = {tuple(row) for row in page.rows}
    for window in reply.windows:
        assert window.label in page.words
        for panel in window.panels:
            if panel.pleats.layout == "pleats":
                check_pleats(rows, panel, units)
            else:
                check_points(rows, panel, units)
            for number, seam in enumerate(panel.seams, 1):
                assert f"seam {number}" in page.texts["dt"]
                assert any(text.startswith(f"{written(seam.at, units)}, ") for text in page.texts["dd"])
            wide, long = written(panel.finished_width, units), written(panel.finished_length, units)
            assert f"{wide} wide, {long} long" in page.texts["dd"]
        assert {written(height.height, units) for height in window.hang.heights} <= set(page.texts["dd"])
        assert {caution.detail for caution in window.cautions} <= set(page.texts["li"])
    for fabric in reply.materials.fabrics:
        assert fabric.quantity in page.words
        for cut in fabric.sequence:
            wanted = (f"cut {cut.cut}", *(written(value, units) for value in (cut.start, cut.end)))
            assert any(row[1:4] == wanted for row in rows), cut
    assert {caution.detail for caution in reply.cautions} <= set(page.texts["li"])
    assert f"pleatwright {reply.made_with.pleatwright}" in page.words


def check_pleats(rows, panel, units):
    pins = {}
    for station in panel.pleats.stations:
        if station.kind == "space":
            continue
        name = f"{station.kind} {station.number}" if station.number else station.kind
        centre = written(station.centre, units) if station.centre else ""
        ends = (name, written(station.start, units), centre, written(station.end, units))
        row = next(row for row in rows if len(row) == 10 and row[1:5] == ends)
        for number, at, finished in zip(*(cell.split(", ") for cell in row[7:10]), strict=True):
            if number:
                pins[int(number)] = (at, finished)
    assert pins == {
        number: (written(pin.flat, units), written(pin.finished, units))
        for number, pin in enumerate(panel.pins.pins, 1)
    }


def check_points(rows, panel, units):
    for point in panel.pleats.hanging_points:
        ends = (written(point.flat, units), written(point.finished, units))
        assert any(row[2:] == ends and row[1].endswith(f" {point.number}") for row in rows), point


@pytest.mark.parametrize("job", JOBS)
def test_the_drawings_of_each_window_are_in_the_html_and_every_name_in_it_is_one_element(job, estimated, papers):
    reply = estimated(job)
    page = Page(papers(reply, HTML).decode())
    panels = sum(len(window.panels) for window in reply.windows)
    titles = [text.partition(".")[0] for text in page.texts["title"]]
    assert sum(title in ("Left panel, flat", "Right panel, flat") for title in titles) >= panels
    assert sum(title in ("Left panel, finished", "Right panel, finished") for title in titles) == panels
    assert page.tags.count("svg") >= 2 * panels + 2 * len(reply.windows) + len(reply.materials.fabrics)
    assert len(page.ids) == len(set(page.ids))
    named = [value for name, value in page.attributes if name == "aria-labelledby"]
    assert {name for value in named for name in value.split()} == set(page.ids)


HOSTILE = "<img src=x onerror=alert(1)>\"'&amp;</style><script>alert(2)</script>"


def test_a_name_with_markup_is_a_name(estimated, papers, job):
    job["job"] = HOSTILE
    [window] = job["windows"]
    window["label"] = HOSTILE
    job["fabrics"][HOSTILE] = job["fabrics"].pop(window["fabric"])
    window["fabric"] = HOSTILE
    page = Page(papers(estimated(job), HTML).decode())
    assert {"img", "script"}.isdisjoint(page.tags)
    assert any(HOSTILE in text for text in page.texts["h2"])
    assert not [name for name, _ in page.attributes if name.startswith("on")]


def test_nothing_in_the_html_comes_from_elsewhere_and_its_style_is_the_one_that_is_named(estimated, papers):
    source = papers(estimated("estimate"), HTML).decode()
    page = Page(source)
    [style] = page.texts["style"]
    assert f"sha256-{base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()}" == STYLE_HASH
    assert not [value for name, value in page.attributes if name in ("src", "href", "style", "action")]
    assert "url(" not in style
    assert "@import" not in style


@pytest.mark.parametrize("sheet", ["a4", "letter"])
@pytest.mark.parametrize("job", JOBS)
def test_the_pdf_has_every_figure_within_its_pages_each_with_its_number(job, sheet, estimated, papers):
    reply = estimated(job)
    with pdfplumber.open(io.BytesIO(papers(reply, PDF, sheet=sheet))) as document:
        count = len(document.pages)
        texts = []
        for number, page in enumerate(document.pages, 1):
            assert tuple(sorted(map(round, (page.width, page.height)))) == SIZES[sheet]
            text = page.extract_text()
            texts.append(text)
            assert f"{number} / {count}" in text
            assert f"Made with pleatwright {reply.made_with.pleatwright}" in text
            # Printers do not print within some 5 mm of the edges; the numbers of drawings turned upright included.
            for letter in page.chars:
                assert 14 < letter["x0"] < letter["x1"] < page.width - 14, (number, letter["text"])
                assert 14 < letter["top"] < letter["bottom"] < page.height - 14, (number, letter["text"])
        upright = [page for page in document.pages if page.height > page.width]
        firsts = [
            next(text for text in texts if re.search(f"^Window {number} of {len(reply.windows)}: ", text, re.MULTILINE))
            for number in range(1, len(reply.windows) + 1)
        ]
        assert len(set(firsts)) == len(reply.windows), "each window begins on a page of its own"
        assert len(upright) <= 2 * len(reply.windows) + 2
        whole = "\n".join(texts)
        for window in reply.windows:
            for panel in window.panels:
                for point in panel.pins.pins:
                    assert re.search(rf"(?<![\d/]){re.escape(written(point.flat, reply.units))}(?![\d/])", whole)


def test_a_name_that_a_pdf_could_take_for_something_else_is_a_name(estimated, papers, job):
    job["job"] = "Bay {nb} of {page}"
    with pdfplumber.open(io.BytesIO(papers(estimated(job), PDF))) as document:
        assert all("Bay {nb} of {page}" in page.extract_text() for page in document.pages)
        assert f"1 / {len(document.pages)}" in document.pages[0].extract_text()


def test_one_window_can_be_printed_alone(estimated, papers):
    reply = estimated("estimate-metric")
    page = Page(papers(reply, HTML, window=2).decode())
    assert page.texts["h2"] == ["Window 2 of 2: Study"]
    with pytest.raises(Impossible, match="windows 1 to 2"):
        papers(reply, HTML, window=3)
    with pytest.raises(Impossible, match="not printed on a roll"):
        papers(reply, PDF, sheet="roll")


def test_a_ticket_that_would_never_end_is_refused(estimated, papers, job):
    [window] = job["windows"]
    job["windows"] = [
        window | {"label": f"Bay {number}", "make_up": {"width_count": 60}, "rod": window["rod"] | {"width": "2000"}}
        for number in range(6)
    ]
    with pytest.raises(Impossible, match=f"there may be {MOST_ROWS}: ask for one window"):
        papers(estimated(job), HTML)


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_flat_panel_has_a_ticket_with_its_pins(side, headings, request_reader, estimated):
    body = b"""{"units": "in", "heading": {"style": "three-fold-pinch"}, "flat_width": "127", "finished_width": "53",
      "overlap": "3", "return": "3 1/2", "seams": ["50 1/2", "103 1/2"], "pin": {"rise": "1 3/8"}}"""
    request = request_reader.read("pins", body)
    assert isinstance(request, PinsRequest)
    panel = workroom.pins_paper(request, headings, side)
    reply = workroom.pins(request, headings)
    page = Page(panel_paper(panel, PaperAsked(), HTML).decode())
    pins = [row for row in page.rows if len(row) == 10 and row[7].isdigit()]
    assert [(int(row[7]), row[8]) for row in pins] == [
        (number, written(pin.flat, "in")) for number, pin in enumerate(reply.pins, 1)
    ]
    assert f"{reply.pin_count}, {written(reply.pin_depth, 'in')} down from the top" in page.texts["dd"]
    other = "right" if side == "left" else "left"
    assert any(f"leading edge is at your {other}" in text for text in page.texts["h3"])
