"""Many jobs in one request: lines a second beside the engine by itself on the same core, and the worker's memory."""

import http.client
import socket
import statistics
import threading
import time
from collections.abc import Sequence
from dataclasses import dataclass

import alone
from messages import ENCODE, answered, estimate_lines
from plan import Plan
from serving import CLIENT_CORE, SERVER_CORE, Service, on, ours
from tables import Goal, Measured, Table, median_ratio, ratio_with_spread, with_spread
from wire import request

LINES = 1000
PATH = "/v1/estimate/batch"
BEGINS = b'{"units":"in","job":'
"""Whatever is answered begins so; a problem does not."""
LEAST_SHARE, MOST_GROWTH = 0.85, 1.1


@dataclass(frozen=True)
class Answered:
    """A batch answered: seconds by the clock, of the worker's processor and of the client's, MB at most and after."""

    seconds: float
    worker: float
    client: float
    most_memory: float
    memory: float


def send(service: Service, lines: Sequence[bytes]) -> Answered:
    """Send a batch, and read its reply as it comes; fails when a line is not answered, or by a problem."""
    asked = request(PATH, b"\n".join(lines) + b"\n", "application/x-ndjson")
    service.forget_most_memory()
    with on(CLIENT_CORE), socket.create_connection(("127.0.0.1", service.port)) as connection:
        worker, client, began = sum(service.processor_seconds()), time.process_time(), time.perf_counter()
        sending = threading.Thread(target=connection.sendall, args=(asked,))
        sending.start()
        reply = http.client.HTTPResponse(connection, method="POST")
        reply.begin()
        assert reply.status == 200, f"a batch is answered with {reply.status}"
        count = 0
        for line in reply:
            assert line.startswith(BEGINS), f"line {count + 1} of a batch is answered with {line[:300]!r}"
            count += 1
        seconds, client = time.perf_counter() - began, time.process_time() - client
        sending.join()
    assert count == len(lines), f"{count} of {len(lines)} lines are answered"
    worker = sum(service.processor_seconds()) - worker
    return Answered(seconds, worker, client, service.memory("VmHWM"), service.memory())


def measure(plan: Plan) -> Measured:
    """Measure the rate of a thousand lines in turn with the engine's own, and then the memory of more lines."""
    lines = list(estimate_lines(max(LINES, *plan.batches)))
    body = sum(len(line) + 1 for line in lines)
    settings = {"batch_lines": len(lines), "largest_batch": max(body, 1 << 20)}
    batches: list[Answered] = []
    engine: list[float] = []
    with ours(**settings) as service:
        send(service, lines[:LINES])
        at_rest = service.memory()
        for _ in range(plan.rounds):
            with on(SERVER_CORE):
                engine.append(LINES * alone.timed(_answer, lines[:LINES])[1] / 1e6)
            batches.append(send(service, lines[:LINES]))
        grown = [(count, send(service, lines[:count])) for count in plan.batches]
    return Measured([_rates(batches, engine), _memory(at_rest, grown, settings)], _goals(batches, engine, grown))


def _answer(line: bytes) -> int:
    return len(ENCODE(answered("estimate", line)))


def _rates(batches: Sequence[Answered], engine: Sequence[float]) -> Table:
    clock, worker = [each.seconds for each in batches], [each.worker for each in batches]
    row = [
        with_spread([LINES / each for each in clock]),
        with_spread([LINES / each for each in engine]),
        ratio_with_spread(engine, clock),
        ratio_with_spread(engine, worker),
        f"{statistics.median(each.client / each.seconds for each in batches):.0%}",
    ]
    columns = (
        "lines a second",
        "engine alone",
        "share of it, by the clock",
        "by the worker's processor",
        "the client's core is busy for",
    )
    return Table(f"A batch of {LINES:,} distinct estimates, one worker on one core", columns, [row])


def _memory(at_rest: float, grown: Sequence[tuple[int, Answered]], settings: dict[str, int]) -> Table:
    rows = [["none, after others", "", f"{at_rest:,.1f}", ""]]
    rows += [
        [f"{count:,}", f"{count / each.seconds:,.0f}", f"{each.most_memory:,.1f}", f"{each.memory:,.1f}"]
        for count, each in grown
    ]
    given = ", ".join(f"{name}={value:,}" for name, value in settings.items())
    title = f"The worker's memory in a batch, MB ({given})"
    return Table(title, ("lines", "a second", "at most", "after"), rows)


def _goals(
    batches: Sequence[Answered], engine: Sequence[float], grown: Sequence[tuple[int, Answered]]
) -> Sequence[Goal]:
    (fewest, least), (most, greatest) = grown[0], grown[-1]
    return [
        Goal(
            "a batch's lines a second : the engine alone",
            median_ratio(engine, [each.seconds for each in batches]),
            LEAST_SHARE,
            at_least=True,
        ),
        Goal(
            f"memory at most with {most:,} lines : with {fewest:,}",
            greatest.most_memory / least.most_memory,
            MOST_GROWTH,
        ),
    ]
