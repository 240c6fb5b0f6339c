"""Ways to make one window: each is what a plain estimate of it comes to, in the right order, and truly told."""

import copy
import json
import re
from decimal import Decimal
from fractions import Fraction
from itertools import combinations
from pathlib import Path

import msgspec
import pytest

from pleatwright import workroom
from pleatwright.faults import Impossible, json_pointer
from pleatwright.headings.host import find_headings
from pleatwright.lengths import in_units, parse_length
from pleatwright.pricing.book import read_book

PROJECT = Path(__file__).parents[2]
CONTRACT = json.loads((PROJECT / "openapi" / "openapi.json").read_text())["components"]["schemas"]
LARKFIELD = (PROJECT / "deploy" / "rates.example.toml").read_text()
STYLES = tuple(find_headings().installed)
INCHES = {
    "units": "in",
    "window": {
        "label": "Landing",
        "rod": {"width": "96", "return": "3 1/2"},
        "hang": {"drop": "84"},
        "fabric": "Teasel, rust on oat",
        "heading": {"style": "three-fold-pinch"},
        "fullness": 2.35,
        "lining": {},
    },
    "styles": [{"style": "goblet"}, {"style": "pencil"}, {"style": "wave"}],
    "cloth_widths": ["48", "60"],
    "pricing": {"view": "workroom", "rush": True},
}
METRIC = {
    "units": "cm",
    "window": {
        "rod": {"width": 310},
        "hang": {"drop": 190},
        "fabric": "Wool",
        "heading": {"style": "inverted"},
        "interlining": {},
    },
    "fabrics": {"Wool": {"width": 280, "mass_per_area": "310 g/m2"}},
    "styles": [{"style": "knife"}],
    "cloth_widths": [150, 140, 150],
}
OFF_CENTRE = {
    "units": "in",
    "window": {
        "rod": {"width": 120, "draw": "off-centre-pair", "parting": 40},
        "hang": {"carrying_height": 96},
        "fabric": "Linen",
        "heading": {"style": "two-fold-pinch"},
        "lining": None,
    },
    "fabrics": {"Linen": {"width": 54}},
    "styles": [{"style": "euro-two-fold"}],
    "cloth_widths": [110],
}
EYELETS = {
    "units": "in",
    "window": {"rod": {"width": 164}, "hang": {"drop": 84}, "fabric": "Linen", "heading": {"style": "eyelet"}},
    "fabrics": {"Linen": {"width": 54}},
}
TURNED = {
    "units": "in",
    "window": {
        "rod": {"width": 130, "draw": "one-way-right"},
        "hang": {"drop": 84},
        "fabric": "Gauze",
        "heading": {"style": "gathered"},
    },
    "fabrics": {"Gauze": {"width": 110, "railroaded": True, "bolt_length": "60 yd"}},
}
JOBS = {
    "inches": INCHES | {"styles": [{"style": style} for style in ("goblet", "eyelet", "wave", "tab-top")]},
    "metric": METRIC,
    "off centre": OFF_CENTRE,
    "turned": TURNED,
    "eyelets": EYELETS,
}


@pytest.fixture
def send(headings, request_reader):
    """Send a request of an operation, with a book's text or without one, and return the reply as a client has it."""

    def sent(operation, request, book=LARKFIELD):
        read = request_reader.read(operation, json.dumps(request).encode())
        rates = read_book(book.encode()) if book else None
        return json.loads(msgspec.json.encode(getattr(workroom, operation)(read, headings, rates)))

    return sent


@pytest.fixture
def compare(send):
    return lambda request, book=LARKFIELD: send("compare", request, book)


@pytest.fixture
def faults(compare):
    """Return the faults that a comparison ends in, by their pointers."""

    def found(request, book=LARKFIELD):
        with pytest.raises(Impossible) as caught:
            compare(request, book)
        return {json_pointer(fault.where): fault.detail for fault in caught.value.faults}

    return found


def with_rates(job):
    """Return the book with a rate for each fabric of the job."""
    entries = [f'[[cloth]]\nname = "{name}"\nper = "m"\ncost = 20\nprice = 33.30\n' for name in job.get("fabrics", {})]
    return LARKFIELD + "".join(entries)


def as_estimate(job, window, fabrics=None):
    return {
        "units": job["units"],
        "windows": [window],
        "fabrics": job.get("fabrics", {}) if fabrics is None else fabrics,
        "pricing": job.get("pricing", {}),
    }


def the_way(reply, change, nth=0):
    return [way for way in reply["ways"] if way["change"] == change][nth]


def the_same(way, plain):
    """Check that a way is what a plain estimate of it comes to."""
    [window] = plain["windows"]
    assert way["window"] == window
    assert way["materials"] == plain["materials"]
    assert way["price"] == (plain["price"] and plain["price"] | {"range": None})
    assert way.get("workroom") == plain.get("workroom")
    assert way["total"] == (plain["price"] and plain["price"]["total"])
    assert way["style"] == window["style"]


@pytest.mark.parametrize("priced", [True, False])
@pytest.mark.parametrize("job", JOBS.values(), ids=JOBS)
def test_the_window_as_asked_is_what_its_estimate_comes_to(send, compare, job, priced):
    book = with_rates(job) if priced else None
    if not priced and "fabrics" not in job:
        job = job | {"fabrics": {"Teasel, rust on oat": {"width": 54, "vertical_repeat": "25 1/4"}}}
    reply, plain = compare(job, book), send("estimate", as_estimate(job, job["window"]), book)
    the_same(the_way(reply, "as-asked"), plain)
    assert (plain["price"] is not None) == priced
    assert reply["units"] == job["units"]
    assert reply["cautions"] == plain["cautions"]
    moved = [each | {"at": each["at"].replace("/windows/0/", "/window/")} for each in plain["assumed"]]
    assert reply["assumed"] == moved
    assert [way["change"] for way in reply["ways"]].count("as-asked") == 1


WIDER = INCHES | {"window": INCHES["window"] | {"rod": {"width": 120}}}
NARROW = METRIC | {"fabrics": {"Wool": {"width": 137}}}


@pytest.mark.parametrize("job", [WIDER, NARROW], ids=["inches", "metric"])
def test_half_a_width_more_or_less_is_the_estimate_with_so_many_widths_settled(send, compare, job):
    reply = compare(job, with_rates(job))
    asked = the_way(reply, "as-asked")["window"]["panels"]
    tried = 0
    for change, more in (("half-width-more", 0.5), ("half-width-less", -0.5)):
        window = copy.deepcopy(job["window"])
        [widths] = {panel["widths"] for panel in asked}
        window["make_up"] = {"width_count": widths + more}
        try:
            plain = send("estimate", as_estimate(job, window), with_rates(job))
        except Impossible:
            assert change not in {way["change"] for way in reply["ways"]}
            continue
        tried += 1
        the_same(the_way(reply, change), plain)
    assert tried


def test_half_a_width_less_that_shows_its_seams_says_what_would_hide_them(send, compare):
    """Two widths where two and a half were asked for: those two and a half would hide them again."""
    way = the_way(compare(INCHES), "half-width-less")
    assert way["seams_not_hidden"]
    window = INCHES["window"] | {"make_up": {"width_count": way["window"]["panels"][0]["widths"]}}
    the_same(way, send("estimate", as_estimate(INCHES, window)))


@pytest.mark.parametrize("job", [INCHES, METRIC], ids=["inches", "metric"])
def test_a_pleat_or_two_more_or_less_is_the_estimate_with_that_count(send, compare, job):
    reply = compare(job, with_rates(job))
    [count] = {panel["pleats"]["pleat_count"] for panel in the_way(reply, "as-asked")["window"]["panels"]}
    found = {
        way["window"]["panels"][0]["pleats"]["pleat_count"]: way
        for way in reply["ways"]
        if way["change"] == "pleat-count"
    }
    tried = 0
    for more in (-2, -1, 1, 2):
        window = job["window"] | {"pleat_count": count + more}
        try:
            plain = send("estimate", as_estimate(job, window), with_rates(job))
        except Impossible:
            assert count + more not in found
            continue
        tried += 1
        the_same(found.pop(count + more), plain)
    assert not found
    assert tried


@pytest.mark.parametrize("style", STYLES)
def test_another_style_is_the_estimate_in_that_style_with_its_own_fullness_and_count(send, compare, style):
    job = copy.deepcopy(INCHES) | {"styles": [{"style": style}], "cloth_widths": []}
    job["window"]["pleat_count"] = 13
    reply = compare(job)
    window = {name: value for name, value in job["window"].items() if name not in ("fullness", "pleat_count")}
    plain = send("estimate", as_estimate(job, window | {"heading": {"style": style}}))
    the_same(the_way(reply, "style"), plain)
    assert reply["impossible"] == []


def test_a_style_that_cannot_be_had_in_its_usual_fullness_is_made_in_another_and_says_so(compare):
    """Eyelets on a rod of 72 in: a panel is 39 1/2, and twice that is 79. 2 x 54 - 1 - 6 = 101 is 2.56 times, more than
    eyelets take; 1 1/2 widths of 74 are 1.87 times.
    """
    job = {
        "units": "in",
        "window": {
            "rod": {"width": 72, "return": 3.5},
            "hang": {"drop": 84},
            "fabric": "Linen",
            "heading": {"style": "pencil"},
        },
        "fabrics": {"Linen": {"width": 54}},
        "styles": [{"style": "eyelet"}],
    }
    way = the_way(compare(job, None), "style")
    assert [(panel["widths"], panel["flat_width"]) for panel in way["window"]["panels"]] == [(1.5, 74), (1.5, 74)]
    assert way["fullness"] == round(74 / 39.5, 3)
    assert "fullness-not-usual" in {caution["kind"] for caution in way["window"]["cautions"]}


@pytest.mark.parametrize("width", [60, 64, 76])
def test_a_pleat_or_two_more_or_less_are_in_the_same_widths(compare, width):
    """Of a window whose fullness is left open: its usual one can be had, so other widths are no other count."""
    job = INCHES | {"window": INCHES["window"] | {"rod": {"width": width}, "fullness": None}}
    reply = compare(job)
    asked = the_way(reply, "as-asked")["window"]
    assert "fullness-not-usual" not in {caution["kind"] for caution in asked["cautions"]}
    counted = [way["window"] for way in reply["ways"] if way["change"] == "pleat-count"]
    for window in counted:
        assert [panel["widths"] for panel in window["panels"]] == [panel["widths"] for panel in asked["panels"]]


@pytest.mark.parametrize("width", ["48", "60"])
def test_another_width_of_cloth_is_the_estimate_in_a_cloth_so_wide(send, compare, width):
    reply = compare(INCHES)
    # As the book describes the cloth, apart from its width.
    fabric = {"width": width, "vertical_repeat": "25 1/4", "horizontal_repeat": "27"}
    plain = send("estimate", as_estimate(INCHES, INCHES["window"], {"Teasel, rust on oat": fabric}))
    text = f"The cloth {width} in wide: "
    [way] = [way for way in reply["ways"] if way["reason"].startswith(text)]
    assert way["change"] == "cloth-width"
    the_same(way, plain)


def test_a_width_that_the_cloth_has_already_or_that_is_named_twice_is_tried_once(compare):
    reply = compare(METRIC | {"cloth_widths": ["2.8 m", 150, "1500 mm", 140]}, with_rates(METRIC))
    changes = [way["change"] for way in reply["ways"]] + [each["change"] for each in reply["impossible"]]
    assert changes.count("cloth-width") == 2


def test_cloth_turned_and_not_turned_are_the_estimates_of_it(send, compare):
    turned = copy.deepcopy(METRIC)["fabrics"] | {"Wool": METRIC["fabrics"]["Wool"] | {"railroaded": True}}
    # An interlining goes by the widths of the face, of which turned cloth has none.
    job = METRIC | {"window": METRIC["window"] | {"interlining": {"width": 150}}}
    way = the_way(compare(job, with_rates(job)), "railroaded")
    the_same(way, send("estimate", as_estimate(job, job["window"], turned), with_rates(job)))
    assert all(panel["seams"] == [] for panel in way["window"]["panels"])
    cut = {"Gauze": {"width": 110}}
    way = the_way(compare(TURNED, with_rates(TURNED)), "not-railroaded")
    the_same(way, send("estimate", as_estimate(TURNED, TURNED["window"], cut), with_rates(TURNED)))


@pytest.mark.parametrize(
    "fabric",
    [
        {"width": 280, "one_way": True},
        {"width": 280, "vertical_repeat": 64, "motif": {"at": 5, "below_heading": 20}},
        # Too narrow for 190 + 0.6 - 2.5 with a hem of 20 and a turning of 20.32: 228.42.
        {"width": 228},
    ],
)
def test_cloth_that_cannot_be_turned_is_not_turned_and_nothing_is_said_of_it(compare, fabric):
    job = METRIC | {"fabrics": {"Wool": fabric}, "window": METRIC["window"] | {"interlining": None}}
    reply = compare(job, with_rates(job))
    assert "railroaded" not in {each["change"] for each in reply["ways"] + reply["impossible"]}
    wide = METRIC | {"fabrics": {"Wool": {"width": 229}}, "window": job["window"]}
    assert "railroaded" in {each["change"] for each in compare(wide, with_rates(wide))["ways"]}


def test_ways_that_cannot_be_are_told_of_only_when_they_were_asked_for_by_name(compare):
    job = copy.deepcopy(INCHES)
    # One panel of one width: no half less, since half a width does not cover it; no pleat fewer nor more will do.
    job["window"] |= {"rod": {"width": 22, "return": 0, "draw": "one-way-left"}, "fullness": 2, "pleat_count": 6}
    job |= {"cloth_widths": ["8", "54", "120"], "styles": [{"style": "wave", "snap_spacing": "30 in"}]}
    reply = compare(job)
    changes = {way["change"] for way in reply["ways"]}
    assert "half-width-less" not in changes
    told = [(each["change"], each["style"]) for each in reply["impossible"]]
    # 8 in less two hems of 3 leave 2, and each seam adds 7: there is a seam in every other pleat. Snaps 30 in apart on
    # carriers 2 in apart would be fifteen times full.
    assert len(told) == 2
    assert ("cloth-width", "three-fold-pinch") in told
    assert ("style", "wave") in told
    for each in reply["impossible"]:
        assert each["why"]
        assert "{" not in each["why"]
        assert each["why"][0].islower() or each["why"][0].isdigit()


def test_a_way_that_was_asked_for_by_name_says_where_whether_it_can_be_or_not(compare):
    job = INCHES | {"cloth_widths": ["8", "54", "90", "120", "8 in"], "styles": [{"style": "wave"}, {"style": "box"}]}
    job["window"] = job["window"] | {"rod": {"width": 22, "return": 0, "draw": "one-way-left"}, "fullness": 2}
    reply = compare(job)
    told = {each["at"]: each for each in reply["ways"] + reply["impossible"] if each["at"] is not None}
    # Its own width is no other, and one named twice is tried once.
    assert told.keys() == {"/cloth_widths/0", "/cloth_widths/2", "/cloth_widths/3", "/styles/0", "/styles/1"}
    assert [told[f"/styles/{place}"]["style"] for place in (0, 1)] == ["wave", "box"]
    impossible = {each["at"]: each["what"] for each in reply["impossible"]}
    assert (
        impossible.items()
        >= {
            "/cloth_widths/0": "The cloth 8 in wide",
            "/cloth_widths/2": "The cloth 90 in wide",
        }.items()
    )
    unnamed = {way["change"] for way in reply["ways"] if way["at"] is None}
    assert "as-asked" in unnamed
    assert not unnamed & {"style", "cloth-width"}


def test_each_panel_of_an_unequal_pair_has_half_a_width_more_or_less_and_a_pleat_or_two(compare):
    """40 of 120 in, and 80: panels of 40 + 1 1/2 + 3 1/2 = 45 and 85."""
    reply = compare(OFF_CENTRE, with_rates(OFF_CENTRE))
    asked = the_way(reply, "as-asked")["window"]["panels"]
    assert [panel["finished_width"] for panel in asked] == [45, 85]
    widths, counts = ([panel["widths"] for panel in asked], [panel["pleats"]["pleat_count"] for panel in asked])
    assert widths[0] != widths[1]
    assert counts[0] != counts[1]
    seen = set()
    for way in reply["ways"]:
        panels = way["window"]["panels"]
        assert [panel["side"] for panel in panels] == ["left", "right"]
        more = {"half-width-more": 0.5, "half-width-less": -0.5, "pleat-count": 0}.get(way["change"])
        if more is None:
            continue
        seen.add(way["change"])
        assert [panel["widths"] for panel in panels] == [each + more for each in widths]
        for panel, each in zip(panels, widths, strict=True):
            # w x 54 - (seams) - 6, as by TRADE 2.
            assert panel["flat_width"] == 54 * (each + more) - len(panel["seams"]) - 6
        if way["change"] == "pleat-count":
            found = [panel["pleats"]["pleat_count"] for panel in panels]
            assert len({here - there for here, there in zip(found, counts, strict=True)}) == 1
    assert seen >= {"pleat-count", "half-width-more"}


def merits(way):
    """Return what a way is judged by, from the figures that a client is shown."""
    panels = way["window"]["panels"]
    flat, finished = (sum(Fraction(str(panel[side])) for panel in panels) for side in ("flat_width", "finished_width"))
    return {
        "seams": way["seams_not_hidden"],
        "total": None if way["total"] is None else Decimal(way["total"]),
        "cloth": way["cloth"],
        "fullness": flat / finished,
        "unevenness": way["unevenness"],
    }


ORDER = (("seams", 1), ("total", 1), ("cloth", 1), ("fullness", -1), ("unevenness", 1))


def better_by(one, other):
    """Return the sign of what is better, worse or the same, for each of the merits in the order that they matter."""
    signs = []
    for name, sign in ORDER:
        here, there = one[name], other[name]
        signs.append(0 if here == there else sign if here < there else -sign)
    return signs


@pytest.mark.parametrize("priced", [True, False])
@pytest.mark.parametrize("job", [INCHES, METRIC, OFF_CENTRE], ids=["inches", "metric", "off centre"])
def test_the_ways_stand_in_order_of_what_is_shown_and_each_that_is_beaten_names_the_first_that_beats_it(
    compare, job, priced
):
    if not priced and "fabrics" not in job:
        job = job | {"fabrics": {"Teasel, rust on oat": {"width": 54, "vertical_repeat": "25 1/4"}}}
    job = job | {"styles": [{"style": style} for style in ("goblet", "three-fold-pinch", "pencil", "wave", "goblet")]}
    ways = compare(job, with_rates(job) if priced else None)["ways"]
    shown = [merits(way) for way in ways]
    assert all((each["total"] is not None) == priced for each in shown)
    for (_, before), (_, after) in combinations(enumerate(shown), 2):
        differing = [sign for sign in better_by(before, after) if sign]
        assert not differing or differing[0] > 0
    for way, mine in zip(ways, shown, strict=True):
        winners = [
            place
            for place, (other, theirs) in enumerate(zip(ways, shown, strict=True), 1)
            if other["style"] == way["style"] and 1 in (signs := better_by(theirs, mine)) and -1 not in signs
        ]
        assert way["dominated_by"] == (winners[0] if winners else None)
    if priced:
        assert any(way["dominated_by"] for way in ways) or job["units"] == "cm"


@pytest.mark.parametrize("job", JOBS.values(), ids=JOBS)
def test_what_is_shown_of_a_way_is_what_its_window_and_materials_come_to(compare, job):
    for way in compare(job, with_rates(job))["ways"]:
        panels, units = way["window"]["panels"], job["units"]
        flat, finished = (sum(panel[side] for panel in panels) for side in ("flat_width", "finished_width"))
        assert way["fullness"] == pytest.approx(flat / finished, abs=5.1e-4)
        [fabric] = way["materials"]["fabrics"]
        assert way["cloth"] == fabric["length"]
        assert way["cloth"] == in_units(parse_length(fabric["quantity"]), units)
        assert way["cloth"] >= fabric["run_length"] > 0
        take_ups = [take_up for panel in panels for take_up in ranges(panel)]
        widest = max(take_ups) - min(take_ups) if take_ups else 0
        assert way["unevenness"] == pytest.approx(widest, abs=2.1e-3)
        places = [seam["place"] for panel in panels for seam in panel["pleats"]["seams"]]
        on_show = [place for place in places if place in PLACES]
        assert way["seams_not_hidden"] == len(on_show)
        assert way["total"] == way["price"]["total"]
        assert way["price"]["range"] is None


def ranges(panel):
    found = panel["pleats"]["take_up"]
    return [found["least"], found["most"]] if found else []


REASON = re.compile(
    r"(?P<what>[^:]+): (?:(?P<more>fuller|less full), )?(?P<times>\d\.\d\d) times the width, "
    r"(?P<seams>every seam hidden|(?:(?:(?:, )?(?:1 seam|[2-9]\d* seams|1\d+ seams) "
    r"(?:on show|in the way|inside a pleat))+))"
    r"(?:, (?P<currency>[A-Z]{3}) (?P<money>\d+(?:\.\d+)?)(?: (?P<than>dearer|cheaper))?)?\."
)


PLACES = {"in-space": "on show", "in-front-fold": "on show", "at-point": "in the way", "inside-pleat": "inside a pleat"}


def seams_told(text):
    return {words: int(number) for number, words in re.findall(r"(\d+) seams? ([a-z ]+)", text)}


def seams_shown(way):
    places = [seam["place"] for panel in way["window"]["panels"] for seam in panel["pleats"]["seams"]]
    words = [PLACES[place] for place in places if place in PLACES]
    assert len(words) == way["seams_not_hidden"]
    return {each: words.count(each) for each in words}


@pytest.mark.parametrize("priced", [True, False])
@pytest.mark.parametrize("job", JOBS.values(), ids=JOBS)
def test_a_reason_is_one_line_and_true_of_the_figures(compare, job, priced):
    if not priced and "fabrics" not in job:
        job = job | {"fabrics": {"Teasel, rust on oat": {"width": 54, "vertical_repeat": "25 1/4"}}}
    reply = compare(job, with_rates(job) if priced else None)
    asked = the_way(reply, "as-asked")
    for way in reply["ways"]:
        told = REASON.fullmatch(way["reason"])
        assert told, way["reason"]
        assert Decimal(told["times"]) == pytest.approx(Decimal(str(way["fullness"])), abs=Decimal("0.0056"))
        assert seams_told(told["seams"]) == seams_shown(way)
        more = merits(way)["fullness"] - merits(asked)["fullness"]
        if way["style"] != asked["style"]:
            assert told["more"] is None
        elif abs(more) >= Fraction(51, 10000):
            assert told["more"] == ("fuller" if more > 0 else "less full")
        elif abs(more) <= Fraction(49, 10000):
            assert told["more"] is None
        if not priced:
            assert told["money"] is None
            continue
        assert told["currency"] == way["price"]["currency"]
        dearer = Decimal(way["total"]) - Decimal(asked["total"])
        assert told["than"] == (None if dearer == 0 else "dearer" if dearer > 0 else "cheaper")
        assert Decimal(told["money"]) == (abs(dearer) or Decimal(way["total"]))
    assert asked["reason"].startswith("As asked: ")


def test_a_seam_that_a_point_would_pierce_is_told_of_as_in_the_way(compare):
    [way] = [way for way in compare(EYELETS, None)["ways"] if way["change"] == "half-width-more"]
    assert seams_shown(way) == {"in the way": 2}
    assert "2 seams in the way" in way["reason"]


def test_a_reason_says_what_is_other_about_a_way(compare, headings):
    """In the words that a customer is told it in, and in the figures of the way itself."""
    reply = compare(INCHES)
    for way in reply["ways"]:
        what = REASON.fullmatch(way["reason"])["what"]
        panels = way["window"]["panels"]
        match way["change"]:
            case "half-width-more" | "half-width-less":
                assert what == f"Half a width of cloth {way['change'].rpartition('-')[2]} in each panel"
            case "pleat-count":
                assert what == f"{panels[0]['pleats']['pleat_count']} pleats in each panel"
            case "style":
                assert what == headings.installed[way["style"]].heading.label
            case "cloth-width":
                assert what in ("The cloth 48 in wide", "The cloth 60 in wide")
            case other:
                assert (other, what) == ("as-asked", "As asked")
    whole = copy.deepcopy(INCHES)
    whole["window"]["make_up"] = {"widths": "whole"}
    whole["window"]["rod"] = {"width": 132}
    found = [way for way in compare(whole)["ways"] if way["change"].startswith("half-width")]
    assert found
    for way in found:
        assert way["reason"].startswith(f"A width of cloth {way['change'].rpartition('-')[2]} in each panel: ")


def test_the_pleats_of_unequal_panels_are_told_of_each(compare):
    ways = [way for way in compare(OFF_CENTRE, with_rates(OFF_CENTRE))["ways"] if way["change"] == "pleat-count"]
    assert ways
    for way in ways:
        left, right = (panel["pleats"]["pleat_count"] for panel in way["window"]["panels"])
        assert way["reason"].startswith(f"{left} pleats in the left panel and {right} pleats in the right panel: ")


def test_of_a_single_panel_nothing_is_said_to_be_in_each(compare):
    job = INCHES | {"window": INCHES["window"] | {"rod": {"width": 60, "draw": "one-way-left"}}}
    reply = compare(job)
    assert {way["change"] for way in reply["ways"]} >= {"pleat-count", "half-width-more"}
    assert not [way["reason"] for way in reply["ways"] if "each" in way["reason"]]


def test_a_reason_and_a_caution_do_not_contradict_each_other(compare):
    window = INCHES["window"] | {"heading": {"style": "box"}, "rod": {"width": 72}, "fullness": 1.8}
    ways = compare(INCHES | {"window": window})["ways"]
    inside = [
        (way, caution)
        for way in ways
        for caution in way["window"]["cautions"]
        if caution["kind"] == "seam-inside-pleat"
    ]
    assert inside, "the example has lost its seam inside a pleat"
    for way, caution in inside:
        assert not ("not hidden" in way["reason"] and "hidden, but bulky" in caution["detail"])


def test_without_a_rate_book_nothing_is_priced_and_the_order_goes_by_the_cloth(compare):
    job = INCHES | {"fabrics": {"Teasel, rust on oat": {"width": 54}}}
    reply = compare(job, None)
    assert len(reply["ways"]) > 5
    for way in reply["ways"]:
        assert way["total"] is way["price"] is None
        assert "workroom" not in way
        assert "GBP" not in way["reason"]
    by_cloth = [(way["seams_not_hidden"], way["cloth"], -way["fullness"]) for way in reply["ways"]]
    assert by_cloth == sorted(by_cloth)
    # The workroom's view was asked for, and it is said why there is none.
    assert [each["kind"] for each in reply["cautions"]].count("not-priced") == 1
    assert "not-priced" not in {each["kind"] for each in compare(job | {"pricing": {}}, None)["cautions"]}


def test_a_cloth_of_the_rate_book_need_only_be_named(compare, faults):
    job = {name: value for name, value in INCHES.items() if name != "fabrics"}
    described = {"width": "54 in", "vertical_repeat": "25 1/4 in", "horizontal_repeat": "27 in"}
    by_book, by_job = compare(job), compare(job | {"fabrics": {"Teasel, rust on oat": described}})
    assert by_book["ways"] == by_job["ways"]
    # What the book leaves out of a cloth is the workroom's to know; what the job leaves out is assumed.
    assert [each for each in by_job["assumed"] if each not in by_book["assumed"]] == [
        {"at": f"/fabrics/Teasel, rust on oat/{field}", "value": value, "measure": "length"}
        for field, value in (("increment", 4.5), ("thickness", 0.03125))
    ]
    assert list(faults(job, None)) == ["/window/fabric"]
    # One that the job describes goes before the book's of that name.
    narrow = compare(job | {"fabrics": {"Teasel, rust on oat": {"width": 45}}})
    assert the_way(narrow, "as-asked")["window"] != the_way(compare(job), "as-asked")["window"]


def test_two_styles_the_same_are_two_ways_the_same_and_neither_beats_the_other(compare):
    ways = compare(INCHES | {"styles": [{"style": "goblet"}, {"style": "goblet"}]})["ways"]
    one, other = [(place, way) for place, way in enumerate(ways, 1) if way["change"] == "style"]
    assert one[1] == other[1] | {"at": "/styles/0"}
    assert other[0] == one[0] + 1
    assert one[1]["dominated_by"] is None


def test_two_styles_that_differ_in_an_option_are_two_ways(compare):
    styles = [{"style": "goblet"}, {"style": "goblet", "buckram_depth": "6 in"}]
    ways = [way for way in compare(INCHES | {"styles": styles})["ways"] if way["change"] == "style"]
    assert len(ways) == 2
    assert ways[0]["window"] != ways[1]["window"]


def test_the_style_as_asked_again_is_a_way_in_its_own_usual_fullness(compare, headings):
    """65 finished: 2.2 times is 143, which three widths of 154 reach; the usual 160 and more take three and a half."""
    usual = workroom.heading("three-fold-pinch", headings, "in").fullness.usual
    job = WIDER | {"styles": [{"style": "three-fold-pinch"}], "window": WIDER["window"] | {"fullness": 2.2}}
    reply = compare(job)
    again, asked = the_way(reply, "style"), the_way(reply, "as-asked")
    assert (asked["fullness"], again["fullness"]) == (round(154 / 65, 3), round(180 / 65, 3))
    assert asked["fullness"] < usual <= again["fullness"]
    assert "fuller" in again["reason"]


def test_the_same_request_gives_the_same_ways(compare):
    for job in JOBS.values():
        assert compare(job, with_rates(job)) == compare(copy.deepcopy(job), with_rates(job))


def test_pieces_on_the_shelf_are_let_be(compare):
    """Ways are compared in cloth off one run: a shelf with far too little changes nothing."""
    [(name, fabric)] = METRIC["fabrics"].items()
    shelf = METRIC | {"fabrics": {name: fabric | {"bolts": [{"length": 40, "lot": "7", "flaws": [{"start": 3}]}]}}}
    assert compare(shelf, with_rates(METRIC)) == compare(METRIC, with_rates(METRIC))
    for way in compare(shelf, with_rates(METRIC))["ways"]:
        assert way["materials"]["fabrics"][0]["shelf"] is None


def test_a_sheer_has_no_over_drapery_to_hang_behind_where_one_window_is_compared(faults):
    sheer = copy.deepcopy(TURNED)
    sheer["window"] |= {"behind": {"window": "Bay"}, "hang": None}
    found = faults(sheer, None)
    assert list(found) == ["/window/behind/window"]
    # By its own label neither.
    sheer["window"] |= {"label": "Bay"}
    assert list(faults(sheer, None)) == ["/window/behind/window"]
    sheer["window"] |= {"hang": {"drop": 84}}
    assert list(faults(sheer, None)) == ["/window/behind/window"]


WRONG = {
    "/window/rod/width": {"rod": {"width": 0}},
    "/window/rod/overlap": {"rod": {"width": 96, "overlap": 99}},
    "/window/rod/parting": {"rod": {"width": 96, "draw": "off-centre-pair"}},
    "/window/hang/clearance": {"hang": {"drop": 84, "clearance": 90}},
    "/window/hang/to_height": {"hang": {"carrying_height": 84, "to": "sill"}},
    "/window/hang/mount/kind": {"hang": {"drop": 84, "mount": {"kind": "through-heading"}}},
    "/window/fabric": {"fabric": "No such cloth"},
    "/window/fullness": {"fullness": 6},
    "/window/heading/buckram_depth": {"heading": {"style": "goblet", "buckram_depth": "99 m"}},
    "/window/make_up/width_count": {"make_up": {"width_count": 0.5}},
    "/window/lining/shorter": {"lining": {"shorter": 99}},
    "/window/pin/depth": {"pin": {"depth": 1}},
    "/window/glass/width": {"glass": {"width": 0}},
    "/window/mark": {"mark": 0},
}


@pytest.mark.parametrize("pointer", WRONG)
def test_a_fault_is_placed_where_the_comparison_has_the_field(faults, pointer):
    job = INCHES | {"window": INCHES["window"] | WRONG[pointer]}
    assert pointer in faults(job)
    assert all(at.startswith("/window/") for at in faults(job))


def test_faults_outside_of_the_window_are_placed_where_they_are(faults):
    assert list(faults(INCHES | {"cloth_widths": ["54", "0"]})) == ["/cloth_widths/1"]
    job = METRIC | {"fabrics": {"Wool": {"width": 280, "bolt_length": 500}}}
    assert list(faults(job, None)) == ["/fabrics/Wool/bolt_length"]
    assert list(faults(INCHES | {"pricing": {"discount": "Nobody's"}})) == ["/pricing/discount"]


def test_all_faults_are_told_at_once(faults):
    job = INCHES | {"window": INCHES["window"] | {"rod": {"width": 0}, "pin": {"depth": 1}}, "cloth_widths": ["0"]}
    assert set(faults(job)) == {"/window/rod/width", "/window/pin/depth", "/cloth_widths/0"}


@pytest.mark.parametrize(
    "fabric",
    [{"width": 54, "railroaded": True}, {"width": 0.5}, {"width": 54, "selvage": 27}],
    ids=lambda each: str(each),
)
def test_a_fault_of_the_cloth_is_placed_in_a_field_that_the_request_has(faults, fabric):
    job = INCHES | {"fabrics": {"Teasel, rust on oat": fabric}}
    assert all(at.startswith("/fabrics/Teasel, rust on oat/") for at in faults(job))


def test_a_way_that_is_not_priced_says_what_the_book_lacks(compare):
    """No entry for all other styles, and none for goblets."""
    entry = LARKFIELD.index("[[labour]]                      # all other styles")
    book = LARKFIELD[:entry] + LARKFIELD[LARKFIELD.index("# ---- Surcharges") :]
    assert '"goblet", ' in book
    reply = compare(INCHES, book.replace('"goblet", ', ""))
    [way] = [way for way in reply["ways"] if way["style"] == "goblet"]
    assert way["price"] is None
    [caution] = way["cautions"]
    assert caution["kind"] == "not-priced"
    assert "labour: goblet" in caution["detail"]
    assert all(other["cautions"] == [] for other in reply["ways"] if other["price"])


def test_a_way_that_is_not_priced_stands_after_all_that_are_and_neither_beats_nor_is_beaten(compare):
    entry = LARKFIELD.index("[[labour]]                      # all other styles")
    book = LARKFIELD[:entry] + LARKFIELD[LARKFIELD.index("# ---- Surcharges") :]
    reply = compare(INCHES, book.replace('"goblet", ', ""))
    *others, last = reply["ways"]
    assert (last["style"], last["total"], last["price"], last["dominated_by"]) == ("goblet", None, None, None)
    assert REASON.fullmatch(last["reason"])["money"] is None
    assert all(way["total"] is not None for way in others)


@pytest.mark.parametrize("discount", ["Trade", None])
@pytest.mark.parametrize("view", ["customer", "workroom"])
def test_each_way_is_priced_with_what_was_asked_for(compare, view, discount):
    pricing = {"view": view, "rush": True, "fitting": True, "discount": discount}
    for way in compare(INCHES | {"pricing": pricing})["ways"]:
        kinds = [line["what"] for line in way["price"]["lines"]]
        assert ("Within the week" in kinds, "Fitting" in kinds, "Trade" in kinds) == (True, True, bool(discount))
        assert ("workroom" in way) == (view == "workroom")
