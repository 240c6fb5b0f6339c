"""Jobs charged by hand: every figure is worked in the comment above it, with paper and pencil."""

from decimal import Decimal

import pytest

from pleatwright.lengths import parse_length
from pleatwright.pricing.book import read_book
from pleatwright.pricing.charging import charge
from pleatwright.pricing.price import NotInBook
from pleatwright.pricing.quantities import ClothQuantity, HardwareQuantity, JobQuantities, WindowQuantities

BOOK = """\
edition = "Worked by hand"
currency = "GBP"
rounding = "half-up"
cost_per_hour = 18.50
minimum_charge = 95
[tax]
name = "VAT"
percent = 20
[markup]
hardware = 45
[[cloth]]
name = "Teasel"
per = "m"
cost = 24.00
price = 41.50
[[cloth]]
name = "Sateen"
per = "m"
cost = 4.15
markup = 75
[[labour]]
styles = ["three-fold-pinch"]
per = "width"
price = 32.00
hours = { width = 0.75, pleat = 0.02, panel = 0.5 }
[[labour]]
styles = ["tab-top"]
per = "hour"
price = 34.00
hours = { width = 0.7, panel = 0.5, window = 0.333, tack = 0.0055 }
[[labour]]
styles = ["goblet"]
per = "pleat"
price = 4.75
[[labour]]
styles = ["eyelet"]
per = "panel"
price = 68.00
[[labour]]
styles = ["gathered"]
per = "window"
price = 55.00
[[surcharge]]
name = "Long drop"
when = "long-drop"
over = "3 m"
per = "width"
price = 6.50
[[surcharge]]
name = "Matching"
when = "pattern-matching"
percent = 15
[[surcharge]]
name = "Lined"
when = "lining"
per = "width"
price = 7.00
[[surcharge]]
name = "Hand tacks"
when = "hand-tacking"
per = "tack"
price = 0.35
[[surcharge]]
name = "Soon"
when = "rush"
percent = 25
[[hardware]]
kind = "hook"
per = "each"
cost = 0.0125
[[hardware]]
kind = "buckram"
per = "m"
cost = 0.85
[fitting]
call_out = 45.00
call_out_cost = 20.00
per = "window"
price = 28.00
cost = 12.50
[[discount]]
name = "Large order"
over = 600
percent = 5
[[discount]]
name = "Trade"
asked = true
percent = 12.5
"""


def book(*pairs):
    text = BOOK
    for old, new in pairs:
        assert old in text
        text = text.replace(old, new, 1)
    return read_book(text.encode())


def window(label="Bay", style="three-fold-pinch", **given):
    usual = {"halves": 5, "panels": 2, "pleats": 26, "tacks": 26, "patterned": False, "layers": frozenset({"face"})}
    lengths = {"finished_length": "2.4 m", "rod": "3 m"} | {
        name: given.pop(name) for name in ("finished_length", "rod") if name in given
    }
    return WindowQuantities(
        label, style, **usual | given, **{name: parse_length(text) for name, text in lengths.items()}
    )


def job(*windows, cloth=(), hardware=(), rush=False, fitting=False, discount=None):
    return JobQuantities(windows, cloth, hardware, rush, fitting, discount)


WHOLE_JOB = job(
    window("South bay", patterned=True, layers=frozenset({"face", "lining"})),
    window("North", halves=4, pleats=20, tacks=20, patterned=True, finished_length="3.1 m", rod="2.2 m"),
    # Not in the order that the lines come in.
    cloth=[
        ClothQuantity("Sateen", "lining", parse_length("7.25 m")),
        ClothQuantity("Teasel", "face", parse_length("18.5 m")),
    ],
    hardware=[
        HardwareQuantity("hook", 54, None),
        HardwareQuantity("ring", 10, None),
        HardwareQuantity("buckram", None, parse_length("6.3 m")),
    ],
    rush=True,
    fitting=True,
    discount="Trade",
)


def shown(lines):
    return [
        (
            line.kind,
            line.what,
            line.window,
            str(line.quantity),
            line.unit,
            str(line.rate),
            str(line.amount),
            str(line.cost),
        )
        for line in lines
    ]


def test_a_whole_job():
    price = charge(book(), WHOLE_JOB)
    assert shown(price.lines) == [
        # 18.5 x 41.50 = 767.75; cost 18.5 x 24 = 444.
        ("cloth", "Teasel", None, "18.500", "m", "41.50", "767.75", "444.00"),
        # 4.15 x 1.75 = 7.2625; 7.25 x 7.2625 = 52.653125; cost 7.25 x 4.15 = 30.0875.
        ("lining", "Sateen", None, "7.250", "m", "7.2625", "52.65", "30.09"),
        # 2.5 x 32 = 80; hours 2.5 x 0.75 + 26 x 0.02 + 2 x 0.5 = 1.875 + 0.52 + 1 = 3.395; x 18.50 = 62.8075.
        ("labour", "three-fold-pinch", "South bay", "2.5", "width", "32.00", "80.00", "62.81"),
        # 15 percent of 80 = 12. The drop of 2.4 m is no long one.
        ("surcharge", "Matching", "South bay", "80.00", "percent", "15", "12.00", "0.00"),
        # 2.5 x 7 = 17.50.
        ("surcharge", "Lined", "South bay", "2.5", "width", "7.00", "17.50", "0.00"),
        # 26 x 0.35 = 9.10.
        ("surcharge", "Hand tacks", "South bay", "26", "tack", "0.35", "9.10", "0.00"),
        # 2 x 32 = 64; hours 1.5 + 0.4 + 1 = 2.9; x 18.50 = 53.65.
        ("labour", "three-fold-pinch", "North", "2", "width", "32.00", "64.00", "53.65"),
        # 2 x 6.50 = 13.
        ("surcharge", "Long drop", "North", "2", "width", "6.50", "13.00", "0.00"),
        # 15 percent of 64 = 9.60. Not lined.
        ("surcharge", "Matching", "North", "64.00", "percent", "15", "9.60", "0.00"),
        # 20 x 0.35 = 7.
        ("surcharge", "Hand tacks", "North", "20", "tack", "0.35", "7.00", "0.00"),
        # 25 percent of 80 + 64 = 144 is 36: of the labour, and not of the surcharges.
        ("surcharge", "Soon", None, "144.00", "percent", "25", "36.00", "0.00"),
        # 0.0125 x 1.45 = 0.018125, so 0.0181; x 54 = 0.9774; cost 54 x 0.0125 = 0.675. The rings are not in the book.
        ("hardware", "hook", None, "54", "each", "0.0181", "0.98", "0.68"),
        # 0.85 x 1.45 = 1.2325; x 6.3 = 7.76475; cost 6.3 x 0.85 = 5.355.
        ("hardware", "buckram", None, "6.300", "m", "1.2325", "7.76", "5.36"),
        ("fitting", "Call-out", None, "1", "job", "45.00", "45.00", "20.00"),
        ("fitting", "Fitting", None, "2", "window", "28.00", "56.00", "25.00"),
        # 767.75 + 52.65 + 80 + 12 + 17.50 + 9.10 + 64 + 13 + 9.60 + 7 + 36 + 0.98 + 7.76 + 45 + 56 = 1178.34, over 600:
        # 5 percent is 58.917, and 12.5 percent 147.2925.
        ("discount", "Large order", None, "1178.34", "percent", "-5", "-58.92", "0.00"),
        ("discount", "Trade", None, "1178.34", "percent", "-12.5", "-147.29", "0.00"),
    ]
    # 1178.34 - 58.92 - 147.29.
    assert str(price.net) == "972.13"
    # A fifth of it is 194.426.
    assert (price.tax_name, price.tax_percent, str(price.tax), price.tax_included) == ("VAT", 20, "194.43", False)
    assert str(price.total) == "1166.56"
    # 444 + 30.09 + 62.81 + 53.65 + 0.68 + 5.36 + 20 + 25.
    assert str(price.cost) == "641.59"
    # 3.395 + 2.9, all of it labour's.
    assert price.hours == Decimal("6.295")
    assert [line.hours for line in price.lines if line.hours] == [Decimal("3.395"), Decimal("2.9")]
    assert (price.currency, price.minor_units) == ("GBP", 2)


def test_tax_that_is_in_the_prices_is_a_part_of_the_total():
    price = charge(book(("percent = 20", "percent = 20\nincluded = true")), WHOLE_JOB)
    assert str(price.net) == str(price.total) == "972.13"
    # 972.13 x 20 / 120 = 162.0216...
    assert (str(price.tax), price.tax_included) == ("162.02", True)


def test_without_a_tax_there_is_none():
    price = charge(book(('[tax]\nname = "VAT"\npercent = 20\n', "")), WHOLE_JOB)
    assert (price.tax_name, price.tax_percent, str(price.tax), price.tax_included) == (None, 0, "0.00", False)
    assert str(price.total) == str(price.net) == "972.13"


@pytest.mark.parametrize(
    ("style", "expected"),
    [
        # 2.5 x 0.7 + 2 x 0.5 + 0.333 + 26 x 0.0055 is 1.75 + 1 + 0.333 + 0.143; x 34 = 109.684; x 18.50 = 59.681.
        ("tab-top", ("3.226", "hour", "34.00", "109.68", "59.68", "3.226")),
        # 26 x 4.75 = 123.50, and no times.
        ("goblet", ("26", "pleat", "4.75", "123.50", "0.00", "0.000")),
        ("eyelet", ("2", "panel", "68.00", "136.00", "0.00", "0.000")),
        ("gathered", ("1", "window", "55.00", "55.00", "0.00", "0.000")),
    ],
)
def test_labour_by_each_unit(style, expected):
    line = charge(book(), job(window(style=style))).lines[0]
    found = (line.quantity, line.unit, line.rate, line.amount, line.cost, line.hours)
    assert tuple(map(str, found)) == expected


# 0.0055 x 23 = 0.1265; + 1.75 + 1 + 0.333 = 3.2095: half a thousandth goes up.
def test_hours_are_rounded_to_a_thousandth_half_up_and_charged_so():
    line = charge(book(("half-up", "down")), job(window(style="tab-top", tacks=23))).lines[0]
    assert str(line.hours) == str(line.quantity) == "3.210"
    # 3.21 x 34 = 109.14, 3.21 x 18.50 = 59.385.
    assert (str(line.amount), str(line.cost)) == ("109.14", "59.38")


def test_a_drop_of_just_the_length_is_no_long_drop():
    def drops(length):
        lines = charge(book(), job(window(finished_length=length, tacks=0))).lines
        return [line.what for line in lines if line.kind == "surcharge"]

    assert drops("3 m") == []
    assert drops("3000.01 mm") == ["Long drop"]


def test_a_surcharge_of_nothing_has_no_line():
    by_pleat = book(('per = "width"\nprice = 7.00', 'per = "pleat"\nprice = 7.00'))
    lines = charge(by_pleat, job(window(pleats=0, tacks=0, layers=frozenset({"lining"})))).lines
    assert not [line for line in lines if line.kind == "surcharge"]
    free = book(("price = 32.00", "price = 0"))
    lines = charge(free, job(window(patterned=True, tacks=0), rush=True)).lines
    assert not [line for line in lines if line.kind == "surcharge"]


def test_each_reason_touches_its_own_windows():
    reasons = ("lining", "interlining", "blackout")
    added = "".join(
        f'[[surcharge]]\nname = "with {each}"\nwhen = "{each}"\nper = "panel"\nprice = 1\n' for each in reasons[1:]
    )
    layered = book(("[[hardware]]", added + "[[hardware]]"))
    lines = charge(layered, job(*(window(each, layers=frozenset({"face", each}), tacks=0) for each in reasons))).lines
    found = [(line.what, line.window) for line in lines if line.kind == "surcharge"]
    assert found == [("Lined", "lining"), ("with interlining", "interlining"), ("with blackout", "blackout")]


def test_a_surcharge_once_a_job_comes_after_the_windows_and_once():
    once = book(('per = "tack"\nprice = 0.35', 'per = "job"\nprice = 12'))
    lines = charge(once, job(window("A"), window("B", tacks=0), window("C"))).lines
    assert [(line.kind, line.window) for line in lines[:4]] == [
        ("labour", "A"),
        ("labour", "B"),
        ("labour", "C"),
        ("surcharge", None),
    ]
    assert [str(line.amount) for line in lines if line.kind == "surcharge"] == ["12.00"]
    assert not [line for line in charge(once, job(window(tacks=0))).lines if line.kind == "surcharge"]


def test_a_rush_at_a_price_is_charged_once_and_only_when_it_is_one():
    at_a_price = book(('when = "rush"\npercent = 25', 'when = "rush"\nper = "job"\nprice = 52.25'))
    lines = charge(at_a_price, job(window(tacks=0), window(tacks=0), rush=True)).lines
    assert [(line.unit, str(line.amount)) for line in lines if line.kind == "surcharge"] == [("job", "52.25")]
    for each in (at_a_price, book()):
        assert not [line for line in charge(each, job(window(tacks=0))).lines if line.kind == "surcharge"]


@pytest.mark.parametrize(
    ("unit", "quantity", "amount", "cost"),
    [
        # 3 m + 2.2 m; x 28 = 145.60; x 12.50 = 65.
        ("m", "5.200", "145.60", "65.00"),
        # 5.2 / 0.9144 = 5.68678...; 5.687 x 28 = 159.236; x 12.50 = 71.0875.
        ("yd", "5.687", "159.24", "71.09"),
    ],
)
def test_fitting_by_the_length_of_the_rods(unit, quantity, amount, cost):
    by_rod = book(('per = "window"\nprice = 28.00', f'per = "{unit}"\nprice = 28.00'))
    line = charge(by_rod, job(window(), window(rod="2.2 m"), fitting=True)).lines[-1]
    assert tuple(map(str, (line.quantity, line.amount, line.cost))) == (quantity, amount, cost)
    assert (line.kind, line.what, line.unit) == ("fitting", "Fitting", unit)


@pytest.mark.parametrize(
    ("written", "amount", "cost"),
    [
        ("call_out = 45.00\n", "45.00", "0.00"),
        # Thrown in for the customer, and a cost all the same.
        ("call_out_cost = 20.00\n", "0.00", "20.00"),
    ],
)
def test_a_call_out_has_a_line_when_it_is_charged_or_costs(written, amount, cost):
    either = book(("call_out = 45.00\ncall_out_cost = 20.00\n", written))
    lines = charge(either, job(window(), fitting=True)).lines
    assert [(str(line.amount), str(line.cost)) for line in lines if line.what == "Call-out"] == [(amount, cost)]


def test_fitting_without_a_call_out_is_one_line():
    plain = book(("call_out = 45.00\ncall_out_cost = 20.00\n", ""))
    assert [line.what for line in charge(plain, job(window(), fitting=True)).lines if line.kind == "fitting"] == [
        "Fitting"
    ]
    assert not [line for line in charge(plain, job(window())).lines if line.kind == "fitting"]


def test_cloth_by_the_yard():
    by_yard = book(('name = "Teasel"\nper = "m"', 'name = "Teasel"\nper = "yd"'))
    line = charge(by_yard, job(cloth=[ClothQuantity("Teasel", "face", parse_length("743 in"))])).lines[0]
    # 743 / 36 = 20.6388...; 20.639 x 41.50 = 856.5185; x 24 = 495.336.
    assert tuple(map(str, (line.quantity, line.amount, line.cost))) == ("20.639", "856.52", "495.34")


def test_cloth_comes_by_role_and_then_by_name():
    roles = ("blackout", "interlining", "lining", "face")
    cloth = [ClothQuantity(name, role, 320_000) for role in roles for name in ("Teasel", "Sateen")]
    kinds = [(line.kind, line.what) for line in charge(book(), job(cloth=cloth)).lines if line.kind != "minimum"]
    assert kinds == [
        *(("cloth", "Sateen"), ("cloth", "Teasel"), ("lining", "Sateen"), ("lining", "Teasel")),
        *(("interlining", "Sateen"), ("interlining", "Teasel"), ("blackout", "Sateen"), ("blackout", "Teasel")),
    ]


def test_the_minimum_makes_up_what_is_wanting_and_nothing_when_it_is_reached():
    # 80 of labour wants 15 to 95.
    small = charge(book(), job(window(tacks=0)))
    assert shown(small.lines)[-1] == ("minimum", "Minimum charge", None, "1", "job", "15.00", "15.00", "0.00")
    assert (str(small.net), str(small.tax), str(small.total)) == ("95.00", "19.00", "114.00")
    # 3 widths are 96.
    enough = charge(book(), job(window(halves=6, tacks=0)))
    assert [line.kind for line in enough.lines] == ["labour"]
    just = charge(book(("minimum_charge = 95", "minimum_charge = 96")), job(window(halves=6, tacks=0)))
    assert [line.kind for line in just.lines] == ["labour"]
    # Discounts come after it: 12.5 percent of 95 is 11.875.
    traded = charge(book(), job(window(tacks=0), discount="Trade"))
    assert [str(line.amount) for line in traded.lines] == ["80.00", "15.00", "-11.88"]


def test_an_automatic_discount_wants_more_than_its_sum():
    # 18.75 widths are 600.
    at, over = (
        charge(book(("price = 32.00", f"price = {price}")), job(window(halves=10, tacks=0))) for price in (120, 120.01)
    )
    assert [line.kind for line in at.lines] == ["labour"]
    # 600.05: 5 percent is 30.0025.
    assert [str(line.amount) for line in over.lines] == ["600.05", "-30.00"]


def test_discounts_never_take_more_than_there_is():
    generous = book(
        ("percent = 5\n", "percent = 60\n"), ("percent = 12.5", "percent = 70"), ("over = 600", "over = 10")
    )
    price = charge(generous, job(window(tacks=0), discount="Trade"))
    # 95: 60 percent is 57, and 70 percent would be 66.50 of the 38 that are left.
    assert shown(price.lines)[-2:] == [
        ("discount", "Large order", None, "95.00", "percent", "-60", "-57.00", "0.00"),
        ("discount", "Trade", None, "1", "job", "-38.00", "-38.00", "0.00"),
    ]
    assert (str(price.net), str(price.tax), str(price.total)) == ("0.00", "0.00", "0.00")


def test_a_discount_for_which_nothing_is_left_has_no_line():
    all_off = book(("percent = 5\n", "percent = 100\n"), ("over = 600", "over = 10"))
    price = charge(all_off, job(window(tacks=0), discount="Trade"))
    assert [line.what for line in price.lines if line.kind == "discount"] == ["Large order"]
    assert str(price.net) == "0.00"


def test_a_currency_without_a_minor_unit():
    yen = book(('"GBP"', '"JPY"'), ("minimum_charge = 95", "minimum_charge = 0"))
    price = charge(yen, job(window(patterned=True, tacks=0, halves=3)))
    # 1.5 x 32 = 48; 15 percent is 7.2; a fifth of 55 is 11.
    assert [str(line.amount) for line in price.lines] == ["48", "7"]
    assert tuple(map(str, (price.net, price.tax, price.total))) == ("55", "11", "66")


def test_a_currency_of_three_decimals():
    dinars = book(
        ('"GBP"', '"KWD"'), ("minimum_charge = 95", "minimum_charge = 0"), ("percent = 15", "percent = 15.5555")
    )
    price = charge(dinars, job(window(patterned=True, tacks=0)))
    # 80 x 15.5555 / 100 = 12.4444; 92.444 / 5 = 18.4888.
    assert [str(line.amount) for line in price.lines] == ["80.000", "12.444"]
    assert tuple(map(str, (price.net, price.tax, price.total))) == ("92.444", "18.489", "110.933")


@pytest.mark.parametrize(
    ("rule", "amounts", "tax"),
    [
        # 0.5 x 32.05 = 16.025, 15 percent of that; 20 percent of the two.
        ("half-up", ["16.03", "2.40"], "3.69"),  # 2.4045; 3.686
        ("half-even", ["16.02", "2.40"], "3.68"),  # 2.403; 3.684
        ("up", ["16.03", "2.41"], "3.69"),  # 2.4045; 3.688
        ("down", ["16.02", "2.40"], "3.68"),  # 2.403; 3.684
    ],
)
def test_each_rule_of_rounding(rule, amounts, tax):
    ruled = book(("half-up", rule), ("minimum_charge = 95", "minimum_charge = 0"), ("price = 32.00", "price = 32.05"))
    price = charge(ruled, job(window(patterned=True, tacks=0, halves=1)))
    assert [str(line.amount) for line in price.lines] == amounts
    assert str(price.tax) == tax


def test_everything_that_has_no_rate_is_named_at_once_and_no_figure_is():
    without_fitting = BOOK[: BOOK.index("[fitting]")] + BOOK[BOOK.index("[[discount]]") :]
    quantities = job(
        window(style="wave"),
        window(style="wave"),
        window(style="butterfly"),
        cloth=[
            ClothQuantity("Linen", "face", 1),
            ClothQuantity("sateen", "lining", 1),
            ClothQuantity("Teasel", "face", 1),
        ],
        hardware=[
            HardwareQuantity("hook", None, 320),
            HardwareQuantity("buckram", 2, None),
            HardwareQuantity("ring", 1, None),
        ],
        fitting=True,
        discount="Friends",
    )
    with pytest.raises(NotInBook) as caught:
        charge(read_book(without_fitting.encode()), quantities)
    assert [(each.kind, each.name) for each in caught.value.missing] == [
        ("cloth", "Linen"),
        ("cloth", "sateen"),
        ("labour", "wave"),
        ("labour", "butterfly"),
        ("hardware", "hook, by its length"),
        ("hardware", "buckram, by the piece"),
        ("fitting", "fitting"),
        ("discount", "Friends"),
    ]
    assert "cloth 'Linen'" in str(caught.value)
    assert not any(each.isdigit() for each in str(caught.value))


@pytest.mark.parametrize("name", ["Friends", "trade", "", "Large order"])
def test_a_discount_that_cannot_be_asked_for_is_named_without_those_that_can(name):
    with pytest.raises(NotInBook) as caught:
        charge(book(), job(window(), discount=name))
    assert [(each.kind, each.name) for each in caught.value.missing] == [("discount", name)]
    assert "Trade" not in str(caught.value)
