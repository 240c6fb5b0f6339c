"""How the parts of the bench page are given: what they are, how they are held, and what they may do."""

import re

import pytest
from litestar.testing import TestClient

from pleatwright.web import bench
from pleatwright.web.app import create_app
from pleatwright.web.settings import Settings

TYPES = {
    "bench.css": "text/css; charset=utf-8",
    "bench.js": "text/javascript; charset=utf-8",
    "mark.svg": "image/svg+xml",
}


@pytest.fixture
def client(headings):
    with TestClient(create_app(Settings(customer_keys=(("0" * 64, ""),), requests_per_minute=2), headings)) as client:
        yield client


def test_the_page_is_public_and_says_what_it_may_do(client):
    reply = client.get("/")
    assert reply.status_code == 200
    assert reply.headers["content-type"] == "text/html; charset=utf-8"
    policy = dict(each.partition(" ")[::2] for each in reply.headers["content-security-policy"].split("; "))
    assert policy["default-src"] == policy["base-uri"] == policy["form-action"] == "'none'"
    assert policy["frame-ancestors"] == "'none'"
    assert policy["script-src"] == policy["connect-src"] == "'self'"
    assert not re.search("unsafe|http", reply.headers["content-security-policy"])
    assert reply.headers["x-content-type-options"] == "nosniff"


@pytest.mark.parametrize(("name", "media_type"), TYPES.items())
def test_each_part_says_what_it_is(client, name, media_type):
    reply = client.get(f"/page/{name}")
    assert reply.headers["content-type"] == media_type
    assert reply.content == (bench.FOLDER / name).read_bytes()
    head = client.head(f"/page/{name}")
    assert (head.status_code, head.content) == (200, b"")


def test_all_that_the_page_and_its_modules_name_is_given(client):
    named, given = set(re.findall(r'(?:href|src)="(page/[^"]+)"', client.get("/").text)), set()
    while named != given:
        for name in named - given:
            reply = client.get(f"/{name}")
            assert reply.status_code == 200, name
            given.add(name)
            if name.endswith(".js"):
                named |= {f"page/{each}" for each in re.findall(r'from "\./([^"]+)"', reply.text)}
    assert len(named) > 10


def test_what_a_browser_holds_is_not_sent_again(client):
    tag = client.get("/page/bench.css").headers["etag"]
    for held in (tag, f'"other", W/{tag}'):
        reply = client.get("/page/bench.css", headers={"If-None-Match": held})
        assert (reply.status_code, reply.content, reply.headers["etag"]) == (304, b"", tag)
    assert client.get("/page/bench.css", headers={"If-None-Match": '"other"'}).status_code == 200


@pytest.mark.parametrize(
    "path",
    ["/page/", "/page/index.html", "/page/no.js", "/page/..%2fbench.py", "/page/%2e%2e/bench.py", "/page/a/b.js"],
)
def test_nothing_else_is_given(client, path):
    reply = client.get(path)
    assert reply.status_code == 404
    assert reply.headers["content-type"] == "application/problem+json"


def test_it_is_read_and_nothing_more(client):
    assert client.post("/", content=b"{}").status_code == 405


def test_the_page_takes_nothing_off_the_limit(client):
    for _ in range(5):
        assert client.get("/").status_code == 200
        assert client.get("/page/bench.js").status_code == 200
    assert client.get("/v1/headings").status_code == 401


def test_its_requests_are_counted_under_two_names(client):
    client.get("/")
    client.get("/page/bench.js")
    client.get("/page/no-such.js")
    counted = re.findall(r'requests_total\{operation="([^"]+)",outcome="(\w+)"\} ([1-9])', client.get("/metrics").text)
    assert counted == [("bench", "2xx", "1"), ("bench-part", "2xx", "1"), ("bench-part", "4xx", "1")]


def test_it_is_no_operation_of_the_api(client):
    assert not {"/", "/page/{name}"} & client.get("/openapi.json").json()["paths"].keys()
