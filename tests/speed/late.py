"""How late replies come at half of what a worker can do: requests come when they come, whatever is still unanswered.

A client on the other core sends at intervals as of chance (exponential: Poisson arrivals), each request on whichever
of its connections is free. A reply's time runs from when its request was due, so that no waiting is left out.

Requests that all take the same time and are answered one by one have a p99 of 4.3 times the median at half of
capacity, by chance alone [the queue M/D/1]. The bare callable and the Litestar handler have theirs beside ours: what
they have over that is the machine's.
"""

import random
import selectors
import socket
import statistics
import time
from collections import deque
from collections.abc import Sequence
from contextlib import ExitStack
from pathlib import Path

from loading import load, mixed_script, scripts
from messages import cases, mixed
from plan import Plan
from serving import CLIENT_CORE, Service, beside, on, ours
from tables import Goal, Measured, Table, with_spread
from wire import Reply, request

SHARE = 0.5
CONNECTIONS = 32
LEAST_SECONDS, LEAST_REQUESTS = 3, 400
"""A round lasts long enough for both."""
MIXED, LARGE = "mixed", "twelve windows"
WITH_GOAL = ("pleats", "estimate", MIXED)
BESIDE = ("floor", "shell")
MOST_RATIO = 5


def measure(plan: Plan) -> Measured:
    """Measure each case at half of the capacity that it has just been found to have, the services and cases in turn."""
    written: dict[str, Path] = scripts(plan.scratch) | {MIXED: mixed_script(plan.scratch)}
    found: dict[tuple[str, str], list[tuple[float, float, float, float]]] = {}
    with ExitStack() as ending:
        services = [ending.enter_context(each) for each in (ours(), *map(beside, BESIDE))]
        for number in range(plan.rounds):
            for case in WITH_GOAL:
                for service in services:
                    if number == 0:
                        load(service, written[case], 1)
                    rate = SHARE * load(service, written[case], plan.seconds).rate
                    seconds = max(LEAST_SECONDS, LEAST_REQUESTS / rate)
                    taken, lags = open_loop(service, _requests(case), rate, seconds, seed=number)
                    for told, times in _told(case, taken).items():
                        figures = (rate, statistics.median(times), _late(times), _late(lags))
                        found.setdefault((told, service.name), []).append(figures)
    rows = []
    for (case, name), rounds in found.items():
        rate, middle, late, lag = zip(*rounds, strict=True)
        ratios = [one / other for one, other in zip(late, middle, strict=True)]
        milliseconds = [with_spread([each * 1000 for each in times], 2) for times in (middle, late)]
        own = f"{statistics.median(lag) * 1000:.2f}"
        rows.append([case, name, with_spread(rate), *milliseconds, with_spread(ratios, 1), own])
    columns = ("case", "service", "requests a second", "median", "p99", "p99 : median", "the client's own delay, p99")
    goals = [
        Goal(
            f"p99 : median at half of capacity, {case}",
            statistics.median(late / middle for _, middle, late, _ in rounds),
            MOST_RATIO,
        )
        for (case, name), rounds in found.items()
        if name == services[0].name and not case.endswith(f": {LARGE}")
    ]
    shares = "40 pleats, 25 panels, 20 repeats, 14 estimates and 1 of twelve windows in a hundred"
    title = f"Replies at half of one worker's capacity, ms; mixed are {shares}"
    return Measured([Table(title, columns, rows)], goals)


def _told(case: str, taken: Sequence[float]) -> dict[str, Sequence[float]]:
    """Return the times by what they are told as; of mixed requests jobs of twelve windows, which are long, apart."""
    if case != MIXED:
        return {case: taken}
    asked = mixed()
    is_large = [asked[number % len(asked)][0] == LARGE for number in range(len(taken))]
    few, many = (
        [time for time, large in zip(taken, is_large, strict=True) if large == which] for which in (True, False)
    )
    return {f"{MIXED}, but for {LARGE}": many, f"{MIXED}: {LARGE}": few}


def _requests(case: str) -> list[bytes]:
    asked = mixed() if case == MIXED else [(case, body) for body in cases()[case][1]]
    return [request(f"/v1/{cases()[each][0]}", body) for each, body in asked]


def _late(times: Sequence[float]) -> float:
    """Return the time that 99 in 100 do not exceed."""
    return sorted(times)[len(times) * 99 // 100]


def open_loop(
    service: Service, requests: Sequence[bytes], rate: float, seconds: float, seed: int
) -> tuple[list[float], list[float]]:
    """Send so many a second for a while; return the seconds that each took, in turn, and that the client was late."""
    chance = random.Random(seed)
    due = [chance.expovariate(rate)]
    while due[-1] < seconds:
        due.append(due[-1] + chance.expovariate(rate))
    taken = [0.0] * len(due)
    lags: list[float] = []
    waiting: deque[int] = deque()
    with ExitStack() as ending:
        ending.enter_context(on(CLIENT_CORE))
        # It is never asked to wait, since it would wait for whole milliseconds: this core has nothing else to do.
        selector = ending.enter_context(selectors.DefaultSelector())
        free = [_connection(service, ending) for _ in range(CONNECTIONS)]
        under_way: dict[socket.socket, tuple[int, Reply]] = {}
        for connection in free:
            selector.register(connection, selectors.EVENT_READ)
        following, began = 0, time.perf_counter()
        while following < len(due) or waiting or under_way:
            now = time.perf_counter() - began
            while following < len(due) and due[following] <= now:
                waiting.append(following)
                lags.append(now - due[following])
                following += 1
            while waiting and free:
                connection, number = free.pop(), waiting.popleft()
                connection.sendall(requests[number % len(requests)])
                under_way[connection] = number, Reply()
            for key, _ in selector.select(0):
                connection = key.fileobj
                number, reply = under_way[connection]
                if reply.take(connection):
                    taken[number] = time.perf_counter() - began - due[number]
                    del under_way[connection]
                    free.append(connection)
    assert all(taken)
    return taken, lags


def _connection(service: Service, ending: ExitStack) -> socket.socket:
    connection = ending.enter_context(socket.create_connection(("127.0.0.1", service.port)))
    connection.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
    return connection
