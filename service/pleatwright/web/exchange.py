"""One request and its reply: its id, how long it took, how much went in and out, and the headers every reply has."""

import itertools
import re
import secrets
import time
from collections.abc import Iterable
from typing import Final

from litestar.types import HTTPScope, Message, Receive, Scope, Send

from pleatwright.contract.operations import OPERATIONS
from pleatwright.web.bodies import Body
from pleatwright.web.lifetime import Lifetime

Headers = list[tuple[bytes, bytes]]

_SOUND_ID: Final = re.compile(rb"[A-Za-z0-9._-]{1,64}")
_OF_THIS_PROCESS: Final = secrets.token_hex(4).encode()
_COUNT: Final = itertools.count()
"""Ids tell requests apart, and are no secret: a random one for each costs a call of the system."""
_CLOSE: Final = (b"connection", b"close")
_ALWAYS: Final = (
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"no-referrer"),
)
_UNLESS_SET: Final = (b"content-security-policy", b"default-src 'none'; frame-ancestors 'none'")
_STREAMING: Final = frozenset(each.path for each in OPERATIONS if each.lines)
_NO_STORE: Final = (b"cache-control", b"no-store")


def _new_id() -> bytes:
    return b"%s%08x" % (_OF_THIS_PROCESS, next(_COUNT) & 0xFFFFFFFF)


def _text(value: bytes | None) -> str | None:
    return None if value is None else value.decode("latin-1")


class Exchange:
    """One request and its reply; `holder` is whose key it bears, once that is looked up."""

    __slots__ = (
        "_by_origin",
        "_lifetime",
        "_method",
        "_receive",
        "_send",
        "_streams",
        "accept",
        "authorization",
        "body",
        "bytes_out",
        "content_encoding",
        "content_type",
        "holder",
        "id",
        "origin",
        "started",
        "status",
        "time",
    )

    def __init__(
        self, scope: HTTPScope, receive: Receive, send: Send, lifetime: Lifetime, seconds: float, *, by_origin: bool
    ) -> None:
        """Begin with what came in; its body may take so many seconds. Replies may differ `by_origin`.

        An operation that answers while its body still arrives reads it by itself, and the connection ends with it.
        """
        self.started = time.perf_counter()
        self.time = time.time()
        self.holder: str | None = None
        self.status = self.bytes_out = 0
        self._method = scope["method"]
        self._streams = scope["path"] in _STREAMING
        self._by_origin = by_origin
        self._lifetime = lifetime
        # Of a header given several times the first counts.
        given = dict(reversed([*scope["headers"]]))
        self.authorization = _text(given.get(b"authorization"))
        self.origin = _text(given.get(b"origin"))
        self.accept = _text(given.get(b"accept"))
        self.content_type = _text(given.get(b"content-type"))
        self.content_encoding = _text(given.get(b"content-encoding"))
        asked = given.get(b"x-request-id")
        self.id = asked if asked and _SOUND_ID.fullmatch(asked) else _new_id()
        length = given.get(b"content-length", b"")
        has_body = length.strip(b"0") != b"" or b"transfer-encoding" in given
        self.body = (
            Body(
                receive,
                int(length[:20]) if length.isdigit() else None,
                seconds,
                waits=b"expect" in given,
                in_lines=self._streams,
            )
            if has_body
            else None
        )
        self._receive: Receive = self.body.receive if self.body else receive
        self._send = send

    @staticmethod
    def of(scope: Scope) -> "Exchange":
        """Return the exchange that a scope is of."""
        found: Exchange = scope["state"]["exchange"]
        return found

    @property
    def receive(self) -> Receive:
        """Where the rest of the request comes from."""
        return self._receive

    async def send(self, message: Message) -> None:
        """Send part of the reply; the first with the headers that every reply has."""
        if message["type"] == "http.response.start":
            self.status = message["status"]
            message["headers"] = await self._headers(message["headers"])
        elif message["type"] == "http.response.body":
            self.bytes_out += len(message["body"])
        await self._send(message)

    async def _headers(self, given: Iterable[tuple[bytes, bytes]]) -> Headers:
        headers = list(given)
        names = {name.lower() for name, _ in headers}
        headers += _ALWAYS
        headers.append((b"x-request-id", self.id))
        if _UNLESS_SET[0] not in names:
            headers.append(_UNLESS_SET)
        if self._method == "POST" and _NO_STORE[0] not in names:
            headers.append(_NO_STORE)
        if self._by_origin:
            # Litestar's CORS has the reply vary by Origin instead of what it varied by, and only when one was sent.
            headers = [each for each in headers if each[0].lower() != b"vary"]
            headers.append((b"vary", b"accept, origin"))
        streams = self._streams and self.status == 200
        if streams or self._lifetime.stopping or not (self.body is None or await self.body.finished()):
            headers.append(_CLOSE)
        return headers
