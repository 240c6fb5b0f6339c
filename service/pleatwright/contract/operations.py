"""The operations of the service: one table, from which the routes are bound and the OpenAPI document is built."""

from dataclasses import dataclass
from typing import Any, Final, Literal

from pleatwright.contract import about, enough, replies, requests


@dataclass(frozen=True, slots=True)
class Operation:
    """One operation.

    `request` is a request type, generic in the styles' options when `names_heading`.
    """

    name: str
    method: Literal["GET", "POST"]
    path: str
    tag: str
    summary: str
    reply: Any
    request: Any = None
    names_heading: bool = True
    takes_units: bool = False


OPERATIONS: Final = (
    Operation(
        "panel",
        "POST",
        "/v1/panel",
        "workroom",
        "Turn a window's measurements into panels: sizes, widths of cloth, seams and cut length.",
        replies.PanelReply,
        requests.PanelRequest,
    ),
    Operation(
        "pleats",
        "POST",
        "/v1/pleats",
        "workroom",
        "Place the pleats and spaces of a flat panel so that no seam shows, with marks on the workroom's rule.",
        replies.PleatsReply,
        requests.PleatsRequest,
    ),
    Operation(
        "pins",
        "POST",
        "/v1/pins",
        "workroom",
        "Place the pins of a flat panel, and say how deep they go.",
        replies.PinsReply,
        requests.PinsRequest,
    ),
    Operation(
        "repeat",
        "POST",
        "/v1/repeat",
        "workroom",
        "Find the shortest run of cuts from patterned cloth, and what to order.",
        replies.RepeatReply,
        requests.RepeatRequest,
        names_heading=False,
    ),
    Operation(
        "enough",
        "POST",
        "/v1/enough",
        "workroom",
        "Say what a length of cloth is enough for: the greatest fullness, the longest drop, the most windows.",
        enough.EnoughReply,
        requests.EnoughRequest,
    ),
    Operation(
        "estimate",
        "POST",
        "/v1/estimate",
        "workroom",
        "Work out a whole job: panels, pleats, pins, cuts and materials of every window.",
        replies.EstimateReply,
        requests.EstimateRequest,
    ),
    Operation(
        "headings",
        "GET",
        "/v1/headings",
        "headings",
        "List the heading styles in use, and the plugins that were refused.",
        about.HeadingsReply,
        takes_units=True,
    ),
    Operation(
        "heading",
        "GET",
        "/v1/headings/{style}",
        "headings",
        "Describe one heading style.",
        about.HeadingFigures,
        takes_units=True,
    ),
    Operation("contract", "GET", "/openapi.json", "service", "Give this contract.", dict[str, Any]),
    Operation("live", "GET", "/health/live", "service", "Tell whether the process is alive.", about.Health),
    Operation(
        "ready",
        "GET",
        "/health/ready",
        "service",
        "Tell whether the service can answer, and which plugins it refused.",
        about.Health,
    ),
)
