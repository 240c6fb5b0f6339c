"""Requests and replies as the bytes that they are."""

from contextlib import suppress
from pathlib import Path

EXAMPLES = Path(__file__).parents[2] / "openapi" / "examples"


def request(method, path, body=b"", **headers):
    """Return the bytes of a request."""
    given = {"Host": "localhost"} | {name.replace("_", "-"): value for name, value in headers.items()}
    if body:
        given.setdefault("Content-Length", str(len(body)))
    head = "".join(f"{name}: {value}\r\n" for name, value in given.items())
    return f"{method} {path} HTTP/1.1\r\n{head}\r\n".encode() + body


def read_reply(connection, *, head_only=False):
    """Return the status, the headers and the body of the next reply of a connection."""
    got = b""
    while b"\r\n\r\n" not in got:
        more = connection.recv(1)  # one at a time: what comes after belongs to the next reply
        assert more, f"closed after {got!r}"
        got += more
    start, *lines = got.decode("latin-1").split("\r\n")
    headers = {name.lower(): value for name, _, value in (line.partition(": ") for line in lines if line)}
    body = b""
    left = 0 if head_only else int(headers.get("content-length", 0))
    while len(body) < left:
        more = connection.recv(left - len(body))
        assert more, "closed within the body"
        body += more
    return int(start.split()[1]), headers, body


def is_closed(connection):
    """Return whether the other side closes the connection, whatever it still sends before."""
    with suppress(ConnectionResetError):
        try:
            while connection.recv(65_536):
                pass
        except TimeoutError:
            return False
    return True
