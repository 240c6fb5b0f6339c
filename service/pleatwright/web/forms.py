"""The forms that a reply comes in, and which one a client wants."""

import re
from collections.abc import Callable, Sequence
from typing import Any, Final

import msgspec
from litestar import Response
from litestar.datastructures.headers import Accept
from litestar.types import Receive, Scope, Send

from pleatwright.contract import problems
from pleatwright.contract.operations import NDJSON
from pleatwright.web.exchange import Exchange
from pleatwright.web.failures import AnyRequest, RefusedError

JSON: Final = "application/json"
MSGPACK: Final = "application/msgpack"
ENCODERS: Final[dict[str, Callable[[Any], bytes]]] = {
    JSON: msgspec.json.Encoder().encode,
    MSGPACK: msgspec.msgpack.Encoder().encode,
}
_VARIES: Final = {"vary": "accept"}
_VARIES_TOO: Final = [(name.encode(), value.encode()) for name, value in _VARIES.items()]
_NOT_AT_ALL: Final = re.compile(r";q=0(\.0*)?(;|$)")


def form_wanted(request: AnyRequest, papers: Sequence[str] = ()) -> str:
    """Return the form of data that the client wants, or that of paper. Raises RefusedError when it takes none."""
    accepted = _accepted(request)
    return JSON if accepted in ("*/*", JSON) else _best(accepted, [*ENCODERS, *papers])


def reply(answer: Any, form: str) -> Response[bytes]:
    """Return a reply in a form of data."""
    return Response(ENCODERS[form](answer), media_type=form, headers=_VARIES)


class Sent:
    """A reply that was worked out, in a form of data; Litestar's Response would cost a tenth of the answer."""

    __slots__ = ("_body", "_form")

    def __init__(self, answer: Any, form: str) -> None:
        self._body = ENCODERS[form](answer)
        self._form = form

    async def __call__(self, _scope: Scope, _receive: Receive, send: Send) -> None:
        """Send it."""
        length = str(len(self._body)).encode()
        headers = [(b"content-type", self._form.encode()), *_VARIES_TOO, (b"content-length", length)]
        await send({"type": "http.response.start", "status": 200, "headers": headers})
        await send({"type": "http.response.body", "body": self._body, "more_body": False})


def made_reply(request: AnyRequest, made: dict[str, bytes]) -> Response[bytes]:
    """Return the one of replies made before, by their forms, that the client wants."""
    form = form_wanted(request)
    return Response(made[form], media_type=form, headers=_VARIES)


def check_lines_welcome(request: AnyRequest) -> None:
    """Check that the client wants a reply that comes in lines of JSON."""
    accepted = _accepted(request)
    if accepted not in ("*/*", NDJSON):
        _best(accepted, [NDJSON])


def _accepted(request: AnyRequest) -> str:
    accept = Exchange.of(request.scope).accept
    return "*/*" if accept is None else accept


def _best(accepted: str, forms: list[str]) -> str:
    """Return the form that the client likes best. Raises RefusedError when it takes none of them."""
    # A weight of 0 rules a form out [RFC 9110, section 12.4.2]; Litestar's Accept only orders by weight.
    ranges = [each.lower().replace(" ", "") for each in accepted.split(",")]
    ruled_out = {each.partition(";")[0] for each in ranges if _NOT_AT_ALL.search(each)}
    welcome = ",".join(each for each in ranges if not _NOT_AT_ALL.search(each))
    form = Accept(welcome).best_match([form for form in forms if form not in ruled_out])
    if form is None:
        last = " or ".join(forms[-2:])
        detail = f"This reply comes as {', '.join([*forms[:-2], last])}: have the Accept header name one of them."
        raise RefusedError(problems.problem(406, detail))
    return form
