"""The operations of the service: one table, from which the routes are bound and the OpenAPI document is built."""

from dataclasses import dataclass
from typing import Any, Final, Literal

from pleatwright.contract import (
    about,
    cloths,
    comparing,
    enough,
    estimates,
    hanging,
    papers,
    problems,
    replies,
    requests,
)
from pleatwright.contract.papers import Parameter
from pleatwright.lengths import UNITS


@dataclass(frozen=True, slots=True)
class Operation:
    """One operation.

    `request` is a request type, generic in the styles' options when `names_heading`. Whatever `watches` the service
    asks at its own pace, and is never turned away for asking too often. A reply that is plain text comes in no other
    form. One that takes `lines` takes and gives a line of JSON for each job. `papers` are the forms, other than data,
    that a reply comes in. One that `tells` can say in lines of JSON how far it is, before the line that is its reply.
    `problems` are statuses that it may end in besides those that follow from all this.
    """

    name: str
    method: Literal["GET", "POST"]
    path: str
    tag: str
    summary: str
    reply: Any
    request: Any = None
    names_heading: bool = True
    parameters: tuple[Parameter, ...] = ()
    papers: tuple[str, ...] = ()
    tells: bool = False
    watches: bool = False
    lines: bool = False
    problems: tuple[int, ...] = ()
    description: str | None = None

    @property
    def forms(self) -> tuple[str, ...]:
        """The forms that a reply comes in besides JSON and MessagePack."""
        return (*self.papers, *((NDJSON,) if self.tells else ()))

    @property
    def needs_key(self) -> bool:
        """Whether a service that has customers answers it only to who has a key."""
        return self.path.startswith("/v1/")


UNITS_AND_THICKNESS: Final = (
    Parameter("units", "Units of the reply's lengths.", UNITS, usual="in"),
    Parameter("cloth_thickness", "Thickness of the cloth, to reckon the stack for; a usual one when left out."),
)
NDJSON: Final = "application/x-ndjson"
_ON_PAPER: Final = (papers.SVG, papers.HTML, papers.PDF)

_TELLS: Final = (
    "What may take seconds tells how far it is where the reply is asked for as application/x-ndjson: lines of JSON, "
    "each with what it is `doing`, how many of these are `done` and `of` how many, null where that is not known; the "
    "last is the reply, or its problem, which has a `type`."
)

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
        parameters=papers.OF_PANEL,
        papers=_ON_PAPER,
    ),
    Operation(
        "pins",
        "POST",
        "/v1/pins",
        "workroom",
        "Place the pins of a flat panel, and say how deep they go.",
        replies.PinsReply,
        requests.PinsRequest,
        parameters=papers.OF_PANEL,
        papers=_ON_PAPER,
    ),
    Operation(
        "hang",
        "POST",
        "/v1/hang",
        "workroom",
        "Give every height of a panel on the wall: one to be made, or one made already and pinned so.",
        hanging.HangReply,
        requests.HangRequest,
    ),
    Operation(
        "rod",
        "POST",
        "/v1/rod",
        "workroom",
        "Find the rod that clears the glass when the panels are open, or the glass that stays covered.",
        hanging.RodReply,
        requests.RodRequest,
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
        tells=True,
        description=_TELLS,
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
        estimates.EstimateReply,
        requests.EstimateRequest,
        parameters=papers.OF_JOB,
        papers=_ON_PAPER,
        tells=True,
        description=_TELLS,
    ),
    Operation(
        "batch",
        "POST",
        "/v1/estimate/batch",
        "workroom",
        "Work out many jobs, one after the other, each answered as soon as it is done.",
        str,
        lines=True,
        description="Each line of the body is one job, as /v1/estimate takes it (EstimateRequest). Each line of the "
        "reply answers one, in their order: with what /v1/estimate gives (EstimateReply), or with its problem "
        "(Problem), which has a `type`; the rest go on. An empty line is a wrong one. A "
        "batch of over 1000 lines or 4 MiB, unless the service is set otherwise, or one that is too slow, ends with "
        "the problem of that.",
    ),
    Operation(
        "compare",
        "POST",
        "/v1/compare",
        "workroom",
        "Compare the sensible ways to make one window, each complete, the best first.",
        comparing.CompareReply,
        comparing.CompareRequest,
        tells=True,
        description=_TELLS,
    ),
    Operation(
        "headings",
        "GET",
        "/v1/headings",
        "headings",
        "List the heading styles in use, and the plugins that were refused.",
        about.HeadingsReply,
        parameters=UNITS_AND_THICKNESS,
    ),
    Operation(
        "heading",
        "GET",
        "/v1/headings/{style}",
        "headings",
        "Describe one heading style.",
        about.HeadingFigures,
        parameters=UNITS_AND_THICKNESS,
        papers=(papers.SVG,),
        problems=(404,),
    ),
    Operation(
        "cloths",
        "GET",
        "/v1/cloths",
        "workroom",
        "List the cloths in the rate book, by the names that jobs call them by.",
        cloths.ClothsReply,
        parameters=UNITS_AND_THICKNESS[:1],
    ),
    Operation("contract", "GET", "/openapi.json", "service", "Give this contract.", dict[str, Any]),
    Operation(
        "problem",
        "GET",
        problems.ADDRESS,
        "service",
        "Say what a kind of problem means, and what to do about it.",
        about.ProblemKind,
        problems=(404,),
    ),
    Operation(
        "live", "GET", "/health/live", "service", "Tell whether the process is alive.", about.Health, watches=True
    ),
    Operation(
        "ready",
        "GET",
        "/health/ready",
        "service",
        "Tell whether the service can answer, and which plugins it refused.",
        about.Health,
        watches=True,
        problems=(503,),
    ),
    Operation(
        "metrics",
        "GET",
        "/metrics",
        "service",
        "Count what was answered, for Prometheus.",
        str,
        watches=True,
        description="Requests by operation and outcome, their latency, and the heading styles used, in Prometheus' "
        "text format. The figures are those of the one process that answers, since it started.",
    ),
)
