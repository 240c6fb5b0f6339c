"""A rate book is read whole, or refused with every fault at once; no wording of a fault holds a figure of the book."""

import hashlib
import re
import tomllib
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pleatwright.contract.cloth import Fabric
from pleatwright.faults import json_pointer
from pleatwright.pricing.book import BookError, RateBook, read_book

REPEATABLE = settings(derandomize=True, database=None, deadline=None)
EXAMPLE = Path(__file__).parents[2] / "deploy" / "rates.example.toml"

BOOK = """\
edition = "Spring"
currency = "GBP"
rounding = "half-up"
cost_per_hour = 18.57
minimum_charge = 95.31

[tax]
name = "VAT"
percent = 17.5

[markup]
cloth = 61.5
hardware = 45.25

[usual_layers]
lining = "Sateen"

[[cloth]]
name = "Teasel"
per = "m"
cost = 24.37
price = 41.53
[cloth.fabric]
width = "137.25 cm"
vertical_repeat = "64.15 cm"
shrinkage = { length = 2.75 }

[[cloth]]
name = "Sateen"
per = "yd"
cost = 4.19
markup = 75.5

[[labour]]
styles = ["three-fold-pinch", "goblet"]
per = "width"
price = 32.45
hours = { width = 0.755, pleat = 0.025 }

[[labour]]
per = "hour"
price = 34.65
hours = { window = 1.255 }

[[surcharge]]
name = "Long drop"
when = "long-drop"
over = "3.15 m"
per = "width"
price = 6.55

[[surcharge]]
name = "Matching"
when = "pattern-matching"
percent = 15.35

[[surcharge]]
name = "Soon"
when = "rush"
per = "job"
price = 52.25

[[hardware]]
kind = "hook"
per = "each"
cost = 0.0125

[[hardware]]
kind = "eyelet"
per = "each"
cost = 0.42
price = 0.915

[fitting]
call_out = 45.85
per = "window"
price = 28.95

[[discount]]
name = "Large order"
over = 1513.5
percent = 5.55

[[discount]]
name = "Trade"
asked = true
percent = 12.65
"""
FIGURES = sorted(set(re.findall(r"\d+\.\d+|\d{3,}", BOOK)))


def refused(text):
    """Return the faults of a book by their places, once no wording of theirs has been found to hold its figures."""
    data = text if isinstance(text, bytes) else text.encode()
    with pytest.raises(BookError) as caught:
        read_book(data)
    error = caught.value
    for figure in re.findall(r"\d+\.\d+|\d{3,}", data.decode(errors="replace")):
        if figure not in CONSTANTS:
            assert figure not in str(error)
            assert not any(figure in fault.detail for fault in error.faults)
    found = {json_pointer(fault.where): fault for fault in error.faults}
    assert len(found) == len(error.faults), "one fault for each place"
    return found


CONSTANTS = {"100", "1000", "2146", "4217"}
"""Figures that wordings have of their own."""


def changed(*pairs):
    """Return the book with each text put for another that stands in it."""
    text = BOOK
    for old, new in pairs:
        assert old in text
        text = text.replace(old, new, 1)
    return text


@pytest.fixture(scope="module")
def book():
    return read_book(BOOK.encode())


def test_a_sound_book_is_read_exactly_as_it_is_written(book):
    assert book.edition == "Spring"
    assert (book.currency, book.minor_units, book.rates.rounding) == ("GBP", 2, "half-up")
    assert book.digest == hashlib.sha256(BOOK.encode()).hexdigest()[:12]
    assert book.rates.cost_per_hour == Decimal("18.57")
    assert str(book.hardware("hook").cost) == "0.0125"
    assert book.rates.tax.included is False
    assert book.rates.fitting.cost == book.rates.fitting.call_out_cost == 0
    fabric = book.cloth("Teasel").fabric
    assert isinstance(fabric, Fabric)
    assert (fabric.width, fabric.vertical_repeat) == ("137.25 cm", "64.15 cm")
    assert fabric.shrinkage.length == 2.75


def test_figures_are_decimals_and_no_floats(book):
    def numbers(value):
        if isinstance(value, tuple):
            for each in value:
                yield from numbers(each)
        elif hasattr(value, "__struct_fields__"):
            for name in value.__struct_fields__:
                if name != "fabric":
                    yield from numbers(getattr(value, name))
        elif value is not None and not isinstance(value, str | bool):
            yield value

    found = list(numbers(book.rates))
    assert len(found) > 30
    assert {type(each) for each in found} == {Decimal}


def test_names_are_looked_up_as_they_stand(book):
    assert book.cloth("Teasel").cost == Decimal("24.37")
    assert book.cloth("teasel") is book.cloth("Linen") is None
    assert book.hardware("eyelet").price == Decimal("0.915")
    assert book.hardware("ring") is None
    assert book.usual_cloth("lining") is book.cloth("Sateen")
    assert book.usual_cloth("blackout") is None
    assert book.labour("goblet") is book.labour("three-fold-pinch") is book.rates.labour[0]
    assert book.labour("wave") is book.rates.labour[1]
    assert book.discount("Trade").percent == Decimal("12.65")
    assert book.discount("Large order") is None, "it applies by itself"


def test_without_an_entry_for_all_others_a_style_has_no_labour():
    book = read_book(changed(('[[labour]]\nper = "hour"', '[[labour]]\nstyles = ["box"]\nper = "hour"')).encode())
    assert book.labour("wave") is None


# 4.19 x 1.755 = 7.35345, to even: 7.3534; 0.0125 x 1.4525 = 0.01815625: 0.0182.
def test_the_selling_rate_is_the_price_or_cost_and_markup_to_four_decimals(book):
    assert str(book.selling_rate(book.cloth("Teasel"))) == "41.53"
    assert str(book.selling_rate(book.cloth("Sateen"))) == "7.3534"
    assert str(book.selling_rate(book.hardware("hook"))) == "0.0182"
    assert str(book.selling_rate(book.hardware("eyelet"))) == "0.915"
    # 24.37 x 1.615 = 39.35755, between two even and odd: 39.3576.
    by_usual = read_book(changed(("price = 41.53\n", "")).encode())
    assert str(by_usual.selling_rate(by_usual.cloth("Teasel"))) == "39.3576"


def test_what_has_a_price_needs_no_cost():
    book = read_book(changed(("cost = 24.37\n", "")).encode())
    assert str(book.selling_rate(book.cloth("Teasel"))) == "41.53"


@pytest.mark.parametrize(
    ("written", "shown"),
    [("1.5e3", "1500"), ("2E1", "20"), ("0e-9", "0"), ("-0.0", "0"), ("32", "32"), ("1_000", "1000")],
)
def test_a_rate_is_shown_without_an_exponent(written, shown):
    book = read_book(changed(("32.45", written)).encode())
    assert str(book.labour("goblet").price) == shown


def test_the_smallest_book():
    book = read_book(b'edition = "E"\ncurrency = "JPY"\nrounding = "down"\ncost_per_hour = 0\n')
    assert book.minor_units == 0
    assert book.rates.tax is None
    assert book.labour("goblet") is None


def test_windows_line_ends_are_read():
    assert read_book(BOOK.replace("\n", "\r\n").encode()).edition == "Spring"


MONEY = [
    ("cost_per_hour = 18.57", "cost_per_hour = {}", "/cost_per_hour"),
    ("minimum_charge = 95.31", "minimum_charge = {}", "/minimum_charge"),
    ("cost = 24.37", "cost = {}", "/cloth/0/cost"),
    ("price = 41.53", "price = {}", "/cloth/0/price"),
    ("price = 32.45", "price = {}", "/labour/0/price"),
    ("price = 6.55", "price = {}", "/surcharge/0/price"),
    ("cost = 0.0125", "cost = {}", "/hardware/0/cost"),
    ("price = 0.915", "price = {}", "/hardware/1/price"),
    ("call_out = 45.85", "call_out = {}", "/fitting/call_out"),
    ("call_out = 45.85", "call_out_cost = {}", "/fitting/call_out_cost"),
    ("price = 28.95", "price = {}", "/fitting/price"),
    ("price = 28.95", "price = 1\ncost = {}", "/fitting/cost"),
    ("over = 1513.5", "over = {}", "/discount/0/over"),
]
PERCENTS = [
    ("percent = 15.35", "percent = {}", "/surcharge/1/percent"),
    ("cloth = 61.5", "cloth = {}", "/markup/cloth"),
    ("hardware = 45.25", "hardware = {}", "/markup/hardware"),
    ("markup = 75.5", "markup = {}", "/cloth/1/markup"),
]
PARTS = [
    ("percent = 17.5", "percent = {}", "/tax/percent"),
    ("percent = 5.55", "percent = {}", "/discount/0/percent"),
]
HOURS = [("width = 0.755", "width = {}", "/labour/0/hours/width")]
NUMBERS = MONEY + PERCENTS + PARTS + HOURS


@pytest.mark.parametrize(("old", "new", "place"), NUMBERS)
@pytest.mark.parametrize(
    ("written", "words"),
    [
        ("-1", "cannot be negative"),
        ("-0.01", "cannot be negative"),
        ("nan", "no number that can be reckoned with"),
        ("-nan", "no number that can be reckoned with"),
        ("inf", "no number that can be reckoned with"),
        ("-inf", "no number that can be reckoned with"),
        ("1e99999999999999999999", "no number that can be reckoned with"),
        ("0.0000001", "has over 6 decimals"),
        ("1.2345678", "has over 6 decimals"),
        ("true", "plain number"),
        ('"24.77"', "plain number"),
        ("[]", "plain number"),
        ("2026-01-01", "plain number"),
        ("{}", "plain number"),
    ],
)
def test_what_is_no_figure_is_refused_wherever_it_stands(old, new, place, written, words):
    faults = refused(changed((old, new.replace("{}", written))))
    assert set(faults) == {place}
    assert words in faults[place].detail


@pytest.mark.parametrize(
    ("old", "new", "place", "most"),
    [(*each, 1_000_000_000) for each in MONEY]
    + [(*each, 1000) for each in PERCENTS + HOURS]
    + [(*each, 100) for each in PARTS],
)
def test_each_figure_has_a_bound(old, new, place, most):
    read_book(changed((old, new.replace("{}", str(most)))).encode())
    for over in (f"{most}.01", f"{most + 1}", "1e300", "1e9999999", f"0x{'F' * 1000}"):
        assert set(refused(changed((old, new.replace("{}", over))))) == {place}


def test_rates_may_be_finer_than_the_minor_unit_and_sums_may_not():
    read_book(changed(("32.45", "32.123456")).encode())
    faults = refused(changed(("95.31", "95.315"), ("45.85", "45.855")))
    assert set(faults) == {"/minimum_charge", "/fitting/call_out"}
    assert all("GBP has 2 decimals" in fault.detail for fault in faults.values())
    assert faults["/minimum_charge"].seen == "95.315"
    read_book(changed(("95.31", "95.3100")).encode())


def test_the_minor_unit_is_that_of_the_currency():
    faults = refused(changed(('"GBP"', '"JPY"'), ("45.85", "45")))
    assert set(faults) == {"/minimum_charge"}
    assert "JPY has no decimals" in faults["/minimum_charge"].detail
    read_book(changed(('"GBP"', '"KWD"'), ("95.31", "95.315")).encode())


FAULTS = [
    # Missing, misspelt and of the wrong kind.
    ('edition = "Spring"\n', "", "/edition", "edition is missing"),
    ('currency = "GBP"\n', "", "/currency", "currency is missing"),
    ('rounding = "half-up"\n', "", "/rounding", "rounding is missing"),
    ("cost_per_hour = 18.57\n", "", "/cost_per_hour", "cost_per_hour is missing"),
    (
        "cost_per_hour = 18.57",
        "cost_per_hour = 1\ncost_per_our = 18.57",
        "/cost_per_our",
        'did you mean "cost_per_hour"?',
    ),
    ("percent = 17.5", "", "/tax/percent", "percent is missing"),
    ('per = "yd"\n', "", "/cloth/1/per", "per is missing"),
    ("price = 32.45\n", "", "/labour/0/price", "price is missing"),
    ('per = "each"', 'per = "dozen"', "/hardware/0/per", "not one of the choices"),
    ('per = "m"', 'per = "ell"', "/cloth/0/per", "not one of the choices"),
    ('per = "width"', 'per = "tack"', "/labour/0/per", "not one of the choices"),
    ('when = "rush"', 'when = "rsh"', "/surcharge/2/when", 'did you mean "rush"?'),
    ('rounding = "half-up"', 'rounding = "half-down"', "/rounding", "not one of the choices"),
    ('per = "window"', 'per = "panel"', "/fitting/per", "not one of the choices"),
    ("asked = true", 'asked = "yes"', "/discount/1/asked", "true or false"),
    ('currency = "GBP"', "currency = 826", "/currency", "this must be a text"),
    ("[tax]", "[[tax]]", "/tax", "this must be an object"),
    ('styles = ["three-fold-pinch", "goblet"]', "styles = []", "/labour/0/styles", "1 or more entries"),
    # Currency.
    ('"GBP"', '"gbp"', "/currency", "three capital letters"),
    ('"GBP"', '"ZZZ"', "/currency", "three capital letters"),
    ('"GBP"', '"24.77"', "/currency", "three capital letters"),
    ('"GBP"', '"XAU"', "/currency", "no minor unit"),
    # Rates.
    ("cost = 4.19\n", "", "/cloth/1/cost", "there is no rate"),
    ("cost = 0.0125\n", "", "/hardware/0/cost", "there is no rate"),
    ("price = 41.53", "price = 41.53\nmarkup = 12.5", "/cloth/0/markup", "leave out one of the two"),
    ("price = 0.915", "price = 0.915\nmarkup = 12.5", "/hardware/1/markup", "leave out one of the two"),
    ("hours = { window = 1.255 }\n", "", "/labour/1/hours", "needs the hours"),
    ("hours = { window = 1.255 }\n", "hours = {}\n", "/labour/1/hours", "needs the hours"),
    ("hours = { window = 1.255 }\n", "hours = { window = 0.0 }\n", "/labour/1/hours", "needs the hours"),
    # Surcharges.
    ('over = "3.15 m"\n', "", "/surcharge/0/over", "add it"),
    ("percent = 15.35", 'percent = 15.35\nover = "2.55 m"', "/surcharge/1/over", "for long-drop only"),
    ("percent = 15.35\n", "", "/surcharge/1/price", "give a price, or a percent"),
    ("price = 6.55\n", "", "/surcharge/0/price", "give a price, or a percent"),
    ("price = 6.55", "price = 6.55\npercent = 12.5", "/surcharge/0/percent", "leave out one of the two"),
    ("percent = 15.35", 'percent = 15.35\nper = "width"', "/surcharge/1/per", "leave this out"),
    ('per = "width"\nprice = 6.55', "price = 6.55", "/surcharge/0/per", "add what"),
    ('per = "job"', 'per = "width"', "/surcharge/2/per", "of the whole job"),
    # Lengths.
    ('over = "3.15 m"', 'over = "3.15"', "/surcharge/0/over", "no length with its unit"),
    ('over = "3.15 m"', "over = 3.15", "/surcharge/0/over", "no length with its unit"),
    ('over = "3.15 m"', 'over = "315 ells"', "/surcharge/0/over", "no length with its unit"),
    ('over = "3.15 m"', 'over = "1234 m"', "/surcharge/0/over", "no length with its unit"),
    ('over = "3.15 m"', 'over = "-3.15 m"', "/surcharge/0/over", "no length with its unit"),
    ('over = "3.15 m"', 'over = "3,15 m"', "/surcharge/0/over", "no length with its unit"),
    ('width = "137.25 cm"', "width = 137.25", "/cloth/0/fabric/width", "no length with its unit"),
    ('width = "137.25 cm"', "width = nan", "/cloth/0/fabric/width", "no number that can be reckoned with"),
    ('width = "137.25 cm"', 'width = "0 cm"', "/cloth/0/fabric/width", "more than nothing"),
    ('"64.15 cm"', '"64.15 cm"\ncustomers_own = true', "/cloth/0/fabric/customers_own", "given away"),
    ('"64.15 cm"', '"64.15"', "/cloth/0/fabric/vertical_repeat", "no length with its unit"),
    ("length = 2.75", "length = 27.5", "/cloth/0/fabric/shrinkage/length", "25 or less"),
    ("length = 2.75", "length = nan", "/cloth/0/fabric/shrinkage/length", "no number that can be reckoned with"),
    ("length = 2.75", "length = 2.75, depth = 1", "/cloth/0/fabric/shrinkage/depth", "no field of this name"),
    ('width = "137.25 cm"\n', "", "/cloth/0/fabric/width", "width is missing"),
    # Discounts.
    ("over = 1513.5\n", "", "/discount/0/over", "asked = true"),
    ("asked = true\n", "asked = false\n", "/discount/1/over", "asked = true"),
    ("asked = true", "asked = true\nover = 151.35", "/discount/1/over", "leave out this or asked"),
    # Names.
    ('"Spring"', '""', "/edition", "empty"),
    ('"Spring"', '" \u00a0 "', "/edition", "empty"),
    ('"Spring"', '"Spr\\ning"', "/edition", "one line"),
    ('name = "VAT"', 'name = ""', "/tax/name", "empty"),
    ('name = "Teasel"', 'name = " "', "/cloth/0/name", "empty"),
    ('name = "Teasel"', f'name = "{"T" * 81}"', "/cloth/0/name", "up to 80 characters"),
    ('name = "Teasel"', "name = 24.77", "/cloth/0/name", "write it in quotes"),
    ('kind = "hook"', 'kind = ""', "/hardware/0/kind", "empty"),
    ('name = "Soon"', 'name = ""', "/surcharge/2/name", "empty"),
    ('name = "Trade"', 'name = ""', "/discount/1/name", "empty"),
    ('"goblet"]', '""]', "/labour/0/styles/1", "empty"),
    # The same name twice.
    ('name = "Teasel"', 'name = " sateen"', "/cloth/1/name", "in the book already"),
    ('kind = "eyelet"', 'kind = "HOOK"', "/hardware/1/kind", "in the book already"),
    ('name = "Soon"', 'name = "long \\u00A0 DROP"', "/surcharge/2/name", "in the book already"),
    ('name = "Trade"', 'name = "large  order"', "/discount/1/name", "in the book already"),
    ('"goblet"]', '"Three-fold-PINCH"]', "/labour/0/styles/1", "in the book already"),
    ('[[labour]]\nper = "hour"', '[[labour]]\nstyles = ["goblet"]\nper = "hour"', "/labour/1/styles/0", "in the book"),
    ('styles = ["three-fold-pinch", "goblet"]\n', "", "/labour/1/styles", "for all other styles already"),
    # Layers.
    ('lining = "Sateen"', 'lining = "Satin"', "/usual_layers/lining", "no cloth of the book"),
    ('lining = "Sateen"', 'lining = "sateen"', "/usual_layers/lining", "no cloth of the book"),
    ('lining = "Sateen"', 'interlining = "Domette"', "/usual_layers/interlining", "no cloth of the book"),
    ('lining = "Sateen"', 'blackout = "Domette"', "/usual_layers/blackout", "no cloth of the book"),
    ('lining = "Sateen"', 'face = "Teasel"', "/usual_layers/face", "no field of this name"),
]


@pytest.mark.parametrize(("old", "new", "place", "words"), FAULTS)
def test_a_fault_is_found_at_its_place(old, new, place, words):
    faults = refused(changed((old, new)))
    assert set(faults) == {place}
    assert words in faults[place].detail


def test_sharp_s_is_the_same_letter_as_two(book):
    assert book.cloth("Teasel")
    text = changed(('name = "Teasel"', 'name = "Großer Stoff"'), ('name = "Sateen"', 'name = "GROSSER STOFF"'))
    assert "/cloth/1/name" in refused(text)


def test_every_fault_of_meaning_is_told_at_once_with_every_figure_that_is_wrong():
    faults = refused(
        changed(
            ('"GBP"', '"XAU"'),
            ("18.57", "-18.57"),
            ("95.31", "nan"),
            ("percent = 17.5", "percent = 117.5"),
            ('lining = "Sateen"', 'lining = "Satin"'),
            ("price = 41.53", "price = 41.53\nmarkup = 1"),
            ("cost = 4.19\n", ""),
            ('"goblet"]', '" "]'),
            ("hours = { window = 1.255 }\n", ""),
            ('over = "3.15 m"', 'over = "3.15"'),
            ("percent = 15.35", "percent = 1500"),
            ('kind = "eyelet"', 'kind = "Hook"'),
            ("over = 1513.5\n", ""),
            ("asked = true", "asked = true\nover = 1"),
        )
    )
    assert set(faults) == {
        "/currency",
        "/cost_per_hour",
        "/minimum_charge",
        "/tax/percent",
        "/usual_layers/lining",
        "/cloth/0/markup",
        "/cloth/1/cost",
        "/labour/0/styles/1",
        "/labour/1/hours",
        "/surcharge/0/over",
        "/surcharge/1/percent",
        "/hardware/1/kind",
        "/discount/0/over",
        "/discount/1/over",
    }


def test_every_fault_of_form_is_told_at_once_whatever_their_number():
    rows = "".join(f'\n[[cloth]]\nnme = "C{at}"\nper = "ell"\ncost = "dear"\n' for at in range(100))
    faults = refused(BOOK + rows)
    assert set(faults) == {f"/cloth/{at}/{field}" for at in range(2, 102) for field in ("nme", "name", "per", "cost")}


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("= 24.77", "line 1, column 1"),
        (BOOK + "\ncost 24.77\n", f"line {BOOK.count(chr(10)) + 2}, column 6"),
        (BOOK + "\n[tax]\n", "column 5"),
        (BOOK + '\n[a]\nb = "24.77\n', f"line {BOOK.count(chr(10)) + 3}"),
        (BOOK + "\n[a]\nb = [24.77", f"line {BOOK.count(chr(10)) + 3}, the last"),
        (BOOK.replace("\n", "\r") + "", "line 1"),
        ("a = 1\n\0", "line 2"),
        ('24.77 = "a"\n24.77 = "b"', "line 2"),
    ],
)
def test_what_is_not_toml_is_one_fault_with_its_line(text, line):
    faults = refused(text)
    assert set(faults) == {""}
    assert "not TOML" in faults[""].detail
    assert line in faults[""].detail


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"\xef\xbb\xbf" + BOOK.encode(), "byte order mark"),
        (BOOK.encode("utf-16"), "line 1 is not UTF-8"),
        (BOOK.encode() + b"# \xa3 24\n", f"line {BOOK.count(chr(10)) + 1} is not UTF-8"),
        (BOOK.encode() + b"#\n" * 500_000, "over 1,000,000 bytes"),
        (BOOK.encode() + b"a = " + b"1" * 5000, f"line {BOOK.count(chr(10)) + 1} is over 4,000 bytes"),
        (b"a." * 1500 + b"a = 1", "nested too deeply"),
        (b"a = " + b"[\n" * 5000, "nested too deeply"),
        (BOOK.encode() + b'[[hardware]]\nkind = "k"\nper = "m"\ncost = 1\n' * 2000, "over 2,000 entries"),
    ],
    ids=["byte order mark", "UTF-16", "latin", "large", "long line", "keys", "lists", "entries"],
)
def test_a_file_that_cannot_be_a_book_is_one_fault(data, words):
    faults = refused(data)
    assert set(faults) == {""}
    assert words in faults[""].detail


def test_a_book_has_room_for_two_thousand_entries():
    """The book above has 2 cloths, 2 entries of labour, 3 surcharges, 2 kinds of hardware and 2 discounts: 11."""

    def rows(count):
        return "".join(f'[[hardware]]\nkind = "k{at}"\nper = "m"\ncost = 1\n' for at in range(count))

    assert read_book((BOOK + rows(1989)).encode()).hardware("k1988").cost == 1
    assert "over 2,000 entries" in refused(BOOK + rows(1990))[""].detail


@pytest.mark.parametrize("written", ["12.65", "12.6", "12", "1"])
def test_a_book_that_ends_within_a_line_is_refused_since_it_may_be_cut_short(written):
    assert BOOK.endswith("percent = 12.65\n")
    faults = refused(BOOK[: -len("12.65\n")] + written)
    assert set(faults) == {""}
    assert "within a line" in faults[""].detail


def test_a_book_that_ends_within_a_line_is_told_so_beside_its_other_faults():
    faults = refused(changed(("24.37", "-24.37"))[:-1])
    assert set(faults) == {"", "/cloth/0/cost"}
    assert "within a line" in faults[""].detail


@settings(REPEATABLE, max_examples=400)
@given(st.data())
def test_whatever_befalls_a_book_it_is_read_or_refused_without_telling_its_figures(data):
    lines = BOOK.splitlines()
    for _ in range(data.draw(st.integers(1, 4))):
        at = data.draw(st.integers(0, len(lines) - 1))
        what = data.draw(st.sampled_from(["leave out", "twice", "cut short", "character", "swap"]))
        if what == "leave out" and len(lines) > 1:
            del lines[at]
        elif what == "twice":
            lines.insert(at, lines[at])
        elif what == "cut short":
            lines[at] = lines[at][: len(lines[at]) // 2]
        elif what == "character" and lines[at]:
            place = data.draw(st.integers(0, len(lines[at]) - 1))
            lines[at] = lines[at][:place] + data.draw(st.characters(codec="utf-8")) + lines[at][place + 1 :]
        else:
            other = data.draw(st.integers(0, len(lines) - 1))
            lines[at], lines[other] = lines[other], lines[at]
    refusal = None
    try:
        assert isinstance(read_book("\n".join([*lines, ""]).encode()), RateBook)
    except BookError as error:
        refusal = error
    if refusal:
        assert refusal.faults
        told = " ".join([str(refusal), *(fault.detail for fault in refusal.faults)])
        assert not any(figure in told for figure in FIGURES)


@settings(REPEATABLE, max_examples=200)
@given(st.binary(max_size=200))
def test_any_bytes_are_read_or_refused(data):
    with pytest.raises(BookError):
        read_book(data)


def test_the_example_is_sound_and_has_what_a_book_can_have():
    book = read_book(EXAMPLE.read_bytes())
    assert {each.when for each in book.rates.surcharge} == {
        *("long-drop", "pattern-matching", "lining", "interlining", "blackout", "hand-tacking", "rush")
    }
    assert {each.kind for each in book.rates.hardware} >= {
        *("buckram", "hook", "carrier", "ring", "eyelet", "rod", "weight", "filler")
    }
    assert book.cloth("Teasel, rust on oat").fabric.vertical_repeat == "25 1/4 in"
    assert book.cloth("Plain linen, flax").fabric.width == "140 cm"
    # 19.80 x 1.60, as the comment beside it says.
    assert str(book.selling_rate(book.cloth("Plain linen, flax"))) == "31.6800"
    for layer in ("lining", "interlining", "blackout"):
        assert book.usual_cloth(layer).fabric is not None


def test_every_style_has_labour_in_the_example(headings):
    book = read_book(EXAMPLE.read_bytes())
    named = {style for each in book.rates.labour for style in each.styles or ()}
    assert named < set(headings.installed)
    assert all(book.labour(style) for style in headings.installed)


def test_the_example_says_everything_that_the_book_has_a_field_for():
    """Every field is shown but those of a cloth's fabric, which the contract describes."""
    from pleatwright.pricing import entries

    def fields(document, kind):
        table = document.get(kind, {})
        return {name for entry in (table if isinstance(table, list) else [table]) for name in entry}

    document = tomllib.loads(EXAMPLE.read_text())
    assert set(document) == set(entries.Rates.__struct_fields__)
    for kind, type_ in {
        "tax": entries.Tax,
        "markup": entries.Markup,
        "usual_layers": entries.UsualLayers,
        "cloth": entries.Cloth,
        "labour": entries.Labour,
        "surcharge": entries.Surcharge,
        "hardware": entries.Hardware,
        "fitting": entries.Fitting,
        "discount": entries.Discount,
    }.items():
        assert fields(document, kind) == set(type_.__struct_fields__), kind
