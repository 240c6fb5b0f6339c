"""A limit on how long a style's own code may take, since a style is somebody else's."""

import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType
from typing import Final

LOADING: Final = 5.0
"""Seconds that importing a plugin, and checking each of its headings, may take."""
ANSWERING: Final = 1.0
"""Seconds that one call of a style may take while a request waits; an honest one takes microseconds."""
AGAIN: Final = 0.1
"""Seconds until code that went on all the same is stopped again."""


class TooSlowError(BaseException):
    """A style's code did not come back in time. No Exception, so that a style which catches those is stopped too."""


FAILURES: Final = (Exception, SystemExit, TooSlowError)
"""The ways in which somebody else's code may fail, none of which may take the service along."""


@contextmanager
def time_limit(seconds: float) -> Iterator[None]:
    """Raise TooSlowError in the block when it takes longer than `seconds`.

    Works by a signal, and so only in the main thread of a process and only where there are such signals; the service
    answers in its main thread. Elsewhere the block is not limited.
    """
    if threading.current_thread() is not threading.main_thread() or not hasattr(signal, "SIGALRM"):
        yield
        return

    def stop(_signal: int, _frame: FrameType | None) -> None:
        raise TooSlowError(f"it took over {seconds:g} s")

    before = signal.signal(signal.SIGALRM, stop)
    signal.setitimer(signal.ITIMER_REAL, seconds, AGAIN)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.signal(signal.SIGALRM, before)
