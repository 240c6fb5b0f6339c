"""Every way that a request can fail, turned into a problem."""

import logging
from collections.abc import Callable
from typing import Any, Final

import msgspec
from litestar import Request, Response
from litestar.exceptions import HTTPException
from litestar.types import Scope

from pleatwright.contract import problems
from pleatwright.contract.about import Problem
from pleatwright.contract.reading import UnreadableError
from pleatwright.web.bodies import GoneError, LargeError, SlowError
from pleatwright.web.exchange import Exchange
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


def handlers() -> dict[int | type[Exception], Handler]:
    """Return what turns each exception into a problem."""
    return {
        RefusedError: _on_refused,
        UnreadableError: _on_other,
        StyleFailedError: _on_other,
        LargeError: _on_other,
        SlowError: _on_other,
        GoneError: _on_gone,
        HTTPException: _on_http_exception,
        Exception: _on_other,
    }


def problem_of(error: Exception, request_id: str) -> Problem:
    """Return the problem that a request, or a line of a batch, ends in; one that is our fault is logged."""
    match error:
        case RefusedError():
            return error.problem
        case UnreadableError():
            return problems.problem(400, error.detail, error.faults)
        case LargeError():
            return problems.problem(413, f"The largest request read here has {error.most} bytes: send less at a time.")
        case SlowError():
            detail = f"The body was not there within {error.seconds:g} seconds: send it again, all at once."
            return problems.problem(408, detail)
        case StyleFailedError():
            log.error("%s: %s", request_id, error, exc_info=error)
            return problems.problem(500, f"The {error}. Use another style, and tell whoever installed it.")
        case _:
            log.error("%s: a request failed", request_id, exc_info=error)
            return problems.problem(500)


def id_of(scope: Scope) -> str:
    """Return how a request is called in the log."""
    return f"request {Exchange.of(scope).id.decode()}"


def _respond(problem: Problem, headers: dict[str, str] | None = None) -> Response[bytes]:
    return Response(encode(problem), status_code=problem.status, media_type=problems.MEDIA_TYPE, headers=headers or {})


def _on_refused(_request: AnyRequest, error: RefusedError) -> Response[bytes]:
    return _respond(error.problem, error.headers)


def _on_other(request: AnyRequest, error: Exception) -> Response[bytes]:
    return _respond(problem_of(error, id_of(request.scope)))


def _on_gone(_request: AnyRequest, _error: GoneError) -> Response[bytes]:
    # Nobody reads this; it is how the request is counted and logged, as the client's doing and not the service's.
    return _respond(problems.problem(400, "The connection was closed before the request had arrived."))


def _on_http_exception(_request: AnyRequest, error: HTTPException) -> Response[bytes]:
    status = error.status_code if error.status_code in problems.KINDS else (400 if error.status_code < 500 else 500)
    allow = {name: value for name, value in (error.headers or {}).items() if name.lower() == "allow"}
    return _respond(problems.problem(status), allow)
