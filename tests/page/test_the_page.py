"""The page itself: who can use it, what it may reach, and how it bears a service that refuses."""

import hashlib
import os
from pathlib import Path

import pytest

from .bench import RATES, WINDOW

SIZES = [(1280, 900), (820, 1180), (390, 844)]


def filled(bench):
    """Have everything on the page there is: two windows, problems gone, all that is shut opened."""
    bench.window()
    bench.page.get_by_role("button", name="Add a window").click()
    bench.type(rod_width="60", drop="50")
    bench.settle()
    bench.page.locator("details").evaluate_all("all => all.forEach(each => (each.open = true))")
    bench.page.get_by_role("button", name="Compare ways").click()
    bench.page.get_by_role("button", name="Figure the marks again").click()
    bench.settle()


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(("width", "height"), SIZES)
def test_axe_finds_nothing(opened, width, height, scheme):
    axe = Path(os.environ["PLEATWRIGHT_AXE"]).read_text("utf-8")

    def violations(bench):
        bench.page.evaluate(axe)
        found = bench.page.evaluate("axe.run({resultTypes: ['violations']})")["violations"]
        return [(each["id"], node["target"], node["failureSummary"]) for each in found for node in each["nodes"]]

    with opened(viewport={"width": width, "height": height}, color_scheme=scheme) as bench:
        assert violations(bench) == []
        filled(bench)
        assert violations(bench) == []
        bench.field("Fullness").fill("250%")
        bench.settle()
        assert violations(bench) == []


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_nothing_runs_off_the_page_and_everything_can_be_touched(opened, width, height):
    with opened(viewport={"width": width, "height": height}) as bench:
        filled(bench)
        assert bench.page.evaluate("document.documentElement.scrollWidth") <= width
        small = bench.page.locator(
            "button, select, summary, textarea, input:not([type=checkbox]), .switch"
        ).evaluate_all(
            "all => all.filter(each => each.checkVisibility() && !each.matches('.link') "
            "&& each.getBoundingClientRect().height < 44).map(each => each.outerHTML.slice(0, 80))"
        )
        assert small == []


def test_what_has_the_focus_is_seen(bench):
    bench.window()
    bench.page.locator("summary", has_text="Rod:").focus()
    for _ in range(12):
        bench.page.keyboard.press("Tab")
        outline = bench.page.evaluate("getComputedStyle(document.activeElement).outlineWidth")
        assert outline == "3px"


def test_no_motion_for_who_wants_none(opened):
    with opened(reduced_motion="reduce") as bench:
        moving = bench.page.locator("*").evaluate_all(
            "all => all.filter(each => parseFloat(getComputedStyle(each).transitionDuration) > 0).length"
        )
        assert moving == 0


def test_the_policy_lets_no_script_or_style_in(bench):
    bench.page.evaluate(
        """() => {
            window.blocked = [];
            document.addEventListener('securitypolicyviolation', event => blocked.push(event.effectiveDirective));
            const script = document.createElement('script');
            script.textContent = 'window.ran = true';
            const style = document.createElement('style');
            style.textContent = 'body { color: red }';
            document.head.append(script, style);
            fetch('http://127.0.0.2:9/').catch(() => {});
        }"""
    )
    for _ in range(100):
        if bench.page.evaluate("blocked.length") >= 3:
            break
        bench.page.wait_for_timeout(50)
    assert bench.page.evaluate("window.ran") is None
    assert {"script-src-elem", "style-src-elem", "connect-src"} <= set(bench.page.evaluate("blocked"))
    assert len(bench.wrong) >= 3
    bench.wrong.clear()


def test_a_key_is_asked_for_and_kept_in_memory_alone(opened, start):
    key = "a-key-that-only-this-test-holds"
    digest = hashlib.sha256(key.encode()).hexdigest()
    with (
        start(rates=RATES, log="off", customer_keys=f"larkfield:{digest}") as running,
        opened(f"http://127.0.0.1:{running.port}") as bench,
    ):
        bench.window()
        bench.page.get_by_label("Key", exact=True).fill(key)
        bench.page.get_by_label("Key", exact=True).press("Enter")
        bench.settle()
        reply = bench.answer(
            "estimate", {"units": "in", "windows": [WINDOW], "fabrics": {"Linen": {"width": "54"}}}, key=key
        )
        assert bench.tally()["Order"] == reply["materials"]["fabrics"][0]["quantity"]
        assert not bench.page.get_by_label("Key", exact=True).is_visible()
        assert "Usual fullness" in bench.page.locator("#window").inner_text()
        kept = bench.page.evaluate(
            "JSON.stringify([{...sessionStorage}, {...localStorage}, document.cookie, location.href])"
        )
        assert key not in kept


def test_what_is_asked_too_often_is_asked_again(opened, start):
    with (
        start(rates=RATES, log="off", requests_per_minute=4) as running,
        opened(f"http://127.0.0.1:{running.port}") as bench,
    ):
        bench.page.clock.install()
        bench.type(drop="84", cloth_width="54")
        for width in ("60", "61", "62", "63"):
            bench.field("Rod width").fill(width)
            bench.page.clock.run_for(400)
            bench.page.wait_for_load_state("networkidle")
        assert "wait" in bench.problems()
        assert bench.field("Rod width").input_value() == "63"
        # The wait is a minute at the most, from when the last reply came.
        with bench.page.expect_request("**/v1/estimate"):
            bench.page.clock.run_for(70_000)


def test_a_service_that_is_gone_loses_nothing(bench):
    bench.window()
    bench.page.context.set_offline(True)
    bench.field("Rod width").fill("120")
    bench.page.wait_for_timeout(600)
    assert "does not answer" in bench.problems()
    bench.page.context.set_offline(False)
    assert bench.field("Rod width").input_value() == "120"
    bench.field("Rod width").fill("121")
    bench.settle()
    assert bench.problems() == ""
    bench.wrong.clear()


def test_the_bench_ticket_is_opened(bench):
    bench.window()
    bench.open("Print")
    with (
        bench.page.context.expect_page() as made,
        bench.page.expect_request(lambda each: "sheet=" in each.url) as asked,
    ):
        bench.page.get_by_role("button", name="Open the bench ticket").click()
    assert made.value.url.startswith("blob:")
    assert "ticket" in made.value.title().lower()
    assert asked.value.url == f"{bench.address}/v1/estimate?sheet=a4"
    assert asked.value.headers["accept"].startswith("text/html")
    assert asked.value.post_data_json["windows"][0]["rod"]["width"] == "96"


@pytest.mark.parametrize(
    ("named", "query", "file"),
    [
        ("Ticket as PDF", "paper=ticket&sheet=a4", "bench-ticket.pdf"),
        ("Marking tape as PDF", "paper=tape&sheet=roll", "marking-tape.pdf"),
    ],
)
def test_papers_to_print_are_saved(bench, named, query, file):
    bench.window()
    bench.open("Print")
    bench.field("Tape on").select_option("Roll")
    with bench.page.expect_download() as made, bench.page.expect_request(lambda each: "sheet=" in each.url) as asked:
        bench.page.get_by_role("button", name=named).click()
    assert made.value.suggested_filename == file
    assert made.value.path().read_bytes().startswith(b"%PDF-")
    assert asked.value.url == f"{bench.address}/v1/estimate?{query}"
    assert asked.value.headers["accept"].startswith("application/pdf")


def test_no_paper_is_made_of_figures_that_no_longer_hold(bench):
    bench.window()
    bench.open("Print")
    bench.field("Rod width").fill("wide")
    bench.page.get_by_role("button", name="Open the bench ticket").click()
    bench.settle()
    assert "nothing to print" in bench.page.locator("#print").inner_text()
    assert bench.page.locator("#old").is_visible()


def test_costs_are_shown_to_who_has_the_workrooms_key(opened, start):
    key = "a-key-that-only-this-test-holds"
    digest = hashlib.sha256(key.encode()).hexdigest()
    with (
        start(rates=RATES, log="off", workroom_keys=digest) as running,
        opened(f"http://127.0.0.1:{running.port}") as bench,
    ):
        bench.type(rod_width="96", drop="84", cloth="Plain linen, flax")
        bench.open("The whole job")
        bench.field("Show how each figure was reached").check()
        bench.field("Fitted by the workroom").check()
        bench.settle()
        assert bench.problems() == ""
        bench.field("Priced for").select_option("Workroom")
        bench.settle()
        assert bench.page.locator("#key").is_visible()
        bench.page.get_by_label("Key", exact=True).fill("another")
        bench.page.get_by_label("Key", exact=True).press("Enter")
        bench.settle()
        assert bench.page.locator("#key").is_visible()
        bench.page.get_by_label("Key", exact=True).fill(key)
        bench.page.get_by_role("button", name="Use this key").click()
        bench.settle()
        job = bench.stored()
        assert job["pricing"] == {"fitting": True, "view": "workroom"}
        reply = bench.answer("estimate", job, key=key)
        bench.open("For the workroom")
        assert bench.row("Margin", "Cost")[1] == f"{reply['workroom']['margin_percent']} percent"
        bench.open("How each figure was reached")
        steps = bench.page.get_by_role("table", name="Worksheet").locator("tbody tr")
        assert steps.count() == len(reply["worksheet"]) > 0
