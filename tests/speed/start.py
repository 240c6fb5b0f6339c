"""How soon a worker answers after it is started, and the memory it takes, beside a bare Litestar application."""

import os
import subprocess
import sys
import time
from collections.abc import Callable
from contextlib import AbstractContextManager

from loading import load, mixed_script
from messages import cases
from plan import Plan
from serving import CLIENT_CORE, HERE, SERVER_CORE, Service, bare, connected, on, ours
from tables import Measured, Table, ratio_with_spread, with_spread
from wire import ask

PART_OF_LOAD = 5
"""Seconds of load, after which the requests answered are counted."""
SERVED: dict[str, tuple[str, Callable[[], AbstractContextManager[Service]]]] = {
    "ours": ("pleatwright.web.app", lambda: ours(wait=False)),
    "bare Litestar": ("bare", bare),
}


def measure(plan: Plan) -> Measured:
    """Measure starts of both in turn, and the memory of the last of ours after many requests."""
    imports: dict[str, list[float]] = {name: [] for name in SERVED}
    firsts: dict[str, list[float]] = {name: [] for name in SERVED}
    at_rest: dict[str, list[float]] = {name: [] for name in SERVED}
    after_each: list[float] = []
    for number in range(-1, plan.rounds):
        for name, (module, serving) in SERVED.items():
            importing = _import_seconds(module)
            first, memory, each = _start(name, serving)
            if number >= 0:  # the start before compiles what is not compiled yet
                imports[name].append(importing * 1000)
                firsts[name].append(first * 1000)
                at_rest[name].append(memory)
                after_each += each
    figures = [("import, ms", imports, 0), ("to the first good reply, ms", firsts, 0), ("memory then, MB", at_rest, 1)]
    names = list(SERVED)
    rows = [
        [what, *(with_spread(found[name], decimals) for name in names), ratio_with_spread(*(found[n] for n in names))]
        for what, found, decimals in figures
    ]
    rows.append(["memory after one request of each case, MB", with_spread(after_each, 1), "", ""])
    count, memory, most = _after_many(plan)
    rows.append([f"memory after {count:,} mixed requests, MB (at most)", f"{memory:,.1f} ({most:,.1f})", "", ""])
    title = f"One worker: its start (of {plan.rounds}) and its memory"
    return Measured([Table(title, ("", *names, f"{names[0]} : {names[1]}"), rows)])


def _import_seconds(module: str) -> float:
    """Return how much longer Python takes when it imports a module than when it does nothing."""
    path = os.pathsep.join([*filter(None, [os.environ.get("PYTHONPATH")]), str(HERE)])
    taken = []
    for code in ("pass", f"import {module}"):
        with on(SERVER_CORE):
            began = time.perf_counter()
            subprocess.run([sys.executable, "-c", code], env=os.environ | {"PYTHONPATH": path}, check=True)
            taken.append(time.perf_counter() - began)
    return taken[1] - taken[0]


def _start(name: str, serving: Callable[[], AbstractContextManager[Service]]) -> tuple[float, float, list[float]]:
    """Return the seconds to the first good reply, the memory then, and for ours that after one of each case."""
    operation, bodies = cases()["pleats"]
    began = time.perf_counter()
    with serving() as service, on(CLIENT_CORE), connected(service) as connection:
        assert b'"pleat_count":' in ask(connection, operation, bodies[0])
        first, memory = time.perf_counter() - began, service.memory()
        if name != "ours":
            return first, memory, []
        for asked, found in cases().values():
            ask(connection, asked, found[0])
        return first, memory, [service.memory()]


def _after_many(plan: Plan) -> tuple[int, float, float]:
    """Answer at least as many requests as planned; return their count, the memory then and the most there was."""
    script, count = mixed_script(plan.scratch), 0
    with ours() as service:
        while count < plan.requests:
            count += load(service, script, PART_OF_LOAD if plan.requests - count > 2000 else 1).answered
        return count, service.memory(), service.memory("VmHWM")
