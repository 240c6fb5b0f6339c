"""Whole jobs priced: each line is worked by hand, beside it, from the figures of the estimate that it is charged by.

Widths, hems and turnings are common practice, as usual figures are; an inch is 25.4 mm and a yard 0.9144 m exactly
(NIST SP 811). Every rate is invented.
"""

import copy
import json
import re
from decimal import ROUND_HALF_UP, Decimal
from itertools import product
from pathlib import Path

import msgspec
import pytest

from pleatwright import workroom
from pleatwright.faults import Impossible
from pleatwright.headings.host import find_headings
from pleatwright.pricing.book import read_book

PROJECT = Path(__file__).parents[2]
CONTRACT = json.loads((PROJECT / "openapi" / "openapi.json").read_text())["components"]["schemas"]
STYLES = tuple(find_headings().installed)


@pytest.fixture
def estimate(headings, request_reader):
    """Send a job to be priced by the text of a rate book, and return the reply as a client has it."""

    def asked(book, job):
        request = request_reader.read("estimate", json.dumps(job).encode())
        reply = workroom.estimate(request, headings, read_book(book.encode()) if book else None)
        return json.loads(msgspec.json.encode(reply))

    return asked


def charged(reply):
    """Return the lines of a price as a customer's calculator has them."""
    return [
        (line["kind"], line["what"], line["window"], line["quantity"], line["unit"], line["rate"], line["amount"])
        for line in reply["price"]["lines"]
    ]


def rendered(lines):
    """Return lines as the workroom knows them: what each is, what is charged, what it costs, and its hours."""
    return [
        (line["kind"], line["what"], line["window"], line["amount"], line["cost"], Decimal(line["hours"]))
        for line in lines
    ]


def changed(book, *pairs):
    for old, new in pairs:
        assert book.count(old) == 1, old
        book = book.replace(old, new)
    return book


METRIC_BOOK = """\
edition = "Metric list"
currency = "GBP"
rounding = "half-up"
cost_per_hour = 16
[tax]
name = "VAT"
percent = 20
[markup]
cloth = 50
hardware = 40
[usual_layers]
lining = "Sateen"
[[cloth]]
name = "Moss, plain"
per = "yd"
cost = 12
price = 27.50
[cloth.fabric]
width = "140 cm"
[[cloth]]
name = "Gauze, wide"
per = "m"
cost = 9.30
[cloth.fabric]
width = "280 cm"
railroaded = true
[[cloth]]
name = "Sateen"
per = "m"
cost = 4.15
[[cloth]]
name = "Domette"
per = "m"
cost = 5.60
markup = 75
[[labour]]
styles = ["three-fold-pinch"]
per = "pleat"
price = 2.35
hours = { width = 0.5, pleat = 0.04, panel = 0.25, window = 0.5, tack = 0.01 }
[[labour]]
per = "width"
price = 21.40
hours = { width = 0.6 }
[[surcharge]]
name = "Long drop"
when = "long-drop"
over = "2.4 m"
per = "width"
price = 3.15
[[surcharge]]
name = "Lined"
when = "lining"
percent = 12.5
[[surcharge]]
name = "Tacked by hand"
when = "hand-tacking"
per = "tack"
price = 0.35
[[surcharge]]
name = "Within the week"
when = "rush"
percent = 25
[[hardware]]
kind = "traverse rod"
per = "m"
cost = 18
[[hardware]]
kind = "track"
per = "yd"
cost = 11
price = 19.99
[[hardware]]
kind = "carrier"
per = "each"
cost = 0.18
[[hardware]]
kind = "weight"
per = "each"
cost = 0.30
[[hardware]]
kind = "hook"
per = "each"
cost = 0.0125
[[hardware]]
kind = "buckram"
per = "m"
cost = 0.85
[fitting]
call_out = 45
call_out_cost = 20
per = "m"
price = 9.50
cost = 4
[[discount]]
name = "Trade"
asked = true
percent = 12.5
"""
METRIC_JOB = {
    "units": "cm",
    "job": "Larkfield, house on the green",
    "windows": [
        {
            "label": "Hall",
            "rod": {"width": 200},
            "hang": {"carrying_height": 250, "mount": {"kind": "traverse-rod", "supplied": True}},
            "fabric": "Moss, plain",
            "heading": {"style": "three-fold-pinch"},
            "fullness": 2.2,
            "lining": {},
            "make_up": {"hem_weights": {"each": "25 g"}},
        },
        {
            "label": "Landing",
            "rod": {"width": 300, "draw": "one-way-left"},
            "hang": {"carrying_height": 220, "mount": {"kind": "ceiling-track", "supplied": True}},
            "fabric": "Gauze, wide",
            "heading": {"style": "pencil"},
            "fullness": 2.5,
            "lining": None,
            "interlining": {"cloth": "Domette", "width": 137},
        },
    ],
    "pricing": {"view": "workroom", "rush": True, "fitting": True, "discount": "Trade"},
}
METRIC_LINES = [
    # 7.9 m; 9.30 and half as much again is 13.95; 7.9 x 13.95 = 110.205.
    ("cloth", "Gauze, wide", None, "7.900", "m", "13.9500", "110.21"),
    # 11.6 m / 0.9144 = 12.68591 yd; 12.686 x 27.50 = 348.865.
    ("cloth", "Moss, plain", None, "12.686", "yd", "27.50", "348.87"),
    # No cloth is named: the book's usual one. 4.15 x 1.5 = 6.225; 10.4 x 6.225 = 64.74.
    ("lining", "Sateen", None, "10.400", "m", "6.2250", "64.74"),
    # The one that is named: 5.60 x 1.75 = 9.80, its own markup; 13.1 x 9.80 = 128.38.
    ("interlining", "Domette", None, "13.100", "m", "9.8000", "128.38"),
    # 24 x 2.35 = 56.40.
    ("labour", "three-fold-pinch", "Hall", "24", "pleat", "2.35", "56.40"),
    # Finished 248.1 cm, over 240; two widths in each of two panels: 4 x 3.15 = 12.60.
    ("surcharge", "Long drop", "Hall", "4", "width", "3.15", "12.60"),
    # An eighth of 56.40 = 7.05.
    ("surcharge", "Lined", "Hall", "56.40", "percent", "12.5", "7.05"),
    # One tack a pleat: 24 x 0.35 = 8.40.
    ("surcharge", "Tacked by hand", "Hall", "24", "tack", "0.35", "8.40"),
    # 787.5 cm of turned cloth are 5.75 widths of 137 cm, in halves 6: 6 x 21.40 = 128.40. It is neither long nor lined.
    ("labour", "pencil", "Landing", "6", "width", "21.40", "128.40"),
    # Of both windows' labour, 56.40 + 128.40 = 184.80; a quarter is 46.20.
    ("surcharge", "Within the week", None, "184.80", "percent", "25", "46.20"),
    # 0.85 x 1.4 = 1.19; 5.252 x 1.19 = 6.24988.
    ("hardware", "buckram", None, "5.252", "m", "1.1900", "6.25"),
    # 0.18 x 1.4 = 0.252; 65 x 0.252 = 16.38.
    ("hardware", "carrier", None, "65", "each", "0.2520", "16.38"),
    # 3.09 m / 0.9144 = 3.37927 yd; 3.379 x 19.99 = 67.54621.
    ("hardware", "track", None, "3.379", "yd", "19.99", "67.55"),
    # 18 x 1.4 = 25.20; 2.18 x 25.20 = 54.936.
    ("hardware", "traverse rod", None, "2.180", "m", "25.2000", "54.94"),
    # 0.30 x 1.4 = 0.42; 6 x 0.42 = 2.52.
    ("hardware", "weight", None, "6", "each", "0.4200", "2.52"),
    # 0.0125 x 1.4 = 0.0175; 71 x 0.0175 = 1.2425.
    ("hardware", "hook", None, "71", "each", "0.0175", "1.24"),
    ("fitting", "Call-out", None, "1", "job", "45", "45.00"),
    # Faces of rod: 2 m + 3 m. 5 x 9.50 = 47.50.
    ("fitting", "Fitting", None, "5.000", "m", "9.50", "47.50"),
    # Cloth 110.21 + 348.87 + 64.74 + 128.38 = 652.20; labour and surcharges 56.40 + 12.60 + 7.05 + 8.40 + 128.40 +
    # 46.20 = 259.05; hardware 6.25 + 16.38 + 67.55 + 54.94 + 2.52 + 1.24 = 148.88; fitting 92.50. In all 1152.63, of
    # which an eighth is 144.07875.
    ("discount", "Trade", None, "1152.63", "percent", "-12.5", "-144.08"),
]
METRIC_COSTS = [
    # 7.9 x 9.30; 12.686 x 12 = 152.232; 10.4 x 4.15; 13.1 x 5.60.
    ("cloth", "Gauze, wide", None, "110.21", "73.47", 0),
    ("cloth", "Moss, plain", None, "348.87", "152.23", 0),
    ("lining", "Sateen", None, "64.74", "43.16", 0),
    ("interlining", "Domette", None, "128.38", "73.36", 0),
    # 4 widths of 0.5, 24 pleats of 0.04, 2 panels of 0.25, a window of 0.5, 24 tacks of 0.01: 4.2 h at 16.
    ("labour", "three-fold-pinch", "Hall", "56.40", "67.20", Decimal("4.2")),
    ("surcharge", "Long drop", "Hall", "12.60", "0.00", 0),
    ("surcharge", "Lined", "Hall", "7.05", "0.00", 0),
    ("surcharge", "Tacked by hand", "Hall", "8.40", "0.00", 0),
    # 6 x 0.6 = 3.6 h.
    ("labour", "pencil", "Landing", "128.40", "57.60", Decimal("3.6")),
    ("surcharge", "Within the week", None, "46.20", "0.00", 0),
    # 5.252 x 0.85 = 4.4642; 65 x 0.18; 3.379 x 11 = 37.169; 2.18 x 18; 6 x 0.30; 71 x 0.0125 = 0.8875.
    ("hardware", "buckram", None, "6.25", "4.46", 0),
    ("hardware", "carrier", None, "16.38", "11.70", 0),
    ("hardware", "track", None, "67.55", "37.17", 0),
    ("hardware", "traverse rod", None, "54.94", "39.24", 0),
    ("hardware", "weight", None, "2.52", "1.80", 0),
    ("hardware", "hook", None, "1.24", "0.89", 0),
    ("fitting", "Call-out", None, "45.00", "20.00", 0),
    ("fitting", "Fitting", None, "47.50", "20.00", 0),
    ("discount", "Trade", None, "-144.08", "0.00", 0),
]


def test_the_metric_job_comes_to_these_physical_figures_by_hand(estimate):
    """What the lines are charged by. Usual metric figures: overlap 7.5 cm, return 9, side hem 7.5, seam 1.2 a side."""
    reply = estimate(METRIC_BOOK, METRIC_JOB)
    hall, landing = reply["windows"]
    for panel in hall["panels"]:
        # 200/2 + 7.5/2 + 9 = 112.75. 2.2 times that is 248.05; 1 1/2 widths come to 210 - 2.4 - 15 = 192.6, two to
        # 280 - 2.4 - 15 = 262.6.
        assert (panel["finished_width"], panel["widths"], panel["flat_width"]) == (112.75, 2, 262.6)
        # 250 + 0.6 - 2.5 = 248.1; with 20 of hem and twice 4 in of buckram, 20.32: 288.42.
        assert (panel["finished_length"], panel["cut_length"]) == (248.1, 288.42)
        assert panel["pleats"]["pleat_count"] == 12
    [panel] = landing["panels"]
    # 300 + 9 = 309; 2.5 times that is 772.5, in one length with 15 of side hems: 787.5.
    assert (panel["finished_width"], panel["flat_width"], panel["cut_length"]) == (309, 772.5, 787.5)
    gauze, moss = sorted(reply["materials"]["fabrics"], key=lambda each: each["fabric"])
    # 7.875 m, and 4 x 2.8842 = 11.5368 m on a rule of 1 mm, in tenths of a metre.
    assert (gauze["quantity"], moss["quantity"]) == ("7.9 m", "11.6 m")
    lining, interlining = reply["materials"]["layers"]
    # 4 x (248.1 - 2.5 + 10 + 2.5) = 1032.4. The interlining covers 772.5 with widths of 137, and so with 6, each as
    # long as the face: 220 + 0.6 - 2.5 = 218.1, six times 1308.6.
    assert (lining["cuts"], lining["length"], interlining["cuts"], interlining["length"]) == (4, 1040, 6, 1310)
    of_hall = {each["kind"]: each for each in hall["materials"]["sundries"]}
    of_landing = {each["kind"]: each for each in landing["materials"]["sundries"]}
    # Two flat widths; a rod with both its returns; a carrier to each pleat; a weight at two corners and a seam each.
    assert of_hall["buckram"]["length"] == 2 * 262.6
    assert of_hall["traverse rod"]["length"] == 200 + 2 * 9
    assert of_hall["carrier"]["count"] == 2 * 12
    assert of_hall["weight"]["count"] == 2 * 3
    # One return.
    assert of_landing["track"]["length"] == 300 + 9
    # A pin to a pleat, one in each overlap and each return.
    assert hall["materials"]["pins"] == 2 * (12 + 2)
    # Hooks 3 in apart at the most, 1.2 cm from both edges and one at the bend: 298.8 / 7.62 = 39.2 and so 40 gaps, and
    # 7.8 / 7.62 in the return, 2. Those beyond the bend hang on no carrier.
    assert landing["materials"]["pins"] == 1 + 40 + 2
    assert of_landing["carrier"]["count"] == 1 + 40
    assert reply["materials"]["pins"] == 28 + 43


def test_a_metric_job_is_charged_line_by_line_as_by_hand(estimate):
    reply = estimate(METRIC_BOOK, METRIC_JOB)
    assert charged(reply) == METRIC_LINES
    price = reply["price"]
    assert re.fullmatch(r"Metric list \([0-9a-f]+\)", price["edition"])
    # 1152.63 - 144.08 = 1008.55; a fifth is 201.71.
    assert (price["currency"], price["net"], price["total"]) == ("GBP", "1008.55", "1210.26")
    assert price["tax"] == {"name": "VAT", "percent": "20", "amount": "201.71", "included": False}


def test_a_metric_job_costs_the_workroom_what_it_does_by_hand(estimate):
    found = estimate(METRIC_BOOK, METRIC_JOB)["workroom"]
    assert rendered(found["lines"]) == METRIC_COSTS
    # Cloth 342.22, labour 124.80, hardware 95.26, fitting 40: 602.28. 1008.55 - 602.28 = 406.27, of 1008.55 40.283 %.
    assert (found["cost"], found["margin"], found["margin_percent"]) == ("602.28", "406.27", "40.3")
    assert Decimal(found["hours"]) == Decimal("7.8")


def test_the_two_views_charge_the_same_and_only_one_has_the_workrooms_figures(estimate):
    job = METRIC_JOB | {"pricing": {"rush": True, "fitting": True}}
    customers = estimate(METRIC_BOOK, job)
    workrooms = estimate(METRIC_BOOK, METRIC_JOB | {"pricing": job["pricing"] | {"view": "workroom"}})
    assert "workroom" not in customers
    workrooms.pop("workroom")
    assert customers == workrooms
    assert charged(customers) == METRIC_LINES[:-1]
    # 1152.63 and a fifth of it, 230.526.
    assert (customers["price"]["net"], customers["price"]["total"]) == ("1152.63", "1383.16")


def test_what_is_not_asked_for_is_not_charged(estimate):
    """Without rush, fitting and discount: 1152.63 - 46.20 - 92.50 = 1013.93."""
    reply = estimate(METRIC_BOOK, METRIC_JOB | {"pricing": {}})
    asked_for = ("Within the week", "Call-out", "Fitting", "Trade")
    assert charged(reply) == [line for line in METRIC_LINES if line[1] not in asked_for]
    assert reply["price"]["net"] == "1013.93"


def test_hardware_that_the_workroom_does_not_supply_is_not_charged(estimate):
    """No rod, no track and no carriers: 1013.93 - 16.38 - 67.55 - 54.94 = 875.06."""
    job = copy.deepcopy(METRIC_JOB) | {"pricing": {}}
    for window in job["windows"]:
        window["hang"]["mount"]["supplied"] = False
    reply = estimate(METRIC_BOOK, job)
    assert {line[1] for line in METRIC_LINES if line[0] == "hardware"} - {line[1] for line in charged(reply)} == {
        "carrier",
        "track",
        "traverse rod",
    }
    assert reply["price"]["net"] == "875.06"


def test_more_carriers_than_are_needed_are_charged_when_their_count_is_fixed(estimate):
    """30 on the hall's rod for each of two panels, and the landing's 41: 101 x 0.252 = 25.452."""
    job = copy.deepcopy(METRIC_JOB)
    job["windows"][0]["hang"]["mount"]["carriers"] = 30
    [carriers] = [line for line in charged(estimate(METRIC_BOOK, job)) if line[1] == "carrier"]
    assert carriers == ("hardware", "carrier", None, "101", "each", "0.2520", "25.45")


def test_prices_that_have_the_tax_in_them_are_the_total(estimate):
    """1008.55 x 20/120 = 168.0917; what is left to the workroom is 1008.55 - 168.09 - 602.28 = 238.18, of 840.46."""
    reply = estimate(changed(METRIC_BOOK, ("percent = 20\n", "percent = 20\nincluded = true\n")), METRIC_JOB)
    price = reply["price"]
    assert price["tax"] == {"name": "VAT", "percent": "20", "amount": "168.09", "included": True}
    assert (price["net"], price["total"]) == ("1008.55", "1008.55")
    assert charged(reply) == METRIC_LINES
    assert (reply["workroom"]["margin"], reply["workroom"]["margin_percent"]) == ("238.18", "28.3")


def test_without_a_tax_the_lines_are_the_total(estimate):
    reply = estimate(changed(METRIC_BOOK, ('[tax]\nname = "VAT"\npercent = 20\n', "")), METRIC_JOB)
    assert reply["price"]["tax"] is None
    assert (reply["price"]["net"], reply["price"]["total"]) == ("1008.55", "1008.55")


@pytest.mark.parametrize(
    ("rounding", "amounts"),
    [
        # 110.205, 348.865, 6.24988, 67.54621, 54.936, 1.2425; the quarter and the eighth are exact.
        ("half-up", ("110.21", "348.87", "6.25", "67.55", "54.94", "1.24")),
        ("half-even", ("110.20", "348.86", "6.25", "67.55", "54.94", "1.24")),
        ("down", ("110.20", "348.86", "6.24", "67.54", "54.93", "1.24")),
        ("up", ("110.21", "348.87", "6.25", "67.55", "54.94", "1.25")),
    ],
)
def test_a_line_is_rounded_by_the_books_rule(estimate, rounding, amounts):
    names = ("Gauze, wide", "Moss, plain", "buckram", "track", "traverse rod", "hook")
    book = changed(METRIC_BOOK, ('rounding = "half-up"', f'rounding = "{rounding}"'))
    found = {line[1]: line[-1] for line in charged(estimate(book, METRIC_JOB | {"pricing": {}}))}
    assert tuple(found[name] for name in names) == amounts


INCH_BOOK = """\
edition = "Inch list"
currency = "USD"
rounding = "half-even"
cost_per_hour = 24.40
[tax]
name = "Sales tax"
percent = 8
included = true
[usual_layers]
blackout = "Night cloth"
[[cloth]]
name = "Rush weave"
per = "yd"
cost = 14.20
markup = 65
[cloth.fabric]
width = "54 in"
[[cloth]]
name = "Sail canvas"
per = "m"
cost = 11
price = 24.75
[[cloth]]
name = "Night cloth"
per = "yd"
cost = 7.10
price = 13.45
[[labour]]
styles = ["goblet", "two-fold-pinch"]
per = "width"
price = 33.30
hours = { width = 0.8, pleat = 0.05 }
[[labour]]
per = "hour"
price = 41.00
hours = { width = 0.45, panel = 0.7, window = 0.25 }
[[surcharge]]
name = "Pattern matching"
when = "pattern-matching"
percent = 15
[[surcharge]]
name = "Blackout layer"
when = "blackout"
per = "panel"
price = 9.25
[[surcharge]]
name = "Out of turn"
when = "rush"
per = "job"
price = 75
[[hardware]]
kind = "rod"
per = "yd"
cost = 13
price = 31.25
[[hardware]]
kind = "ring"
per = "each"
cost = 0.95
price = 2.15
[[hardware]]
kind = "clip ring"
per = "each"
cost = 1.10
price = 2.45
[[hardware]]
kind = "eyelet"
per = "each"
cost = 0.42
price = 0.90
[[hardware]]
kind = "weighted cord"
per = "yd"
cost = 0.60
price = 1.85
[[hardware]]
kind = "filler"
per = "each"
cost = 0.22
price = 0.45
[fitting]
per = "window"
price = 28
cost = 12.50
[[discount]]
name = "Large order"
over = 500
percent = 5
[[discount]]
name = "Neighbour"
asked = true
percent = 2.5
"""
INCH_JOB = {
    "units": "in",
    "job": "Larkfield, Marsh Lane",
    "fabrics": {
        "Heirloom damask": {"width": "54", "vertical_repeat": "20", "customers_own": True},
        "Sail canvas": {"width": "118", "railroaded": True},
    },
    "windows": [
        {
            "label": "Porch",
            "rod": {"width": "60", "return": "3"},
            "hang": {"drop": "80", "mount": {"kind": "rings", "supplied": True}},
            "fabric": "Heirloom damask",
            "heading": {"style": "goblet"},
            "lining": None,
            "blackout": {},
            "make_up": {"width_count": 1.5, "hem_weights": {"cord": "50 g/m"}},
        },
        {
            "label": "Study",
            "rod": {"width": "40", "return": "3", "draw": "one-way-right"},
            "hang": {"drop": "60", "mount": {"kind": "clip-rings", "supplied": True}},
            "fabric": "Rush weave",
            "heading": {"style": "two-fold-pinch"},
            "fullness": 2.25,
            "lining": None,
        },
        {
            "label": "Den",
            "rod": {"width": "72", "return": "0"},
            "hang": {"drop": "90", "mount": {"kind": "through-heading", "supplied": True}},
            "fabric": "Sail canvas",
            "heading": {"style": "eyelet"},
            "fullness": 2,
            "lining": None,
        },
    ],
    "pricing": {"view": "workroom", "rush": True, "fitting": True, "discount": "Neighbour"},
}
INCH_LINES = [
    # The damask is the customer's own. 14.20 x 1.65 = 23.43; 4 1/4 yd come to 99.5775.
    ("cloth", "Rush weave", None, "4.250", "yd", "23.4300", "99.58"),
    # 4 3/8 yd x 0.9144 = 4.0005 m; 4.001 x 24.75 = 99.02475.
    ("cloth", "Sail canvas", None, "4.001", "m", "24.75", "99.02"),
    # 6 5/8 yd x 13.45 = 89.10625.
    ("blackout", "Night cloth", None, "6.625", "yd", "13.45", "89.11"),
    # 1 1/2 widths in each of two panels: 3 x 33.30 = 99.90.
    ("labour", "goblet", "Porch", "3", "width", "33.30", "99.90"),
    # The customer's cloth has a pattern all the same. 99.90 x 0.15 = 14.985, half to the even penny.
    ("surcharge", "Pattern matching", "Porch", "99.90", "percent", "15", "14.98"),
    ("surcharge", "Blackout layer", "Porch", "2", "panel", "9.25", "18.50"),
    # 2 x 33.30.
    ("labour", "two-fold-pinch", "Study", "2", "width", "33.30", "66.60"),
    # Each panel 72 flat with 6 of side hems: 78/54 = 1.44 widths of 54, and so 1 1/2. 3 widths of 0.45 h, 2 panels of
    # 0.7, the window 0.25: 1.35 + 1.4 + 0.25 = 3 h.
    ("labour", "eyelet", "Den", "3.000", "hour", "41.00", "123.00"),
    ("surcharge", "Out of turn", None, "1", "job", "75", "75.00"),
    ("hardware", "clip ring", None, "12", "each", "2.45", "29.40"),
    ("hardware", "eyelet", None, "24", "each", "0.90", "21.60"),
    ("hardware", "filler", None, "18", "each", "0.45", "8.10"),
    ("hardware", "ring", None, "18", "each", "2.15", "38.70"),
    # 66 + 43 + 72 = 181 in, 5.02778 yd; 5.028 x 31.25 = 157.125, half to the even penny.
    ("hardware", "rod", None, "5.028", "yd", "31.25", "157.12"),
    # 2 x 74 in = 4.1111 yd; 4.111 x 1.85 = 7.60535.
    ("hardware", "weighted cord", None, "4.111", "yd", "1.85", "7.61"),
    ("fitting", "Fitting", None, "3", "window", "28", "84.00"),
    # Cloth 99.58 + 99.02 + 89.11 = 287.71; making 99.90 + 14.98 + 18.50 + 66.60 + 123 + 75 = 397.98; hardware 29.40 +
    # 21.60 + 8.10 + 38.70 + 157.12 + 7.61 = 262.53; fitting 84: 1032.22. A twentieth is 51.611, a fortieth 25.8055.
    ("discount", "Large order", None, "1032.22", "percent", "-5", "-51.61"),
    ("discount", "Neighbour", None, "1032.22", "percent", "-2.5", "-25.81"),
]
INCH_COSTS = {
    # 4.25 x 14.20 = 60.35; 4.001 x 11 = 44.011; 6.625 x 7.10 = 47.0375.
    "Rush weave": ("60.35", 0),
    "Sail canvas": ("44.01", 0),
    "Night cloth": ("47.04", 0),
    # 3 x 0.8 + 18 x 0.05 = 3.3 h at 24.40; 2 x 0.8 + 12 x 0.05 = 2.2 h.
    "goblet": ("80.52", Decimal("3.3")),
    "two-fold-pinch": ("53.68", Decimal("2.2")),
    "eyelet of the labour": ("73.20", 3),
    # 12 x 1.10; 24 x 0.42; 18 x 0.22; 18 x 0.95; 5.028 x 13 = 65.364; 4.111 x 0.60 = 2.4666; 3 x 12.50.
    "clip ring": ("13.20", 0),
    "eyelet": ("10.08", 0),
    "filler": ("3.96", 0),
    "ring": ("17.10", 0),
    "rod": ("65.36", 0),
    "weighted cord": ("2.47", 0),
    "Fitting": ("37.50", 0),
}


def test_the_inch_job_comes_to_these_physical_figures_by_hand(estimate):
    """What the lines are charged by. Usual figures: overlap 3, side hem 3, bottom hem 8, seam 1/2 a side, turning 8."""
    reply = estimate(INCH_BOOK, INCH_JOB)
    porch, study, den = reply["windows"]
    # 60/2 + 3/2 + 3 = 34 1/2; 1 1/2 x 54 - 1 - 6 = 74; 80 + 1/4 - 1 = 79 1/4, + 8 + 8 = 95 1/4.
    assert {
        (each["finished_width"], each["flat_width"], each["finished_length"], each["cut_length"])
        for each in porch["panels"]
    } == {(34.5, 74, 79.25, 95.25)}
    # 40 + 3 = 43; 2.25 x 43 = 96 3/4, and 2 x 54 - 1 - 6 = 101. The clips grip 3/8: 60 + 3/8 - 1 = 59 3/8.
    [panel] = study["panels"]
    assert (panel["finished_width"], panel["flat_width"], panel["finished_length"]) == (43, 101, 59.375)
    # 72/2 = 36, twice that is 72, and side hems of 6 make a length of 78 of the turned cloth.
    assert {(each["finished_width"], each["flat_width"], each["cut_length"]) for each in den["panels"]} == {
        (36, 72, 78)
    }
    ordered = {each["fabric"]: each["quantity"] for each in reply["materials"]["fabrics"]}
    # Three cuts, one split for the two halves; two start a repeat of 20 in after another: 100 + 100 + 95 1/4 = 295 1/4,
    # and 8 1/4 yd are 297. Two of 75 3/8 are 150 3/4: 4 1/4 yd are 153. Two of 78 are 156: 4 3/8 yd are 157 1/2.
    assert ordered == {"Heirloom damask": "8 1/4 yd", "Rush weave": "4 1/4 yd", "Sail canvas": "4 3/8 yd"}
    # Three cuts as long as the face: 3 x 79 1/4 = 237 3/4, and 6 5/8 yd are 238 1/2.
    [blackout] = reply["materials"]["layers"]
    assert (blackout["layer"], blackout["cuts"], blackout["quantity"]) == ("blackout", 3, "6 5/8 yd")
    pleats = [[panel["pleats"]["pleat_count"] for panel in window["panels"]] for window in (porch, study)]
    assert pleats == [[9, 9], [12]]
    counted = {each["kind"]: each.get("count", each.get("length")) for each in reply["materials"]["sundries"]}
    # A ring to each pleat, a clip to each; a filler to each cup; twelve eyelets in each panel.
    assert (counted["ring"], counted["clip ring"], counted["filler"], counted["eyelet"]) == (18, 12, 18, 24)
    lengths = [
        next(each["length"] for each in window["materials"]["sundries"] if each["kind"] == "rod")
        for window in reply["windows"]
    ]
    # With two returns of 3, with one, and with none.
    assert lengths == [66, 43, 72]


def test_an_inch_job_is_charged_line_by_line_as_by_hand(estimate):
    reply = estimate(INCH_BOOK, INCH_JOB)
    assert charged(reply) == INCH_LINES
    price = reply["price"]
    # 1032.22 - 51.61 - 25.81 = 954.80, the tax in it: 954.80 x 8/108 = 70.7259.
    assert price["tax"] == {"name": "Sales tax", "percent": "8", "amount": "70.73", "included": True}
    assert (price["currency"], price["net"], price["total"]) == ("USD", "954.80", "954.80")


def test_an_inch_job_costs_the_workroom_what_it_does_by_hand(estimate):
    found = estimate(INCH_BOOK, INCH_JOB)["workroom"]
    costs = {
        f"{line['what']} of the labour" if (line["what"], line["kind"]) == ("eyelet", "labour") else line["what"]: (
            line["cost"],
            Decimal(line["hours"]),
        )
        for line in found["lines"]
    }
    assert {name: cost for name, cost in costs.items() if cost != ("0.00", 0)} == INCH_COSTS
    # Cloth 151.40, making 207.40, hardware 112.17, fitting 37.50: 508.47. 954.80 - 70.73 - 508.47 = 375.60, of 884.07
    # 42.485 %.
    assert (found["cost"], found["margin"], found["margin_percent"]) == ("508.47", "375.60", "42.5")
    assert Decimal(found["hours"]) == Decimal("8.5")


def test_a_job_that_comes_to_less_than_the_minimum_is_made_up_to_it_before_discounts(estimate):
    """1032.22 made up to 1200: 167.78. A twentieth of 1200 is 60, a fortieth 30."""
    book = changed(INCH_BOOK, ("[tax]", "minimum_charge = 1200\n[tax]"))
    reply = estimate(book, INCH_JOB)
    assert charged(reply)[-3:] == [
        ("minimum", "Minimum charge", None, "1", "job", "167.78", "167.78"),
        ("discount", "Large order", None, "1200.00", "percent", "-5", "-60.00"),
        ("discount", "Neighbour", None, "1200.00", "percent", "-2.5", "-30.00"),
    ]
    assert reply["price"]["total"] == "1110.00"


def test_a_customers_own_cloth_is_ordered_by_nobody_and_needs_no_rate(estimate):
    """Charged for, it would need one; the book has none."""
    job = copy.deepcopy(INCH_JOB)
    job["fabrics"]["Heirloom damask"]["customers_own"] = False
    reply = estimate(INCH_BOOK, job)
    assert reply["price"] is None
    assert "workroom" not in reply
    [said] = [each["detail"] for each in reply["cautions"] if each["kind"] == "not-priced"]
    assert "Heirloom damask" in said
    rate = '[[cloth]]\nname = "Heirloom damask"\nper = "yd"\nprice = 100\n'
    # 8 1/4 yd at 100: 825 on top of what was, 1857.22 before discounts.
    [first, *others] = charged(estimate(INCH_BOOK + rate, job))
    assert first == ("cloth", "Heirloom damask", None, "8.250", "yd", "100", "825.00")
    assert others[:-2] == INCH_LINES[:-2]
    assert [line[3] for line in others[-2:]] == ["1857.22", "1857.22"]


def test_a_layer_of_which_the_book_knows_no_usual_cloth_is_not_priced_and_so_it_is_said(estimate):
    job = copy.deepcopy(INCH_JOB)
    job["windows"][0]["lining"] = {}
    reply = estimate(INCH_BOOK, job)
    assert reply["price"] is None
    assert [each["kind"] for each in reply["cautions"]].count("not-priced") == 1


@pytest.mark.parametrize("layer", [{}, {"cloth": "Night cloth"}])
def test_a_layer_weighs_what_the_rate_book_says_of_its_cloth(estimate, layer):
    """As the contract has it of a mass left out: what the rate book says, else, where the face's is known, 280 g/m2."""
    book = changed(
        INCH_BOOK, ("price = 13.45\n", 'price = 13.45\nfabric = { width = "54 in", mass_per_area = "400 g/m2" }\n')
    )
    job = copy.deepcopy(INCH_JOB)
    job["fabrics"]["Heirloom damask"]["mass_per_area"] = "300 g/m2"
    job["windows"][0]["blackout"] = layer
    [by_book, _] = estimate(book, job)["windows"][0]["weight"]["panels"]
    job["windows"][0]["blackout"] = layer | {"mass_per_area": "400 g/m2"}
    [written_out, _] = estimate(book, job)["windows"][0]["weight"]["panels"]
    assert by_book["layers"]["blackout"] == written_out["layers"]["blackout"]


def test_a_rush_for_which_the_book_has_no_surcharge_is_not_charged_and_so_it_is_said(estimate):
    book = changed(METRIC_BOOK, ('[[surcharge]]\nname = "Within the week"\nwhen = "rush"\npercent = 25\n', ""))
    reply = estimate(book, METRIC_JOB)
    assert charged(reply)[:-1] == [line for line in METRIC_LINES[:-1] if line[1] != "Within the week"]
    assert "rush-not-charged" in {each["kind"] for each in reply["cautions"]}
    in_time = estimate(book, METRIC_JOB | {"pricing": {}})
    assert "rush-not-charged" not in {each["kind"] for each in in_time["cautions"]}


def test_labour_by_the_pleat_of_a_heading_without_pleats_is_not_priced_at_nothing(estimate):
    """Pencil, on a tape: the book charges all other styles by the pleat, and it has none."""
    book = changed(METRIC_BOOK, ('per = "width"\nprice = 21.40', 'per = "pleat"\nprice = 21.40'))
    reply = estimate(book, METRIC_JOB)
    assert reply["price"] is None
    [said] = [each["detail"] for each in reply["cautions"] if each["kind"] == "not-priced"]
    assert "pencil" in said


@pytest.mark.parametrize(
    ("units", "flat", "widths"),
    [
        # 48 + 6 of side hems = 54 in: one width to the inch, and a hair more is one and a half.
        ("in", 48, "1"),
        ("in", 48.0625, "1.5"),
        ("in", 75, "1.5"),
        ("in", 75.0625, "2"),
        # 122 + 15 = 137 cm.
        ("cm", 122, "1"),
        ("cm", 122.1, "1.5"),
        ("cm", 190.5, "1.5"),
        ("cm", 190.6, "2"),
    ],
)
def test_turned_cloth_counts_as_so_many_widths_of_54_in_or_137_cm(estimate, units, flat, widths):
    """Common practice: labour goes by the usual width, whatever the turned one. A drop of 1 m in cloth of 3 m."""
    job = {
        "units": units,
        "windows": [
            {
                # A one-way draw without a return or an overlap, gathered 2 times.
                "rod": {"width": flat / 2, "return": 0, "draw": "one-way-left"},
                "hang": {"drop": "1 m"},
                "fabric": "Gauze",
                "heading": {"style": "gathered"},
                "fullness": 2,
            }
        ],
        "fabrics": {"Gauze": {"width": "3 m", "railroaded": True}},
    }
    book = (
        'edition = "E"\ncurrency = "GBP"\nrounding = "half-up"\ncost_per_hour = 1\n'
        '[[cloth]]\nname = "Gauze"\nper = "m"\nprice = 1\n[[labour]]\nper = "width"\nprice = 1\n'
    )
    reply = estimate(book, job)
    assert reply["windows"][0]["panels"][0]["flat_width"] == flat
    [labour] = [line for line in charged(reply) if line[0] == "labour"]
    assert Decimal(labour[3]) == Decimal(widths)


LARKFIELD = (PROJECT / "deploy" / "rates.example.toml").read_text()


def four_fields(style, units):
    """Return what an order form knows: width, drop, style and cloth."""
    width, drop = {"in": (120, 84), "cm": (305, 210), "mm": (3050, 2100)}[units]
    window = {"rod": {"width": width}, "hang": {"drop": drop}, "heading": {"style": style}}
    return {"units": units, "windows": [window | {"fabric": "Plain linen, flax"}]}


MILLIMETRES = {"in": Decimal("25.4"), "cm": Decimal(10), "mm": Decimal(1), "m": Decimal(1000)}
MEASURE = re.compile(r"(-?(?:\d+ )?\d+/\d+|-?\d+(?:\.\d+)?) (in|mm|cm|m)\b")
# What null stands for where that is no figure of its own: what another field says, or nothing at all.
NO_FIGURE = re.compile(
    r"none|as `|heights are given|what (the )?(mount|its runs|the heading takes|the heading above|that one)|it is none|"
    r"not (said|measured|fixed)|unlined; left out|a pair|the floor|its number|the heading's usual one|the style's own|"
    r"by the eyelets|in more than the hole|in above the rims|ours"
)


def millimetres(text):
    """Return the length of each measure that a description names, in order."""
    found = []
    for number, unit in MEASURE.findall(text):
        parts = (part.partition("/") for part in number.lstrip("-").split())
        size = sum(Decimal(over) / Decimal(under or 1) for over, _, under in parts)
        found.append((-size if number.startswith("-") else size) * MILLIMETRES[unit])
    return found


def is_options_of(style, schema):
    return schema.get("properties", {}).get("style", {}).get("const") == style


def documented(style, units):
    """Return each length that the contract says is taken for null, by its place in a window, in `units`."""
    [options] = [name for name, schema in CONTRACT.items() if is_options_of(style, schema)]
    places = {"Window": "", "Rod": "/rod", "Hang": "/hang", "Pin": "/pin", "MakeUp": "/make_up", options: "/heading"}
    found = {}
    for name, place in places.items():
        for field, schema in CONTRACT[name]["properties"].items():
            said = re.search(r"[Nn]ull: (.*)", schema.get("description", ""), re.DOTALL)
            if said is None or (name, field[-10:]) == ("MakeUp", "_hem_depth"):
                # The depth of a hem goes with its type, which is not given.
                continue
            lengths = (
                [] if re.search("more than|above the rims", said[1]) else millimetres(said[1].partition(", of a ")[0])
            )
            if lengths:
                # In inches, and then in metric, except where a style has its figure in inches alone.
                is_metric = units != "in" and len(lengths) > 1
                found[f"{place}/{field}"] = lengths[is_metric] / MILLIMETRES[units]
            else:
                assert NO_FIGURE.search(said[1]), f"{name}.{field}: {said[1]}"
    return found


def test_the_contract_documents_the_lengths_that_are_looked_for():
    """So that a description worded otherwise is not passed over."""
    assert {at: str(value) for at, value in documented("three-fold-pinch", "in").items()} == {
        "/rod/return": "3.5",
        "/rod/overlap": "3",
        "/hang/heading_above": "0.25",
        "/hang/clearance": "1",
        "/pin/rise": "1.375",
        "/pin/edge_inset": "0.5",
        "/make_up/side_hem": "3",
        "/make_up/bottom_hem": "8",
        "/make_up/seam_allowance": "0.5",
        "/mark": "0.0625",
    }
    assert documented("gathered", "cm")["/heading/frill"] == Decimal("2.54")
    assert documented("gathered", "cm")["/hang/clearance"] == Decimal("2.5")


# What a heading may settle for itself, as the descriptions say: how far it stands above, what its hooks rise, and that
# it has no pins, or edges that cannot cross.
SETTLED = {"/hang/heading_above", "/pin/rise", "/pin/edge_inset", "/rod/overlap"}


@pytest.mark.parametrize("units", ["in", "cm", "mm"])
@pytest.mark.parametrize("style", STYLES)
def test_four_fields_give_a_price_and_all_that_is_taken_for_the_others_is_told(estimate, headings, style, units):
    """Each length, as the contract documents it for a field that is left out; and the words, and the fullness."""
    reply = estimate(LARKFIELD, four_fields(style, units))
    assert Decimal(reply["price"]["total"]) > 0
    assert all(each["at"].startswith("/windows/0/") for each in reply["assumed"])
    assumed = {each["at"].removeprefix("/windows/0"): each for each in reply["assumed"]}
    assert len(assumed) == len(reply["assumed"])
    figures = msgspec.to_builtins(workroom.heading(style, headings, units))
    expected = documented(style, units)
    is_pleated = figures["layout"] == "pleats"
    for at, value in expected.items():
        if at in SETTLED and not is_pleated:
            continue
        assert assumed[at]["measure"] == "length"
        assert assumed[at]["value"] == pytest.approx(float(value), abs=5e-4), at
    # What the style is described with, where it is the style that says.
    own = {"/fullness": figures["fullness"]["usual"], "/make_up/top_turning": figures["top_turning"]}
    own |= {"/heading/buckram_depth": figures["buckram_depth"]} if is_pleated else {}
    own |= {"/heading/hook_spacing": figures["hook_spacing"]} if style in ("pencil", "gathered") else {}
    for at, value in own.items():
        assert assumed[at]["value"] == pytest.approx(value, abs=5e-4), at
    assert assumed["/fullness"]["measure"] == "ratio"
    words = {at: each["value"] for at, each in assumed.items() if each["measure"] == "word"}
    assert words == {"/rod/draw": "pair", "/hang/to": "floor", "/lining": "none"}
    # And nothing else than what is documented, apart from a style's own options.
    others = assumed.keys() - expected.keys() - own.keys() - words.keys()
    assert all(at.startswith("/heading/") for at in others)


@pytest.mark.parametrize(
    ("units", "expected"),
    [
        # UFGS 12 22 00 for the overlap and the clearance of the floor; the rest is common practice: see TRADE 2 and 5.
        (
            "in",
            {"/rod/return": 3.5, "/rod/overlap": 3, "/hang/clearance": 1, "/hang/heading_above": 0.25}
            | {"/pin/rise": 1.375, "/make_up/side_hem": 3, "/make_up/bottom_hem": 8, "/make_up/seam_allowance": 0.5},
        ),
        (
            "cm",
            {"/rod/return": 9, "/rod/overlap": 7.5, "/hang/clearance": 2.5, "/hang/heading_above": 0.6}
            | {"/pin/rise": 3.5, "/make_up/side_hem": 7.5, "/make_up/bottom_hem": 20, "/make_up/seam_allowance": 1.2},
        ),
    ],
)
def test_what_is_assumed_of_a_pleated_pair_is_what_the_trade_takes(estimate, units, expected):
    reply = estimate(LARKFIELD, four_fields("three-fold-pinch", units))
    assumed = {each["at"].removeprefix("/windows/0"): each["value"] for each in reply["assumed"]}
    assert expected.items() <= assumed.items()


@pytest.mark.parametrize(
    ("style", "width"),
    [
        ("three-fold-pinch", 36),
        ("three-fold-pinch", 56),
        ("goblet", 56),
        ("pencil", 36),
        ("eyelet", 72),
        ("tab-top", 96),
    ],
)
def test_four_fields_give_a_price_of_a_window_of_any_usual_width(estimate, style, width):
    """Common practice: none of these is an odd window; the fullness is nobody's wish, and can be another."""
    job = four_fields(style, "in")
    job["windows"][0]["rod"]["width"] = width
    try:
        reply = estimate(LARKFIELD, job)
    except Impossible as impossible:
        pytest.fail(str(impossible))
    assert reply["price"] is not None


def test_a_count_of_pleats_that_is_asked_for_is_not_had_in_other_widths(estimate):
    """Whoever counts the pleats has settled the cloth: that it cannot be so is said, with the counts that can."""
    job = four_fields("three-fold-pinch", "in")
    job["windows"][0]["pleat_count"] = 3
    with pytest.raises(Impossible) as impossible:
        estimate(LARKFIELD, job)
    assert {fault.where for fault in impossible.value.faults} == {("windows", 0, "pleat_count")}


@pytest.mark.parametrize("style", STYLES)
def test_the_same_job_with_all_that_was_assumed_written_out_is_the_same_job(estimate, style):
    job = four_fields(style, "in")
    short = estimate(LARKFIELD, job)
    full = copy.deepcopy(job)
    for each in short["assumed"]:
        *way, last = each["at"].removeprefix("/windows/0/").split("/")
        place = full["windows"][0]
        for part in way:
            place = place.setdefault(part, {})
        place[last] = None if last == "lining" else each["value"]
    long = estimate(LARKFIELD, full)
    assert long["assumed"] == []
    assert (long["windows"], long["materials"]) == (short["windows"], short["materials"])
    assert long["price"] == short["price"] | {"range": None}


def test_a_fullness_that_is_assumed_is_told_as_it_was_taken(estimate):
    """A box pleat takes 6 in of cloth to every 4 1/2 in of space, and is usually 7/3 full. 122.01/2 + 3/2 + 3 1/2 =
    66.005: 7/3 of it is 154.012, over the 154 of three widths of 54 in; 2.333 times is 153.99.
    """
    job = four_fields("box", "in") | {"fabrics": {"Plain linen, flax": {"width": 54}}}
    job["windows"][0]["rod"]["width"] = 122.01
    short = estimate(LARKFIELD, job)
    [fullness] = [each["value"] for each in short["assumed"] if each["at"].endswith("/fullness")]
    job["windows"][0]["fullness"] = fullness
    assert estimate(LARKFIELD, job)["price"]["net"] == short["price"]["net"]


def written_out(job, at, end):
    """Return a job with what was assumed written out in full at one end of its range."""
    full = copy.deepcopy(job)
    for window in full["windows"]:
        if at == "fullness":
            window.setdefault("fullness", float(end))
        elif at == "return":
            window["rod"].setdefault("return", end)
        else:
            assert at == "lining"
            window.setdefault("lining", {"unlined": None, "lined": {}}[end])
    return full


def total_of(estimate, book, job):
    try:
        return estimate(book, job)["price"]["total"]
    except Impossible:
        return None


def totals_of_all_choices(estimate, book, job, because):
    """Each assumption as it was, or at either of its ends, in every combination."""
    totals = []
    for ends in product((None, "least", "most"), repeat=len(because)):
        chosen = job
        for each, end in zip(because, ends, strict=True):
            chosen = written_out(chosen, each["at"], each[end]) if end else chosen
        totals.append(total_of(estimate, book, chosen))
    return totals


@pytest.mark.parametrize(
    ("style", "units", "width"),
    [
        ("three-fold-pinch", "in", 96),
        ("three-fold-pinch", "cm", 310),
        ("goblet", "in", 96),
        ("goblet", "mm", 1650),
        ("pencil", "in", 132),
        ("inverted", "cm", 180),
        ("gathered", "cm", 260),
        ("eyelet", "in", 132),
        ("wave", "in", 120),
        ("tab-top", "mm", 2200),
    ],
)
def test_each_end_of_the_range_written_out_in_full_gives_the_total_that_is_stated(estimate, style, units, width):
    job = four_fields(style, units)
    job["windows"][0]["rod"]["width"] = width
    price = estimate(LARKFIELD, job)["price"]
    because = price["range"]["because"]
    assert because
    for each in because:
        assert total_of(estimate, LARKFIELD, written_out(job, each["at"], each["least"])) == each["total_at_least"]
        assert total_of(estimate, LARKFIELD, written_out(job, each["at"], each["most"])) == each["total_at_most"]
        assert {each["total_at_least"], each["total_at_most"]} - {None, price["total"]}
    # The ends of the whole range are those of some choice among the ends.
    totals = set(totals_of_all_choices(estimate, LARKFIELD, job, because))
    assert {price["range"]["least"], price["range"]["most"]} <= totals
    # What was assumed, and does not matter, is not blamed.
    for at, ends in (("return", ("0 mm", "150 mm" if units != "in" else "6 in")), ("lining", ("unlined", "lined"))):
        if at not in {each["at"] for each in because}:
            for end in ends:
                assert total_of(estimate, LARKFIELD, written_out(job, at, end)) in (None, price["total"])


@pytest.mark.parametrize(
    ("style", "width"),
    [("goblet", 100), ("goblet", 120), ("three-fold-pinch", 122), ("pencil", 88), ("eyelet", 140), ("tab-top", 75)],
)
def test_no_choice_among_the_ends_comes_out_beyond_the_range(estimate, style, width):
    """Brute force."""
    job = four_fields(style, "in")
    job["windows"][0]["rod"]["width"] = width
    price = estimate(LARKFIELD, job)["price"]
    totals = totals_of_all_choices(estimate, LARKFIELD, job, price["range"]["because"])
    known = [Decimal(total) for total in totals if total is not None]
    assert len(known) > 8
    assert Decimal(price["range"]["least"]) <= min(known)
    assert max(known) <= Decimal(price["range"]["most"])


def test_the_range_is_of_the_usual_fullness_a_quarter_less_and_more_of_returns_to_6_in_and_of_a_lining(estimate):
    """A goblet is usually 2 3/8 times full: 2 1/8 and 2 5/8."""
    because = estimate(LARKFIELD, four_fields("goblet", "in"))["price"]["range"]["because"]
    assert [(each["at"], each["least"], each["most"]) for each in because][1:] == [
        ("return", "0 in", "6 in"),
        ("lining", "unlined", "lined"),
    ]
    assert because[0]["at"] == "fullness"
    for end, usual in (("least", "2.125"), ("most", "2.625")):
        exact = Decimal(usual)
        assert abs(Decimal(because[0][end]) - exact) <= Decimal("0.005")


@pytest.mark.parametrize(
    ("width", "end"),
    [
        # Panels of cloth 54 in wide. 135/2 + 3/2 + 3 1/2 = 72 1/2: 2.12 times that is 153.7, which three widths of 154
        # reach; 2.125 times, 154.0625, takes a half more.
        (135, "least"),
        # 107 1/2 / 2 + 5 = 58 3/4: 2.62 times that is 153.925, and 2.625 times 154.21875.
        (107.5, "most"),
    ],
)
def test_an_end_of_the_fullness_is_stated_as_it_was_tried(estimate, width, end):
    job = four_fields("goblet", "in") | {"fabrics": {"Plain linen, flax": {"width": 54}}}
    job["windows"][0]["rod"]["width"] = width
    because = estimate(LARKFIELD, job)["price"]["range"]["because"]
    [fullness] = [each for each in because if each["at"] == "fullness"]
    stated = total_of(estimate, LARKFIELD, written_out(job, "fullness", fullness[end]))
    assert stated == fullness[f"total_at_{end}"]


def test_a_range_of_several_windows_takes_all_of_them_to_an_end_at_once(estimate):
    job = four_fields("three-fold-pinch", "in")
    [first] = job["windows"]
    # One has settled its return, one its lining, and one its fullness.
    job["windows"] = [
        first | {"rod": {"width": 60, "return": 3.5}},
        first | {"rod": {"width": 96}, "lining": {}},
        first | {"rod": {"width": 132}, "fullness": 2.2},
    ]
    price = estimate(LARKFIELD, job)["price"]
    assert {each["at"] for each in price["range"]["because"]} == {"fullness", "return", "lining"}
    for each in price["range"]["because"]:
        for end in ("least", "most"):
            written = total_of(estimate, LARKFIELD, written_out(job, each["at"], each[end]))
            assert written == each[f"total_at_{end}"]


def test_a_job_that_says_all_that_matters_has_no_range(estimate):
    job = four_fields("goblet", "in")
    job["windows"][0] |= {"rod": {"width": 96, "return": 3.5}, "fullness": 2.375, "lining": None}
    assert estimate(LARKFIELD, job)["price"]["range"] is None


@pytest.mark.parametrize(("windows", "ranged"), [(12, True), (13, False)])
def test_a_range_is_worked_out_for_up_to_12_windows(estimate, windows, ranged):
    job = four_fields("goblet", "in")
    job["windows"] *= windows
    assert (estimate(LARKFIELD, job)["price"]["range"] is not None) == ranged


def test_labour_by_the_hour_in_a_currency_of_three_decimals_is_what_decimals_make_of_it(estimate):
    """Python's decimal, apart from the service, from the widths, pleats and panels of the estimate."""
    job = four_fields("three-fold-pinch", "in")
    book = (
        'edition = "E"\ncurrency = "KWD"\nrounding = "half-up"\ncost_per_hour = 18.505\n'
        '[[cloth]]\nname = "Plain linen, flax"\nper = "m"\nprice = 1.2345\nfabric = { width = "140 cm" }\n'
        '[[labour]]\nper = "hour"\nprice = 34.1234\n'
        "hours = { width = 0.7, pleat = 0.0333, panel = 0.5, window = 0.25 }\n"
    )
    reply = estimate(book, job | {"pricing": {"view": "workroom"}})
    panels = reply["windows"][0]["panels"]
    pleats, widths = (
        sum(each["pleats"]["pleat_count"] for each in panels),
        sum(Decimal(repr(each["widths"])) for each in panels),
    )
    hours = (
        widths * Decimal("0.7") + pleats * Decimal("0.0333") + len(panels) * Decimal("0.5") + Decimal("0.25")
    ).quantize(Decimal("0.001"), ROUND_HALF_UP)
    [labour] = [line for line in charged(reply) if line[0] == "labour"]
    assert Decimal(labour[3]) == hours
    # The Kuwaiti dinar has thousandths [ISO 4217].
    assert labour[-1] == str((hours * Decimal("34.1234")).quantize(Decimal("0.001"), ROUND_HALF_UP))
    [cost] = [line for line in reply["workroom"]["lines"] if line["kind"] == "labour"]
    assert cost["cost"] == str((hours * Decimal("18.505")).quantize(Decimal("0.001"), ROUND_HALF_UP))
