"""Serves: in this process, or in several that share one address and are begun anew when they end."""

import gc
import logging
import math
import os
import signal
import socket
import time
from contextlib import suppress
from multiprocessing import get_context
from multiprocessing.connection import wait
from multiprocessing.context import SpawnProcess
from types import FrameType
from typing import Final

import uvicorn

from pleatwright.web.app import create_app
from pleatwright.web.lifetime import Server
from pleatwright.web.protocol import Protocol
from pleatwright.web.request_log import write_to_standard_output
from pleatwright.web.settings import Settings, SettingsError, settings_from

log: Final = logging.getLogger(__name__)

LONGEST_WORK: Final = 20
"""Seconds for what was begun to be worked out and read, over and above the arriving of a body; then it is cut short."""
STARTING: Final = 10
"""Seconds within which a process that gives up is taken not to have started, and is not begun anew; one killed is."""
_JITTER: Final = 10
"""A tenth of the requests until a process is begun anew is left to chance, so that not all are at once."""
_LOOK: Final = 0.2
COLLECTED_AFTER: Final = 2_000
"""Things made and not yet done with, after which the collector looks for cycles; a large reply has some thousand."""


def serve(settings: Settings, host: str, port: int) -> bool:
    """Serve until told to end; return whether it had started.

    Raises what `create_app` raises, and SettingsError when several processes cannot listen there.
    """
    if settings.workers == 1 and not settings.recycle_after:
        return _serve_here(settings, host, port)
    create_app(settings)  # so that what is wrong with it is told once, before any process is begun
    try:
        listening = socket.create_server((host, port), family=socket.AF_INET6 if ":" in host else socket.AF_INET)
    except OSError as error:
        raise SettingsError(f"cannot listen at {host}, port {port}: {error.strerror}") from None
    with listening:
        listening.set_inheritable(True)
        return _Workers(settings.workers, listening).run()


def _serve_here(settings: Settings, host: str, port: int, listening: socket.socket | None = None) -> bool:
    app = create_app(settings)
    if settings.log == "json":
        write_to_standard_output()
    # What is there now stays till the end, and what a request makes is gone with its reply: the collector need not go
    # through the one again and again, nor look for cycles in the other several times a request.
    gc.collect()
    gc.freeze()
    gc.set_threshold(COLLECTED_AFTER)
    config = uvicorn.Config(
        app,
        http=Protocol,
        host=host,
        port=port,
        access_log=False,
        server_header=False,
        log_level="warning",
        limit_max_requests=settings.recycle_after or None,
        limit_max_requests_jitter=settings.recycle_after // _JITTER,
        timeout_graceful_shutdown=math.ceil(settings.slowest_request) + LONGEST_WORK,
    )
    server = Server(config, app.lifetime, settings.draining)
    with suppress(KeyboardInterrupt):  # which is how it is ended at a bench
        server.run([listening] if listening else None)
    return server.started


def _work(listening: socket.socket) -> None:
    """Serve in a process of its own."""
    raise SystemExit(0 if _serve_here(settings_from(os.environ), "", 0, listening) else 1)


class _Workers:
    """Processes that take connections from one socket; each that ends is begun anew."""

    def __init__(self, count: int, listening: socket.socket) -> None:
        self._count = count
        self._listening = listening
        self._begun: dict[SpawnProcess, float] = {}
        self._stopping = False
        self._failed = False

    def run(self) -> bool:
        """Keep so many processes going until told to end; return whether they had started."""
        for number in (signal.SIGTERM, signal.SIGINT):
            signal.signal(number, self._stop)
        while self._begun or not self._stopping:
            while len(self._begun) < self._count and not self._stopping:
                process = get_context("spawn").Process(target=_work, args=(self._listening,))
                process.start()
                self._begun[process] = time.monotonic()
            wait([process.sentinel for process in self._begun], _LOOK)
            for process in [each for each in self._begun if each.exitcode is not None]:
                lived = time.monotonic() - self._begun.pop(process)
                if (process.exitcode or 0) > 0 and lived < STARTING and not self._stopping:
                    log.error("a process ended with status %s as it started", process.exitcode)
                    self._failed = True
                    self._stop(signal.SIGTERM, None)
        return not self._failed

    def _stop(self, _number: int, _frame: FrameType | None) -> None:
        self._stopping = True
        for process in self._begun:
            process.terminate()
