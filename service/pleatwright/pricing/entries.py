"""What stands in a rate book, as its file has it: one type for each kind of entry.

Money is in the book's currency and held as it was written; lengths are texts that carry their unit.
"""

from decimal import Decimal
from typing import Annotated, Literal

from msgspec import Meta, Struct

from pleatwright.contract.cloth import Fabric
from pleatwright.lengths import Length
from pleatwright.pricing.currency import Rounding
from pleatwright.pricing.figures import Hours, Money, Name, Part, Percent

NOTHING = Decimal(0)

Layer = Literal["lining", "interlining", "blackout"]
Reason = Literal["long-drop", "pattern-matching", "lining", "interlining", "blackout", "hand-tacking", "rush"]


class Tax(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A tax on sales. `included` tells whether the book's prices have it in them."""

    name: Name
    percent: Part
    included: bool = False


class Markup(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Percent put on the cost of what has no price of its own."""

    cloth: Percent = NOTHING
    hardware: Percent = NOTHING


class UsualLayers(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Which cloth a layer is of when the job does not name one."""

    lining: Name | None = None
    interlining: Name | None = None
    blackout: Name | None = None


class Cloth(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A cloth, by the metre or the yard. What has a price and no cost counts as costing nothing."""

    name: Name
    per: Literal["m", "yd"]
    cost: Money | None = None
    price: Money | None = None
    markup: Percent | None = None
    fabric: Fabric | None = None


class Hardware(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What a heading takes besides cloth, by its kind. What has a price and no cost counts as costing nothing."""

    kind: Name
    per: Literal["each", "m", "yd"]
    cost: Money | None = None
    price: Money | None = None
    markup: Percent | None = None


class Times(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The hours that each width, pleat, panel, window and tack takes."""

    width: Hours = NOTHING
    pleat: Hours = NOTHING
    panel: Hours = NOTHING
    window: Hours = NOTHING
    tack: Hours = NOTHING


class Labour(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What making up is charged at, for some styles, or for all others when it names none."""

    styles: Annotated[tuple[Name, ...], Meta(min_length=1)] | None = None
    per: Literal["width", "pleat", "panel", "window", "hour"]
    price: Money
    hours: Times | None = None


class Surcharge(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What is charged on top of labour for a reason: a price for each of something, or a percentage of the labour."""

    name: Name
    when: Reason
    over: Length | None = None
    per: Literal["width", "pleat", "panel", "window", "tack", "job"] | None = None
    price: Money | None = None
    percent: Percent | None = None


class Fitting(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What putting up is charged at: a call-out once a job, and a price for each window or length of rod."""

    call_out: Money = NOTHING
    per: Literal["window", "m", "yd"]
    price: Money
    cost: Money = NOTHING
    call_out_cost: Money = NOTHING


class Discount(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A part taken off: by itself when the lines come to over a sum, or when the job asks for it by name."""

    name: Name
    over: Money | None = None
    asked: bool = False
    percent: Part


class Rates(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A whole rate book."""

    edition: Name
    currency: str
    rounding: Rounding
    cost_per_hour: Money
    minimum_charge: Money | None = None
    tax: Tax | None = None
    markup: Markup = Markup()
    usual_layers: UsualLayers = UsualLayers()
    cloth: tuple[Cloth, ...] = ()
    labour: tuple[Labour, ...] = ()
    surcharge: tuple[Surcharge, ...] = ()
    hardware: tuple[Hardware, ...] = ()
    fitting: Fitting | None = None
    discount: tuple[Discount, ...] = ()
