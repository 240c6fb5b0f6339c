"""What a client may say of a price, and what it is told: the customer's view, and the workroom's with its key."""

from decimal import Decimal
from typing import Annotated, Literal

from msgspec import Meta, Struct

Money = Annotated[Decimal, Meta(description="An exact decimal, as a text.", examples=["184.50"])]
Quantity = Annotated[Decimal, Meta(description="An exact decimal, as a text.", examples=["8.625"])]
LineKind = Literal[
    "cloth",
    "lining",
    "interlining",
    "blackout",
    "labour",
    "surcharge",
    "hardware",
    "fitting",
    "minimum",
    "discount",
]


class Pricing(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What is to be priced, and for whom."""

    view: Annotated[
        Literal["customer", "workroom"],
        Meta(description="The workroom's view has costs, margin and hours as well, and needs the workroom's key."),
    ] = "customer"
    rush: Annotated[bool, Meta(description="Whether it is wanted sooner than usual.")] = False
    fitting: Annotated[bool, Meta(description="Whether the workroom fits it.")] = False
    discount: Annotated[
        Annotated[str, Meta(max_length=80)] | None,
        Meta(description="Name of a discount of the rate book's; needs the workroom's key. Null: none."),
    ] = None


class PriceLine(Struct, frozen=True, kw_only=True):
    """One line of a price: amount = quantity x rate, rounded once to the currency's minor unit.

    Of a percentage, the quantity is the sum that it is taken of, the rate the percentage, and the amount a hundredth of
    their product.
    """

    kind: LineKind
    what: Annotated[str, Meta(description="In words.", examples=["Teasel, rust on oat"])]
    window: Annotated[str | None, Meta(description="Label of the window it is for; null for the whole job.")]
    quantity: Quantity
    unit: Annotated[
        str, Meta(description="As the rate book counts it, whatever the job's units.", examples=["m", "width", "hour"])
    ]
    rate: Annotated[Money, Meta(description="For one unit.")]
    amount: Money


class Tax(Struct, frozen=True, kw_only=True):
    """The tax on a price, rounded once."""

    name: str
    percent: Decimal
    amount: Money
    included: Annotated[bool, Meta(description="Whether the lines have it in them already.")]


class PriceOn(Struct, frozen=True, kw_only=True):
    """What the total would be if an assumption were another."""

    at: Annotated[
        str, Meta(description="What was assumed, by the name of its field in each window.", examples=["fullness"])
    ]
    least: Annotated[str, Meta(description="The least it was tried at, as a request asks for it.", examples=["2"])]
    most: Annotated[str, Meta(description="The most; the total need not be more.", examples=["2.5"])]
    total_at_least: Annotated[Money | None, Meta(description="Null if no panel can be made so.")]
    total_at_most: Annotated[Money | None, Meta(description="Null if no panel can be made so.")]


class PriceRange(Struct, frozen=True, kw_only=True):
    """Between what totals the price may come out, by the assumptions that matter, in every combination of ends."""

    least: Money
    most: Money
    because: list[PriceOn]


class Price(Struct, frozen=True, kw_only=True):
    """What the customer pays."""

    currency: Annotated[str, Meta(description="As ISO 4217 has it.", examples=["GBP"])]
    edition: Annotated[str, Meta(description="The edition of the rate book, and a mark of its content.")]
    lines: list[PriceLine]
    net: Annotated[Money, Meta(description="The lines added up, exactly.")]
    tax: Tax | None
    total: Money
    range: Annotated[
        PriceRange | None,
        Meta(description="Null when nothing was assumed that matters, or for over 12 windows or 120 widths."),
    ]


class CostLine(Struct, frozen=True, kw_only=True):
    """What one line of the price costs the workroom."""

    kind: LineKind
    what: str
    window: str | None
    amount: Annotated[Money, Meta(description="As the customer is charged.")]
    cost: Money
    hours: Quantity


class WorkroomPrice(Struct, frozen=True, kw_only=True):
    """What the job costs the workroom, line by line beside the price, and what is left."""

    lines: list[CostLine]
    cost: Money
    margin: Annotated[Money, Meta(description="What is charged before tax, less the cost.")]
    margin_percent: Annotated[Decimal | None, Meta(description="Of what is charged before tax; null if that is 0.")]
    hours: Quantity
