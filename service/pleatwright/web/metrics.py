"""What this process has answered, counted for Prometheus. Every label comes from a closed list."""

from collections.abc import Iterable
from typing import Any, Final

from prometheus_client import CONTENT_TYPE_PLAIN_0_0_4, CollectorRegistry, Counter, Histogram, generate_latest

MEDIA_TYPE: Final = CONTENT_TYPE_PLAIN_0_0_4.partition("; charset")[0]
"""Litestar puts the charset behind it."""
UNMATCHED: Final = "unmatched"
_BUCKETS: Final = (0.001, 0.0025, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10)
"""Seconds: from the quickest operation to the solver's full time."""


class Metrics:
    """The figures of one process, since it started."""

    def __init__(self, operations: Iterable[str], styles: Iterable[str]) -> None:
        self._registry = CollectorRegistry()
        self._operations = (*operations, UNMATCHED)
        requests = Counter(
            "pleatwright_requests",
            "Requests answered, by operation and class of status.",
            ["operation", "outcome"],
            registry=self._registry,
        )
        seconds = Histogram(
            "pleatwright_request_seconds",
            "Time from a request's head to the end of its reply, by operation.",
            ["operation"],
            registry=self._registry,
            buckets=_BUCKETS,
        )
        used = Counter(
            "pleatwright_styles_used",
            "Replies made with a heading style; a reply with several counts for each.",
            ["style"],
            registry=self._registry,
        )
        # Made beforehand: so each is there from the start, at nothing, and nothing that a client sends makes another.
        self._requests = {
            (name, outcome): requests.labels(name, f"{outcome}xx") for name in self._operations for outcome in (2, 4, 5)
        }
        self._seconds = {name: seconds.labels(name) for name in self._operations}
        self._used = {style: used.labels(style) for style in styles}

    def operation(self, handler: Any) -> str:
        """Return the name of the operation that a route's handler answers."""
        name = getattr(handler, "name", None)
        return name if name in self._seconds else UNMATCHED

    def answered(self, operation: str, status: int, seconds: float) -> None:
        """Count a request."""
        outcome = status // 100 if status >= 400 else 2
        self._requests[operation, min(outcome, 5)].inc()
        self._seconds[operation].observe(seconds)

    def made_with(self, reply: Any) -> None:
        """Count the styles that a reply was made with."""
        made_with = getattr(reply, "made_with", None)
        for style in made_with.styles if made_with else ():
            if style in self._used:
                self._used[style].inc()

    def text(self) -> bytes:
        """Return the figures in Prometheus' text format."""
        return generate_latest(self._registry)
