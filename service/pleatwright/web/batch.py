"""Many jobs in one request: a line of JSON for each, answered by a line of JSON each, as they come."""

import asyncio
from collections.abc import Awaitable, Callable
from contextlib import suppress
from typing import Final

from litestar.types import Message, Receive, Scope, Send

from pleatwright.contract import problems
from pleatwright.contract.operations import NDJSON
from pleatwright.web.bodies import GoneError
from pleatwright.web.failures import RefusedError, id_of, problem_of
from pleatwright.web.forms import ENCODERS, JSON

FLUSH: Final = 65_536
"""Bytes of reply that are gathered before they are sent; what is there is sent whenever nothing more waits."""
MOST_WAITING: Final = 4 * FLUSH
"""Bytes of lines that wait to be answered before no more are taken in, from a client that reads as it sends."""
PATIENCE: Final = 0.2
"""Seconds for a client to read what it is sent, until it is taken to read only once it has sent everything."""

Answer = Callable[[bytes], Awaitable[bytes]]
_encode: Final = ENCODERS[JSON]


class Lines:
    """The lines of a body, taken in while the ones before are answered.

    A few at a time, whatever the length of the batch, from a client that reads its replies as they come. One that does
    not may be waiting to have sent everything: its lines are taken in all the same, up to the bytes that a batch may
    have. Of a line too long for anything it keeps one byte more than a line may have, so that one without end costs no
    more than others.
    """

    def __init__(self, receive: Receive, most_line: int, most_lines: int, most_bytes: int) -> None:
        self._receive = receive
        self._kept = most_line + 1
        self._most_lines = most_lines
        self._most_bytes = most_bytes
        self._taken: asyncio.Queue[bytes | Exception | None] = asyncio.Queue()
        self._waiting = 0
        self._unread = False
        self._room = asyncio.Event()
        self._room.set()
        self._gone = False

    @property
    def waits(self) -> bool:
        """Whether the next line has yet to arrive."""
        return self._taken.empty()

    async def next(self) -> bytes | None:
        """Return the next line; None after the last. Raises what ended the body early; GoneError at once."""
        found = await self._taken.get()
        if self._gone:
            raise GoneError
        if isinstance(found, Exception):
            raise found
        if found is not None:
            self._waiting -= len(found) + 1
            self._find_room(self._unread)
        return found

    async def reply(self, send: Send, message: Message) -> None:
        """Send part of the reply; while it is not read, lines are taken in all the same."""
        impatient = asyncio.get_running_loop().call_later(PATIENCE, self._find_room, True)
        try:
            await send(message)
        finally:
            impatient.cancel()
            self._find_room(False)

    def _find_room(self, unread: bool) -> None:
        self._unread = unread
        if unread or self._waiting < MOST_WAITING:
            self._room.set()
        else:
            self._room.clear()

    async def take_in(self) -> None:
        """Take in the body to its end, or to that of what is allowed; then wait for the client to go away."""
        try:
            await self._take_in()
            self._taken.put_nowait(None)
            await self._receive()
            self._gone = True
        except GoneError:
            self._gone = True
            self._taken.put_nowait(None)
        except Exception as error:  # whatever it is, who waits for the next line is to know
            self._taken.put_nowait(error)

    async def _take_in(self) -> None:
        rest, lines, arrived, more = b"", 0, 0, True
        while more:
            await self._room.wait()
            message = await self._receive()
            if message["type"] != "http.request":
                raise GoneError
            part, more = message.get("body", b""), message.get("more_body", False)
            arrived += len(part)
            if arrived > self._most_bytes:
                raise _too_large(f"The largest batch read here has {self._most_bytes} bytes: send the rest in another.")
            *whole, rest = (line[: self._kept] for line in (rest + part).split(b"\n"))
            if not more and rest:
                whole.append(rest)
            for line in whole:
                lines += 1
                if lines > self._most_lines:
                    detail = f"The largest batch read here has {self._most_lines} lines: send the rest in another."
                    raise _too_large(detail)
                self._taken.put_nowait(line)
                self._waiting += len(line) + 1
            self._find_room(self._unread)


def _too_large(detail: str) -> RefusedError:
    return RefusedError(problems.problem(413, detail))


class Batch:
    """An ASGI application that answers one batch."""

    def __init__(self, answer: Answer, most_line: int, most_lines: int, most_bytes: int) -> None:
        self._answer = answer
        self._most_line = most_line
        self._most_lines = most_lines
        self._most_bytes = most_bytes

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer each line with a line, in their order; a client that goes away ends it."""
        lines = Lines(receive, self._most_line, self._most_lines, self._most_bytes)
        headers = [(b"content-type", NDJSON.encode()), (b"vary", b"accept")]
        await send({"type": "http.response.start", "status": 200, "headers": headers})
        taking_in = asyncio.create_task(lines.take_in())
        try:
            with suppress(GoneError):
                await self._answer_all(lines, send, id_of(scope))
        finally:
            taking_in.cancel()

    async def _answer_all(self, lines: Lines, send: Send, name: str) -> None:
        reply = bytearray()
        more = True
        while more:
            try:
                line = await lines.next()
                if line is None:
                    more = False
                else:
                    reply += await self._answered(line) + b"\n"
            except GoneError:
                raise
            except Exception as error:
                reply += _encode(problem_of(error, name)) + b"\n"
                more = False
            if not more or lines.waits or len(reply) >= FLUSH:
                await lines.reply(send, {"type": "http.response.body", "body": bytes(reply), "more_body": more})
                reply.clear()
            # Others are served between one line and the next.
            await asyncio.sleep(0)

    async def _answered(self, line: bytes) -> bytes:
        if len(line) > self._most_line:
            detail = f"The largest line read here has {self._most_line} bytes: send fewer windows in one job."
            return _encode(problems.problem(413, detail))
        return await self._answer(line)
