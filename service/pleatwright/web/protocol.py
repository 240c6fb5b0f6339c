"""HTTP on the wire: uvicorn's protocol over llhttp, held to what that lets pass."""

from typing import Any, Final

from uvicorn.protocols.http.httptools_impl import HttpToolsProtocol

MOST_UNSETTLED: Final = 64 * 1024
"""Bytes of a head, or of trailers, that are taken in before they are whole: a client could go on for ever."""


class NoOneHostError(Exception):
    """A request by HTTP/1.1 without a Host, or with several."""


class Protocol(HttpToolsProtocol):
    """One connection."""

    def __init__(self, *arguments: Any, **named: Any) -> None:
        super().__init__(*arguments, **named)
        self._unsettled = 0
        self._hosts = 0
        self._in_head = True

    def data_received(self, data: bytes) -> None:
        """Take in what has arrived."""
        self._unsettled += len(data)
        super().data_received(data)
        if self._unsettled <= MOST_UNSETTLED or self.transport.is_closing():
            return
        if self.cycle and self.cycle.response_started and not self.cycle.response_complete:
            self.transport.close()
        else:
            self.send_400_response("The head or the trailers of the request are too long.")

    def on_message_begin(self) -> None:
        """Begin a request."""
        self._hosts = 0
        self._in_head = True
        super().on_message_begin()

    def on_header(self, name: bytes, value: bytes) -> None:
        """Take a field of the head; trailers, which nothing here asks for, are dropped [RFC 9110, section 6.5.1]."""
        if self._in_head:
            super().on_header(name, value)
            self._hosts += self.headers[-1][0] == b"host"

    def on_headers_complete(self) -> None:
        """Begin to answer. Raises NoOneHostError [RFC 9112, section 3.2], which is answered with 400."""
        self._unsettled = 0
        self._in_head = False
        if self._hosts != 1 and self.parser.get_http_version() == "1.1":
            raise NoOneHostError
        super().on_headers_complete()

    def on_body(self, body: bytes) -> None:
        """Take in part of the body."""
        self._unsettled = 0
        super().on_body(body)

    def on_message_complete(self) -> None:
        """End a request."""
        self._unsettled = 0
        super().on_message_complete()
