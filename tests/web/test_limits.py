"""How often one customer or one address may ask, to the request; and processes that count together."""

import contextlib
import time

import pytest
from litestar.testing import TestClient

from pleatwright.web import limits
from pleatwright.web.app import create_app
from pleatwright.web.keys import digest_of
from pleatwright.web.settings import Settings

FIRST, SECOND, ALONE, WORKROOM = "first-key", "second-key", "key-alone", "workroom-key"
SETTINGS = {
    "requests_per_minute": 5,
    "customer_keys": (
        (digest_of(FIRST), "thornfield"),
        (digest_of(SECOND), "thornfield"),
        (digest_of(ALONE), digest_of(ALONE)),
    ),
    "workroom_keys": (digest_of(WORKROOM),),
    "origins": ("https://shop.example",),
}


@pytest.fixture
def serve(headings):
    """Return a function that gives a client of a new service."""
    with contextlib.ExitStack() as stack:
        yield lambda **settings: stack.enter_context(TestClient(create_app(Settings(**SETTINGS | settings), headings)))


def statuses(client, count, path="/v1/headings/goblet", key=FIRST):
    headers = {"Authorization": f"Bearer {key}"}
    return [client.get(path, headers=headers).status_code for _ in range(count)]


def test_as_many_as_are_allowed_are_answered_and_the_next_is_not(serve):
    client = serve()
    assert statuses(client, 5) == [200] * 5
    reply = client.get("/v1/headings/goblet", headers={"Authorization": f"Bearer {FIRST}"})
    assert reply.status_code == reply.json()["status"] == 429
    assert reply.headers["content-type"] == "application/problem+json"
    assert reply.json()["type"] == "/problems/too-many"
    assert 1 <= int(reply.headers["retry-after"]) <= 60
    assert reply.headers["retry-after"] in reply.json()["detail"]
    assert reply.headers["x-request-id"]
    assert reply.headers["x-content-type-options"] == "nosniff"


def test_what_is_left_is_told_with_each_reply(serve):
    client = serve()
    left = [client.get("/openapi.json").headers["ratelimit-remaining"] for _ in range(5)]
    assert left == ["4", "3", "2", "1", "0"]


def test_after_the_minute_there_are_as_many_again(serve, monkeypatch):
    client = serve()
    assert statuses(client, 6)[-1] == 429
    now = limits.RateLimitMiddleware.retrieve_cached_history.__globals__["time"]()
    for later, status in ((58, 429), (61, 200)):
        monkeypatch.setitem(
            limits.RateLimitMiddleware.retrieve_cached_history.__globals__, "time", lambda later=later: now + later
        )
        assert statuses(client, 1) == [status]


def test_keys_of_one_customer_count_together_and_those_of_others_do_not(serve):
    client = serve()
    assert statuses(client, 3) == [200] * 3
    assert statuses(client, 3, key=SECOND) == [200, 200, 429]
    assert statuses(client, 1) == [429]
    assert statuses(client, 1, key=ALONE) == [200]
    assert statuses(client, 1, key=WORKROOM) == [200]


def test_a_key_that_is_not_known_counts_for_its_address_and_is_no_way_round(serve):
    client = serve()
    answered = [status for guess in range(7) for status in statuses(client, 1, key=f"guess-{guess}")]
    assert answered == [401] * 5 + [429] * 2


def test_what_is_not_found_counts_as_well(serve):
    client = serve()
    assert statuses(client, 5, "/nothing") == [404] * 5
    assert statuses(client, 1) == [429]


@pytest.mark.parametrize("path", ["/health/live", "/health/ready", "/metrics"])
def test_whatever_watches_the_service_is_never_turned_away(path, serve):
    client = serve()
    assert statuses(client, 8, path) == [200] * 8
    assert statuses(client, 6) == [200] * 5 + [429]
    assert statuses(client, 1, path) == [200]


def test_a_page_may_read_that_it_asks_too_often(serve):
    client = serve(requests_per_minute=1)
    page = {"Origin": "https://shop.example"}
    client.get("/openapi.json")
    reply = client.get("/openapi.json", headers=page)
    assert reply.status_code == 429
    assert reply.headers["access-control-allow-origin"] == page["Origin"]
    assert "Retry-After" in reply.headers["access-control-expose-headers"]
    assert reply.headers.get_list("vary") == ["accept, origin"]
    other = client.get("/openapi.json", headers={"Origin": "https://elsewhere.example"})
    assert "access-control-allow-origin" not in other.headers
    asked = page | {"Access-Control-Request-Method": "POST"}
    assert client.options("/v1/panel", headers=asked).status_code == 204


def test_without_a_limit_there_is_none(serve):
    assert statuses(serve(requests_per_minute=0), 30) == [200] * 30


def test_processes_that_share_a_folder_count_together(serve, tmp_path):
    one, other, by_itself = serve(limit_store=tmp_path), serve(limit_store=tmp_path), serve()
    assert statuses(one, 3) + statuses(other, 2) == [200] * 5
    assert statuses(one, 1) == statuses(other, 1) == [429]
    assert statuses(by_itself, 1) == [200]


def test_the_folder_tells_nobody_whose_key_it_was(serve, tmp_path):
    statuses(serve(limit_store=tmp_path), 2)
    for file in tmp_path.rglob("*"):
        assert "thornfield" not in str(file)
        assert b"thornfield" not in file.read_bytes()
        assert FIRST.encode() not in file.read_bytes()


def test_what_has_expired_is_cleared_away(serve, tmp_path, monkeypatch):
    monkeypatch.setattr(limits, "SWEEP", 0.02)
    cleared = []

    class Watched(limits.MemoryStore):
        async def delete_expired(self):
            await super().delete_expired()
            cleared.append(True)
            if len(cleared) == 1:
                raise OSError("of the test")

    monkeypatch.setattr("pleatwright.web.app.store_in", lambda _: Watched())
    client = serve()
    for _ in range(100):
        time.sleep(0.02)
        statuses(client, 1, "/health/live")
        if len(cleared) > 1:
            break
    assert len(cleared) > 1
