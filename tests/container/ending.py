"""Checks that a container which is stopped before it serves does not wait until it is killed."""

import signal
import time

from machine import Trouble, check, say

GRACE = 30
SOON = 10
"""Seconds: far more than it takes, on a busy machine too, and far less than the grace."""


def check_early_end(engine, tag, options):
    """Stop it as it starts: by itself as the first process, and behind an init."""
    say("stopped before it serves")
    alone = [each for each in options if each != "--init"]
    with engine.started(tag, *alone) as container:
        wait_until_it_hears(container)
        listens = _listens(container)
        ended, seconds = container.stop(GRACE)
        check(not listens, "it hears a SIGTERM before it listens")
        check(ended == 0 and seconds < SOON, f"told so then, it ended after {seconds:.1f} s, with status 0")
    with engine.started(tag, *alone, "--init") as container:
        ended, seconds = container.stop(GRACE)
        check(seconds < SOON, f"behind an init, told so at once, it ended after {seconds:.1f} s, with status {ended}")


def wait_until_it_hears(container):
    """Return when SIGTERM is caught; until then the kernel drops it, for it is the first process."""
    began = time.monotonic()
    while time.monotonic() < began + GRACE:
        if int(container.status("SigCgt")[0], 16) & 1 << signal.SIGTERM - 1:
            return
        time.sleep(0.005)
    raise Trouble("SIGTERM is never caught")


def _listens(container):
    try:
        return container.ask("GET", "/health/live")[0] == 200
    except OSError:
        return False
