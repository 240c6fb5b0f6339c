"""Two workers beside one, on the same two cores, which the client shares with them.

With an estimate or twelve windows the client takes little; how much of the two cores is left to the workers is told,
and how many requests they answer for a second of the processor. Beside it stand the bare callable with as many workers,
and the engine by itself in as many processes: more than that the machine does not give.
"""

import multiprocessing
import statistics
import time
from collections.abc import Iterator, Sequence
from contextlib import ExitStack
from dataclasses import dataclass
from multiprocessing.connection import Connection
from multiprocessing.synchronize import Barrier
from pathlib import Path

import alone
from loading import load, scripts
from plan import Plan
from serving import CORES, Service, beside, on, ours
from tables import Goal, Measured, Table, median_ratio, ratio_with_spread, with_spread

CASES = ("estimate", "twelve windows")
CONNECTIONS = 16
"""Which connection falls to which worker is the kernel's affair; of so many, both get some."""
WARM_UPS = 30
LEAST_RATIO = 1.8
OURS, FLOOR, ENGINE = "ours", "floor", "engine alone"


@dataclass(frozen=True)
class Shared:
    """A rate; the cores that the workers kept busy, and the share that the less busy worker had of that."""

    rate: float
    processors: float
    least_share: float


def measure(plan: Plan) -> Measured:
    """Measure one and two of each, in turn."""
    written = scripts(plan.scratch)
    kinds = [(name, case) for case in CASES for name in (OURS, FLOOR, ENGINE)]
    found: dict[tuple[str, str, int], list[Shared]] = {(*kind, count): [] for kind in kinds for count in (1, 2)}
    with ExitStack() as ending:
        services = {}
        for count in (1, 2):
            services[OURS, count] = ending.enter_context(ours(CORES, workers=count))
            services[FLOOR, count] = ending.enter_context(beside(FLOOR, CORES, workers=count))
        for (_, count), service in services.items():
            _warm_up(service, written[CASES[0]], count)
        for _ in range(plan.rounds):
            for name, case in kinds:
                for count in (1, 2):
                    shared = (
                        Shared(_engine(case, count, plan.seconds), count, 1 / count)
                        if name == ENGINE
                        else _asked(services[name, count], written[case], plan.seconds)
                    )
                    found[name, case, count].append(shared)
    rows = [_row(name, case, found[name, case, 1], found[name, case, 2]) for name, case in kinds]
    columns = (
        "case",
        "one, a second",
        "two, a second",
        "two : one",
        "two : one, for a second of the workers' processor",
        "of the two cores, the two workers had",
        "of that, the less busy one",
    )
    goals = [
        Goal(
            f"two workers : one, {case}",
            median_ratio(*([each.rate for each in found[OURS, case, count]] for count in (2, 1))),
            LEAST_RATIO,
            at_least=True,
        )
        for case in CASES
    ]
    return Measured([Table("Two workers beside one, on two cores shared with the client", columns, rows)], goals)


def _row(name: str, case: str, one: Sequence[Shared], two: Sequence[Shared]) -> list[str]:
    rates = [[each.rate for each in shared] for shared in (one, two)]
    efficiency = [[each.rate / each.processors for each in shared] for shared in (one, two)]
    return [
        f"{case}, {name}",
        *(with_spread(each) for each in rates),
        ratio_with_spread(rates[1], rates[0]),
        ratio_with_spread(efficiency[1], efficiency[0]) if name != ENGINE else "",
        f"{statistics.median(each.processors for each in two) / 2:.0%}" if name != ENGINE else "",
        f"{statistics.median(each.least_share for each in two):.0%}" if name != ENGINE else "",
    ]


def _warm_up(service: Service, script: Path, count: int) -> None:
    """Ask until each worker has answered, and has made whatever is made once."""
    for _ in range(WARM_UPS):
        before = dict(_used(service))
        load(service, script, 1, CONNECTIONS, CORES)
        after = dict(_used(service))
        if len(after) == count and all(used - before.get(each, used) > 0.1 for each, used in after.items()):
            return
    raise AssertionError(f"{service.name}: not all of {count} workers answer")


def _used(service: Service) -> Iterator[tuple[int, float]]:
    return zip(service.workers(), service.processor_seconds(), strict=True)


def _asked(service: Service, script: Path, seconds: int) -> Shared:
    before, began = service.processor_seconds(), time.perf_counter()
    rate = load(service, script, seconds, CONNECTIONS, CORES).rate
    passed = time.perf_counter() - began
    used = [end - start for start, end in zip(before, service.processor_seconds(), strict=True)]
    return Shared(rate, sum(used) / passed, min(used) / sum(used))


def _engine(case: str, count: int, seconds: int) -> float:
    """Return the requests a second that the engine works out in so many processes, each on a core of its own."""
    context = multiprocessing.get_context("fork")  # which need not make the requests anew
    ready = context.Barrier(count)
    pipes = [context.Pipe(duplex=False) for _ in range(count)]
    processes = [
        context.Process(target=_work, args=(case, core, seconds, ready, ending))
        for core, (_, ending) in zip(CORES, pipes, strict=False)
    ]
    for process in processes:
        process.start()
    rates: list[float] = [receiving.recv() for receiving, _ in pipes]
    for process in processes:
        process.join()
    return sum(rates)


def _work(case: str, core: int, seconds: int, ready: Barrier, telling: Connection) -> None:
    with on(core):
        alone.rate(case, 0)  # one request, so that what is made once is made
        ready.wait()
        telling.send(alone.rate(case, seconds))
