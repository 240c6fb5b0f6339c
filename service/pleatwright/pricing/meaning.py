"""What is wrong with a rate book whose entries are well formed, each for itself. No wording repeats a figure."""

from collections.abc import Iterable, Iterator
from decimal import Decimal

from pleatwright.contract.checking import echo
from pleatwright.faults import Fault, Path
from pleatwright.lengths import LengthError, parse_length
from pleatwright.pricing.currency import CurrencyError, minor_units
from pleatwright.pricing.entries import Cloth, Discount, Hardware, Labour, Rates, Surcharge, Times
from pleatwright.pricing.figures import decimals, same_name


def meaning_faults(rates: Rates) -> Iterator[Fault]:
    """Yield everything in a book that cannot be meant, with its place."""
    yield from _of_currency(rates)
    for at, cloth in enumerate(rates.cloth):
        yield from _under("cloth", at, _of_rate(cloth))
        yield from _under("cloth", at, _of_bolt(cloth))
    for at, hardware in enumerate(rates.hardware):
        yield from _under("hardware", at, _of_rate(hardware))
    for at, labour in enumerate(rates.labour):
        yield from _under("labour", at, _of_labour(labour))
    for at, surcharge in enumerate(rates.surcharge):
        yield from _under("surcharge", at, _of_surcharge(surcharge))
    for at, discount in enumerate(rates.discount):
        yield from _under("discount", at, _of_discount(discount))
    yield from _of_names(rates)
    yield from _of_usual_layers(rates)


def _under(table: str, at: int, faults: Iterable[Fault]) -> Iterator[Fault]:
    return (fault.under((table, at)) for fault in faults)


def _of_currency(rates: Rates) -> Iterator[Fault]:
    try:
        most = minor_units(rates.currency)
    except CurrencyError as error:
        yield Fault(("currency",), str(error), echo(rates.currency))
        return
    call_out = rates.fitting.call_out if rates.fitting else None
    sums: tuple[tuple[Path, Decimal | None], ...] = (
        (("minimum_charge",), rates.minimum_charge),
        (("fitting", "call_out"), call_out),
    )
    for where, money in sums:
        if money is not None and decimals(money) > most:
            yield Fault(
                where,
                f"this is charged as it stands, and {rates.currency} has {most or 'no'} decimals: round it",
                str(money),
                f"up to {most} decimals",
            )


def _of_rate(entry: Cloth | Hardware) -> Iterator[Fault]:
    if entry.price is None and entry.cost is None:
        yield Fault(("cost",), "there is no rate: give the cost, or a price", allowed="required without a price")
    if entry.markup is not None and entry.price is not None:
        yield Fault(
            ("markup",),
            "the price stands for itself, and a markup would go unused: leave out one of the two",
            str(entry.markup),
            "not together with a price",
        )


def _of_bolt(cloth: Cloth) -> Iterator[Fault]:
    if cloth.fabric and cloth.fabric.customers_own:
        detail = "cloth that the workroom sells is no customer's own, and would be given away: leave this out"
        yield Fault(("fabric", "customers_own"), detail, "true", "false")
    try:
        if cloth.fabric is None or not isinstance(cloth.fabric.width, str) or parse_length(cloth.fabric.width):
            return
    except LengthError:
        return
    yield Fault(
        ("fabric", "width"), "this must be more than nothing: check the figure", cloth.fabric.width, "more than 0"
    )


def _of_labour(labour: Labour) -> Iterator[Fault]:
    if labour.per == "hour" and labour.hours in (None, Times()):
        yield Fault(
            ("hours",), "labour by the hour needs the hours it takes: add them", allowed='required per = "hour"'
        )


def _of_surcharge(surcharge: Surcharge) -> Iterator[Fault]:
    is_long_drop = surcharge.when == "long-drop"
    if is_long_drop and surcharge.over is None:
        yield Fault(("over",), "a long drop is one over some finished length: add it", allowed="required for long-drop")
    if not is_long_drop and surcharge.over is not None:
        yield Fault(("over",), "this is for long-drop only: leave it out", str(surcharge.over), "only for long-drop")
    if surcharge.price is None and surcharge.percent is None:
        yield Fault(("price",), "there is no rate: give a price, or a percent", allowed="a price or a percent")
    if surcharge.price is not None and surcharge.percent is not None:
        yield Fault(
            ("percent",),
            "a surcharge has a price or a percent: leave out one of the two",
            str(surcharge.percent),
            "not together with a price",
        )
        return
    if surcharge.percent is not None and surcharge.per is not None:
        yield Fault(("per",), "a percent is of the labour: leave this out", surcharge.per, "only with a price")
    if surcharge.price is not None and surcharge.per is None:
        yield Fault(("per",), "a price is for each of something: add what", allowed="required with a price")
    if surcharge.price is not None and surcharge.when == "rush" and surcharge.per not in (None, "job"):
        yield Fault(("per",), "a rush is of the whole job: write job, or give a percent", surcharge.per, "job")


def _of_discount(discount: Discount) -> Iterator[Fault]:
    if discount.over is None and not discount.asked:
        yield Fault(
            ("over",), "nothing brings this discount about: give the sum, or asked = true", allowed="over, or asked"
        )
    if discount.over is not None and discount.asked:
        yield Fault(
            ("over",),
            "a discount that is asked for does not apply by itself: leave out this or asked",
            str(discount.over),
            "not together with asked",
        )


def _of_names(rates: Rates) -> Iterator[Fault]:
    yield from _twice((("cloth", at, "name"), each.name) for at, each in enumerate(rates.cloth))
    yield from _twice((("hardware", at, "kind"), each.kind) for at, each in enumerate(rates.hardware))
    yield from _twice((("surcharge", at, "name"), each.name) for at, each in enumerate(rates.surcharge))
    yield from _twice((("discount", at, "name"), each.name) for at, each in enumerate(rates.discount))
    yield from _twice(
        (("labour", at, "styles", place), style)
        for at, each in enumerate(rates.labour)
        for place, style in enumerate(each.styles or ())
    )
    _, *more = [at for at, each in enumerate(rates.labour) if each.styles is None] or [0]
    for at in more:
        yield Fault(
            ("labour", at, "styles"),
            "there is one entry for all other styles already: name the styles of this one",
            allowed="left out once",
        )


def _twice(names: Iterable[tuple[Path, str]]) -> Iterator[Fault]:
    seen = set()
    for where, name in names:
        if same_name(name) in seen:
            yield Fault(
                where,
                "this name is in the book already, case and spacing apart: change it, or leave out one of the two",
                name,
                "each name once",
            )
        seen.add(same_name(name))


def _of_usual_layers(rates: Rates) -> Iterator[Fault]:
    known = {each.name for each in rates.cloth}
    usual = rates.usual_layers
    for layer, name in (("lining", usual.lining), ("interlining", usual.interlining), ("blackout", usual.blackout)):
        if name is not None and name not in known:
            yield Fault(
                ("usual_layers", layer),
                "no cloth of the book has this name: write it as it stands there, or add the cloth",
                name,
                "the name of a cloth",
            )
