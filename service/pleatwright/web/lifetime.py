"""How the service ends: told so, it says that it is stopping, goes on a little, and finishes what it has begun."""

import asyncio
import math
import signal
import socket
import time
from functools import partial
from multiprocessing import parent_process
from types import FrameType
from typing import Any, Final

import uvicorn

from pleatwright.web.accepting import Acceptor
from pleatwright.web.protocol import Protocol

LAST_CALL: Final = 0.3
"""Seconds for what had connected, and not yet asked, when no more could connect."""


class Lifetime:
    """Whether the service has been told to end."""

    stopping = False


class Server(uvicorn.Server):
    """A server that a SIGTERM ends without loss: what was begun is finished, and the process ends with status 0."""

    def __init__(self, config: uvicorn.Config, lifetime: Lifetime, seconds: float) -> None:
        """Go on for so many seconds after SIGTERM, so that whoever asks for readiness sees that it is over.

        One that a parent process has started ends with it.
        """
        super().__init__(config)
        self._parent = parent_process()
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

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        """Begin to serve: at an address of its own, or at sockets that others share."""
        if not sockets:
            await super().startup(sockets)
            return
        await super().startup([])
        make = partial(Protocol, config=self.config, server_state=self.server_state, app_state=self.lifespan.state)
        servers: list[Any] = [Acceptor(each, make) for each in sockets]
        self.servers = servers

    async def on_tick(self, counter: int) -> bool:
        """Return whether it is time to take no more requests."""
        orphaned = self._parent is not None and not self._parent.is_alive()
        return await super().on_tick(counter) or time.monotonic() >= self._ends or orphaned

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        """End: take no more connections, answer those there are, and then what any server does."""
        self._lifetime.stopping = True
        for server in self.servers:
            server.close()
        await asyncio.sleep(LAST_CALL)
        await super().shutdown(sockets)
