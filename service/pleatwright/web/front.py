"""The front of the service: what every request goes through, found or not, before and after its operation."""

import logging
import time
from typing import Final

from litestar import Litestar
from litestar.config.cors import CORSConfig
from litestar.enums import ScopeType
from litestar.exceptions import TooManyRequestsException
from litestar.types import HTTPScope, Receive, Scope, Send

from pleatwright.contract import problems
from pleatwright.contract.about import Problem
from pleatwright.contract.operations import OPERATIONS
from pleatwright.web import request_log
from pleatwright.web.exchange import Exchange, Headers
from pleatwright.web.failures import encode
from pleatwright.web.keys import Keys
from pleatwright.web.lifetime import Lifetime
from pleatwright.web.limits import Limiter
from pleatwright.web.metrics import Metrics
from pleatwright.web.settings import Settings

log: Final = logging.getLogger(__name__)
_WATCHED: Final = frozenset(each.path for each in OPERATIONS if each.watches)


class Front:
    """An ASGI application round Litestar's, whose own hooks do not reach a request that no route is found for."""

    def __init__(
        self,
        app: Litestar,
        settings: Settings,
        keys: Keys,
        metrics: Metrics,
        lifetime: Lifetime,
        unlimited: frozenset[str] = frozenset(),
    ) -> None:
        """Put it round `app`; what is at the paths `unlimited` may be asked for as often as anybody likes."""
        self._app = app
        self._keys = keys
        self._metrics = metrics
        self._unlimited = _WATCHED | unlimited
        self._slowest = settings.slowest_request
        self._cors = app.cors_config
        self._by_origin = bool(settings.origins) and settings.origins != ("*",)
        self._limiter = Limiter(app, settings.requests_per_minute) if settings.requests_per_minute else None
        self.lifetime = lifetime

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request, or pass on what is none."""
        if scope["type"] != ScopeType.HTTP:
            await self._app(scope, receive, send)
            return
        exchange = Exchange(scope, receive, send, self.lifetime, self._slowest, by_origin=self._by_origin)
        exchange.holder = self._keys.holder(exchange.authorization) if exchange.authorization else None
        state = scope.setdefault("state", {})
        state["exchange"] = exchange
        try:
            await self._answer(scope, exchange)
        finally:
            self._tell(scope, exchange)
            # Else the two would hold each other until the collector came by.
            del state["exchange"]

    async def _answer(self, scope: HTTPScope, exchange: Exchange) -> None:
        limited = self._limiter and scope["path"] not in self._unlimited and scope["method"] != "OPTIONS"
        try:
            if self._limiter and limited:
                scope["litestar_app"] = self._app
                await self._limiter(scope, exchange.receive, exchange.send)
            else:
                await self._app(scope, exchange.receive, exchange.send)
        except TooManyRequestsException as refused:
            wait = max(1, int((refused.headers or {}).get("RateLimit-Reset", 1)))
            detail = f"There have been as many requests as there may be in a minute: wait {wait} s, and send it again."
            headers = [(name.lower().encode(), value.encode()) for name, value in (refused.headers or {}).items()]
            headers.append((b"retry-after", str(wait).encode()))
            await self._refuse(exchange, problems.problem(429, detail), headers)
        except Exception:
            # Whatever a route raises is a problem by now; this went wrong round it.
            log.exception("request %s: the front failed", exchange.id.decode())
            if exchange.status:
                raise
            await self._refuse(exchange, problems.problem(500), [])

    async def _refuse(self, exchange: Exchange, problem: Problem, headers: Headers) -> None:
        """Answer with a problem before Litestar has seen the request."""
        body = encode(problem)
        headers = [
            (b"content-type", problems.MEDIA_TYPE.encode()),
            (b"content-length", str(len(body)).encode()),
            *headers,
            *_allowed(self._cors, exchange.origin),
        ]
        await exchange.send({"type": "http.response.start", "status": problem.status, "headers": headers})
        await exchange.send({"type": "http.response.body", "body": body, "more_body": False})

    def _tell(self, scope: HTTPScope, exchange: Exchange) -> None:
        seconds = time.perf_counter() - exchange.started
        operation = self._metrics.operation(scope.get("route_handler"))
        status = exchange.status or 500
        self._metrics.answered(operation, status, seconds)
        if request_log.log.isEnabledFor(logging.INFO):
            line = request_log.Line(
                request_log.at(exchange.time),
                exchange.id.decode(),
                request_log.method_of(scope["method"]),
                operation,
                status,
                round(seconds * 1000, 3),
                exchange.body.arrived if exchange.body else 0,
                exchange.bytes_out,
            )
            request_log.log.info(request_log.told(line))


def _allowed(cors: CORSConfig | None, origin: str | None) -> Headers:
    """Return the headers that let a page of an origin read a reply that Litestar's CORS has not seen."""
    if cors is None or origin is None or not cors.is_origin_allowed(origin):
        return []
    headers = {"access-control-allow-origin": origin} | cors.simple_headers
    return [(name.lower().encode(), value.encode("latin-1")) for name, value in headers.items()]
