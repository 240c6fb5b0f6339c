"""The fence round a style's own code."""

import contextlib
import signal
import sys
import time
from typing import NoReturn

import pytest

from pleatwright.headings.timing import Allowance, EndedError, TooSlowError, fenced


def never_end() -> NoReturn:
    while True:
        pass


def catch_all_three_times() -> NoReturn:
    for _ in range(3):
        with contextlib.suppress(BaseException):
            never_end()
    never_end()


def test_code_that_never_ends_is_stopped_by_the_processors_clock() -> None:
    allowance = Allowance(working=0.05, waiting=60)
    with pytest.raises(TooSlowError, match=r"over 0\.05 s"):
        fenced(allowance, never_end)
    # The timer counts in ticks of some milliseconds, and may ring within one of its time.
    assert allowance.working < 0.01


def test_code_that_sleeps_is_stopped_by_the_wall_clock() -> None:
    allowance = Allowance(working=60, waiting=0.05)
    with pytest.raises(TooSlowError, match=r"over 0\.05 s"):
        fenced(allowance, time.sleep, 60)
    assert allowance.working > 59


def test_code_that_catches_what_stops_it_is_stopped_again() -> None:
    began = time.monotonic()
    with pytest.raises(TooSlowError):
        fenced(Allowance(working=0.05, waiting=60), catch_all_three_times)
    assert time.monotonic() - began < 10


def test_waiting_is_not_counted_as_work_so_a_busy_machine_stops_no_honest_style() -> None:
    allowance = Allowance.of(0.1)
    fenced(allowance, time.sleep, 0.3)
    assert allowance.working > 0.05
    assert allowance.waiting < 0.8


def test_code_that_ends_the_program_raises_an_exception_instead() -> None:
    with pytest.raises(EndedError, match="SystemExit: 3"):
        fenced(Allowance.of(1), sys.exit, 3)


def test_what_the_call_returns_comes_back() -> None:
    assert fenced(Allowance.of(1), divmod, 7, 2) == (3, 1)


def test_no_timer_stays_behind_and_a_signal_that_comes_late_is_let_go_by() -> None:
    fenced(Allowance.of(1), int)
    assert signal.getitimer(signal.ITIMER_PROF) == signal.getitimer(signal.ITIMER_REAL) == (0.0, 0.0)
    for each in (signal.SIGPROF, signal.SIGALRM):
        signal.raise_signal(each)
