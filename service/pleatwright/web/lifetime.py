"""How the service ends: told so, it says that it is stopping, goes on a little, and finishes what it has begun."""

import math
import signal
import time
from contextlib import suppress
from types import FrameType
from typing import Final

import uvicorn

LONGEST_WORK: Final = 20
"""Seconds for what was begun to be worked out and read, over and above the arriving of a body; then it is cut short."""


class Lifetime:
    """Whether the service has been told to end."""

    stopping = False


class Server(uvicorn.Server):
    """A server that a SIGTERM ends without loss: what was begun is finished, and the process ends with status 0."""

    def __init__(self, config: uvicorn.Config, lifetime: Lifetime, seconds: float) -> None:
        """Go on for so many seconds after SIGTERM, so that whoever asks for readiness sees that it is over."""
        super().__init__(config)
        self._lifetime = lifetime
        self._seconds = seconds
        self._ends = math.inf

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        """Take SIGTERM as told to end in a while, and a second one as told to end now."""
        if sig != signal.SIGTERM:
            super().handle_exit(sig, frame)
            return
        # Not remembered, as the server's own would be: it raises the signal anew in the end, which is no status 0.
        self._ends = time.monotonic() + (0 if self._lifetime.stopping else self._seconds)
        self._lifetime.stopping = True

    async def on_tick(self, counter: int) -> bool:
        """Return whether it is time to take no more requests."""
        return await super().on_tick(counter) or time.monotonic() >= self._ends


def serve(app: object, lifetime: Lifetime, host: str, port: int, *, draining: float, slowest_request: float) -> bool:
    """Serve until told to end; return whether it had started."""
    config = uvicorn.Config(
        app,  # type: ignore[arg-type]
        host=host,
        port=port,
        access_log=False,
        server_header=False,
        log_level="warning",
        timeout_graceful_shutdown=math.ceil(slowest_request) + LONGEST_WORK,
    )
    server = Server(config, lifetime, draining)
    with suppress(KeyboardInterrupt):  # which is how it is ended at a bench
        server.run()
    return server.started
