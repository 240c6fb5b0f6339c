"""The bench page in a browser: the one that PLEATWRIGHT_CHROMIUM names, and without it pytest leaves this alone.

PLEATWRIGHT_AXE names axe-core's axe.min.js.
"""

import os
from contextlib import contextmanager
from urllib.parse import urlsplit

import pytest

from .bench import RATES, Bench

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
def opened(browser, service):
    """Return what opens the bench page; when it is closed, nothing may have gone wrong that the page does not show."""

    @contextmanager
    def opening(address=service, **how):
        context = browser.new_context(**{"viewport": {"width": 1280, "height": 900}, "locale": "en-GB"} | how)
        bench = Bench(context.new_page(), address)
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
