"""Work that takes long, done in parts so that others are served meanwhile, and whoever waits is told how far it is."""

from collections.abc import Callable, Generator
from typing import Any, TypeVar

from pleatwright.contract.notes import Progress

Reply = TypeVar("Reply")

Work = Generator[Progress | Callable[[], Any] | None, Any, Reply]
"""Yields None or how far it is where others may be served; or a part in which no heading style has a share, to be
called in any thread, and is sent what comes of that. Returns the reply."""


def at_once(work: Work[Reply]) -> Reply:
    """Do all of some work, part after part."""
    done = None
    while True:
        try:
            part = work.send(done)
        except StopIteration as end:
            reply: Reply = end.value
            return reply
        done = part() if callable(part) else None
