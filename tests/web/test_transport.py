"""A running service and what clients do to it over the wire: slow, too much, cut short, in a row, in the wrong form."""

import json
import time

import pytest

from .wire import EXAMPLES, is_closed, read_reply, request

REPEAT = (EXAMPLES / "repeat.json").read_bytes()
JSON = {"Content_Type": "application/json"}
SLOWEST = 1
LARGEST = 4096


@pytest.fixture(scope="module")
def service(start):
    with start(slowest_request=SLOWEST, largest_request=LARGEST) as service:
        yield service


@pytest.fixture
def connection(service):
    with service.connect() as connection:
        yield connection


def told(reply, status):
    got, headers, body = reply
    assert got == status, body
    assert headers["content-type"] == "application/problem+json"
    problem = json.loads(body)
    assert problem["status"] == status
    return problem


def ask(connection, *parts, **headers):
    connection.sendall(request(*parts, **headers))
    return read_reply(connection)


def post(connection, body, **headers):
    return ask(connection, "POST", "/v1/repeat", body, **JSON | headers)


def is_well(connection):
    """Return whether the connection still answers, so that nothing was taken for what it is not."""
    return ask(connection, "GET", "/health/live")[0] == 200


def test_a_body_that_arrives_in_time_in_pieces_is_answered(connection):
    whole = request("POST", "/v1/repeat", REPEAT, **JSON)
    cut = len(whole) - 10
    connection.sendall(whole[:cut])
    time.sleep(SLOWEST / 2)
    connection.sendall(whole[cut:])
    assert read_reply(connection)[0] == 200
    assert is_well(connection)


def test_a_body_that_stops_is_given_up_and_the_connection_closed(connection, service):
    began = time.monotonic()
    connection.sendall(request("POST", "/v1/repeat", REPEAT, **JSON, X_Request_Id="slow-1")[:-1])
    reply = read_reply(connection)
    assert told(reply, 408)["type"] == "/problems/too-slow"
    assert reply[1]["connection"] == "close"
    assert SLOWEST <= time.monotonic() - began < SLOWEST + 2
    assert is_closed(connection)
    line = service.line("slow-1")
    assert (line["status"], line["bytes_in"]) == (408, len(REPEAT) - 1)


def test_a_body_that_comes_by_drops_is_given_up_in_the_same_time(connection):
    """Each drop comes soon after the last; it is the whole that takes too long."""
    began = time.monotonic()
    connection.sendall(request("POST", "/v1/repeat", Content_Length="4000", **JSON))
    connection.settimeout(0.1)
    reply = b""
    while not reply and time.monotonic() - began < 5:
        connection.sendall(b" ")
        try:
            reply = connection.recv(12)
        except TimeoutError:
            continue
    assert reply == b"HTTP/1.1 408"
    assert time.monotonic() - began < SLOWEST + 2


def test_a_slow_body_that_nobody_wants_is_not_waited_for_longer(connection):
    began = time.monotonic()
    connection.sendall(request("POST", "/nothing", Content_Length="100", **JSON))
    reply = read_reply(connection)
    told(reply, 404)
    assert reply[1]["connection"] == "close"
    assert time.monotonic() - began < SLOWEST + 2
    assert is_closed(connection)


def test_a_body_that_nobody_wants_is_read_and_the_connection_goes_on(connection):
    told(ask(connection, "POST", "/nothing", b"x" * 100_000), 404)
    told(ask(connection, "POST", "/v1/repeat", b"x" * (LARGEST + 1), **JSON), 413)
    assert is_well(connection)


@pytest.mark.parametrize("sent", ["length", "chunked"])
def test_a_body_of_the_limit_is_read_and_one_byte_more_is_not(sent, connection):
    def send(body):
        if sent == "length":
            return post(connection, body)
        chunks = f"{len(body):x}\r\n".encode() + body + b"\r\n0\r\n\r\n"
        connection.sendall(request("POST", "/v1/repeat", **JSON, Transfer_Encoding="chunked") + chunks)
        return read_reply(connection)

    assert send(REPEAT.ljust(LARGEST))[0] == 200
    told(send(REPEAT.ljust(LARGEST + 1)), 413)
    assert is_well(connection)


def test_a_body_of_gigabytes_is_refused_by_its_length_alone(connection):
    connection.sendall(request("POST", "/v1/repeat", Content_Length="9" * 12, **JSON))
    reply = read_reply(connection)
    told(reply, 413)
    assert reply[1]["connection"] == "close"
    assert is_closed(connection)


def test_whoever_asks_before_sending_is_told_no_without_sending(connection):
    connection.sendall(
        request("POST", "/v1/repeat", Content_Length="100", Expect="100-continue", Content_Type="text/x")
    )
    told(read_reply(connection), 415)
    assert is_closed(connection)


def test_whoever_asks_before_sending_is_told_to_go_on(connection):
    head = request("POST", "/v1/repeat", Content_Length=str(len(REPEAT)), Expect="100-continue", **JSON)
    connection.sendall(head)
    assert read_reply(connection)[0] == 100
    connection.sendall(REPEAT)
    assert read_reply(connection)[0] == 200


def test_headers_without_end_are_refused_and_the_connection_closed(connection):
    """The server's own limit, of 64 KiB."""
    connection.sendall(b"GET /health/live HTTP/1.1\r\nHost: localhost\r\n" + b"X-Flood: " + b"x" * 66_000)
    assert read_reply(connection)[0] == 400
    assert is_closed(connection)


def test_trailers_without_end_are_refused_and_the_connection_closed(connection):
    head = (
        b"POST /v1/repeat HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nTransfer-Encoding: chunked\r\n\r\n"
    )
    connection.sendall(head + b"1\r\n{\r\n0\r\n")
    time.sleep(0.2)
    connection.sendall(700 * (b"X-Flood: " + 85 * b"x" + b"\r\n"))
    assert read_reply(connection)[0] == 400
    assert is_closed(connection)


def test_trailers_are_no_headers(connection):
    """One that named a form no reply has would be refused, were it taken for a header."""
    head = (
        b"POST /v1/repeat HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nTransfer-Encoding: chunked\r\n\r\n"
    )
    body = b"%x\r\n%s\r\n0\r\nAccept: image/png\r\n\r\n" % (len(REPEAT), REPEAT)
    connection.sendall(head + body)
    assert read_reply(connection)[0] == 200


def test_many_headers_within_the_limit_are_let_be(connection):
    many = {f"X-{number}": "y" * 100 for number in range(300)}
    connection.sendall(request("GET", "/health/live", **many))
    assert read_reply(connection)[0] == 200


@pytest.mark.parametrize(
    "head",
    [
        b"nonsense\r\n\r\n",
        b"GET / HTTP/1.1\r\n\r\n",
        b"GET / HTTP/1.1\r\nHost: x\r\nHost: y\r\n\r\n",
        b"LETMEIN / HTTP/1.1\r\nHost: x\r\n\r\n",
        b"POST / HTTP/1.1\r\nHost: x\r\nContent-Length: 5\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n",
        b"GET / HTTP/1.1\r\nHost: x\r\nX-Folded: one\r\n two\r\n\r\n",
        b"GET / HTTP/1.1\r\nHost: x\r\nX-Name : one\r\n\r\n",
        b"POST / HTTP/1.1\r\nHost: x\r\nContent-Length: 5\r\nContent-Length: 6\r\n\r\n",
    ],
)
def test_what_is_not_http_is_refused(head, connection):
    connection.sendall(head)
    assert read_reply(connection)[0] == 400
    assert is_closed(connection)


def test_requests_in_a_row_are_answered_in_their_order(connection):
    paths = ["/health/live", "/nothing", "/v1/headings/goblet", "/problems/too-slow"]
    rows = [request("GET", path) for path in paths]
    rows.insert(2, request("POST", "/v1/repeat", REPEAT, **JSON))
    connection.sendall(b"".join(rows))
    assert [read_reply(connection)[0] for _ in rows] == [200, 404, 200, 200, 200]


def test_a_client_that_goes_away_within_its_body_is_not_a_failure_of_the_service(service):
    with service.connect() as connection:
        connection.sendall(request("POST", "/v1/repeat", REPEAT, **JSON, X_Request_Id="gone-1")[:-5])
    assert service.line("gone-1")["status"] == 400
    assert "Traceback" not in service.output.read_text()


def test_a_client_that_goes_away_before_its_reply_takes_nobody_along(service, connection):
    with service.connect() as other:
        other.sendall(request("POST", "/v1/repeat", REPEAT, **JSON, X_Request_Id="gone-2"))
    service.line("gone-2")
    assert is_well(connection)
    assert "Traceback" not in service.output.read_text()


@pytest.mark.parametrize(
    "headers",
    [
        {},
        {"Content_Type": "text/plain"},
        {"Content_Type": ""},
        *(JSON | {"Content_Encoding": each} for each in ("gzip", "br", "deflate", "x-unheard-of", "gzip, identity")),
    ],
)
def test_a_body_in_another_form_is_refused(headers, connection):
    told(ask(connection, "POST", "/v1/repeat", REPEAT, **headers), 415)
    assert is_well(connection)


NOT_JSON = {
    "nothing": b" ",
    "cut short": REPEAT[:-2],
    "more than one": b"{} {}",
    "not a number": b'{"units": "in", "cut_length": NaN}',
    "no end": b'{"units": "in", "cut_length": Infinity}',
    "less than no end": b'{"units": "in", "cut_length": -Infinity}',
    "deep": b"[" * 2000 + b"]" * 2000,
    "deep and unclosed": b'{"a":' * 800,
    "not UTF-8": b'{"units": "\xff\xfe"}',
    "half of a pair": b'{"units": "\\ud800"}',
    "UTF-16": '{"units": "in"}'.encode("utf-16"),
    "a mark before it": b"\xef\xbb\xbf" + REPEAT,
    "a comment": b"// cuts\n" + REPEAT,
    "a comma too many": b'{"units": "in",}',
}


@pytest.mark.parametrize("body", NOT_JSON.values(), ids=NOT_JSON)
def test_a_body_that_is_not_json_is_refused(body, connection):
    told(post(connection, body), 400)
    assert is_well(connection)


ABSURD = {
    "past a float": (b"1e999", 400),
    "below one": (b"-1e999", 400),
    "past any count of places": (b"1e999999999999", 400),
    "nearly nothing": (b"1e-999", 422),
    "past a machine's word": (b"18446744073709551616", 400),
    "more digits than may be read": (b"9" * 3500, 400),
    "more places than may be told apart": (b"111.75" + b"0" * 3500, 200),
}


@pytest.mark.parametrize(("number", "status"), ABSURD.values(), ids=ABSURD)
def test_a_number_of_absurd_size_is_answered_for_what_it_is(number, status, connection):
    body = REPEAT.replace(b'"111 3/4"', number)
    got, _, reply = post(connection, body)
    assert (got, len(reply) < 2000) == (status, True)
    if status == 200:
        assert reply == post(connection, REPEAT)[2]
    assert is_well(connection)


@pytest.mark.parametrize("first", [b'"cuts": 40,', b'"c\\u0075ts": 40,', b'"cuts": "forty",'])
def test_a_field_given_twice_is_refused(connection, first):
    """RFC 8259, section 4, leaves open which of the two counts; at 90 a yard nobody is to guess."""
    twice = REPEAT.replace(b"{", b"{" + first, 1)
    assert json.loads(REPEAT)["cuts"] != 40
    status, _, body = post(connection, twice)
    assert status == 400
    assert [fault["pointer"] for fault in json.loads(body)["errors"]] == ["/cuts"]


def test_head_is_answered_as_get_is_without_the_body(connection):
    connection.sendall(request("HEAD", "/v1/headings") + request("GET", "/v1/headings"))
    status, headers, _ = read_reply(connection, head_only=True)
    got, same, body = read_reply(connection)
    assert status == got == 200
    assert int(headers["content-length"]) == int(same["content-length"]) == len(body)
    assert headers["content-type"] == "application/json"


def test_options_names_the_methods(connection):
    status, headers, _ = ask(connection, "OPTIONS", "/v1/repeat")
    assert status == 204
    assert {"POST", "OPTIONS"} <= set(headers["allow"].split(", "))
    told(ask(connection, "OPTIONS", "/nothing"), 404)


def test_a_method_that_nothing_here_takes_is_refused(connection, service):
    told(ask(connection, "PROPFIND", "/v1/repeat", X_Request_Id="method-1"), 405)
    assert service.line("method-1")["method"] == "other"


def test_a_host_that_is_none_is_refused_as_a_problem(connection):
    connection.sendall(b"GET /health/live HTTP/1.1\r\nHost: a b/c\r\n\r\n")
    told(read_reply(connection), 400)
