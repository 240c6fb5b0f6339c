"""How often one customer or one address may ask: Litestar's limit, put round what is not found as well."""

import asyncio
import ipaddress
from collections.abc import AsyncIterator, Callable
from contextlib import AbstractAsyncContextManager, asynccontextmanager, suppress
from pathlib import Path
from typing import Any, Final

from litestar import Litestar, Request
from litestar.middleware.rate_limit import RateLimitConfig, RateLimitMiddleware
from litestar.stores.file import FileStore
from litestar.stores.memory import MemoryStore

from pleatwright.web.exchange import Exchange

STORE: Final = "requests"
SWEEP: Final = 60
"""Seconds from one clearing of what has expired to the next; neither store does it by itself."""


class Limiter(RateLimitMiddleware):
    """Counts each caller's requests in a minute, and raises TooManyRequestsException past the limit."""

    def __init__(self, app: Litestar, per_minute: int) -> None:
        config = RateLimitConfig(rate_limit=("minute", per_minute), identifier_for_request=_caller, store=STORE)
        super().__init__(app, config)

    def cache_key_from_request(self, request: Request[Any, Any, Any]) -> str:
        """Return what a request is counted under; Litestar's own wants a route, which not every request has."""
        return self.get_identifier_for_request(request)


Counts = FileStore | MemoryStore


def store_in(folder: Path | None) -> Counts:
    """Return where requests are counted: in a folder that several processes share, or in memory."""
    return FileStore(folder) if folder else MemoryStore()


def sweeping(store: Counts) -> Callable[[Litestar], AbstractAsyncContextManager[None]]:
    """Return what clears a store of what has expired, again and again, while the application lives."""

    async def sweep() -> None:
        while True:
            await asyncio.sleep(SWEEP)
            # Another process may be writing or clearing the same folder; what is left goes next time.
            with suppress(OSError, ValueError):
                await store.delete_expired()

    @asynccontextmanager
    async def living(_app: Litestar) -> AsyncIterator[None]:
        task = asyncio.create_task(sweep())
        try:
            yield
        finally:
            task.cancel()
            with suppress(asyncio.CancelledError):
                await task

    return living


def _caller(request: Request[Any, Any, Any]) -> str:
    """Return who asks: whoever holds the key, or the address. A key that is not known is no way round the limit."""
    return Exchange.of(request.scope).holder or address_of(request.scope["client"])


def address_of(client: tuple[str, int] | None) -> str:
    """Return the address that requests are counted under: of IPv6 the network, since each house has one whole.

    >>> address_of(("192.0.2.7", 5)), address_of(("2001:db8:1:2:3:4:5:6", 5)), address_of(None)
    ('address 192.0.2.7', 'address 2001:db8:1:2::', 'address unknown')
    """
    host = client[0] if client else "unknown"
    if ":" in host:
        with suppress(ValueError):
            address = ipaddress.IPv6Address(host.partition("%")[0])
            mapped = address.ipv4_mapped
            host = str(mapped or ipaddress.IPv6Network((int(address) >> 64 << 64, 64)).network_address)
    return f"address {host}"
