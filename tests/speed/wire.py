"""Requests as bytes, and their replies taken from a connection that is kept."""

import socket

MOST_AT_ONCE = 1 << 18


def request(path: str, body: bytes, form: str = "application/json") -> bytes:
    """Return a request as it is sent."""
    head = f"POST {path} HTTP/1.1\r\nHost: localhost\r\nContent-Type: {form}\r\nContent-Length: {len(body)}\r\n\r\n"
    return head.encode() + body


class Reply:
    """A reply that is taken in piece by piece. Fails when it is not a 200 of a length that it tells."""

    def __init__(self) -> None:
        self._got = bytearray()
        self._ends: int | None = None
        self._body = 0

    def take(self, connection: socket.socket) -> bool:
        """Take in what is there; return whether that is all."""
        part = connection.recv(MOST_AT_ONCE)
        assert part, f"the connection is closed after {bytes(self._got[:300])!r}"
        self._got += part
        if self._ends is None and (end := self._got.find(b"\r\n\r\n")) >= 0:
            status, *headers = bytes(self._got[:end]).lower().split(b"\r\n")
            assert status.split()[1] == b"200", f"{bytes(self._got[:600])!r}"
            self._body = end + 4
            self._ends = self._body + int(dict(line.split(b": ", 1) for line in headers)[b"content-length"])
        return self._ends is not None and len(self._got) >= self._ends

    @property
    def body(self) -> bytes:
        """What it says."""
        return bytes(self._got[self._body : self._ends])


def ask(connection: socket.socket, operation: str, body: bytes) -> bytes:
    """Return the body of the reply to a request of an operation."""
    connection.sendall(request(f"/v1/{operation}", body))
    reply = Reply()
    while not reply.take(connection):
        pass
    return reply.body
