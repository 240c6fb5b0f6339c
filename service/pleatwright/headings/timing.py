"""A fence round a style's own code, since a style is somebody else's: a limit on its time, and on how it may end."""

import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType
from typing import Final

LOADING: Final = 5.0
"""Seconds that importing a plugin, and checking each of its headings, may take."""
ANSWERING: Final = 1.0
"""Seconds that a style's code may take in all while one request waits; an honest call takes microseconds."""
AGAIN: Final = 0.1
"""Seconds until code that went on all the same is stopped again."""


class TooSlowError(RuntimeError):
    """A style's code did not come back in time."""


class EndedError(RuntimeError):
    """A style's code tried to end the program, or raised what is no Exception; the message says what."""


class _Stop(BaseException):
    """Raised in code that is out of time. No Exception, so that a style which catches those is stopped too."""


@contextmanager
def fenced(seconds: float) -> Iterator[None]:
    """Run somebody else's code: however it fails, an Exception comes out. Ctrl-C alone is let through.

    Raises TooSlowError when the block takes longer than `seconds`, and EndedError for what is no Exception. The limit
    works by a signal, and so only in the main thread of a process and only where there are such signals; the service
    answers in its main thread. Elsewhere the block's time is not limited.
    """
    limited = threading.current_thread() is threading.main_thread() and hasattr(signal, "SIGALRM")

    def stop(_signal: int, _frame: FrameType | None) -> None:
        raise _Stop

    if limited:
        before = signal.signal(signal.SIGALRM, stop)
        signal.setitimer(signal.ITIMER_REAL, max(seconds, 1e-6), AGAIN)
    try:
        yield
    except (Exception, KeyboardInterrupt):
        raise
    except _Stop:
        raise TooSlowError(f"it took over {seconds:g} s") from None
    except BaseException as error:
        raise EndedError(f"{type(error).__name__}: {error}" if str(error) else type(error).__name__) from error
    finally:
        if limited:
            signal.setitimer(signal.ITIMER_REAL, 0)
            signal.signal(signal.SIGALRM, before)
