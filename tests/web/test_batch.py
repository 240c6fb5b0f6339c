"""Many jobs in one request, against a service that really runs."""

import asyncio
import json
import re
import time
import tracemalloc
import urllib.request
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from pathlib import Path

import pytest

from pleatwright.web.batch import MOST_WAITING, PATIENCE, Lines
from pleatwright.web.bodies import Body
from pleatwright.web.keys import digest_of

from .wire import EXAMPLES, is_closed, read_reply, request

PATH = "/v1/estimate/batch"
NDJSON = "application/x-ndjson"
JOB = json.dumps(json.loads((EXAMPLES / "estimate.json").read_bytes()), separators=(",", ":")).encode()
KEY = "wk-7Hn2_a-key-of-the-tests"
MOST_LINES, LARGEST, LARGEST_BATCH, SLOWEST = 12, 4096, 20_000, 1.5


@pytest.fixture(scope="module")
def service(start):
    settings = {
        "batch_lines": MOST_LINES,
        "largest_request": LARGEST,
        "largest_batch": LARGEST_BATCH,
        "slowest_request": SLOWEST,
        "workroom_keys": digest_of(KEY),
    }
    with start(**settings) as service:
        yield service


def send(service, body, path=PATH, **headers):
    """Return the status, the headers and the body of a reply."""
    given = {"content-type": NDJSON} | {name.replace("_", "-"): value for name, value in headers.items()}
    asked = urllib.request.Request(f"http://127.0.0.1:{service.port}{path}", body, given)
    try:
        with urllib.request.urlopen(asked, timeout=60) as reply:
            return reply.status, reply.headers, reply.read()
    except urllib.error.HTTPError as error:
        return error.status, error.headers, error.read()


def answers(service, *lines, **headers):
    status, _, body = send(service, b"\n".join(lines), **headers)
    assert status == 200
    return [json.loads(line) for line in body.splitlines()]


def statuses(replies):
    return [reply.get("status", 200) for reply in replies]


def changed(**fields):
    return json.dumps(json.loads(JOB) | fields, separators=(",", ":")).encode()


def test_each_line_is_answered_as_the_estimate_answers_it_in_their_order(service):
    jobs = [changed(job=f"Job {number}", worksheet=number % 2 == 0) for number in range(5)]
    _, headers, body = send(service, b"\n".join(jobs) + b"\n")
    assert headers["content-type"] == NDJSON
    alone = [send(service, job, "/v1/estimate", content_type="application/json")[2] for job in jobs]
    assert body == b"\n".join(alone) + b"\n"


def test_a_line_that_is_wrong_has_its_problem_and_the_rest_go_on(service):
    impossible = json.loads(JOB)
    impossible["windows"][0]["hang"] |= {"clearance": 4000}
    lines = [JOB, b"shears", b"", changed(units="ell"), json.dumps(impossible).encode(), JOB]
    replies = answers(service, *lines)
    assert statuses(replies) == [200, 400, 400, 400, 422, 200]
    assert replies[0] == replies[5]
    for line, reply in zip(lines[1:5], replies[1:5], strict=True):
        status, _, alone = send(service, line, "/v1/estimate", content_type="application/json")
        assert (reply["status"], reply) == (status, json.loads(alone))


def test_nothing_is_answered_by_nothing(service):
    assert answers(service) == []


def test_each_line_is_answered_before_the_next_is_sent(service):
    with service.connect() as connection:
        connection.sendall(request("POST", PATH, content_type=NDJSON, transfer_encoding="chunked"))
        stream = connection.makefile("rb")
        while stream.readline() != b"\r\n":
            pass
        for number in range(3):
            # Slower than a whole body may be: each line has that time for itself.
            time.sleep(SLOWEST * 0.5)
            line = changed(job=f"Job {number}") + b"\n"
            connection.sendall(b"%x\r\n%b\r\n" % (len(line), line))
            size = int(stream.readline(), 16)
            assert json.loads(stream.read(size))["job"] == f"Job {number}"
            stream.readline()
        connection.sendall(b"0\r\n\r\n")
        assert stream.readline() == b"0\r\n"


def test_a_client_that_sends_everything_before_it_reads_is_answered(start):
    """More than any buffer between the two holds, both ways."""
    with start(log="off") as service, service.connect() as connection:
        body = b"\n".join([JOB] * 900)
        connection.sendall(request("POST", PATH, body, content_type=NDJSON, connection="close"))
        time.sleep(0.5)
        got = b""
        while more := connection.recv(1 << 20):
            got += more
        assert got.count(b'"units":"in","job":') == 900


def test_as_many_lines_as_are_allowed_are_answered_and_one_more_is_not(service):
    assert statuses(answers(service, *[JOB] * MOST_LINES)) == [200] * MOST_LINES
    replies = answers(service, *[JOB] * (MOST_LINES + 1))
    assert statuses(replies) == [200] * MOST_LINES + [413]
    assert f"{MOST_LINES} lines" in replies[-1]["detail"]


def test_a_line_of_the_largest_request_is_read_and_one_byte_more_is_not(service):
    replies = answers(service, JOB.ljust(LARGEST), JOB.ljust(LARGEST + 1), JOB)
    assert statuses(replies) == [200, 413, 200]
    assert f"{LARGEST} bytes" in replies[1]["detail"]


def test_a_batch_of_the_largest_size_is_read_and_one_byte_more_is_not(service):
    lines = [JOB.ljust(LARGEST)] * 4
    left = LARGEST_BATCH - sum(len(line) + 1 for line in lines)
    assert statuses(answers(service, *lines, JOB.ljust(left))) == [200] * 5
    assert statuses(answers(service, *lines, JOB.ljust(left + 1)))[-1] == 413


def test_a_sender_that_stops_is_told_so_and_let_go(service):
    with service.connect() as connection:
        head = request("POST", PATH, content_type=NDJSON, content_length="5000")
        began = time.monotonic()
        connection.sendall(head + JOB + b"\n" + JOB[:40])
        got = b""
        while more := connection.recv(65_536):
            got += more
        assert SLOWEST * 0.9 < time.monotonic() - began < SLOWEST + 5
    assert got.count(b'"units":"in","job":') == 1
    assert b'"status":408' in got


def test_a_line_that_comes_by_drops_is_given_up_in_the_time_of_one(service):
    """Each drop in time, and the line not: else a batch would hold its connection for as long as anyone liked."""
    with service.connect() as connection:
        began = time.monotonic()
        connection.sendall(request("POST", PATH, content_type=NDJSON, content_length="5000") + JOB + b"\n")
        connection.settimeout(SLOWEST * 0.2)
        got = b""
        while b'"status":408' not in got:
            assert time.monotonic() - began < SLOWEST + 5
            with suppress(TimeoutError):
                got += connection.recv(65_536)
            with suppress(OSError):
                connection.sendall(b" ")
        assert time.monotonic() - began > SLOWEST * 0.9


def test_a_line_without_end_takes_no_more_memory_than_the_longest():
    """Nor does it take longer with each part: what was there is copied with every one that comes."""

    async def taken():
        left = 100

        async def receive():
            nonlocal left
            left -= 1
            if left < 0:
                await asyncio.Event().wait()
            return {"type": "http.request", "body": b" " * LARGEST, "more_body": left > 0}

        lines = Lines(receive, LARGEST, MOST_LINES, 100 * LARGEST)
        taking_in = asyncio.create_task(lines.take_in())
        line = await lines.next()
        taking_in.cancel()
        return line

    tracemalloc.start()
    try:
        assert len(asyncio.run(taken())) == LARGEST + 1
        assert tracemalloc.get_traced_memory()[1] < 50 * LARGEST
    finally:
        tracemalloc.stop()


PART, PARTS = b" " * 1023 + b"\n", 1000


def body_of_parts():
    """Return (what receives a body in many parts, the count of those that it has given by then)."""
    given = [0]

    async def receive():
        given[0] += 1
        if given[0] > PARTS:
            await asyncio.Event().wait()
        return {"type": "http.request", "body": PART, "more_body": given[0] < PARTS}

    return receive, given


async def a_while():
    for _ in range(2 * PARTS):
        await asyncio.sleep(0)


def test_from_a_client_that_reads_no_more_is_taken_in_than_is_soon_answered():
    async def taken():
        receive, given = body_of_parts()
        lines = Lines(receive, LARGEST, PARTS, PARTS * len(PART))
        taking_in = asyncio.create_task(lines.take_in())
        await a_while()
        at_once = given[0]
        for _ in range(10):
            assert await lines.next() == PART[:-1]
            await a_while()
        taking_in.cancel()
        return at_once, given[0]

    assert asyncio.run(taken()) == (MOST_WAITING // len(PART), MOST_WAITING // len(PART) + 10)


def test_from_a_client_that_does_not_read_all_is_taken_in_until_it_does():
    async def taken():
        receive, given = body_of_parts()
        lines = Lines(receive, LARGEST, PARTS, PARTS * len(PART))
        taking_in = asyncio.create_task(lines.take_in())
        is_read = asyncio.Event()

        async def send(message):
            await is_read.wait()

        replying = asyncio.create_task(
            lines.reply(send, {"type": "http.response.body", "body": b"", "more_body": True})
        )
        await asyncio.sleep(PATIENCE / 2)
        before = given[0]
        await asyncio.sleep(PATIENCE)
        await a_while()
        is_read.set()
        await replying
        taking_in.cancel()
        return before, given[0]

    assert asyncio.run(taken()) == (MOST_WAITING // len(PART), PARTS + 1)


def test_the_time_in_which_no_more_is_taken_in_is_not_the_senders():
    async def receive():
        return {"type": "http.request", "body": b" ", "more_body": True}

    async def taken():
        body = Body(receive, None, 0.05, waits=False, in_lines=True)
        for _ in range(3):
            await asyncio.sleep(0.04)
            await body.receive()

    asyncio.run(taken())


def test_a_batch_five_times_as_long_takes_no_more_memory(start):
    """Of a client that reads as it sends."""
    job, most = JOB.ljust(32 * 1024), []
    with start(log="off", largest_batch=64 * 1024 * 1024) as service:
        process = Path(f"/proc/{service.process.pid}")
        send(service, b"\n".join([job] * 20))
        for count in (100, 500):
            (process / "clear_refs").write_text("5")
            assert send_and_read(service, b"\n".join([job] * count)).count(b'"units":"in","job":') == count
            most.append(re.search(r"VmHWM:\s+(\d+) kB", (process / "status").read_text())[1])
    assert int(most[1]) < int(most[0]) + 4000


def send_and_read(service, body):
    """Return what is answered to a body that is sent while the reply is read."""
    asked = request("POST", PATH, body, content_type=NDJSON, connection="close")
    got = []
    with ThreadPoolExecutor(1) as sender, service.connect() as connection:
        sending = sender.submit(connection.sendall, asked)
        while more := connection.recv(1 << 20):
            got.append(more)
        sending.result()
    return b"".join(got)


def test_a_client_that_goes_away_ends_the_work(start):
    with start() as service:
        with service.connect() as connection:
            body = b"\n".join([JOB] * 1000)
            connection.sendall(request("POST", PATH, body, content_type=NDJSON, x_request_id="gone-away"))
            connection.recv(10)
        line = service.line("gone-away")
        assert line["operation"] == "batch"
        # A thousand would be some fifteen million bytes.
        assert line["bytes_out"] < 10_000_000


def test_others_are_served_meanwhile(start):
    with start(log="off") as service, ThreadPoolExecutor(1) as others:
        batch = others.submit(send, service, b"\n".join([JOB] * 700))
        times = []
        while not batch.done():
            began = time.monotonic()
            assert send(service, None, "/health/live")[0] == 200
            times.append(time.monotonic() - began)
            time.sleep(0.01)
        assert batch.result()[2].count(b"\n") == 700
        assert len(times) > 5
        assert sorted(times)[len(times) // 2] < 0.2


def test_a_line_that_needs_the_workrooms_key_is_refused_by_itself(service):
    lines = [JOB, changed(pricing={"view": "workroom"}), JOB]
    assert statuses(answers(service, *lines)) == [200, 401, 200]
    assert statuses(answers(service, *lines, authorization=f"Bearer {KEY}")) == [200, 200, 200]


@pytest.mark.parametrize(
    ("headers", "status"),
    [
        ({"content_type": "application/json"}, 415),
        ({"content_type": "text/plain"}, 415),
        ({"content_encoding": "gzip"}, 415),
        ({"accept": "application/json"}, 406),
        ({"accept": "application/x-ndjson;q=0"}, 406),
        ({"accept": "application/*"}, 200),
        ({"accept": "application/json, application/x-ndjson;q=0.1"}, 200),
    ],
)
def test_only_lines_of_json_go_in_and_come_out(service, headers, status):
    got, given, body = send(service, JOB, **headers)
    assert got == status
    if status != 200:
        assert given["content-type"] == "application/problem+json"
        assert json.loads(body)["status"] == status


def test_another_method_is_refused(service):
    with service.connect() as connection:
        connection.sendall(request("GET", PATH))
        status, headers, _ = read_reply(connection)
        assert (status, headers["allow"]) == (405, "POST, OPTIONS")


def test_the_connection_ends_with_the_batch(service):
    with service.connect() as connection:
        connection.sendall(request("POST", PATH, JOB, content_type=NDJSON))
        assert is_closed(connection)
