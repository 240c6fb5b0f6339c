"""The body of a request as it arrives: counted, given so long, and read to its end before an early reply."""

import asyncio
import time
from typing import Final, cast

from litestar.types import HTTPReceiveMessage, HTTPRequestEvent, Receive

MOST_UNREAD: Final = 1024 * 1024
"""Bytes of a body nobody wants that are read so that its sender sees the reply; past them the connection is closed."""


class SlowError(Exception):
    """A body that had not arrived in time."""

    def __init__(self, seconds: float) -> None:
        super().__init__(f"the body was not there within {seconds:g} s")
        self.seconds = seconds


class LargeError(Exception):
    """A body of more bytes than are read."""

    def __init__(self, most: int) -> None:
        super().__init__(f"the body has more than {most} bytes")
        self.most = most


class GoneError(Exception):
    """A client that went away before its request had arrived."""


class Body:
    """The body of one request."""

    __slots__ = ("_in_lines", "_left", "_length", "_receive", "_seconds", "_waits", "_whole", "arrived")

    def __init__(
        self, receive: Receive, length: int | None, seconds: float, *, waits: bool, in_lines: bool = False
    ) -> None:
        """Take the body from `receive`; its sender `waits` to be asked for it when it expects 100 Continue.

        Of a body `in_lines` each line may take so many seconds, since its sender may make them as it goes; time in
        which nothing is asked for does not count.
        """
        self._receive = receive
        self._length = length
        self._seconds = seconds
        self._left = seconds
        self._waits = waits
        self._in_lines = in_lines
        self._whole = False
        self.arrived = 0

    async def whole(self, most: int) -> bytes:
        """Return all of it. Raises LargeError when that is more than `most` bytes, and what `receive` raises."""
        if self._length is not None and self._length > most:
            raise LargeError(most)
        parts = []
        while not self._whole:
            message = await self._next()
            if self.arrived > most:
                raise LargeError(most)
            parts.append(message["body"])
        return b"".join(parts)

    async def receive(self) -> HTTPReceiveMessage:
        """Return what arrives next. Raises SlowError when it is too late, and GoneError when the client has gone."""
        if self._whole:
            # What comes now is the end of the connection, whenever that is.
            return cast("HTTPReceiveMessage", await self._receive())
        return await self._next()

    async def _next(self) -> HTTPRequestEvent:
        began = time.monotonic()
        try:
            async with asyncio.timeout(self._left):
                message = await self._receive()
        except TimeoutError:
            raise SlowError(self._seconds) from None
        if message["type"] != "http.request":
            raise GoneError
        self.arrived += len(message["body"])
        self._whole = not message.get("more_body", False)
        self._left -= time.monotonic() - began
        if self._in_lines and b"\n" in message["body"]:
            self._left = self._seconds
        return message

    async def finished(self) -> bool:
        """Read what is left of a body that nobody read, within limits; return whether that was all."""
        if self._waits and not self.arrived:
            return self._whole
        if not self._whole and (self._length or 0) > MOST_UNREAD:
            return False
        try:
            while not self._whole and self.arrived <= MOST_UNREAD:
                await self.receive()
        except (SlowError, GoneError):
            return False
        return self._whole
