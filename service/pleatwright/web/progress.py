"""A reply in lines of JSON: first how far the work is, again and again, and at last the reply or its problem."""

from collections.abc import AsyncIterator, Generator
from typing import Any

from litestar.response import Stream

from pleatwright.contract import problems
from pleatwright.contract.operations import NDJSON
from pleatwright.faults import Impossible
from pleatwright.web.failures import problem_of
from pleatwright.web.forms import ENCODERS, JSON
from pleatwright.web.metrics import Metrics
from pleatwright.web.parts import telling


def told(work: Generator[Any, Any, Any], metrics: Metrics, name: str) -> Stream:
    """Return a reply that tells how far the work is; `name` is what the request is called in the log."""
    return Stream(_lines(work, metrics, name), media_type=NDJSON, headers={"vary": "accept"})


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
