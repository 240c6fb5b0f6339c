"""Work that takes long tells how far it is, in lines, and ends in the reply that it would have ended in anyhow."""

import asyncio
import gc
import json
import time
from pathlib import Path

import pytest
from litestar.testing import TestClient

from pleatwright import workroom
from pleatwright.contract.reading import RequestReader
from pleatwright.headings.host import find_headings
from pleatwright.web import parts
from pleatwright.web.app import create_app
from pleatwright.web.settings import Settings

EXAMPLES = Path(__file__).parents[2] / "openapi" / "examples"
LINES = "application/x-ndjson"


@pytest.fixture(scope="module")
def client():
    with TestClient(create_app(Settings(log="off"))) as found:
        yield found


def ask(client, name, body, accept=LINES):
    headers = {"Content-Type": "application/json", "Accept": accept}
    return client.post(f"/v1/{name}", content=body, headers=headers)


def lines_of(reply):
    assert reply.status_code == 200
    assert reply.headers["content-type"] == LINES
    assert reply.text.endswith("\n")
    return [json.loads(line) for line in reply.text.splitlines()]


@pytest.mark.parametrize("name", ["estimate", "compare", "repeat"])
def test_the_last_line_is_the_reply_and_those_before_say_how_far_it_is(client, name, monkeypatch):
    monkeypatch.setattr(parts, "TOLD_EVERY", 0.0)
    body = (EXAMPLES / f"{name}.json").read_bytes()
    *before, last = lines_of(ask(client, name, body))
    assert last == ask(client, name, body, "application/json").json()
    assert [set(line) for line in before] == [{"doing", "done", "of"}] * len(before)
    assert bool(before) == (name != "repeat")


def test_windows_are_counted(client, monkeypatch):
    monkeypatch.setattr(parts, "TOLD_EVERY", 0.0)
    body = json.loads((EXAMPLES / "estimate.json").read_bytes())
    [window] = body["windows"]
    body["windows"] = [window | {"label": f"Bay {number}"} for number in range(7)]
    *before, last = lines_of(ask(client, "estimate", json.dumps(body)))
    assert [(line["done"], line["of"]) for line in before if line["doing"] == "windows"] == [
        (number, 7) for number in range(1, 8)
    ]
    assert len(last["windows"]) == 7


def test_a_quick_job_is_not_told_in_many_words(client):
    body = json.loads((EXAMPLES / "estimate.json").read_bytes())
    body["windows"] *= 10
    assert len(lines_of(ask(client, "estimate", json.dumps(body)))) < 10


SHELF = {
    "units": "in",
    "cut_length": "111 3/4",
    "cuts": 6,
    "vertical_repeat": "25 1/4",
    "bolts": [{"label": "A", "length": "11 yd"}, {"label": "B", "length": "12 yd"}],
}


def test_one_long_part_is_said_to_go_on(client, monkeypatch):
    from pleatwright.workroom import cutting

    real = cutting.shelf_figures

    def slow(*given):
        time.sleep(0.35)
        return real(*given)

    monkeypatch.setattr(cutting, "shelf_figures", slow)
    monkeypatch.setattr(parts, "STILL_EVERY", 0.1)
    *before, last = lines_of(ask(client, "repeat", json.dumps(SHELF)))
    assert last["shelf"]["outcome"] == "proved"
    assert len(before) >= 3
    assert {line["doing"] for line in before} == {"cuts from the pieces on the shelf"}


def test_what_turns_out_impossible_is_a_line_that_is_a_problem(client):
    body = json.loads((EXAMPLES / "estimate.json").read_bytes())
    body["windows"][0]["fabric"] = "nothing known"
    last = lines_of(ask(client, "estimate", json.dumps(body)))[-1]
    assert (last["type"], last["status"]) == ("/problems/impossible", 422)
    assert last["errors"][0]["pointer"] == "/windows/0/fabric"


@pytest.mark.parametrize("name", ["estimate", "compare", "repeat"])
def test_what_is_not_understood_is_a_400_as_ever(client, name):
    reply = ask(client, name, b"{")
    assert reply.status_code == 400
    assert reply.headers["content-type"] == "application/problem+json"


def test_who_waits_for_nothing_long_is_told_of_the_forms_that_there_are(client):
    reply = ask(client, "pleats", (EXAMPLES / "pleats.json").read_bytes())
    assert reply.status_code == 406
    assert "application/pdf" in reply.json()["detail"]
    assert LINES not in reply.json()["detail"]


def test_others_are_served_between_the_parts_of_long_work():
    served = 0

    async def others():
        nonlocal served
        while True:
            served += 1
            await asyncio.sleep(0)

    def work():
        for _ in range(20):
            ends = time.monotonic() + parts.AT_A_STRETCH
            while time.monotonic() < ends:
                pass
            yield None
        return "done"

    async def both():
        serving = asyncio.create_task(others())
        found = await parts.done(work())
        serving.cancel()
        return found

    assert asyncio.run(both()) == "done"
    assert served >= 20


def test_a_large_job_gives_way_between_its_windows():
    """While it is read, worked out and told: no part of it is a fifth of the whole."""
    body = json.loads((EXAMPLES / "estimate.json").read_bytes())
    body["windows"] *= 40
    headings = find_headings()
    asked = RequestReader(headings.options).read("estimate", json.dumps(body).encode())
    work, times = workroom.estimate_in_parts(asked, headings), []
    gc.disable()
    try:
        began = time.thread_time()
        for _ in work:
            times.append(time.thread_time() - began)
            began = time.thread_time()
    finally:
        gc.enable()
    assert len(times) >= 4 * 40
    assert max(times) < sum(times) / 5
