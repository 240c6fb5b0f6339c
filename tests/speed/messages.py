"""The messages that speed is measured with: distinct requests that are answered, so that no cache can help."""

import json
from collections.abc import Callable, Iterator
from functools import cache
from itertools import islice
from pathlib import Path
from typing import Any

import msgspec

from pleatwright import workroom
from pleatwright.contract.reading import RequestReader
from pleatwright.faults import Impossible
from pleatwright.headings.host import find_headings

EXAMPLES = Path(__file__).resolve().parents[2] / "openapi" / "examples"
HEADINGS = find_headings()
READER = RequestReader(HEADINGS.options)
DISTINCT = 1024
ENCODE = msgspec.json.Encoder().encode
ANSWERS: dict[str, Callable[[Any], Any]] = {
    "pleats": lambda asked: workroom.pleats(asked, HEADINGS),
    "panel": lambda asked: workroom.panel(asked, HEADINGS),
    "repeat": workroom.repeat,
    "estimate": lambda asked: workroom.estimate(asked, HEADINGS),
}
BAYS = 12
MIX = {"pleats": 40, "panel": 25, "repeat": 20, "estimate": 14, "twelve windows": 1}
"""Of a hundred mixed requests."""


def example(operation: str) -> dict[str, Any]:
    """Return the example of an operation, without a worksheet."""
    found: dict[str, Any] = json.loads((EXAMPLES / f"{operation}.json").read_bytes())
    found.pop("worksheet", None)
    return found


def twelve_windows() -> dict[str, Any]:
    """Return the example of a job with its window twelve times."""
    job = example("estimate")
    [window] = job["windows"]
    return job | {"windows": [window | {"label": f"Bay {number}"} for number in range(1, BAYS + 1)]}


def answered(operation: str, body: bytes) -> Any:
    """Return what comes of a body."""
    return ANSWERS[operation](READER.read(operation, body))


@cache
def cases() -> dict[str, tuple[str, list[bytes]]]:
    """Return the cases: by name, the operation and its distinct bodies, each 1/64 in or so from the one before."""
    estimates = _distinct("estimate", _estimate)
    return {
        "pleats": ("pleats", _distinct("pleats", _pleats)),
        "panel": ("panel", _distinct("panel", _panel)),
        "repeat": ("repeat", _distinct("repeat", _repeat)),
        "estimate": ("estimate", estimates),
        "twelve windows": ("estimate", list(_jobs_of_twelve(estimates))),
    }


def mixed() -> list[tuple[str, bytes]]:
    """Return distinct requests of every case, shared out evenly as MIX has them: (case, body)."""
    places = sorted(((number + 0.5) / share, case) for case, share in MIX.items() for number in range(share))
    bodies = {case: iter(found) for case, (_, found) in cases().items()}
    rounds = min(len(found) // MIX[case] for case, (_, found) in cases().items())
    return [(case, next(bodies[case])) for _ in range(rounds) for _, case in places]


def estimate_lines(count: int) -> Iterator[bytes]:
    """Yield distinct estimates of one window, for a batch: of each rod's width first, then of other heights."""
    _, bodies = cases()["estimate"]
    for number in range(count):
        taller, at = divmod(number, len(bodies))
        job = json.loads(bodies[at])
        job["windows"][0]["hang"]["carrying_height"] = f"{96 * 64 - taller}/64"
        yield json.dumps(job, separators=(",", ":")).encode()


def _distinct(operation: str, change: Callable[[dict[str, Any], int], dict[str, Any]]) -> list[bytes]:
    return list(islice(_those_answered(operation, change), DISTINCT))


def _those_answered(operation: str, change: Callable[[dict[str, Any], int], dict[str, Any]]) -> Iterator[bytes]:
    for step in range(2 * DISTINCT):
        body = json.dumps(change(example(operation), step)).encode()
        try:
            answered(operation, body)
        except Impossible:
            continue
        yield body
    raise AssertionError(f"too few {operation} are answered")


def _pleats(body: dict[str, Any], step: int) -> dict[str, Any]:
    flat = 127 * 64 + DISTINCT // 2 - step
    return body | {"flat_width": f"{flat}/64", "finished_width": f"{flat * 53 // 127}/64"}


def _panel(body: dict[str, Any], step: int) -> dict[str, Any]:
    return body | {"rod": body["rod"] | {"width": f"{96 * 64 - step}/64"}}


def _repeat(body: dict[str, Any], step: int) -> dict[str, Any]:
    return body | {"cut_length": f"{111 * 64 + step}/64"}


def _estimate(body: dict[str, Any], step: int) -> dict[str, Any]:
    [window] = body["windows"]
    return body | {"windows": [window | {"rod": window["rod"] | {"width": f"{120 * 64 - step}/64"}}]}


def _jobs_of_twelve(estimates: list[bytes]) -> Iterator[bytes]:
    """Yield jobs of twelve windows, no two alike, and no two jobs either."""
    windows = [json.loads(body)["windows"][0] for body in estimates]
    apart = len(windows) // BAYS
    for first in range(len(windows)):
        chosen = [windows[(first + bay * apart) % len(windows)] for bay in range(BAYS)]
        bays = [window | {"label": f"Bay {number}"} for number, window in enumerate(chosen, 1)]
        yield json.dumps(twelve_windows() | {"windows": bays}).encode()
