"""The papers as a browser prints them: typed, opened, printed to PDF and read back."""

import io
import json
import re
from fractions import Fraction

import pdfplumber
import pytest

from .bench import EXAMPLES, post

SIZES = {"a4": (595, 842), "letter": (612, 792)}
# Points kept free at a sheet's edges: 10 mm above and below, where the page's number stands, and 12 mm beside.
EDGE = 22


def three_windows():
    """A pair, a single panel on eyelets and a gathered pair, with names that are hard to print."""
    job = json.loads((EXAMPLES / "estimate.json").read_bytes())
    [bay] = job["windows"]
    plain = {key: bay[key] for key in ("fabric", "rod")} | {"hang": {"drop": "84"}}
    rod = {"width": "60", "draw": "one-way-left"}
    names = ("South bay", "מסדרון", "W" * 80)
    others = [plain | {"heading": {"style": "eyelet"}, "rod": rod}, plain | {"heading": {"style": "pencil"}}]
    job["windows"] = [each | {"label": name} for each, name in zip([bay, *others], names, strict=True)]
    return job


def text_of(value):
    """Inches as a maker writes them: to 1/64 where that is exact, else to 1/16."""
    parts = 64 if (Fraction(repr(value)) * 64).denominator == 1 else 16
    whole, over = divmod(round(Fraction(repr(value)) * parts), parts)
    return " ".join(filter(None, [str(whole) if whole or not over else "", str(Fraction(over, parts)) if over else ""]))


@pytest.fixture
def printed(browser, service):
    """Return a ticket of a job as the browser prints it, and what the service says of the job."""

    def printing(job, sheet):
        page = browser.new_page()
        page.set_content(post(f"{service}/v1/estimate?sheet={sheet}", job, accept="text/html").decode())
        data = page.pdf(prefer_css_page_size=True, print_background=True)
        page.close()
        return pdfplumber.open(io.BytesIO(data)), json.loads(post(f"{service}/v1/estimate", job))

    return printing


@pytest.mark.parametrize("sheet", ["a4", "letter"])
def test_a_ticket_of_three_windows_prints_cleanly(printed, sheet):
    document, reply = printed(three_windows(), sheet)
    with document:
        texts = []
        for number, page in enumerate(document.pages, 1):
            assert tuple(sorted(map(round, (page.width, page.height)))) == SIZES[sheet]
            texts.append(page.extract_text())
            assert f"{number} / {len(document.pages)}" in texts[-1]
            assert f"Made with pleatwright {reply['made_with']['pleatwright']}" in texts[-1]
            for letter in page.chars:
                assert EDGE < letter["x0"] < letter["x1"] < page.width - EDGE, (number, letter["text"])
                assert EDGE < letter["top"] < letter["bottom"] < page.height - EDGE + 5, (number, letter["text"])
        upright = [at for at, page in enumerate(document.pages) if page.height > page.width]
        firsts = [next(at for at in upright if f"Window {number} of 3" in texts[at]) for number in (1, 2, 3)]
        assert firsts == sorted(set(firsts))
        for number, (window, first) in enumerate(zip(reply["windows"], firsts, strict=True), 1):
            own = "\n".join(text for text in texts[first:] if f"Window {number} of 3" in text)
            for panel in window["panels"]:
                for point in panel["pleats"]["hanging_points"]:
                    assert re.search(rf"(?<![\d/]){re.escape(text_of(point['flat']))}(?![\d/])", own), point
                assert text_of(panel["cut_length"]) in own
        # A usual window is one page of figures, and then its drawings.
        assert sum("Window 1 of 3" in texts[at] for at in upright) == 1


@pytest.mark.parametrize("sheet", ["a4", "letter"])
def test_no_table_is_clipped_however_wide_the_panel(printed, sheet):
    job = three_windows()
    job["windows"] = [job["windows"][0] | {"rod": {"width": "700"}}]
    document, reply = printed(job, sheet)
    with document:
        text = "\n".join(page.extract_text() for page in document.pages if page.height > page.width)
        pleats = reply["windows"][0]["panels"][0]["pleats"]
        assert pleats["pleat_count"] > 60
        for station in pleats["stations"]:
            if station["kind"] == "pleat":
                row = rf"pleat {station['number']} {text_of(station['start'])} {text_of(station['centre'])} "
                assert re.search(row + re.escape(text_of(station["end"])), text), station


def test_the_makers_whole_job(bench):
    """Type a window, see it, print its ticket to PDF, and read back what the service says."""
    bench.window()
    bench.open("Print")
    with bench.page.context.expect_page() as opening:
        bench.page.get_by_role("button", name="Open the bench ticket").click()
    ticket = opening.value
    ticket.wait_for_load_state()
    data = ticket.pdf(prefer_css_page_size=True)
    ticket.close()
    reply = bench.answer("estimate", bench.stored())
    with pdfplumber.open(io.BytesIO(data)) as document:
        text = "\n".join(page.extract_text() for page in document.pages)
    for panel in reply["windows"][0]["panels"]:
        assert f"{text_of(panel['flat_width'])} wide" in text
        for pin in panel["pins"]["pins"]:
            assert text_of(pin["flat"]) in text
    assert reply["materials"]["fabrics"][0]["quantity"] in text
