"""Takes connections from a socket that several processes share, one at a time, so that each gets its part of a burst.

An event loop's own server takes all that wait at once: the process that wakes first would have them all, and keep them.
"""

import asyncio
import logging
import socket
from collections.abc import Callable
from typing import Final

log: Final = logging.getLogger(__name__)

PAUSE: Final = 0.001
"""Seconds that are left to the others after each connection: one that shares a core takes so long to wake."""
AGAIN: Final = 1.0
"""Seconds until more connections are taken when the system has no room for one."""


class Acceptor:
    """Takes connections while it is open; each gets a protocol of its own."""

    def __init__(self, listening: socket.socket, make: Callable[[], asyncio.Protocol]) -> None:
        listening.setblocking(False)
        self._loop = asyncio.get_running_loop()
        self._listening = listening
        self._make = make
        self._beginning: set[asyncio.Task[object]] = set()
        self._open = True
        self._listen()

    def _listen(self) -> None:
        if self._open:
            self._loop.add_reader(self._listening, self._accept)

    def _accept(self) -> None:
        try:
            connection, _ = self._listening.accept()
        except (BlockingIOError, ConnectionAbortedError, InterruptedError):
            return  # another process was quicker, or the client has gone
        except OSError as error:
            log.warning("no connection can be taken: %s", error.strerror)
            self._rest(AGAIN)
            return
        self._rest(PAUSE)
        connection.setblocking(False)
        connection.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        task = self._loop.create_task(self._loop.connect_accepted_socket(self._make, connection))
        self._beginning.add(task)
        task.add_done_callback(self._beginning.discard)

    def _rest(self, seconds: float) -> None:
        self._loop.remove_reader(self._listening)
        self._loop.call_later(seconds, self._listen)

    def close(self) -> None:
        """Take no more."""
        self._open = False
        self._loop.remove_reader(self._listening)

    async def wait_closed(self) -> None:
        """Return when what was taken has its protocol."""
        if self._beginning:
            await asyncio.wait(self._beginning)
