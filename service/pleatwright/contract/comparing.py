"""What a client may compare, and what it is told: ways to make the same window."""

from typing import Annotated, Generic, Literal

from msgspec import UNSET, Meta, Struct, UnsetType, field

from pleatwright.contract.cloth import Fabric
from pleatwright.contract.cut_lists import Number
from pleatwright.contract.estimates import EstimatedWindow, JobMaterials
from pleatwright.contract.notes import Assumed, Caution, MadeWith
from pleatwright.contract.prices import Money, Price, Pricing, WorkroomPrice
from pleatwright.contract.requests import Options, RequestUnits, Window
from pleatwright.lengths import Length, Units

ChangeKind = Literal[
    "as-asked",
    "half-width-more",
    "half-width-less",
    "pleat-count",
    "style",
    "railroaded",
    "not-railroaded",
    "cloth-width",
]


class CompareRequest(Struct, Generic[Options], frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One window, and what it might be made of instead."""

    units: RequestUnits
    window: Window[Options]
    fabrics: Annotated[
        dict[Annotated[str, Meta(max_length=80)], Fabric],
        Meta(max_length=50, description="As in an estimate."),
    ] = field(default_factory=dict)
    styles: Annotated[list[Options], Meta(max_length=8, description="Other headings to compare.")] = []
    cloth_widths: Annotated[
        list[Length],
        Meta(max_length=6, description="Other widths in which the cloth is sold, at the same price."),
    ] = []
    pricing: Pricing = field(default_factory=Pricing)


class Way(Struct, frozen=True, kw_only=True):
    """One way to make the window, complete."""

    change: Annotated[ChangeKind, Meta(description="What is other than asked.")]
    at: Annotated[str | None, Meta(description="JSON Pointer to what in the request asks for it; null for none.")]
    reason: Annotated[str, Meta(description="In a line for the customer.")]
    style: str
    fullness: Annotated[float, Meta(description="That results, of all panels together.")]
    cloth: Annotated[Number, Meta(description="Face cloth to order.")]
    unevenness: Annotated[Number, Meta(description="The largest take-up less the smallest; 0 without pleats.")]
    seams_not_hidden: Annotated[int, Meta(description="Seams on show, in the way, or inside a pleat.")]
    total: Annotated[Money | None, Meta(description="What the customer pays; null without a price.")]
    dominated_by: Annotated[
        int | None,
        Meta(
            description="Place in the list, from 1, of a way in the same style that is as good in hidden seams, price, "
            "cloth, fullness and evenness, and better in one; null if there is none."
        ),
    ]
    window: EstimatedWindow
    materials: JobMaterials
    price: Price | None
    workroom: Annotated[WorkroomPrice | UnsetType, Meta(description="Only in the workroom's view.")] = UNSET
    cautions: Annotated[list[Caution], Meta(description="Why it is not priced, and what of its price to look at.")]


class NoWay(Struct, frozen=True, kw_only=True):
    """A way that was tried, and cannot be."""

    change: ChangeKind
    at: Annotated[str, Meta(description="JSON Pointer to what asks for it in the request.", examples=["/styles/0"])]
    what: Annotated[str, Meta(description="In words.")]
    style: str
    why: str


class CompareReply(Struct, frozen=True, kw_only=True):
    """Ways to make one window: fewest seams not hidden first, then by price, cloth, fullness and evenness."""

    units: Units
    ways: list[Way]
    impossible: Annotated[list[NoWay], Meta(description="Ways asked for that cannot be, and why.")]
    cautions: list[Caution]
    assumed: Annotated[list[Assumed], Meta(description="Of the window as asked.")]
    made_with: MadeWith
