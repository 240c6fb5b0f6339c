"""A fence round a style's own code, since a style is somebody else's: a limit on its time, and on how it may end."""

import signal
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass
from types import FrameType
from typing import Any, Final, TypeVar

Result = TypeVar("Result")

LOADING: Final = 5.0
"""Seconds of the processor that importing a plugin, and checking each of its headings, may take."""
ANSWERING: Final = 1.0
"""Seconds of the processor that a style's code may take in all while one request waits; an honest call takes
microseconds."""
IDLE: Final = 10
"""Times those seconds by the clock, for code that sleeps. Many, so that a busy machine stops no honest style."""
AGAIN: Final = 0.1
"""Seconds until code that went on all the same is stopped again."""


class TooSlowError(RuntimeError):
    """A style's code did not come back in time."""


class EndedError(RuntimeError):
    """A style's code tried to end the program, or raised what is no Exception; the message says what."""


class _Stop(BaseException):
    """Raised in code that is out of time. No Exception, so that a style which catches those is stopped too."""


@dataclass(slots=True)
class Allowance:
    """The time that somebody else's code may still take: seconds of the processor, and seconds by the clock."""

    working: float
    waiting: float

    @classmethod
    def of(cls, seconds: float) -> "Allowance":
        """Return an allowance of so many seconds of the processor."""
        return cls(seconds, seconds * IDLE)


class _Watch:
    """Hears the timers of this process for the fence that is up; one that rings late, when it is down, is let go by."""

    __slots__ = ("_listens", "allowance", "over")

    def __init__(self) -> None:
        self._listens = False
        self.allowance: Allowance | None = None
        self.over = ""

    def begin(self, allowance: Allowance) -> None:
        """Put a fence up."""
        if not self._listens:
            # Once and for good: to take the signals for each call and give them back is dearer than the call.
            for number in (signal.SIGPROF, signal.SIGALRM):
                signal.signal(number, self._heard)
            self._listens = True
        self.over = ""
        self.allowance = allowance
        signal.setitimer(signal.ITIMER_PROF, max(allowance.working, 1e-6), AGAIN)
        signal.setitimer(signal.ITIMER_REAL, max(allowance.waiting, 1e-6), AGAIN)

    def end(self) -> None:
        """Take it down."""
        self.allowance = None
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.setitimer(signal.ITIMER_REAL, 0)

    def _heard(self, number: int, _frame: FrameType | None) -> None:
        if self.allowance:
            left = self.allowance.working if number == signal.SIGPROF else self.allowance.waiting
            self.over = self.over or f"it took over {left:.3g} s"
            raise _Stop


_WATCH: Final = _Watch()


def fenced(allowance: Allowance, call: Callable[..., Result], *arguments: Any) -> Result:
    """Return what somebody else's code returns. However it fails, an Exception comes out; Ctrl-C alone is let through.

    What the call takes is taken off the allowance. Raises TooSlowError when it takes more than is left, and EndedError
    for what is no Exception. The limit works by signals, and so only in the main thread of a process and only where
    there are such signals; the service answers in its main thread. Elsewhere the call's time is not limited.
    """
    limited = threading.current_thread() is threading.main_thread() and hasattr(signal, "SIGPROF")
    worked, began = time.process_time(), time.monotonic()
    if limited:
        _WATCH.begin(allowance)
    try:
        return call(*arguments)
    except (Exception, KeyboardInterrupt):
        raise
    except _Stop:
        raise TooSlowError(_WATCH.over) from None
    except BaseException as error:
        raise EndedError(f"{type(error).__name__}: {error}" if str(error) else type(error).__name__) from error
    finally:
        if limited:
            _WATCH.end()
        allowance.working -= time.process_time() - worked
        allowance.waiting -= time.monotonic() - began
