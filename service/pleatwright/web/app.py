"""The Litestar application: the routes, and what each answers; the front goes round it."""

import logging
import os
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any, Final, cast

from litestar import HttpMethod, Litestar, Response, post, route
from litestar.config.cors import CORSConfig
from litestar.types import ASGIApp, ControllerRouterHandler

from pleatwright import workroom
from pleatwright.contract import problems
from pleatwright.contract.about import Health, RatesInForce
from pleatwright.contract.openapi import document, written
from pleatwright.contract.operations import NDJSON, OPERATIONS, Operation
from pleatwright.contract.papers import SVG, PaperAsked
from pleatwright.contract.reading import RequestReader
from pleatwright.faults import Impossible
from pleatwright.headings.host import Headings, find_headings
from pleatwright.pricing.book import RateBook
from pleatwright.pricing.keeper import Keeper
from pleatwright.web import bench, metrics
from pleatwright.web.batch import Batch
from pleatwright.web.exchange import Exchange
from pleatwright.web.failures import AnyRequest, RefusedError, handlers, id_of, problem_of
from pleatwright.web.forms import ENCODERS, JSON, MSGPACK, Sent, check_lines_welcome, form_wanted, made_reply, reply
from pleatwright.web.front import Front
from pleatwright.web.keys import CUSTOMER, WORKROOM, Keys
from pleatwright.web.lifetime import Lifetime
from pleatwright.web.limits import STORE, store_in, sweeping
from pleatwright.web.papers import (
    drawn,
    job_paper_in_parts,
    paper_response,
    pins_paper_in_parts,
    pleats_paper_in_parts,
)
from pleatwright.web.parts import done
from pleatwright.web.progress import told
from pleatwright.web.queries import paper_asked, units_and_thickness, units_asked
from pleatwright.web.settings import Settings, settings_from
from pleatwright.workroom.styles import refused

log: Final = logging.getLogger(__name__)

_OPERATIONS: Final = {operation.name: operation for operation in OPERATIONS}
_PATHS: Final = {operation.name: operation.path for operation in OPERATIONS}
Answer = Callable[[Any], Any]
OnPaper = Callable[[Any, PaperAsked, str], Any]
_FRESH: Final = {"cache-control": "no-store"}
_AGAIN: Final = {"retry-after": "5"}


@dataclass(frozen=True, slots=True)
class _House:
    """What the routes share."""

    headings: Headings
    keeper: Keeper | None
    keys: Keys
    metrics: metrics.Metrics
    lifetime: Lifetime
    largest_request: int

    def book(self) -> RateBook | None:
        return self.keeper.current() if self.keeper else None

    def admit(self, request: AnyRequest, *, as_workroom: bool = False) -> None:
        """Refuse a request without the key that it needs."""
        holder = Exchange.of(request.scope).holder
        if as_workroom and holder != WORKROOM:
            raise RefusedError(problems.problem(401), {"www-authenticate": f'Bearer scope="{WORKROOM}"'})
        if self.keys.needed and holder is None:
            raise RefusedError(problems.problem(401), {"www-authenticate": f'Bearer scope="{CUSTOMER}"'})


def create_app(settings: Settings | None = None, headings: Headings | None = None) -> Front:
    """Return the application; its settings come from the environment and its styles from what is installed.

    Raises SettingsError, RefusedError or BookError when it cannot start.
    """
    settings = settings or settings_from(os.environ)
    headings = headings or find_headings(strict=settings.strict)
    for refusal in headings.refused:
        log.warning("heading plugin refused: %s", refusal)
    house = _House(
        headings,
        Keeper(settings.rates, workroom.book_faults) if settings.rates else None,
        Keys(settings.workroom_keys, settings.customer_keys),
        metrics.Metrics((*_PATHS, *bench.NAMES), headings.installed),
        Lifetime(),
        settings.largest_request,
    )
    page = bench.parts()
    store = store_in(settings.limit_store)
    app = Litestar(
        route_handlers=[*_routes(house, settings), *bench.routes(page)],
        openapi_config=None,
        exception_handlers=handlers(),
        logging_config=None,
        cors_config=_cors(settings.origins),
        stores={STORE: store},
        lifespan=[sweeping(store)] if settings.requests_per_minute else [],
    )
    return Front(app, settings, house.keys, house.metrics, house.lifetime, bench.addresses(page))


def _cors(origins: Sequence[str]) -> CORSConfig | None:
    if not origins:
        return None
    return CORSConfig(
        allow_origins=list(origins),
        allow_methods=["GET", "HEAD", "POST"],
        allow_headers=["accept", "authorization", "content-type", "x-request-id"],
        expose_headers=["RateLimit-Limit", "RateLimit-Remaining", "RateLimit-Reset", "Retry-After", "X-Request-Id"],
    )


def _routes(house: _House, settings: Settings) -> Sequence[ControllerRouterHandler]:
    headings = house.headings
    described = document(headings.options)
    reader = RequestReader(headings.options, described)
    answers: dict[str, Answer] = {
        "panel": lambda request: workroom.panel(request, headings),
        "pleats": lambda request: workroom.pleats(request, headings),
        "pins": lambda request: workroom.pins(request, headings),
        "hang": lambda request: workroom.hang(request, headings),
        "rod": lambda request: workroom.rod_in_parts(request, headings),
        "repeat": workroom.repeat_in_parts,
        "enough": lambda request: workroom.enough(request, headings),
        "estimate": lambda request: workroom.estimate_in_parts(request, headings, house.book()),
        "compare": lambda request: workroom.compare_in_parts(request, headings, house.book()),
    }
    papers: dict[str, OnPaper] = {
        "pleats": lambda request, asked, form: pleats_paper_in_parts(request, headings, asked, form),
        "pins": lambda request, asked, form: pins_paper_in_parts(request, headings, asked, form),
        "estimate": lambda request, asked, form: job_paper_in_parts(
            request, answers["estimate"], headings, asked, form
        ),
    }
    return [
        *(_post(_OPERATIONS[name], reader, answer, papers.get(name), house) for name, answer in answers.items()),
        _batch(reader, answers["estimate"], house, settings),
        *_listed(house),
        *_service(house, described),
    ]


_fetched: Final = partial(route, http_method=[HttpMethod.GET, HttpMethod.HEAD])


def _listed(house: _House) -> Sequence[ControllerRouterHandler]:
    headings = house.headings

    @_fetched(_PATHS["headings"], name="headings")
    async def list_headings(request: AnyRequest) -> Response[bytes]:
        house.admit(request)
        form = form_wanted(request)
        return reply(workroom.headings(headings, *units_and_thickness(request)), form)

    @_fetched(_PATHS["heading"].replace("{style}", "{style:str}"), name="heading")
    async def describe_heading(request: AnyRequest, style: str) -> Response[bytes]:
        house.admit(request)
        if style not in headings.installed:
            detail = f"No style of this name is installed; there are {', '.join(headings.installed)}."
            raise RefusedError(problems.problem(404, detail))
        form = form_wanted(request, _OPERATIONS["heading"].papers)
        figures = workroom.heading(style, headings, *units_and_thickness(request))
        return paper_response(drawn(figures), form, PaperAsked()) if form == SVG else reply(figures, form)

    @_fetched(_PATHS["cloths"], name="cloths")
    async def list_cloths(request: AnyRequest) -> Response[bytes]:
        house.admit(request)
        form = form_wanted(request)
        return reply(workroom.cloths(house.book(), units_asked(request)), form)

    return [list_headings, describe_heading, list_cloths]


def _service(house: _House, described: dict[str, Any]) -> Sequence[ControllerRouterHandler]:
    contract = {JSON: written(described), MSGPACK: ENCODERS[MSGPACK](described)}

    @_fetched(_PATHS["contract"], name="contract")
    async def give_contract(request: AnyRequest) -> Response[bytes]:
        return made_reply(request, contract)

    @_fetched(_PATHS["problem"].replace("{name}", "{name:str}"), name="problem")
    async def describe_problem(request: AnyRequest, name: str) -> Response[bytes]:
        kind = problems.described(name)
        if kind is None:
            raise RefusedError(
                problems.problem(404, f"There is no such problem; there are {', '.join(problems.BY_NAME)}.")
            )
        return reply(kind, form_wanted(request))

    @_fetched(_PATHS["live"], name="live", response_headers=_FRESH)
    async def live(request: AnyRequest) -> Response[bytes]:
        return reply(Health(status="live"), form_wanted(request))

    @_fetched(_PATHS["ready"], name="ready", response_headers=_FRESH)
    async def ready(request: AnyRequest) -> Response[bytes]:
        if house.lifetime.stopping:
            raise RefusedError(problems.problem(503), _FRESH | _AGAIN)
        found = Health(status="ready", refused=refused(house.headings), rates=_rates_in_force(house.keeper))
        return reply(found, form_wanted(request))

    @_fetched(_PATHS["metrics"], name="metrics", response_headers=_FRESH)
    async def count() -> Response[bytes]:
        return Response(house.metrics.text(), media_type=metrics.MEDIA_TYPE)

    return [give_contract, describe_problem, live, ready, count]


def _rates_in_force(keeper: Keeper | None) -> RatesInForce | None:
    if keeper is None:
        return None
    book = keeper.current()
    return RatesInForce(edition=book.edition, digest=book.digest, trouble=keeper.trouble)


def _post(
    operation: Operation, reader: RequestReader, answer: Answer, on_paper: OnPaper | None, house: _House
) -> ControllerRouterHandler:
    name = operation.name

    @post(operation.path, name=name, status_code=200)
    async def handler(request: AnyRequest) -> ASGIApp:
        house.admit(request)
        _check_form(request, JSON)
        form = form_wanted(request, operation.forms)
        asked = paper_asked(request, operation.parameters) if on_paper else None
        arriving = Exchange.of(request.scope).body
        body = await arriving.whole(house.largest_request) if arriving else b""
        if asked and on_paper and form in operation.papers:
            made = await _answered(request, name, body, reader, lambda wanted: on_paper(wanted, asked, form), house)
            # Litestar takes its own Response for one, whatever it was told to expect.
            return cast("ASGIApp", paper_response(made, form, asked))
        if form == NDJSON:
            wanted = reader.read(name, body)
            house.admit(request, as_workroom=workroom.needs_key(wanted))
            return told(answer(wanted), house.metrics, request)
        found = await _answered(request, name, body, reader, answer, house)
        house.metrics.made_with(found)
        return Sent(found, form)

    return handler


def _batch(reader: RequestReader, answer: Answer, house: _House, settings: Settings) -> ControllerRouterHandler:
    @post(_PATHS["batch"], name="batch", status_code=200)
    async def handler(request: AnyRequest) -> ASGIApp:
        house.admit(request)
        _check_form(request, NDJSON)
        check_lines_welcome(request)

        async def line(body: bytes) -> bytes:
            try:
                found = await _answered(request, "estimate", body, reader, answer, house)
                house.metrics.made_with(found)
                return ENCODERS[JSON](found)
            except Exception as error:  # whatever one line comes to, the others are answered
                return ENCODERS[JSON](problem_of(error, id_of(request.scope)))

        return Batch(line, settings.largest_request, settings.batch_lines, settings.largest_batch)

    return handler


def _check_form(request: AnyRequest, form: str) -> None:
    exchange = Exchange.of(request.scope)
    named = exchange.content_type == form or request.content_type[0] == form
    if not named or exchange.content_encoding not in (None, "identity"):
        detail = "Send lines of JSON, with Content-Type application/x-ndjson, not compressed."
        raise RefusedError(problems.problem(415, detail if form == NDJSON else None))


async def _answered(
    request: AnyRequest, name: str, body: bytes, reader: RequestReader, answer: Answer, house: _House
) -> Any:
    """Return what an operation answers to a body. Raises RefusedError, UnreadableError or StyleFailedError."""
    asked = reader.read(name, body)
    house.admit(request, as_workroom=workroom.needs_key(asked))
    try:
        return await done(answer(asked))
    except Impossible as impossible:
        raise RefusedError(problems.problem(422, faults=impossible.faults)) from None
