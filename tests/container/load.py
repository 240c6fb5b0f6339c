"""A bounded load of requests whose answers are known, and an account of what came back."""

import asyncio
import collections
import random
import time
from contextlib import suppress

from machine import EXAMPLES, SLOW_JOB, Trouble

CLIENTS = 6
PACE = 0.15
"""Seconds from one request of a client to its next, if it has been answered by then."""
PATIENCE = 180
BROKEN_OFF = "broken off, short of its length"
"""A reply that had begun to go out when its service was killed: no proxy can send the request again by then."""


def requests():
    """Return each example but the one that the solver takes seconds over, as (path, body)."""
    for file in sorted(set(EXAMPLES.rglob("*.json")) - {SLOW_JOB}):
        yield f"/v1/{file.stem.partition('-')[0]}", file.read_bytes()


class Load:
    """Clients of a proxy, each with one connection, that ask until they are told to stop."""

    def __init__(self, port, expected):
        self._port = port
        self._expected = expected
        self._stopping = False
        self._seen = []
        self._clients = [asyncio.create_task(self._client(seed)) for seed in range(CLIENTS)]

    async def stop(self):
        """Stop when what was asked is answered."""
        self._stopping = True
        await asyncio.gather(*self._clients)

    def account(self):
        """Return what has been seen since the last account: how often each outcome, and the times of the answers."""
        seen, self._seen = self._seen, []
        return collections.Counter(outcome for outcome, _ in seen), sorted(took for _, took in seen)

    async def ask(self, path, body, wanted):
        """Ask once, by a connection of its own, and note the outcome."""
        await self._once(_Connection(self._port), path, body, wanted)

    async def _client(self, seed):
        chance, connection = random.Random(seed), _Connection(self._port)
        while not self._stopping:
            began = time.monotonic()
            (path, body), wanted = chance.choice(list(self._expected.items()))
            await self._once(connection, path, body, wanted)
            await asyncio.sleep(max(0, began + PACE - time.monotonic()))
        connection.close()

    async def _once(self, connection, path, body, wanted):
        began = time.monotonic()
        try:
            async with asyncio.timeout(PATIENCE):
                status, form, reply = await connection.ask(path, body)
        except asyncio.IncompleteReadError as error:
            connection.close()
            outcome = "LOST" if error.expected is None else BROKEN_OFF
        except (OSError, TimeoutError) as error:
            connection.close()
            outcome = f"LOST: {type(error).__name__}"
        else:
            if status == 200:
                outcome = "right" if reply == wanted else "WRONG"
            else:
                outcome = f"problem {status}" if form == "application/problem+json" else f"NO PROBLEM, {status}"
        self._seen.append((outcome, time.monotonic() - began))


class _Connection:
    def __init__(self, port):
        self._port = port
        self._writer = None

    async def ask(self, path, body):
        if self._writer is None:
            self._reader, self._writer = await asyncio.open_connection("127.0.0.1", self._port)
        head = (
            f"POST {path} HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nContent-Length: {len(body)}\r\n\r\n"
        )
        self._writer.write(head.encode() + body)
        await self._writer.drain()
        status, *lines = (await self._reader.readuntil(b"\r\n\r\n")).decode().lower().split("\r\n")
        headers = dict(line.split(": ", 1) for line in lines if line)
        if "content-length" not in headers:
            raise Trouble(f"a reply without its length: {status}")
        reply = await self._reader.readexactly(int(headers["content-length"]))
        if headers.get("connection") == "close":
            self.close()
        return int(status.split()[1]), headers.get("content-type"), reply

    def close(self):
        if self._writer:
            with suppress(OSError):
                self._writer.close()
        self._writer = None
