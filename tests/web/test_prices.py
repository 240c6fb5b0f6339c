"""Prices over HTTP: who is shown what, which rate book is in force, and that nothing confidential gets out."""

import hashlib
import json
import logging
import threading
from decimal import Decimal
from pathlib import Path

import msgspec
import pytest
from jsonschema import Draft202012Validator
from litestar.testing import TestClient

from pleatwright.contract.openapi import document
from pleatwright.pricing.book import BookError
from pleatwright.web.app import create_app
from pleatwright.web.settings import Settings

PROJECT = Path(__file__).parents[2]
JSON = {"Content-Type": "application/json"}
KEY = "wk-5Qv8_a-key-that-only-this-test-holds"
DIGEST = hashlib.sha256(KEY.encode()).hexdigest()
BEARER = {"Authorization": f"Bearer {KEY}"}

# Every figure that is the workroom's alone has decimals that come about nowhere else.
BOOK = """\
edition = "{edition}"
currency = "GBP"
rounding = "half-up"
cost_per_hour = 27.3947
[tax]
name = "VAT"
percent = 20
[markup]
cloth = 63.7193
hardware = 47.8317
[usual_layers]
lining = "Sateen"
[[cloth]]
name = "Teasel"
per = "m"
cost = 41.7391
price = {teasel}
[cloth.fabric]
width = "54 in"
vertical_repeat = "25 1/4 in"
[[cloth]]
name = "Sateen"
per = "m"
cost = 6.1937
[[labour]]
per = "width"
price = {labour}
hours = {{ width = 0.7713, pleat = 0.0237, panel = 0.5519, window = 0.3791, tack = 0.00719 }}
[[surcharge]]
name = "Within the week"
when = "rush"
percent = 25
[[hardware]]
kind = "buckram"
per = "m"
cost = 1.8737
[[hardware]]
kind = "hook"
per = "each"
cost = 0.0317
price = {hook}
[fitting]
call_out = 45
call_out_cost = 21.7753
per = "window"
price = {fitting}
cost = 13.6179
[[discount]]
name = "Guild members"
asked = true
percent = 17.3913
"""
SPRING = {"edition": "Spring", "teasel": "88.10", "labour": "32.25", "hook": "0.11", "fitting": "28"}
SUMMER = {"edition": "Summer", "teasel": "91.40", "labour": "34.75", "hook": "0.12", "fitting": "29"}
SECRETS = (
    *("27.3947", "63.7193", "47.8317", "41.7391", "6.1937", "0.7713", "0.0237", "0.5519", "0.3791", "0.00719"),
    *("1.8737", "0.0317", "21.7753", "13.6179", "17.3913", "Guild members"),
)
WINDOW = {
    "label": "Landing",
    "rod": {"width": 120, "return": 3.5},
    "hang": {"carrying_height": 96},
    "fabric": "Teasel",
    "heading": {"style": "three-fold-pinch"},
    "lining": {},
}
ESTIMATE = {"units": "in", "windows": [WINDOW], "worksheet": True, "pricing": {"rush": True, "fitting": True}}
COMPARE = {
    "units": "in",
    "window": WINDOW,
    "styles": [{"style": "goblet"}, {"style": "wave"}],
    "cloth_widths": ["48"],
    "pricing": {"fitting": True},
}
JOBS = {"estimate": ESTIMATE, "compare": COMPARE}


def book(figures):
    return BOOK.format(**figures)


def of_workroom(job, **more):
    return job | {"pricing": job["pricing"] | {"view": "workroom"} | more}


def post(client, operation, request, headers=None):
    return client.post(f"/v1/{operation}", content=json.dumps(request).encode(), headers=JSON | (headers or {}))


def renamed_over(path, text):
    beside = path.with_name(f"{path.name}.new")
    beside.write_text(text)
    beside.replace(path)


@pytest.fixture
def path(tmp_path):
    path = tmp_path / "rates.toml"
    path.write_text(book(SPRING))
    return path


@pytest.fixture
def client(headings, path):
    with TestClient(create_app(Settings(rates=path, workroom_keys=(DIGEST,)), headings)) as client:
        yield client


@pytest.fixture(scope="module")
def schema_of(headings):
    components = document(headings.options)["components"]
    return lambda name: Draft202012Validator({"$ref": f"#/components/schemas/{name}", "components": components})


@pytest.fixture
def refused(schema_of):
    """Check that a reply is the problem of a key that is needed, and gives away nothing; return its bytes."""

    def check(reply):
        assert reply.status_code == 401
        assert reply.headers["content-type"] == "application/problem+json"
        assert reply.headers["www-authenticate"] == 'Bearer scope="workroom"'
        problem = reply.json()
        schema_of("Problem").validate(problem)
        assert problem["status"] == 401
        assert problem["type"] == "/problems/key-needed"
        assert "key" in problem["detail"]
        assert not leaked(reply.content)
        assert KEY not in reply.text
        assert DIGEST not in reply.text
        return reply.content

    return check


def leaked(data):
    """Return what is the workroom's alone and stands in these bytes."""
    text = data if isinstance(data, str) else data.decode("utf-8", "surrogateescape")
    return [secret for secret in SECRETS if secret in text]


@pytest.mark.parametrize("operation", JOBS)
@pytest.mark.parametrize("more", [{"view": "workroom"}, {"discount": "Guild members"}, {"discount": "No such"}])
def test_the_workrooms_view_and_a_discount_by_name_need_the_key(client, refused, operation, more):
    job = JOBS[operation] | {"pricing": more}
    refused(post(client, operation, job))
    found = post(client, operation, job, BEARER)
    assert found.status_code == (422 if more.get("discount") == "No such" else 200)


@pytest.mark.parametrize("operation", JOBS)
def test_whether_there_is_a_discount_of_a_name_is_not_told_without_the_key(client, refused, operation):
    replies = {
        refused(post(client, operation, JOBS[operation] | {"pricing": {"discount": name}}))
        for name in ("Guild members", "No such", "")
    }
    assert len(replies) == 1


@pytest.mark.parametrize("operation", JOBS)
def test_with_the_key_there_are_costs_margin_and_hours(client, schema_of, operation):
    reply = post(client, operation, of_workroom(JOBS[operation], discount="Guild members"), BEARER)
    assert reply.status_code == 200
    schema_of(f"{operation.capitalize()}Reply").validate(reply.json())
    for found in reply.json().get("ways", [reply.json()]):
        lines = found["workroom"]["lines"]
        assert sum(Decimal(line["cost"]) for line in lines) == Decimal(found["workroom"]["cost"]) > 0
        assert sum(Decimal(line["hours"]) for line in lines) == Decimal(found["workroom"]["hours"]) > 0
        assert "Guild members" in {line["what"] for line in lines}
        before_tax = Decimal(found["price"]["net"])
        assert Decimal(found["workroom"]["margin"]) == before_tax - Decimal(found["workroom"]["cost"])


@pytest.mark.parametrize("operation", JOBS)
@pytest.mark.parametrize(
    "authorization",
    [
        b"Bearer not-the-key",
        b"Bearer " + KEY.encode()[:-1],
        b"Bearer " + KEY.encode() + b"x",
        b"Bearer " + KEY.lower().encode(),
        b"Bearer " + DIGEST.encode(),
        b"Bearer",
        b"Bearer ",
        b"",
        KEY.encode(),
        b"Basic " + KEY.encode(),
        b"Basic d29ya3Jvb206d2stNVF2OA==",
        b"Token " + KEY.encode(),
        b"Bearer: " + KEY.encode(),
        b"Bearer, Bearer " + KEY.encode(),
        b"Bearer " + KEY.encode() * 1000,
        b"Bearer " + b"x" * 60_000,
        "Bearer ключ".encode(),
        "Bearer 🔑".encode(),
        b"Bearer \xff\xfe\xed\xa0\x80",
        f"Bearer {KEY}é".encode("latin-1"),
    ],
    ids=lambda each: repr(each[:24]),
)
def test_what_is_not_the_key_is_refused(client, refused, operation, authorization, caplog):
    caplog.set_level(logging.DEBUG)
    refused(post(client, operation, of_workroom(JOBS[operation]), {b"Authorization": authorization}))
    assert KEY not in caplog.text


@pytest.mark.parametrize("authorization", [f"Bearer {KEY}", f"bearer {KEY}", f"BEARER  {KEY} "])
def test_the_scheme_may_be_written_in_any_case_and_spaced(client, authorization):
    """RFC 9110, section 11.1: the name of a scheme goes by no case."""
    assert "workroom" in post(client, "estimate", of_workroom(ESTIMATE), {"Authorization": authorization}).json()


def test_the_key_is_read_in_the_header_alone(client, refused):
    reply = client.post(
        "/v1/estimate",
        content=json.dumps(of_workroom(ESTIMATE)).encode(),
        headers=JSON | {"Cookie": f"key={KEY}", "X-Api-Key": KEY},
    )
    refused(reply)
    reply = client.post(
        f"/v1/compare?access_token={KEY}&key={KEY}",
        content=json.dumps(of_workroom(JOBS["compare"])).encode(),
        headers=JSON,
    )
    refused(reply)


def test_where_no_keys_are_set_up_no_key_is_known(headings, path, refused):
    with TestClient(create_app(Settings(rates=path), headings)) as client:
        for headers in ({}, BEARER, {"Authorization": "Bearer "}):
            for operation, job in JOBS.items():
                refused(post(client, operation, of_workroom(job), headers))
        assert post(client, "estimate", ESTIMATE).json()["price"]


def test_each_of_several_keys_is_known(headings, path, refused):
    keys = ("first", "second", KEY)
    digests = tuple(hashlib.sha256(key.encode()).hexdigest() for key in keys)
    with TestClient(create_app(Settings(rates=path, workroom_keys=digests), headings)) as client:
        for key in keys:
            reply = post(client, "estimate", of_workroom(ESTIMATE), {"Authorization": f"Bearer {key}"})
            assert "workroom" in reply.json()
        refused(post(client, "estimate", of_workroom(ESTIMATE), {"Authorization": "Bearer third"}))


@pytest.mark.parametrize("operation", JOBS)
def test_the_customers_view_needs_no_key_and_is_the_same_with_one(client, operation):
    plain = post(client, operation, JOBS[operation])
    assert plain.status_code == 200
    for headers in (BEARER, {"Authorization": "Bearer wrong"}, {"Authorization": "Basic eDp5"}):
        assert post(client, operation, JOBS[operation], headers).content == plain.content


def figures_of(value):
    """Return every cost, margin and time of a reply in the workroom's view, but for nothing."""
    if isinstance(value, dict):
        own = [
            value[name] for name in ("cost", "margin", "margin_percent", "hours") if isinstance(value.get(name), str)
        ]
        return {each for each in own if Decimal(each)}.union(*map(figures_of, value.values()))
    return set().union(*map(figures_of, value)) if isinstance(value, list) else set()


@pytest.mark.parametrize("accept", ["application/json", "application/msgpack"])
@pytest.mark.parametrize("operation", JOBS)
def test_nothing_that_is_the_workrooms_is_in_any_byte_of_the_customers_view(client, operation, accept, caplog):
    """The figures of the book, and all that comes of them: found in the workroom's view, and none in the customer's."""
    caplog.set_level(logging.DEBUG)
    workrooms = post(client, operation, of_workroom(JOBS[operation]), BEARER)
    derived = {f'"{each}"' for each in figures_of(workrooms.json())}
    assert len(derived) > 8
    assert all(each in workrooms.text for each in derived)
    reply = post(client, operation, JOBS[operation], {"Accept": accept})
    assert reply.headers["content-type"] == accept
    assert reply.status_code == 200
    packed = accept != "application/json"
    shown = json.dumps(msgspec.msgpack.decode(reply.content)) if packed else reply.text
    for text in (shown, reply.content.decode("utf-8", "surrogateescape"), str(reply.headers)):
        assert not leaked(text)
        assert not [each for each in derived if each in text]
        assert not [word for word in ('"cost"', '"margin"', '"margin_percent"', '"hours"', "markup") if word in text]
    # The other way round, so that the search is known to find: what the customer pays is there.
    assert all(rate in shown for rate in ("88.10", "32.25", "0.11"))
    assert not leaked(caplog.text)
    assert KEY not in caplog.text


WRONG = {
    "not JSON": b'{"units": ',
    "unknown field": json.dumps(ESTIMATE | {"markup": 1}).encode(),
    "no such cloth": json.dumps(ESTIMATE | {"windows": [WINDOW | {"fabric": "Nowhere"}]}).encode(),
    "cannot be made": json.dumps(ESTIMATE | {"windows": [WINDOW | {"fullness": 1}]}).encode(),
    "a layer the book lacks": json.dumps(ESTIMATE | {"windows": [WINDOW | {"blackout": {}}]}).encode(),
    "no rates at all": json.dumps(
        ESTIMATE
        | {"windows": [WINDOW | {"fabric": "Own"}], "fabrics": {"Own": {"width": 54}}, "pricing": {"fitting": True}}
    ).encode(),
    "pricing that is none": json.dumps(ESTIMATE | {"pricing": {"view": "Guild"}}).encode(),
}


@pytest.mark.parametrize("body", WRONG.values(), ids=WRONG)
def test_nothing_that_is_the_workrooms_is_in_what_a_mistake_is_told(client, body, caplog):
    caplog.set_level(logging.DEBUG)
    for operation in JOBS:
        reply = client.post(f"/v1/{operation}", content=body, headers=JSON)
        assert reply.status_code in (200, 400, 422)
        assert not leaked(reply.content)
    for address in ("/health/ready", "/health/live", "/openapi.json", "/v1/headings", "/rates.toml", "/v1/rates"):
        assert not leaked(client.get(address).content)
    assert not leaked(caplog.text)


def test_the_names_of_what_the_book_has_are_not_told_to_one_who_asks_for_another(client):
    """A cloth is the workroom's to offer: a name that is wrong brings none of its list to light."""
    reply = post(client, "estimate", ESTIMATE | {"windows": [WINDOW | {"fabric": "Nowhere"}]})
    assert reply.status_code == 422
    assert "Teasel" not in reply.text
    assert "Sateen" not in reply.text
    # With the key it is no other: the discounts there are.
    reply = post(client, "estimate", of_workroom(ESTIMATE, discount="Guild"), BEARER)
    assert reply.status_code == 422
    assert reply.json()["errors"][0]["pointer"] == "/pricing/discount"
    assert "Guild members" not in reply.text


def digest_in(reply):
    edition, _, digest = reply["price"]["edition"].partition(" (")
    return edition, digest.removesuffix(")")


def test_a_replaced_book_is_used_by_the_next_request_and_the_reply_names_another_digest(client, path):
    first = post(client, "estimate", ESTIMATE).json()
    assert "88.10" in {line["rate"] for line in first["price"]["lines"]}
    renamed_over(path, book(SUMMER))
    second = post(client, "estimate", ESTIMATE).json()
    assert "91.40" in {line["rate"] for line in second["price"]["lines"]}
    assert [digest_in(each)[0] for each in (first, second)] == ["Spring", "Summer"]
    assert digest_in(first)[1] != digest_in(second)[1]
    assert first["windows"] == second["windows"]
    rates = client.get("/health/ready").json()["rates"]
    assert (rates["edition"], rates["digest"], rates["trouble"]) == (*digest_in(second), None)
    ways = post(client, "compare", COMPARE).json()["ways"]
    assert {digest_in(way) for way in ways} == {digest_in(second)}
    # A figure changed and nothing else: the digest tells even what the edition does not.
    renamed_over(path, book(SUMMER).replace("41.7391", "41.7392"))
    third = post(client, "estimate", ESTIMATE).json()
    assert digest_in(third)[0] == "Summer"
    assert digest_in(third)[1] != digest_in(second)[1]
    # And back again it is the first.
    renamed_over(path, book(SPRING))
    assert post(client, "estimate", ESTIMATE).json() == first


FAULTY = {
    "no TOML": lambda text: text.replace("cost = 41.7391", "cost = 41.7391 63.7193"),
    "less than nothing": lambda text: text.replace("cost = 41.7391", "cost = -41.7391"),
    "a text": lambda text: text.replace("cost = 41.7391", 'cost = "41.7391"'),
    "more decimals than are kept": lambda text: text.replace("41.7391", "41.73910001"),
    "a part of over a hundred": lambda text: text.replace("percent = 17.3913", "percent = 117.3913"),
    "a markup beside a price": lambda text: text.replace("price = 88.10", "price = 88.10\nmarkup = 63.7193"),
    "a field by a figure": lambda text: text + '"27.3947" = 27.3947\n',
    "a minimum finer than a penny": lambda text: text.replace("[tax]", "minimum_charge = 27.3947\n[tax]"),
    "twice the same name": lambda text: text + '[[discount]]\nname = "Guild members"\nasked = true\npercent = 1\n',
    "a fabric that is none": lambda text: text.replace('vertical_repeat = "25 1/4 in"', 'bolt_length = "41.7391 m"'),
    "cut short": lambda text: text[: text.index("63.7193") + 4],
    "empty": lambda text: "",
    "no UTF-8": lambda text: text.replace("Spring", "Spr\udcff"),
}


@pytest.mark.parametrize("fault", FAULTY.values(), ids=FAULTY)
def test_a_faulty_book_keeps_the_old_one_and_readiness_tells_the_trouble_without_a_figure(client, path, fault, caplog):
    caplog.set_level(logging.DEBUG)
    before = post(client, "estimate", ESTIMATE).content
    beside = path.with_name("faulty.toml")
    beside.write_bytes(fault(book(SPRING)).encode("utf-8", "surrogateescape"))
    beside.replace(path)
    for _ in range(2):
        assert post(client, "estimate", ESTIMATE).content == before
        ready = client.get("/health/ready")
        assert (ready.status_code, ready.json()["status"]) == (200, "ready")
        rates = ready.json()["rates"]
        assert (rates["edition"], rates["digest"]) == digest_in(json.loads(before))
        assert "the last sound one is kept" in rates["trouble"]
        assert not leaked(ready.content)
        assert not any(part in ready.text for part in ("41.73", "63.71", "27.39", "17.39"))
        assert str(path) not in ready.text
    warned = [each for each in caplog.records if each.levelno >= logging.WARNING]
    # Once for the file, however often it is looked at.
    assert len(warned) == 1
    assert not leaked(caplog.text)
    renamed_over(path, book(SUMMER))
    assert digest_in(post(client, "estimate", ESTIMATE).json())[0] == "Summer"
    assert client.get("/health/ready").json()["rates"]["trouble"] is None


@pytest.mark.parametrize("gone", ["removed", "a folder"])
def test_a_book_that_vanishes_keeps_the_old_one_until_it_is_back(client, path, gone, caplog):
    caplog.set_level(logging.DEBUG)
    before = post(client, "estimate", ESTIMATE).content
    path.unlink()
    if gone == "a folder":
        path.mkdir()
    assert post(client, "estimate", ESTIMATE).content == before
    ready = client.get("/health/ready")
    assert ready.status_code == 200
    assert "the last sound one is kept" in ready.json()["rates"]["trouble"]
    assert str(path) not in ready.text
    assert not leaked(ready.content)
    assert not leaked(caplog.text)
    if gone == "a folder":
        path.rmdir()
    path.write_text(book(SUMMER))
    assert digest_in(post(client, "estimate", ESTIMATE).json())[0] == "Summer"
    assert client.get("/health/ready").json()["rates"]["trouble"] is None


@pytest.mark.parametrize("text", [None, "", "cost = 41.7391 63.7193\n"])
def test_a_service_does_not_start_with_a_book_that_is_none_and_says_so_without_a_figure(headings, path, text):
    path.unlink()
    if text is not None:
        path.write_text(text)
    with pytest.raises(BookError) as caught:
        create_app(Settings(rates=path), headings)
    assert not leaked(str(caught.value))


def rates_of(reply):
    return {(line["what"], line["rate"]) for line in reply["price"]["lines"]}


# What tells the two books apart; what both have alike belongs to either.
OF_BOOK = {
    figures["edition"]: {
        ("Teasel", figures["teasel"]),
        ("three-fold-pinch", figures["labour"]),
        ("hook", figures["hook"]),
        ("Fitting", figures["fitting"]),
    }
    for figures in (SPRING, SUMMER)
}


def test_while_the_book_is_replaced_each_reply_is_of_one_book_alone(client, path):
    """300 requests, some of them finished in another thread, against a file that is renamed over without a pause."""
    texts = [book(SPRING), book(SUMMER)]
    digests = {
        each["edition"]: hashlib.sha256(text.encode()).hexdigest()
        for each, text in zip((SPRING, SUMMER), texts, strict=True)
    }
    stop, replaced, failures = threading.Event(), [0], []

    def replace():
        try:
            while not stop.is_set():
                replaced[0] += 1
                renamed_over(path, texts[replaced[0] % 2])
        except OSError as error:
            failures.append(error)

    shelf = {"Teasel": {"width": 54, "vertical_repeat": "25 1/4", "bolts": [{"length": "30 yd"}]}}
    requests = [
        ("estimate", ESTIMATE),
        ("estimate", ESTIMATE | {"fabrics": shelf}),
        ("compare", COMPARE | {"styles": [], "cloth_widths": []}),
    ]
    thread = threading.Thread(target=replace)
    thread.start()
    seen = set()
    try:
        for number in range(300):
            reply = post(client, *requests[number % 3])
            assert reply.status_code == 200
            found = reply.json().get("ways", [reply.json()])
            assert {digest_in(each) for each in found} == {digest_in(found[0])}
            for each in found:
                edition, digest = digest_in(each)
                assert digests[edition].startswith(digest)
                assert len(digest) >= 8
                other = {"Spring": "Summer", "Summer": "Spring"}[edition]
                assert rates_of(each) >= OF_BOOK[edition]
                assert not rates_of(each) & OF_BOOK[other]
                seen.add(edition)
    finally:
        stop.set()
        thread.join()
    assert not failures
    assert replaced[0] > 20
    assert seen == {"Spring", "Summer"}
    assert client.get("/health/ready").json()["rates"]["trouble"] is None


@pytest.mark.parametrize("operation", JOBS)
def test_the_same_request_gives_the_same_bytes_from_any_process_with_the_same_book(
    client, headings, tmp_path, operation
):
    elsewhere = tmp_path / "elsewhere.toml"
    elsewhere.write_text(book(SPRING))
    with TestClient(create_app(Settings(rates=elsewhere, workroom_keys=(DIGEST,)), headings)) as another:
        for job, headers in ((JOBS[operation], {}), (of_workroom(JOBS[operation]), BEARER)):
            first = post(client, operation, job, headers).content
            assert post(client, operation, job, headers).content == first
            assert post(another, operation, job, headers).content == first


@pytest.mark.parametrize("operation", JOBS)
def test_money_is_an_exact_text_in_either_form(client, operation):
    job = of_workroom(JOBS[operation])
    packed = post(client, operation, job, BEARER | {"Accept": "application/msgpack"})
    assert packed.headers["content-type"] == "application/msgpack"
    found = msgspec.msgpack.decode(packed.content)
    assert found == post(client, operation, job, BEARER).json()
    for each in found.get("ways", [found]):
        price = each["price"]
        money = [price["net"], price["total"], price["tax"]["amount"], each["workroom"]["cost"]]
        money += [line[field] for line in price["lines"] for field in ("quantity", "rate", "amount")]
        money += [line["cost"] for line in each["workroom"]["lines"]]
        assert all(isinstance(sum_, str) and Decimal(sum_).is_finite() for sum_ in money)
        # Two decimals of a pound [ISO 4217].
        assert all(Decimal(line["amount"]).as_tuple().exponent == -2 for line in price["lines"])


def test_the_lines_of_a_price_add_up_over_http(client):
    """By decimal from the reply alone: a customer's calculator finds the same."""
    price = post(client, "estimate", ESTIMATE).json()["price"]
    penny = Decimal("0.01")
    for line in price["lines"]:
        product = Decimal(line["quantity"]) * Decimal(line["rate"]) / (100 if line["unit"] == "percent" else 1)
        # Half up, which no decimal's default is.
        assert Decimal(line["amount"]) == product.quantize(penny, "ROUND_HALF_UP")
    net = sum(Decimal(line["amount"]) for line in price["lines"])
    assert Decimal(price["net"]) == net
    assert Decimal(price["tax"]["amount"]) == (net / 5).quantize(penny, "ROUND_HALF_UP")
    assert Decimal(price["total"]) == net + Decimal(price["tax"]["amount"])
    assert {"Within the week", "Call-out", "Fitting"} <= {line["what"] for line in price["lines"]}


def test_without_a_book_nothing_is_priced_and_the_service_is_ready(headings, refused):
    with TestClient(create_app(Settings(workroom_keys=(DIGEST,)), headings)) as client:
        assert client.get("/health/ready").json() == {"status": "ready", "refused": [], "rates": None}
        job = ESTIMATE | {"fabrics": {"Teasel": {"width": 54}}}
        # Who asks nothing of a price is not told that there is none; who asks for a rush or the fitting is.
        for pricing, is_told in (({}, False), ({"rush": True}, True), ({"fitting": True}, True)):
            reply = post(client, "estimate", job | {"pricing": pricing})
            assert (reply.status_code, reply.json()["price"]) == (200, None)
            assert ("not-priced" in {each["kind"] for each in reply.json()["cautions"]}) == is_told
        refused(post(client, "estimate", of_workroom(job)))
        asked = post(client, "estimate", of_workroom(job), BEARER).json()
        assert asked["price"] is None
        assert "workroom" not in asked
        [said] = [each["detail"] for each in asked["cautions"] if each["kind"] == "not-priced"]
        assert "no rate book" in said
        # A cloth that is in no book must be described.
        [error] = post(client, "estimate", ESTIMATE).json()["errors"]
        assert error["pointer"] == "/windows/0/fabric"


def test_readiness_tells_the_edition_and_the_digest_of_the_book_in_force(client, path):
    rates = client.get("/health/ready").json()["rates"]
    assert rates["edition"] == "Spring"
    assert hashlib.sha256(path.read_bytes()).hexdigest().startswith(rates["digest"])
    assert rates["trouble"] is None
    assert client.get("/health/live").json() == {"status": "live"}
