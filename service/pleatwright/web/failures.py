"""Every way that a request can fail, turned into a problem."""

import logging
from collections.abc import Callable
from typing import Any, Final

import msgspec
from litestar import Request, Response
from litestar.exceptions import HTTPException
from litestar.exceptions.http_exceptions import RequestEntityTooLarge

from pleatwright.contract import problems
from pleatwright.contract.about import Problem
from pleatwright.contract.reading import UnreadableError
from pleatwright.web.bodies import GoneError, SlowError
from pleatwright.workroom.reader import StyleFailedError

log: Final = logging.getLogger(__name__)
encode: Final = msgspec.json.Encoder().encode

AnyRequest = Request[Any, Any, Any]
Handler = Callable[[AnyRequest, Any], Response[bytes]]


class RefusedError(Exception):
    """A request that ends in a problem."""

    def __init__(self, problem: Problem, headers: dict[str, str] | None = None) -> None:
        super().__init__(problem.detail)
        self.problem = problem
        self.headers = headers


def handlers(largest_request: int) -> dict[int | type[Exception], Handler]:
    """Return what turns each exception into a problem."""

    def on_too_large(_request: AnyRequest, _error: RequestEntityTooLarge) -> Response[bytes]:
        detail = f"The largest request read here has {largest_request} bytes: send less at a time."
        return _respond(problems.problem(413, detail))

    return {
        RefusedError: _on_refused,
        UnreadableError: _on_unreadable,
        StyleFailedError: _on_style_failed,
        RequestEntityTooLarge: on_too_large,
        SlowError: _on_slow,
        GoneError: _on_gone,
        HTTPException: _on_http_exception,
        Exception: _on_exception,
    }


def _respond(problem: Problem, headers: dict[str, str] | None = None) -> Response[bytes]:
    return Response(encode(problem), status_code=problem.status, media_type=problems.MEDIA_TYPE, headers=headers or {})


def _on_refused(_request: AnyRequest, error: RefusedError) -> Response[bytes]:
    return _respond(error.problem, error.headers)


def _on_unreadable(_request: AnyRequest, error: UnreadableError) -> Response[bytes]:
    return _respond(problems.problem(400, error.detail, error.faults))


def _on_style_failed(request: AnyRequest, error: StyleFailedError) -> Response[bytes]:
    log.error("%s: %s", _id(request), error, exc_info=error)
    return _respond(problems.problem(500, f"The {error}. Use another style, and tell whoever installed it."))


def _on_slow(_request: AnyRequest, error: SlowError) -> Response[bytes]:
    detail = f"The body was not there within {error.seconds:g} seconds: send it again, all at once."
    return _respond(problems.problem(408, detail))


def _on_gone(_request: AnyRequest, _error: GoneError) -> Response[bytes]:
    # Nobody reads this; it is how the request is counted and logged, as the client's doing and not the service's.
    return _respond(problems.problem(400, "The connection was closed before the request had arrived."))


def _on_http_exception(_request: AnyRequest, error: HTTPException) -> Response[bytes]:
    status = error.status_code if error.status_code in problems.KINDS else (400 if error.status_code < 500 else 500)
    allow = {name: value for name, value in (error.headers or {}).items() if name.lower() == "allow"}
    return _respond(problems.problem(status), allow)


def _on_exception(request: AnyRequest, error: Exception) -> Response[bytes]:
    log.error("%s: a request failed", _id(request), exc_info=error)
    return _respond(problems.problem(500))


def _id(request: AnyRequest) -> str:
    return f"request {request.scope['state'].get('id', 'unknown')}"
