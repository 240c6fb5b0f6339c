"""One line of JSON for each request: nothing of what was asked, of who asked, or of any key."""

import logging
import sys
from datetime import UTC, datetime
from typing import Final

import msgspec

log: Final = logging.getLogger("pleatwright.requests")
_METHODS: Final = frozenset({"GET", "HEAD", "POST", "OPTIONS", "PUT", "PATCH", "DELETE", "CONNECT", "TRACE"})


class Line(msgspec.Struct, frozen=True):
    """What is logged of a request."""

    time: str
    id: str
    method: str
    operation: str
    status: int
    milliseconds: float
    bytes_in: int
    bytes_out: int


_encode: Final = msgspec.json.Encoder().encode


def told(line: Line) -> str:
    """Return the line as it is written."""
    return _encode(line).decode()


def at(seconds: float) -> str:
    """Return a time since the epoch as RFC 3339 has it.

    >>> at(0)
    '1970-01-01T00:00:00.000+00:00'
    """
    return datetime.fromtimestamp(seconds, UTC).isoformat(timespec="milliseconds")


def method_of(method: str) -> str:
    """Return a method as it is logged: one that nobody knows may be any text.

    >>> method_of("GET"), method_of("LETMEIN")
    ('GET', 'other')
    """
    return method if method in _METHODS else "other"


def write_to_standard_output() -> None:
    """Write the lines to standard output; what goes wrong goes to standard error, as text."""
    handler = logging.StreamHandler(sys.stdout)
    handler.setFormatter(logging.Formatter("%(message)s"))
    log.handlers[:] = [handler]
    log.setLevel(logging.INFO)
    log.propagate = False
