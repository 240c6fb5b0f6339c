"""The bench page: its parts read once at the start, and given as they are, with a policy that lets nothing else in."""

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from litestar import HttpMethod, Response, route
from litestar.types import ControllerRouterHandler

from pleatwright.contract import problems
from pleatwright.paper.ticket import STYLE_HASH
from pleatwright.web.failures import AnyRequest, RefusedError

FOLDER: Final = Path(__file__).parent / "page"
INDEX: Final = "index.html"
NAMES: Final = ("bench", "bench-part")
"""What the page's two routes are called, beside the operations of the contract."""

STYLE_SOURCES: Final = ("'self'", f"'{STYLE_HASH}'")
"""Where styles may come from. The ticket that the page opens from a blob is held to the page's own policy."""

POLICY: Final = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        f"style-src {' '.join(STYLE_SOURCES)}",
        "img-src 'self' blob: data:",
        "connect-src 'self'",
        "form-action 'none'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
    )
)
_MEDIA_TYPES: Final = {
    ".html": "text/html",
    ".css": "text/css",
    ".js": "text/javascript",
    ".svg": "image/svg+xml",
}


@dataclass(frozen=True, slots=True)
class Part:
    """One file of the page."""

    content: bytes
    media_type: str
    tag: str


def parts(folder: Path = FOLDER) -> dict[str, Part]:
    """Return the parts of the page by their names; nothing else is ever given."""
    found = {}
    for file in sorted(folder.iterdir()):
        media_type = _MEDIA_TYPES.get(file.suffix)
        if media_type:
            content = file.read_bytes()
            found[file.name] = Part(content, media_type, f'"{hashlib.sha256(content).hexdigest()[:32]}"')
    return found


def addresses(page: Mapping[str, Part]) -> frozenset[str]:
    """Return the paths at which a page's parts are."""
    return frozenset(("/", *(f"/page/{name}" for name in page if name != INDEX)))


def routes(page: Mapping[str, Part]) -> Sequence[ControllerRouterHandler]:
    """Return the routes of a page. It is public, as the contract is: what it asks the service for may need a key."""
    fetched = [HttpMethod.GET, HttpMethod.HEAD]

    @route("/", http_method=fetched, name=NAMES[0])
    async def give_page(request: AnyRequest) -> Response[bytes]:
        return _given(request, page[INDEX])

    @route("/page/{name:str}", http_method=fetched, name=NAMES[1])
    async def give_part(request: AnyRequest, name: str) -> Response[bytes]:
        if name not in page or name == INDEX:
            raise RefusedError(problems.problem(404, "The bench page has no part of this name."))
        return _given(request, page[name])

    return [give_page, give_part]


def _given(request: AnyRequest, part: Part) -> Response[bytes]:
    """Return a part, or word that it is as the browser has it: asked every time, so that no two versions meet."""
    headers = {"etag": part.tag, "cache-control": "no-cache", "content-security-policy": POLICY}
    held = request.headers.get("if-none-match", "")
    if part.tag in (each.strip().removeprefix("W/") for each in held.split(",")):
        return Response(b"", status_code=304, headers=headers)
    return Response(part.content, media_type=part.media_type, headers=headers)
