"""The engine by itself, in this process: reading, answering and encoding each case, and what a worksheet adds."""

import json
import time
from collections.abc import Callable, Iterable, Sequence
from itertools import cycle
from typing import Any

from messages import ANSWERS, ENCODE, READER, answered, cases
from plan import Plan
from serving import SERVER_CORE, on
from tables import Goal, Measured, Table, median_ratio, ratio_with_spread, with_spread

BODIES = 96
"""Of a case in one round; of twelve windows an eighth as many."""
MOST_WITH_WORKSHEET = 2
STEPS = ("read", "answer", "encode")


def by_parts(plan: Plan) -> Measured:
    """Measure the three steps of each case, the cases interleaved, each round with bodies of its own."""
    taken: dict[tuple[str, str], list[float]] = {(case, step): [] for case in cases() for step in STEPS}
    with on(SERVER_CORE):
        for number in range(-1, plan.rounds):
            for case, (operation, bodies) in cases().items():
                steps = _steps(operation, bodies_of_round(bodies, number, count_of(case)))
                if number >= 0:  # the round before makes whatever is made once
                    for step, microseconds in zip(STEPS, steps, strict=True):
                        taken[case, step].append(microseconds)
    rows = []
    for case in cases():
        whole = [sum(each) for each in zip(*(taken[case, step] for step in STEPS), strict=True)]
        cells = [with_spread(taken[case, step]) for step in STEPS]
        rows.append([case, *cells, with_spread(whole), f"{min(whole):,.0f}"])
    title = "The engine alone, one thread, µs a request"
    return Measured([Table(title, ("case", *STEPS, "all three", "quickest round"), rows)])


def _steps(operation: str, bodies: Sequence[bytes]) -> tuple[float, float, float]:
    requests, reading = timed(lambda body: READER.read(operation, body), bodies)
    replies, answering = timed(ANSWERS[operation], requests)
    _, encoding = timed(ENCODE, replies)
    return reading, answering, encoding


def timed(work: Callable[[Any], Any], given: Iterable[Any]) -> tuple[list[Any], float]:
    """Return what comes of each, and the microseconds that one takes."""
    began = time.perf_counter()
    found = [work(each) for each in given]
    return found, (time.perf_counter() - began) / len(found) * 1e6


def bodies_of_round(bodies: Sequence[bytes], number: int, count: int) -> list[bytes]:
    """Return so many bodies, others in each round until all have had their turn."""
    return [bodies[(number * count + at) % len(bodies)] for at in range(count)]


def rate(case: str, seconds: float) -> float:
    """Return the requests of a case a second that are read, answered and encoded, for as long."""
    operation, bodies = cases()[case]
    began = time.perf_counter()
    for count, body in enumerate(cycle(bodies), 1):
        ENCODE(answered(operation, body))
        passed = time.perf_counter() - began
        if passed >= seconds:
            return count / passed
    raise AssertionError(f"there are no requests of {case}")


def count_of(case: str) -> int:
    """Return how many requests of a case a round has."""
    return BODIES // 8 if case == "twelve windows" else BODIES


def worksheet(plan: Plan) -> Measured:
    """Measure estimates with a worksheet and without, one of each in turn."""
    _, bodies = cases()["estimate"]
    sheets = [json.dumps(json.loads(body) | {"worksheet": True}).encode() for body in bodies]
    without: list[float] = []
    with_sheet: list[float] = []
    with on(SERVER_CORE):
        for number in range(-1, plan.rounds):
            chosen = zip(*(bodies_of_round(each, number, BODIES) for each in (bodies, sheets)), strict=True)
            spent = [0.0, 0.0]
            for pair in chosen:
                for at, body in enumerate(pair):
                    began = time.perf_counter()
                    encoded = ENCODE(answered("estimate", body))
                    spent[at] += time.perf_counter() - began
                    assert (b'"worksheet":[' in encoded) == bool(at)
            if number >= 0:
                without.append(spent[0] / BODIES * 1e6)
                with_sheet.append(spent[1] / BODIES * 1e6)
    row = ["estimate", with_spread(without), with_spread(with_sheet), ratio_with_spread(with_sheet, without)]
    columns = ("case", "without", "with a worksheet", "with : without")
    goal = Goal("estimate with a worksheet : without", median_ratio(with_sheet, without), MOST_WITH_WORKSHEET)
    return Measured([Table("A worksheet, the engine alone, µs a request", columns, [row])], [goal])
