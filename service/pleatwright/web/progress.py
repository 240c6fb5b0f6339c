"""A reply in lines of JSON: first how far the work is, again and again, and at last the reply or its problem."""

from collections.abc import AsyncIterator, Generator
from typing import Any

from litestar.response import Stream
from litestar.types import ASGIApp

from pleatwright.contract import problems
from pleatwright.contract.operations import NDJSON
from pleatwright.faults import Impossible
from pleatwright.web.failures import AnyRequest, id_of, problem_of
from pleatwright.web.forms import ENCODERS, JSON
from pleatwright.web.metrics import Metrics
from pleatwright.web.parts import telling


def told(work: Generator[Any, Any, Any], metrics: Metrics, request: AnyRequest) -> ASGIApp:
    """Return a reply that tells how far the work is."""
    lines = _lines(work, metrics, id_of(request.scope))
    stream = Stream(lines, media_type=NDJSON, status_code=200, headers={"vary": "accept"})
    return stream.to_asgi_response(None, request)


async def _lines(work: Generator[Any, Any, Any], metrics: Metrics, name: str) -> AsyncIterator[bytes]:
    encode = ENCODERS[JSON]
    last = None
    try:
        async for last in telling(work):
            yield encode(last) + b"\n"
        metrics.made_with(last)
    except Impossible as impossible:
        yield encode(problems.problem(422, faults=impossible.faults)) + b"\n"
    except Exception as error:  # the status is sent already: what went wrong is a line as well
        yield encode(problem_of(error, name)) + b"\n"
