"""The Litestar application: routes, content types, and every failure turned into a problem."""

import asyncio
import logging
import os
import re
from collections.abc import Callable, Generator, Sequence
from functools import partial
from typing import Any, Final

import msgspec
from litestar import HttpMethod, Litestar, Request, Response, post, route
from litestar.datastructures.headers import Accept
from litestar.exceptions import HTTPException
from litestar.exceptions.http_exceptions import RequestEntityTooLarge
from litestar.types import ControllerRouterHandler

from pleatwright import workroom
from pleatwright.contract import problems
from pleatwright.contract.about import Health, Problem, RatesInForce
from pleatwright.contract.openapi import document, document_bytes
from pleatwright.contract.operations import OPERATIONS
from pleatwright.contract.reading import RequestReader, UnreadableError
from pleatwright.contract.scalars import why_not
from pleatwright.faults import Fault, Impossible
from pleatwright.headings.host import Headings, find_headings
from pleatwright.lengths import INCH, UNITS, LengthError, Units, parse_length, quoted
from pleatwright.pricing.book import RateBook
from pleatwright.pricing.keeper import Keeper
from pleatwright.web.keys import is_known
from pleatwright.web.settings import Settings, settings_from
from pleatwright.workroom.reader import StyleFailedError
from pleatwright.workroom.styles import refused
from pleatwright.workroom.work import Work

log: Final = logging.getLogger(__name__)

THICKEST: Final = INCH
"""The thickest cloth that a stack is reckoned for."""

JSON: Final = "application/json"
MSGPACK: Final = "application/msgpack"
_ENCODERS: Final[dict[str, Callable[[Any], bytes]]] = {
    JSON: msgspec.json.Encoder().encode,
    MSGPACK: msgspec.msgpack.Encoder().encode,
}
_PATHS: Final = {operation.name: operation.path for operation in OPERATIONS}

_VARIES: Final = {"vary": "accept"}
_NOT_AT_ALL: Final = re.compile(r";q=0(\.0*)?(;|$)")

AnyRequest = Request[Any, Any, Any]


class _RefusedError(Exception):
    """A request that ends in a problem."""

    def __init__(self, problem: Problem, headers: dict[str, str] | None = None) -> None:
        super().__init__(problem.detail)
        self.problem = problem
        self.headers = headers


def create_app(settings: Settings | None = None, headings: Headings | None = None) -> Litestar:
    """Return the application; its settings come from the environment and its styles from what is installed.

    Raises SettingsError, RefusedError or BookError when it cannot start.
    """
    settings = settings or settings_from(os.environ)
    headings = headings or find_headings(strict=settings.strict)
    for refusal in headings.refused:
        log.warning("heading plugin refused: %s", refusal)
    keeper = Keeper(settings.rates, workroom.book_faults) if settings.rates else None
    return Litestar(
        route_handlers=_routes(headings, keeper, settings.workroom_keys),
        openapi_config=None,
        request_max_body_size=settings.largest_request,
        exception_handlers={
            _RefusedError: _on_refused,
            UnreadableError: _on_unreadable,
            StyleFailedError: _on_style_failed,
            RequestEntityTooLarge: _on_too_large(settings.largest_request),
            HTTPException: _on_http_exception,
            Exception: _on_exception,
        },
        logging_config=None,
    )


def _routes(headings: Headings, keeper: Keeper | None, keys: Sequence[str]) -> Sequence[ControllerRouterHandler]:
    reader = RequestReader(headings.options)
    contract = {JSON: document_bytes(headings.options), MSGPACK: _ENCODERS[MSGPACK](document(headings.options))}

    def book() -> RateBook | None:
        return keeper.current() if keeper else None

    answers: dict[str, Callable[[Any], Any]] = {
        "panel": lambda request: workroom.panel(request, headings),
        "pleats": lambda request: workroom.pleats(request, headings),
        "pins": lambda request: workroom.pins(request, headings),
        "hang": lambda request: workroom.hang(request, headings),
        "rod": lambda request: workroom.rod_in_parts(request, headings),
        "repeat": workroom.repeat_in_parts,
        "enough": lambda request: workroom.enough(request, headings),
        "estimate": lambda request: workroom.estimate_in_parts(request, headings, book()),
        "compare": lambda request: workroom.compare_in_parts(request, headings, book()),
    }

    fetched = partial(route, http_method=[HttpMethod.GET, HttpMethod.HEAD])

    @fetched(_PATHS["headings"], name="headings")
    async def list_headings(request: AnyRequest) -> Response[bytes]:
        return _reply(request, workroom.headings(headings, *_units_and_thickness(request)))

    @fetched(_PATHS["heading"].replace("{style}", "{style:str}"), name="heading")
    async def describe_heading(request: AnyRequest, style: str) -> Response[bytes]:
        if style not in headings.installed:
            detail = f"No style of this name is installed; there are {', '.join(headings.installed)}."
            raise _RefusedError(problems.problem(404, detail))
        return _reply(request, workroom.heading(style, headings, *_units_and_thickness(request)))

    @fetched(_PATHS["contract"], name="contract")
    async def give_contract(request: AnyRequest) -> Response[bytes]:
        form = _form(request)
        return Response(contract[form], media_type=form, headers=_VARIES)

    @fetched(_PATHS["live"], name="live")
    async def live(request: AnyRequest) -> Response[bytes]:
        return _reply(request, Health(status="live"))

    @fetched(_PATHS["ready"], name="ready")
    async def ready(request: AnyRequest) -> Response[bytes]:
        return _reply(request, Health(status="ready", refused=refused(headings), rates=_rates_in_force(keeper)))

    return [
        *(_post(name, reader, answer, keys) for name, answer in answers.items()),
        list_headings,
        describe_heading,
        give_contract,
        live,
        ready,
    ]


def _rates_in_force(keeper: Keeper | None) -> RatesInForce | None:
    if keeper is None:
        return None
    book = keeper.current()
    return RatesInForce(edition=book.edition, digest=book.digest, trouble=keeper.trouble)


def _post(
    name: str, reader: RequestReader, answer: Callable[[Any], Any], keys: Sequence[str]
) -> ControllerRouterHandler:
    @post(_PATHS[name], name=name, status_code=200)
    async def handler(request: AnyRequest) -> Response[bytes]:
        if request.content_type[0] != JSON or request.headers.get("content-encoding", "identity") != "identity":
            raise _RefusedError(problems.problem(415))
        body = await request.body()
        asked = reader.read(name, body)
        if workroom.needs_key(asked) and not is_known(request.headers.get("authorization"), keys):
            raise _RefusedError(problems.problem(401), {"www-authenticate": "Bearer"})
        try:
            found = answer(asked)
            return _reply(request, await _done(found) if isinstance(found, Generator) else found)
        except Impossible as impossible:
            # A length that breaks the grammar is found only when it is read; that is against the contract.
            if faults := reader.faults(name, body):
                raise UnreadableError(None, *faults) from None
            raise _RefusedError(problems.problem(422, faults=impossible.faults)) from None

    return handler


async def _done(work: Work[Any]) -> Any:
    """Return the reply that some work ends in, others being served between its parts.

    A heading style's time is kept in this thread only, so what has to do with styles is done here.
    """
    done = None
    while True:
        try:
            part = work.send(done)
        except StopIteration as end:
            return end.value
        done = await (asyncio.to_thread(part) if part else asyncio.sleep(0))


def _reply(request: AnyRequest, reply: Any) -> Response[bytes]:
    form = _form(request)
    return Response(_ENCODERS[form](reply), media_type=form, headers=_VARIES)


def _form(request: AnyRequest) -> str:
    accepted = request.headers.get("accept", "*/*")
    if accepted in ("*/*", JSON):
        return JSON
    # A weight of 0 rules a form out [RFC 9110, section 12.4.2]; Litestar's Accept only orders by weight.
    ranges = [each.lower().replace(" ", "") for each in accepted.split(",")]
    ruled_out = {each.partition(";")[0] for each in ranges if _NOT_AT_ALL.search(each)}
    welcome = ",".join(each for each in ranges if not _NOT_AT_ALL.search(each))
    form = Accept(welcome).best_match([form for form in _ENCODERS if form not in ruled_out])
    if form is None:
        raise _RefusedError(problems.problem(406))
    return form


def _units_and_thickness(request: AnyRequest) -> tuple[Units, int | None]:
    """Return what the query asks of a heading's figures: its units, and the thickness of the cloth, if given."""
    faults = []
    for name, value in sorted(request.query_params.multi_items()):
        if name not in ("units", "cloth_thickness"):
            detail = "there is no parameter of this name: leave it out"
            faults.append(Fault((name[:40],), detail, str(value)[:40], "units, cloth_thickness"))
        elif len(request.query_params.getall(name)) > 1:
            faults.append(Fault((name,), "this is given more than once: give it once", str(value)[:40]))
    if faults:
        raise _RefusedError(problems.problem(400, faults=faults))
    units = _units(request.query_params.get("units", UNITS[0]))
    return units, _cloth_thickness(request.query_params.get("cloth_thickness"), units)


def _units(asked: str) -> Units:
    for units in UNITS:
        if units == asked:
            return units
    choices = ", ".join(UNITS)
    fault = Fault(("units",), f"this is not one of the choices: choose {choices}", asked[:40], choices)
    raise _RefusedError(problems.problem(400, faults=[fault]))


def _cloth_thickness(asked: str | None, units: Units) -> int | None:
    if asked is None:
        return None
    where = ("cloth_thickness",)
    try:
        thickness = parse_length(asked, units)
    except LengthError as error:
        status = 400 if why_not("Length", asked, units) else 422
        raise _RefusedError(problems.problem(status, faults=[Fault(where, str(error), quoted(asked))])) from None
    if not 0 < thickness <= THICKEST:
        detail = "a cloth is thicker than nothing and up to 1 in (25.4 mm): measure it"
        raise _RefusedError(problems.problem(422, faults=[Fault(where, detail, quoted(asked), "up to 1 in")]))
    return thickness


def _respond(problem: Problem, headers: dict[str, str] | None = None) -> Response[bytes]:
    return Response(
        _ENCODERS[JSON](problem), status_code=problem.status, media_type=problems.MEDIA_TYPE, headers=headers or {}
    )


def _on_refused(_request: AnyRequest, error: _RefusedError) -> Response[bytes]:
    return _respond(error.problem, error.headers)


def _on_unreadable(_request: AnyRequest, error: UnreadableError) -> Response[bytes]:
    return _respond(problems.problem(400, error.detail, error.faults))


def _on_style_failed(_request: AnyRequest, error: StyleFailedError) -> Response[bytes]:
    log.error("%s", error, exc_info=error)
    return _respond(problems.problem(500, f"The {error}. Use another style, and tell whoever installed it."))


def _on_too_large(most: int) -> Callable[[AnyRequest, RequestEntityTooLarge], Response[bytes]]:
    def on_too_large(_request: AnyRequest, _error: RequestEntityTooLarge) -> Response[bytes]:
        return _respond(problems.problem(413, f"The largest request read here has {most} bytes: send less at a time."))

    return on_too_large


def _on_http_exception(_request: AnyRequest, error: HTTPException) -> Response[bytes]:
    status = error.status_code if error.status_code in problems.KINDS else (400 if error.status_code < 500 else 500)
    allow = {name: value for name, value in (error.headers or {}).items() if name.lower() == "allow"}
    return _respond(problems.problem(status), allow)


def _on_exception(_request: AnyRequest, error: Exception) -> Response[bytes]:
    log.error("a request failed", exc_info=error)
    return _respond(problems.problem(500))
