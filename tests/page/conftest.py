"""The bench page in a browser: the one that PLEATWRIGHT_CHROMIUM names, and without it pytest leaves this alone.

PLEATWRIGHT_AXE names axe-core's axe.min.js.
"""

import os
from contextlib import contextmanager
from urllib.parse import parse_qs, urlsplit

import pytest

from pleatwright import workroom
from pleatwright.paper import drawings
from pleatwright.pricing.keeper import Keeper

from .bench import EXAMPLES, RATES, Bench, Refusal, post

collect_ignore_glob = [] if "PLEATWRIGHT_CHROMIUM" in os.environ else ["*.py"]


@pytest.fixture(scope="session")
def service(start):
    """The address of a service with the sample rate book."""
    with start(rates=RATES, log="off") as running:
        yield f"http://127.0.0.1:{running.port}"


@pytest.fixture(scope="session")
def browser():
    """The browser, without a window."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        running = playwright.chromium.launch(executable_path=os.environ["PLEATWRIGHT_CHROMIUM"])
        yield running
        running.close()


@pytest.fixture
def opened(browser, service, papers):
    """Return what opens the bench page; when it is closed, nothing may have gone wrong that the page does not show."""

    @contextmanager
    def opening(address=service, papers=papers, **how):
        context = browser.new_context(**{"viewport": {"width": 1280, "height": 900}, "locale": "en-GB"} | how)
        bench = Bench(context.new_page(), address)
        if papers:
            bench.page.route("**/v1/estimate?*", papers)
        bench.page.goto(address)
        bench.page.get_by_label("Rod width").wait_for()
        yield bench
        bench.settle()
        context.close()
        assert bench.wrong == []
        assert {urlsplit(each).netloc for each in bench.asked if not each.startswith(("blob:", "data:"))} == {
            urlsplit(address).netloc
        }

    return opening


@pytest.fixture
def bench(opened):
    """The bench page, open."""
    with opened() as page:
        yield page


@pytest.fixture(scope="session")
def papers(service, headings, request_reader):
    """Answers for papers that the service does not make yet; None as soon as it makes them itself."""
    job = (EXAMPLES / "estimate.json").read_bytes()
    try:
        post(f"{service}/v1/estimate?drawing=panel-flat&window=1&panel=1", job, accept="image/svg+xml")
    except Refusal as refusal:
        if refusal.status != 406:
            raise
    else:
        return None

    def answer(route):
        form = route.request.headers["accept"].partition(",")[0]
        query = {name: value for name, [value] in parse_qs(urlsplit(route.request.url).query).items()}
        if form == "image/svg+xml":
            reply = _worked_out(request_reader.read("estimate", route.request.post_data_buffer), headings)
            window = reply.windows[int(query["window"]) - 1]
            draw = drawings.panel_finished if query["drawing"] == "panel-finished" else drawings.panel_flat
            body = drawings.svg(draw(window, window.panels[int(query["panel"]) - 1], reply.units))
        else:
            body = "<!doctype html><title>Bench ticket</title>" if form == "text/html" else "%PDF-1.7"
        route.fulfill(status=200, content_type=form, body=body)

    return answer


def _worked_out(asked, headings):
    parts = workroom.estimate_in_parts(asked, headings, Keeper(RATES, workroom.book_faults).current())
    try:
        while True:
            next(parts)
    except StopIteration as end:
        return end.value
