"""What a price is made of: its lines, what they come to, and what cannot be priced."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

LineKind = Literal[
    "cloth", "lining", "interlining", "blackout", "labour", "surcharge", "hardware", "fitting", "minimum", "discount"
]
Unit = Literal["m", "yd", "each", "width", "pleat", "panel", "window", "tack", "hour", "job", "percent"]


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a price, which can be worked from what it shows.

    `amount` is `quantity` times `rate`, rounded once by the book's rule. Where `unit` is "percent", `quantity` is the
    sum that the percentage `rate` is taken of, and the amount a hundredth of their product. `cost` is what the line
    costs the workroom and `hours` the time it takes. `window` is the label of its window, None for the whole job.
    """

    kind: LineKind
    what: str
    window: str | None
    quantity: Decimal
    unit: Unit
    rate: Decimal
    amount: Decimal
    cost: Decimal
    hours: Decimal


@dataclass(frozen=True, slots=True)
class Price:
    """What a job is charged. All money is in `currency`, to its `minor_units`.

    `net` is the lines' sum. Tax is put on it to make `total`, or is in both already when `tax_included`. `tax_name` is
    None, and the tax nothing, when the book has none. `cost` and `hours` are the lines' sums.
    """

    lines: Sequence[Line]
    net: Decimal
    tax_name: str | None
    tax_percent: Decimal
    tax: Decimal
    tax_included: bool
    total: Decimal
    cost: Decimal
    hours: Decimal
    currency: str
    minor_units: int


@dataclass(frozen=True, slots=True)
class Missing:
    """Something that has no rate: a cloth, a style's labour, a hardware so measured, the fitting, a discount."""

    kind: Literal["cloth", "labour", "hardware", "fitting", "discount"]
    name: str


class NotInBook(LookupError):
    """The job holds what the rate book has no rate for: all of it is in `missing`, and no figure of the book."""

    def __init__(self, missing: Sequence[Missing]) -> None:
        listed = ", ".join(f"{each.kind} {each.name!r}" for each in missing)
        super().__init__(f"the rate book has no rate for {listed}")
        self.missing = list(missing)
