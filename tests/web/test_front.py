"""What every request goes through, found or not: its id, its log line, its reply's headers, keys, origins."""

import asyncio
import gc
import json
import logging
import re
import weakref
from datetime import UTC, datetime, timedelta

import pytest
from litestar.testing import TestClient

from pleatwright.contract.operations import OPERATIONS
from pleatwright.contract.problems import BY_NAME, KINDS
from pleatwright.web import app as app_module
from pleatwright.web.app import create_app
from pleatwright.web.exchange import Exchange
from pleatwright.web.keys import LONGEST, digest_of
from pleatwright.web.lifetime import Lifetime
from pleatwright.web.settings import Settings

from .wire import EXAMPLES

REPEAT = (EXAMPLES / "repeat.json").read_bytes()
JSON = {"Content-Type": "application/json"}
PATHS = {each.name: each.path.replace("{style}", "goblet").replace("{name}", "too-slow") for each in OPERATIONS}
KEYED = [each for each in OPERATIONS if each.path.startswith("/v1/")]
OPEN = [each for each in OPERATIONS if not each.path.startswith("/v1/")]
CUSTOMER, OTHER, WORKROOM = "a-customer's-key", "another-customer's-key", "the-workroom's-key"


@pytest.fixture(scope="module")
def served_with(headings):
    """Return a function that gives a client of a service with settings."""
    clients = {}

    def give(**settings):
        wanted = Settings(**settings)
        if wanted not in clients:
            clients[wanted] = TestClient(create_app(wanted, headings)).__enter__()
        return clients[wanted]

    yield give
    for client in clients.values():
        client.__exit__(None, None, None)


@pytest.fixture
def client(served_with):
    return served_with()


def every_end(client):
    """Yield a reply of each kind: found, not found, refused by the router, by the contract, by the arithmetic."""
    yield client.get("/v1/headings")
    yield client.get("/nothing")
    yield client.delete("/v1/panel")
    yield client.post("/v1/repeat", content=REPEAT, headers=JSON)
    yield client.post("/v1/repeat", content=b"{", headers=JSON)
    yield client.post("/v1/repeat", content=REPEAT)
    yield client.options("/v1/repeat")
    yield client.head("/health/live")
    yield client.get("/metrics")
    yield client.get("/health/live", headers={"Accept": "text/html"})


def test_every_reply_has_the_headers_that_keep_a_browser_from_guessing(client):
    for reply in every_end(client):
        assert reply.headers["x-content-type-options"] == "nosniff"
        assert reply.headers["referrer-policy"] == "no-referrer"
        assert reply.headers["content-security-policy"] == "default-src 'none'; frame-ancestors 'none'"
        assert reply.headers["x-request-id"]
        if reply.request.method == "POST":
            assert reply.headers["cache-control"] == "no-store"


@pytest.mark.parametrize("path", ["/health/live", "/health/ready", "/metrics"])
def test_what_is_so_now_is_not_kept(path, client):
    assert client.get(path).headers["cache-control"] == "no-store"


@pytest.mark.parametrize("given", ["a", "0f8fad5b-d9cb-469f-a165-70867728950e", "A.b_c-9", "x" * 64])
def test_a_sound_request_id_comes_back(given, client):
    for path in ("/health/live", "/nothing"):
        assert client.get(path, headers={"X-Request-Id": given}).headers["x-request-id"] == given


@pytest.mark.parametrize("given", ["", "x" * 65, "a b", 'a"b', "{}", "a;b", "é".encode(), "a\tb", "../a"])
def test_another_request_id_is_replaced(given, client):
    reply = client.get("/health/live", headers={"X-Request-Id": given})
    assert re.fullmatch("[0-9a-f]{16}", reply.headers["x-request-id"])


def test_every_request_without_an_id_is_given_its_own(client):
    assert len({client.get("/health/live").headers["x-request-id"] for _ in range(50)}) == 50


def logged(caplog):
    return [json.loads(record.getMessage()) for record in caplog.records if record.name == "pleatwright.requests"]


def test_a_request_is_one_line_that_tells_what_became_of_it(client, caplog):
    caplog.set_level(logging.INFO, "pleatwright.requests")
    reply = client.post("/v1/repeat", content=REPEAT, headers=JSON | {"X-Request-Id": "abc"})
    [line] = logged(caplog)
    assert abs(datetime.fromisoformat(line.pop("time")) - datetime.now(UTC)) < timedelta(minutes=1)
    assert 0 < line.pop("milliseconds") < 60_000
    assert line == {
        "id": "abc",
        "method": "POST",
        "operation": "repeat",
        "status": 200,
        "bytes_in": len(REPEAT),
        "bytes_out": len(reply.content),
    }


def test_a_request_that_ends_in_a_problem_is_one_line_too(client, caplog):
    caplog.set_level(logging.INFO, "pleatwright.requests")
    list(every_end(client))
    assert [(line["operation"], line["status"]) for line in logged(caplog)] == [
        ("headings", 200),
        ("unmatched", 404),
        ("unmatched", 405),
        ("repeat", 200),
        ("repeat", 400),
        ("repeat", 415),
        ("unmatched", 204),
        ("live", 200),
        ("metrics", 200),
        ("live", 406),
    ]


def test_the_log_repeats_nothing_that_was_asked_and_no_key(client, caplog):
    caplog.set_level(logging.DEBUG)
    secret = "hush-5f2c"
    headers = JSON | {"Authorization": f"Bearer {secret}", "Cookie": secret, "User-Agent": secret}
    job = json.loads((EXAMPLES / "estimate.json").read_text())
    job["job"] = job["windows"][0]["label"] = secret
    for body in (job, job | {secret: 1}, job | {"pricing": {"discount": secret}}):
        client.post(f"/v1/estimate?{secret}", content=json.dumps(body), headers=headers)
    client.get(f"/{secret}", headers=headers)
    client.get(f"/v1/headings/{secret}?units={secret}", headers=headers)
    assert len(logged(caplog)) == 5
    assert secret not in "".join(record.getMessage() for record in caplog.records if record.name.startswith("pleat"))


def test_an_error_is_logged_with_the_id_of_its_request(served_with, caplog, monkeypatch):
    def broken(*_):
        raise RuntimeError("of the test")

    monkeypatch.setattr(app_module.workroom, "headings", broken)
    reply = served_with().get("/v1/headings", headers={"X-Request-Id": "abc"})
    assert reply.status_code == 500
    assert "of the test" not in reply.text
    [record] = [each for each in caplog.records if each.levelno == logging.ERROR]
    assert "request abc" in record.getMessage()
    assert record.exc_info


def bearing(key):
    return {"Authorization": f"Bearer {key}"}


@pytest.fixture
def keyed(served_with):
    customers = ((digest_of(CUSTOMER), "thornfield"), (digest_of(OTHER), "larkfield"))
    return served_with(customer_keys=customers, workroom_keys=(digest_of(WORKROOM),))


def ask(client, operation, **headers):
    path = PATHS[operation.name]
    if operation.method == "GET":
        return client.get(path, headers=headers)
    if operation.lines:
        body = (EXAMPLES / f"{operation.name}.ndjson").read_bytes()
        return client.post(path, content=body, headers={"content-type": "application/x-ndjson"} | headers)
    body = (EXAMPLES / f"{operation.name}.json").read_bytes()
    return client.post(path, content=body, headers=JSON | headers)


@pytest.mark.parametrize("operation", KEYED, ids=lambda each: each.name)
def test_where_there_are_customers_every_operation_needs_a_key(operation, keyed):
    reply = ask(keyed, operation)
    assert reply.status_code == 401
    assert reply.headers["www-authenticate"] == 'Bearer scope="customer"'
    assert reply.json()["type"] == "/problems/key-needed"
    for key in (CUSTOMER, OTHER, WORKROOM):
        assert ask(keyed, operation, **bearing(key)).status_code == 200


@pytest.mark.parametrize("operation", OPEN, ids=lambda each: each.name)
def test_what_tells_of_the_service_itself_needs_no_key(operation, keyed):
    assert ask(keyed, operation).status_code == 200


@pytest.mark.parametrize(
    "path", ["/v1/headings/", "//v1/headings", "/v1//headings", "/V1/headings", "/%76%31/headings"]
)
def test_no_spelling_of_an_address_goes_round_the_key(path, keyed):
    assert keyed.get(f"http://testserver.local{path}").status_code in (401, 404)


@pytest.mark.parametrize(
    "authorization",
    [
        "",
        "Bearer",
        "Bearer ",
        CUSTOMER,
        f"Basic {CUSTOMER}",
        f"Bearer {CUSTOMER}x",
        f"Bearer {digest_of(CUSTOMER)}",
        f"Bearer {'x' * (LONGEST + 1)}",
        f"Bearer {CUSTOMER} {CUSTOMER}",
        "Bearer é".encode(),
    ],
)
def test_what_is_no_key_is_refused_before_the_body_is_looked_at(authorization, keyed):
    reply = keyed.post("/v1/repeat", content=b"{", headers={"Authorization": authorization})
    assert reply.status_code == 401
    assert CUSTOMER not in reply.text


WORKROOM_VIEW = json.loads((EXAMPLES / "estimate.json").read_text()) | {"pricing": {"view": "workroom"}}


@pytest.mark.parametrize("key", [None, CUSTOMER, "unheard of"])
def test_the_workroom_s_view_needs_the_workroom_s_key(key, keyed, served_with):
    open_to_all = served_with(workroom_keys=(digest_of(WORKROOM),))
    for client in (keyed, open_to_all):
        reply = client.post("/v1/estimate", json=WORKROOM_VIEW, headers=bearing(key) if key else {})
        assert reply.status_code == 401
        expected = "customer" if client is keyed and key != CUSTOMER else "workroom"
        assert reply.headers["www-authenticate"] == f'Bearer scope="{expected}"'
        assert client.post("/v1/estimate", json=WORKROOM_VIEW, headers=bearing(WORKROOM)).status_code == 200


def test_without_customers_a_key_that_is_not_known_is_let_be(client):
    assert client.get("/v1/headings", headers=bearing("unheard of")).status_code == 200


SHOP, ELSEWHERE = "https://shop.example", "https://shop.example.elsewhere.example"


@pytest.fixture
def shop(served_with):
    return served_with(origins=(SHOP, "http://localhost:5173"))


def preflight(client, path, origin, method="POST", headers="content-type, authorization"):
    asked = {"Access-Control-Request-Method": method, "Access-Control-Request-Headers": headers}
    return client.options(path, headers={"Origin": origin} | asked)


def test_a_page_of_an_origin_that_is_known_may_ask_and_read_whatever_comes_of_it(shop):
    for origin in (SHOP, "http://localhost:5173"):
        shop.headers["origin"] = origin
        for reply in every_end(shop):
            if reply.request.method != "OPTIONS":
                assert reply.headers["access-control-allow-origin"] == origin
                assert "X-Request-Id" in reply.headers["access-control-expose-headers"]
    del shop.headers["origin"]


@pytest.mark.parametrize(
    "origin",
    [
        ELSEWHERE,
        "http://shop.example",
        "https://shop.example:8443",
        "https://xshop.example",
        "https://shopxexample",
        "https://shop.example/",
        "null",
        "*",
        "HTTPS://SHOP.EXAMPLE",
    ],
)
def test_a_page_of_any_other_origin_may_not(origin, shop):
    assert "access-control-allow-origin" not in shop.get("/v1/headings", headers={"Origin": origin}).headers
    assert "access-control-allow-origin" not in shop.get("/nothing", headers={"Origin": origin}).headers
    reply = preflight(shop, "/v1/panel", origin)
    assert reply.status_code == 400
    assert "access-control-allow-origin" not in reply.headers


def test_what_a_page_wants_to_send_is_allowed_beforehand(shop):
    for path in ("/v1/panel", "/nothing"):
        reply = preflight(shop, path, SHOP)
        assert reply.status_code == 204
        assert reply.headers["access-control-allow-origin"] == SHOP
        assert "POST" in reply.headers["access-control-allow-methods"]
        allowed = reply.headers["access-control-allow-headers"].lower()
        assert all(name in allowed for name in ("authorization", "content-type", "x-request-id"))
        assert int(reply.headers["access-control-max-age"]) > 0


@pytest.mark.parametrize(("method", "headers"), [("DELETE", "content-type"), ("POST", "x-something-else")])
def test_what_no_operation_takes_is_not_allowed_beforehand(method, headers, shop):
    assert preflight(shop, "/v1/panel", SHOP, method, headers).status_code == 400


def test_replies_are_kept_apart_by_origin_and_by_form(shop, client):
    for headers in ({}, {"Origin": SHOP}, {"Origin": ELSEWHERE}):
        assert shop.get("/v1/headings", headers=headers).headers.get_list("vary") == ["accept, origin"]
    assert client.get("/v1/headings").headers["vary"] == "accept"


def test_without_origins_no_page_of_another_may_read(client):
    reply = client.get("/v1/headings", headers={"Origin": SHOP})
    assert not [name for name in reply.headers if name.startswith("access-control")]


def test_all_origins_are_allowed_when_that_is_set(served_with):
    reply = served_with(origins=("*",)).get("/v1/headings", headers={"Origin": ELSEWHERE})
    assert reply.headers["access-control-allow-origin"] == "*"
    assert "access-control-allow-credentials" not in reply.headers


@pytest.mark.parametrize("status", KINDS)
def test_the_type_of_every_problem_is_an_address_that_tells_what_it_means(status, client):
    reply = client.get(KINDS[status].address)
    assert reply.status_code == 200
    told = reply.json()
    assert (told["type"], told["status"]) == (KINDS[status].address, status)
    assert all(told[name].endswith(".") for name in ("meaning", "remedy"))


@pytest.mark.parametrize("name", ["no-such", "TOO-SLOW", "x" * 500, "%00"])
def test_a_problem_there_is_not_is_not_found_and_the_others_are_named(name, client):
    reply = client.get(f"/problems/{name}")
    assert reply.status_code == 404
    assert ", ".join(BY_NAME) in reply.json()["detail"]
    assert "xxx" not in reply.text


def test_of_a_header_given_several_times_the_first_counts():
    """The test client would make one of them."""
    names = (b"x-request-id", b"authorization", b"accept", b"content-type", b"origin")
    given = [(name, value) for value in (b"first", b"second") for name in names]
    scope = {"method": "GET", "path": "/v1/headings", "headers": given}
    found = Exchange(scope, None, None, Lifetime(), 1, by_origin=False)
    assert found.id == b"first"
    assert {found.authorization, found.accept, found.content_type, found.origin} == {"first"}


def test_nothing_of_a_request_is_left_to_the_collector(headings):
    """What a server holds of one holds its scope, and what is put into the scope must not hold that in turn."""

    class Connection:
        def __init__(self, scope):
            self.scope, self.status = scope, None

        async def receive(self):
            return {"type": "http.request", "body": REPEAT, "more_body": False}

        async def send(self, message):
            self.status = message.get("status", self.status)

    app = create_app(Settings(log="off"), headings)
    head = [(b"host", b"localhost"), (b"content-type", b"application/json"), (b"content-length", b"%d" % len(REPEAT))]
    path = {"path": "/v1/repeat", "raw_path": b"/v1/repeat", "root_path": "", "query_string": b""}
    scope = {"type": "http", "method": "POST", "scheme": "http", "http_version": "1.1", "headers": head} | path
    connection = Connection(scope)
    held = weakref.ref(connection)
    gc.disable()
    try:
        asyncio.run(app(scope, connection.receive, connection.send))
        assert connection.status == 200
        del connection, scope
        assert held() is None
    finally:
        gc.enable()
