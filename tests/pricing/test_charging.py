"""Any job by any book: lines add up, amounts follow from what their line shows, fractions confirm every rounding."""

from dataclasses import fields
from decimal import ROUND_FLOOR, Context, Decimal, localcontext
from fractions import Fraction
from math import floor

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pleatwright.pricing.book import RateBook
from pleatwright.pricing.charging import charge
from pleatwright.pricing.currency import MODES
from pleatwright.pricing.entries import (
    Cloth,
    Discount,
    Fitting,
    Hardware,
    Labour,
    Markup,
    Rates,
    Surcharge,
    Tax,
    Times,
)
from pleatwright.pricing.quantities import ClothQuantity, HardwareQuantity, JobQuantities, WindowQuantities

REPEATABLE = settings(derandomize=True, database=None, deadline=None, max_examples=150)
MINOR_UNITS = {"GBP": 2, "JPY": 0, "KWD": 3, "CLF": 4}
# 1 m is 320,000 units of the grid, and 1 yd 36 in of 8128.
PER = {"m": 320_000, "yd": 292_608}
KILOMETRE = 1000 * PER["m"]


def by_fractions(value, decimals, rounding):
    """Round without decimal: whole numbers of the smallest unit, and what is over."""
    whole, over = divmod(abs(value) * 10**decimals, 1)
    half = Fraction(1, 2)
    away = {
        "up": over > 0,
        "down": False,
        "half-up": over >= half,
        "half-even": over > half or (over == half and whole % 2 == 1),
    }[rounding]
    units = Fraction(whole + away, 10**decimals)
    return -units if value < 0 else units


def decimals(most, places=6):
    return st.builds(lambda whole, at: Decimal(whole).scaleb(-at), st.integers(0, most), st.integers(0, places))


money = decimals(10**9)
percent = decimals(1000)
part = decimals(100)
maybe = st.none()
lengths = st.integers(0, KILOMETRE)
counts = st.integers(0, 5000)
ROLES = ("face", "lining", "interlining", "blackout")


@st.composite
def books(draw):
    currency = draw(st.sampled_from(sorted(MINOR_UNITS)))
    sums = st.integers(0, 10**7).map(lambda units: Decimal(units).scaleb(-MINOR_UNITS[currency]))
    rated = st.tuples(money, maybe | money, maybe | percent)

    def entry(type_, units, **named):
        cost, price, markup = draw(rated)
        return type_(
            per=draw(st.sampled_from(units)), cost=cost, price=price, markup=None if price else markup, **named
        )

    def surcharge(at, when):
        own = {
            "name": f"S{at}",
            "when": when,
            "over": draw(st.sampled_from(["3 m", "90 in"])) if when == "long-drop" else None,
        }
        if draw(st.booleans()):
            return Surcharge(**own, percent=draw(percent))
        per = ["job"] if when == "rush" else ["width", "pleat", "panel", "window", "tack", "job"]
        return Surcharge(**own, per=draw(st.sampled_from(per)), price=draw(money))

    reasons = ["long-drop", "pattern-matching", "lining", "interlining", "blackout", "hand-tacking", "rush"]
    times = st.builds(Times, **dict.fromkeys(Times.__struct_fields__, decimals(10**5)))
    labour = st.builds(
        Labour,
        per=st.sampled_from(["width", "pleat", "panel", "window", "hour"]),
        price=money,
        hours=times,
    )
    discounts = [
        Discount(name=f"D{at}", over=None if asked else draw(money), asked=asked, percent=draw(part))
        for at, asked in enumerate(draw(st.lists(st.booleans(), max_size=4)))
    ]
    rates = Rates(
        edition="E",
        currency=currency,
        rounding=draw(st.sampled_from(sorted(MODES))),
        cost_per_hour=draw(money),
        minimum_charge=draw(maybe | sums),
        tax=draw(maybe | st.builds(Tax, name=st.just("Tax"), percent=part, included=st.booleans())),
        markup=Markup(cloth=draw(percent), hardware=draw(percent)),
        cloth=tuple(entry(Cloth, ["m", "yd"], name=f"C{at}") for at in range(2)),
        labour=(draw(labour),),
        surcharge=tuple(
            surcharge(at, when) for at, when in enumerate(draw(st.lists(st.sampled_from(reasons), max_size=5)))
        ),
        hardware=(entry(Hardware, ["each"], kind="H0"), entry(Hardware, ["m", "yd"], kind="H1")),
        fitting=draw(
            st.builds(
                Fitting,
                call_out=sums,
                per=st.sampled_from(["window", "m", "yd"]),
                price=money,
                cost=money,
                call_out_cost=money,
            )
        ),
        discount=tuple(discounts),
    )
    return RateBook(rates, "digest")


@st.composite
def jobs(draw, book):
    window = st.builds(
        WindowQuantities,
        label=st.just("W"),
        style=st.sampled_from(["goblet", "wave"]),
        halves=st.integers(0, 200),
        panels=st.integers(1, 4),
        pleats=st.integers(1, 2000),
        tacks=counts,
        finished_length=lengths,
        rod=lengths,
        patterned=st.booleans(),
        layers=st.frozensets(st.sampled_from(ROLES)),
    )
    asked = [each.name for each in book.rates.discount if each.asked]
    return JobQuantities(
        windows=draw(st.lists(window, max_size=4)),
        cloth=draw(
            st.lists(
                st.builds(ClothQuantity, st.sampled_from(["C0", "C1"]), st.sampled_from(ROLES), lengths), max_size=4
            )
        ),
        hardware=[HardwareQuantity("H0", draw(counts), None), HardwareQuantity("H1", None, draw(lengths))],
        rush=draw(st.booleans()),
        fitting=draw(st.booleans()),
        discount=draw(st.sampled_from([None, *asked])),
    )


charged = st.data()


def drawn(data):
    book = data.draw(books())
    job = data.draw(jobs(book))
    return book, job, charge(book, job)


@REPEATABLE
@given(charged)
def test_everything_adds_up_exactly(data):
    _, _, price = drawn(data)
    assert Fraction(price.net) == sum(Fraction(line.amount) for line in price.lines)
    assert Fraction(price.cost) == sum(Fraction(line.cost) for line in price.lines)
    assert Fraction(price.hours) == sum(Fraction(line.hours) for line in price.lines)
    assert Fraction(price.total) == Fraction(price.net) + (0 if price.tax_included else Fraction(price.tax))


@REPEATABLE
@given(charged)
def test_every_amount_follows_from_what_its_own_line_shows(data):
    book, _, price = drawn(data)
    for line in price.lines:
        product = Fraction(line.quantity) * Fraction(line.rate) / (100 if line.unit == "percent" else 1)
        assert Fraction(line.amount) == by_fractions(product, book.minor_units, book.rates.rounding), line


@REPEATABLE
@given(charged)
def test_tax_is_rounded_once_from_the_exact_sum(data):
    book, _, price = drawn(data)
    tax = book.rates.tax
    if tax is None:
        assert (price.tax_name, price.tax, price.tax_percent, price.tax_included) == (None, 0, 0, False)
        return
    percent = Fraction(tax.percent)
    exact = Fraction(price.net) * percent / (100 + percent if tax.included else 100)
    assert Fraction(price.tax) == by_fractions(exact, book.minor_units, book.rates.rounding)
    assert (price.tax_name, price.tax_percent, price.tax_included) == ("Tax", tax.percent, tax.included)


@REPEATABLE
@given(charged)
def test_all_figures_are_decimals_and_all_money_is_in_minor_units(data):
    book, _, price = drawn(data)
    units = MINOR_UNITS[book.currency]
    assert price.minor_units == units
    money = [
        price.net,
        price.tax,
        price.total,
        price.cost,
        *(sum_ for each in price.lines for sum_ in (each.amount, each.cost)),
    ]
    assert {each.as_tuple().exponent for each in money} == {-units}
    numbers = [
        getattr(part, field.name)
        for part in (price, *price.lines)
        for field in fields(part)
        if not isinstance(getattr(part, field.name), str | bool | int | tuple | None)
    ]
    assert {type(each) for each in numbers} == {Decimal}
    assert all(each.is_finite() and not (each.is_signed() and each == 0) for each in numbers)
    assert not any("E" in str(each) for each in numbers if abs(each) >= 1 or not each)


@REPEATABLE
@given(charged)
def test_costs_follow_from_the_book(data):
    book, job, price = drawn(data)
    rates = book.rates
    for line in price.lines:
        quantity = Fraction(line.quantity)
        match line.kind:
            case "cloth" | "lining" | "interlining" | "blackout":
                cost = quantity * Fraction(book.cloth(line.what).cost)
            case "hardware":
                cost = quantity * Fraction(book.hardware(line.what).cost)
            case "labour":
                cost = Fraction(line.hours) * Fraction(rates.cost_per_hour)
            case "fitting":
                cost = (
                    Fraction(rates.fitting.call_out_cost)
                    if line.what == "Call-out"
                    else quantity * Fraction(rates.fitting.cost)
                )
            case _:
                cost = 0
        assert Fraction(line.cost) == by_fractions(Fraction(cost), book.minor_units, rates.rounding)
    assert price.cost >= 0
    assert job.fitting == any(line.kind == "fitting" for line in price.lines)


@REPEATABLE
@given(charged)
def test_selling_rates_are_the_price_or_the_cost_marked_up_to_four_decimals(data):
    book, _, price = drawn(data)
    for line in price.lines:
        entry = {"cloth": book.cloth, "hardware": book.hardware}.get(line.kind, lambda _: None)(line.what)
        if entry is None:
            continue
        usual = book.rates.markup.cloth if line.kind == "cloth" else book.rates.markup.hardware
        markup = usual if entry.markup is None else entry.markup
        marked_up = Fraction(entry.cost) * (1 + Fraction(markup) / 100)
        expected = Fraction(entry.price) if entry.price is not None else by_fractions(marked_up, 4, "half-even")
        assert Fraction(line.rate) == expected


@REPEATABLE
@given(charged)
def test_quantities_are_those_of_the_job(data):
    book, job, price = drawn(data)
    cloth = [line for line in price.lines if line.kind in ("cloth", *ROLES)]
    exact = sorted(
        (ROLES.index(each.role), each.cloth, Fraction(each.length, PER[book.cloth(each.cloth).per]))
        for each in job.cloth
    )
    # Of one cloth in one role twice, the order may differ.
    shown = sorted(
        (ROLES.index("face" if line.kind == "cloth" else line.kind), line.what, Fraction(line.quantity))
        for line in cloth
    )
    assert [each[:2] for each in shown] == [each[:2] for each in exact]
    for (*_, found), (*_, length) in zip(shown, exact, strict=True):
        assert found == Fraction(floor(length * 1000 + Fraction(1, 2)), 1000)
    labour = [line for line in price.lines if line.kind == "labour"]
    assert [line.window for line in labour] == [window.label for window in job.windows]
    for line, window in zip(labour, job.windows, strict=True):
        times = book.rates.labour[0].hours
        hours = (
            Fraction(times.width) * Fraction(window.halves, 2)
            + Fraction(times.pleat) * window.pleats
            + Fraction(times.panel) * window.panels
            + Fraction(times.window)
            + Fraction(times.tack) * window.tacks
        )
        rounded = by_fractions(hours, 3, "half-up")
        assert Fraction(line.hours) == rounded
        expected = {
            "width": Fraction(window.halves, 2),
            "pleat": window.pleats,
            "panel": window.panels,
            "window": 1,
            "hour": rounded,
        }[line.unit]
        assert Fraction(line.quantity) == expected


@REPEATABLE
@given(charged)
def test_lines_come_in_order(data):
    _, _, price = drawn(data)
    groups = [
        ("cloth",),
        ("lining",),
        ("interlining",),
        ("blackout",),
        ("labour", "surcharge"),
        ("hardware",),
        ("fitting",),
    ]
    groups += [("minimum",), ("discount",)]
    order = [next(at for at, group in enumerate(groups) if line.kind in group) for line in price.lines]
    assert order == sorted(order)
    of_windows = [line.window is None for line in price.lines if line.kind in ("labour", "surcharge")]
    assert of_windows == sorted(of_windows), "what is of the whole job follows what is of a window"


@REPEATABLE
@given(charged)
def test_surcharges_are_of_the_labour(data):
    book, job, price = drawn(data)
    percents = {each.name: each for each in book.rates.surcharge if each.percent is not None}
    latest, all_labour = None, sum(Fraction(line.amount) for line in price.lines if line.kind == "labour")
    for line in price.lines:
        if line.kind == "labour":
            latest = Fraction(line.amount)
        elif line.kind == "surcharge" and line.unit == "percent":
            assert Fraction(line.quantity) == (all_labour if percents[line.what].when == "rush" else latest)
    assert job.rush or not any(line.what in percents and percents[line.what].when == "rush" for line in price.lines)


@REPEATABLE
@given(charged)
def test_the_minimum_is_reached_and_discounts_are_of_the_sum_before_them(data):
    book, job, price = drawn(data)
    before = sum(Fraction(line.amount) for line in price.lines if line.kind != "discount")
    minimum = book.rates.minimum_charge
    assert minimum is None or before >= minimum
    without = sum(Fraction(line.amount) for line in price.lines if line.kind not in ("discount", "minimum"))
    assert before == max(without, Fraction(minimum or 0))
    assert price.net >= 0
    wanted = [
        each
        for each in book.rates.discount
        if (each.name == job.discount if each.asked else before > Fraction(each.over))
    ]
    off = [
        by_fractions(before * Fraction(each.percent) / 100, book.minor_units, book.rates.rounding) for each in wanted
    ]
    assert Fraction(price.net) == before - min(sum(off), before)
    assert all(line.amount < 0 for line in price.lines if line.kind == "discount")


@REPEATABLE
@given(charged)
def test_the_callers_context_changes_nothing(data):
    book, job, price = drawn(data)
    with localcontext(Context(prec=2, rounding=ROUND_FLOOR, Emax=3, Emin=-3)) as context:
        assert charge(book, job) == price
        assert not any(context.flags.values())


@pytest.mark.parametrize("currency", sorted(MINOR_UNITS))
@pytest.mark.parametrize("included", [False, True])
def test_the_largest_job_at_the_highest_rates_is_charged_exactly(currency, included):
    most, percent = Decimal("1000000000"), Decimal("999.999999")
    window = WindowQuantities("W", "wave", 400_000, 4, 100_000, 300_000, KILOMETRE, KILOMETRE, True, frozenset(ROLES))
    per_all = Times(**dict.fromkeys(Times.__struct_fields__, Decimal(1000)))
    book = RateBook(
        Rates(
            edition="E",
            currency=currency,
            rounding="half-up",
            cost_per_hour=most,
            tax=Tax(name="T", percent=Decimal("99.999999"), included=included),
            cloth=(Cloth(name="C", per="yd", cost=most, markup=percent),),
            labour=(Labour(per="hour", price=most, hours=per_all),),
            surcharge=tuple(Surcharge(name=when, when=when, percent=percent) for when in ("lining", "rush")),
            hardware=(Hardware(kind="H", per="m", cost=most, markup=percent),),
            fitting=Fitting(call_out=most, per="yd", price=most, cost=most),
        ),
        "digest",
    )
    length = KILOMETRE * 50
    job = JobQuantities(
        [window] * 50, [ClothQuantity("C", "face", length)], [HardwareQuantity("H", None, length)], True, True, None
    )
    price = charge(book, job)
    units = MINOR_UNITS[currency]
    # 50 windows x 10^9 x 1000 x (200,000 + 100,000 + 4 + 1 + 300,000) hours.
    labour = 50 * 10**9 * 1000 * 600_005
    assert sum(line.amount for line in price.lines if line.kind == "labour") == labour
    rush = next(line for line in price.lines if line.what == "rush")
    assert Fraction(rush.amount) == by_fractions(labour * Fraction(percent) / 100, units, "half-up")
    exact = Fraction(price.net) * Fraction(99_999_999, 10**6) / (100 + Fraction(99_999_999, 10**6) if included else 100)
    assert Fraction(price.tax) == by_fractions(exact, units, "half-up")
    assert Fraction(price.net) == sum(Fraction(line.amount) for line in price.lines)
