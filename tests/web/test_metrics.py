"""What a process has answered, as Prometheus reads it: the library's own parser, and labels from closed lists only."""

import pytest
from litestar.testing import TestClient
from prometheus_client.parser import text_string_to_metric_families

from pleatwright.contract.operations import OPERATIONS
from pleatwright.web.app import create_app
from pleatwright.web.settings import Settings

from .wire import EXAMPLES

JSON = {"Content-Type": "application/json"}


@pytest.fixture
def client(headings):
    with TestClient(create_app(Settings(), headings)) as client:
        yield client


def figures(client):
    """Return each sample that is not nothing, by its name and labels."""
    reply = client.get("/metrics")
    assert reply.headers["content-type"] == "text/plain; version=0.0.4; charset=utf-8"
    families = text_string_to_metric_families(reply.text)
    samples = [sample for family in families for sample in family.samples]
    return {(each.name, *each.labels.values()): each.value for each in samples if not each.name.endswith("_created")}


def post(client, operation, example=None, body=None):
    body = body or (EXAMPLES / f"{example or operation}.json").read_bytes()
    return client.post(f"/v1/{operation}", content=body, headers=JSON)


def test_requests_are_counted_by_operation_and_outcome(client):
    for _ in range(3):
        post(client, "repeat")
    post(client, "repeat", body=b"{")
    client.get("/nothing")
    client.get("/v1/headings/no-such")
    found = figures(client)
    counted = {key[1:]: value for key, value in found.items() if key[0] == "pleatwright_requests_total" and value}
    assert counted == {
        ("repeat", "2xx"): 3,
        ("repeat", "4xx"): 1,
        ("heading", "4xx"): 1,
        ("unmatched", "4xx"): 1,
    }
    assert figures(client)["pleatwright_requests_total", "metrics", "2xx"] == 1


def test_latency_is_a_histogram_by_operation(client):
    for _ in range(3):
        post(client, "repeat")
    found = figures(client)
    assert found["pleatwright_request_seconds_count", "repeat"] == 3
    assert 0 < found["pleatwright_request_seconds_sum", "repeat"] < 60
    buckets = [
        value for key, value in found.items() if key[0] == "pleatwright_request_seconds_bucket" and "repeat" in key
    ]
    assert buckets == sorted(buckets)
    assert buckets[-1] == 3


def test_styles_that_replies_are_made_with_are_counted(client, headings):
    post(client, "pleats")
    post(client, "pleats")
    post(client, "pleats", "headings/pleats-eyelet")
    post(client, "pleats", body=b"{}")
    found = figures(client)
    used = {key[1]: value for key, value in found.items() if key[0] == "pleatwright_styles_used_total"}
    assert used.keys() == set(headings.installed)
    assert {style: count for style, count in used.items() if count} == {"three-fold-pinch": 2, "eyelet": 1}


def test_nothing_that_a_client_sends_makes_a_series(client):
    before = figures(client).keys()
    for text in ("one", "two", "three"):
        client.get(f"/{text}")
        client.get(f"/v1/headings/{text}")
        client.get(f"/problems/{text}")
        client.request(text.upper(), "/v1/panel")
        post(client, "pleats", body=f'{{"heading": {{"style": "{text}"}}}}'.encode())
        client.options("/v1/panel")
    assert figures(client).keys() == before


def test_every_operation_is_there_from_the_start_at_nothing(client):
    found = figures(client)
    for operation in OPERATIONS:
        for outcome in ("2xx", "4xx", "5xx"):
            assert found["pleatwright_requests_total", operation.name, outcome] == 0


def test_each_process_has_its_own(client, headings):
    post(client, "repeat")
    with TestClient(create_app(Settings(), headings)) as other:
        assert figures(other)["pleatwright_requests_total", "repeat", "2xx"] == 0
