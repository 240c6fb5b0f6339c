"""Bytes in; a request, or every fault at once with its place and what to do about it."""

import copy
import json
import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from pleatwright.contract.openapi import COMPONENTS, document
from pleatwright.contract.reading import RequestReader, UnreadableError
from pleatwright.contract.requests import EstimateRequest, PanelRequest, PinsRequest, PleatsRequest, RepeatRequest
from pleatwright.faults import json_pointer
from pleatwright.headings.host import find_headings
from pleatwright.lengths import PATTERN, SIGNED_PATTERN

EXAMPLES = Path(__file__).parents[2] / "openapi" / "examples"
VALID = {name: json.loads((EXAMPLES / f"{name}.json").read_text()) for name in ("panel", "pleats", "pins", "repeat")}
VALID["estimate"] = json.loads((EXAMPLES / "estimate-metric.json").read_text())
TYPES = {
    "panel": PanelRequest,
    "pleats": PleatsRequest,
    "pins": PinsRequest,
    "repeat": RepeatRequest,
    "estimate": EstimateRequest,
}
STYLES = ", ".join(find_headings().installed)
ABSENT = object()


def changed(operation, changes):
    """Return the operation's example with the values at these JSON Pointers changed, added or left out."""
    request = copy.deepcopy(VALID[operation])
    for pointer, value in changes.items():
        *way, last = [int(part) if part.isdecimal() else part for part in pointer.split("/")[1:]]
        place = request
        for part in way:
            place = place[part] if isinstance(place, list) else place.setdefault(part, {})
        if value is ABSENT:
            del place[last]
        else:
            place[last] = value
    return request


def faults_of(reader, operation, request):
    """Return the faults of a request by their JSON Pointers, whether found while it is decoded or while it is read."""
    body = request if isinstance(request, bytes) else json.dumps(request).encode()
    try:
        reader.read(operation, body)
    except UnreadableError as error:
        return {json_pointer(fault.where): fault for fault in error.faults}
    return {json_pointer(fault.where): fault for fault in reader.faults(operation, body)}


def refusal(reader, operation, body):
    with pytest.raises(UnreadableError) as caught:
        reader.read(operation, body)
    return caught.value


@pytest.mark.parametrize("operation", VALID)
def test_a_right_request_is_read_into_its_type_and_has_no_fault(operation, request_reader):
    body = json.dumps(VALID[operation]).encode()
    assert isinstance(request_reader.read(operation, body), TYPES[operation])
    assert request_reader.faults(operation, body) == []


def test_every_fault_is_found_at_once_with_its_json_pointer(request_reader):
    request = changed(
        "panel",
        {
            "/units": "inch",
            "/rod/width": "96 ells",
            "/rod/return": "3,5",
            "/rod/draw": "sideways",
            "/hang/carrying_heigth": "84",
            "/fabric/width": ["54"],
            "/fabric/drop_match": 0.5,
            "/heading/style": "three-fold-pich",
            "/fullness": "250%",
            "/make_up/widths": "thirds",
            "/make_up/width_count": 0.25,
            "/worksheet": "yes",
        },
    )
    assert set(faults_of(request_reader, "panel", request)) == {
        "/units",
        "/rod/width",
        "/rod/return",
        "/rod/draw",
        "/hang/carrying_heigth",
        "/fabric/width",
        "/fabric/drop_match",
        "/heading/style",
        "/fullness",
        "/make_up/widths",
        "/make_up/width_count",
        "/worksheet",
    }


def test_faults_deep_in_a_job_are_found_in_every_window_and_fabric(request_reader):
    request = changed(
        "estimate",
        {
            "/windows/0/label": "",
            "/windows/0/heading/space": {"least": "a hand"},
            "/windows/1/hang/to": "knee",
            "/windows/1/lining/shorter": "-1",
            "/windows/1/pin/rise": "1 3/0",
            "/fabrics/Moor wool/width": ABSENT,
            "/fabrics/a~b": {"width": "54 ells"},
        },
    )
    assert set(faults_of(request_reader, "estimate", request)) == {
        "/windows/0/label",
        "/windows/0/heading/space/least",
        "/windows/1/hang/to",
        "/windows/1/lining/shorter",
        "/windows/1/pin/rise",
        "/fabrics/Moor wool/width",
        "/fabrics/a~0b/width",
    }


FAULTS = [
    ("panel", "/fabric/width", ABSENT, "width is missing: add it", None, "required"),
    ("panel", "/hang", ABSENT, "hang is missing: add it", None, "required"),
    ("panel", "/rod", ABSENT, "rod is missing: add it", None, "required"),
    ("pleats", "/flat_width", ABSENT, "flat_width is missing: add it", None, "required"),
    ("estimate", "/windows/1/rod", ABSENT, "rod is missing: add it", None, "required"),
    ("panel", "/rod/overlapp", 3, 'no field of this name: did you mean "overlap"?', "overlapp", "overlap"),
    ("panel", "/fulness", 2.5, 'no field of this name: did you mean "fullness"?', "fulness", "fullness"),
    ("pleats", "/heading/take_up", {"leest": "4"}, None, None, None),
    ("panel", "/colour", "oat", "no field of this name: leave it out", "colour", "units, rod"),
    ("panel", "/make_up", "usual", "must be an object", "usual", "an object"),
    ("panel", "/rod", ["96"], "must be an object", "a list", "an object"),
    ("pleats", "/seams", "50 1/2", "must be a list", "50 1/2", "a list"),
    ("pleats", "/seams", None, "must be a list", "null", "a list"),
    ("estimate", "/windows/0/label", 7, "must be a text", "7", "a text"),
    ("panel", "/worksheet", 1, "must be true or false", "1", "true or false"),
    ("repeat", "/cuts", "6", "must be a whole number", "6", "a whole number"),
    ("repeat", "/cuts", 6.5, "must be a whole number", "6.5", "a whole number"),
    ("repeat", "/cuts", None, "must be a whole number", "null", "a whole number"),
    ("repeat", "/cuts", 0, "must be 1 or more", "0", "1 or more"),
    ("repeat", "/cuts", 1001, "must be 1000 or less", "1001", "1000 or less"),
    ("pleats", "/pleat_count", 1, "must be 2 or more", "1", "2 or more"),
    ("pleats", "/pleat_count", 1001, "must be 1000 or less", "1001", "1000 or less"),
    ("panel", "/make_up", {"width_count": 100.5}, None, None, None),
    ("estimate", "/windows", [], "needs 1 or more entries", "a list", "1 or more"),
    ("pleats", "/seams", ["50"] * 201, "takes up to 200 entries", "a list", "up to 200"),
    ("estimate", "/windows/0/label", "", "needs 1 or more characters", "", "1 or more"),
    ("estimate", "/windows/0/label", "o" * 81, "takes up to 80 characters", "o" * 60 + "…", "up to 80"),
    ("panel", "/units", "IN", "not one of the choices", "IN", "cm, in, mm"),
    ("panel", "/rod/draw", "pear", 'did you mean "pair"?', "pear", "pair"),
    ("panel", "/hang/to", "flor", 'did you mean "floor"?', "flor", "floor"),
    ("repeat", "/drop_match", "2/4", "write it as straight or 1/2 or 1/3", "2/4", "straight or 1/2"),
    ("panel", "/heading/style", "three-fold-pich", 'did you mean "three-fold-pinch"?', "three-fold-pich", STYLES),
    ("panel", "/heading/style", "no-such", f"choose {STYLES}", "no-such", STYLES),
    ("panel", "/heading/style", 3, "not one of the choices", "3", STYLES),
    ("panel", "/heading/style", ABSENT, "style is missing: add it", None, "required"),
    ("panel", "/heading", "three-fold-pinch", "must be an object", "three-fold-pinch", "an object"),
    ("panel", "/heading", None, "must be an object", "null", "an object"),
]


@pytest.mark.parametrize(("operation", "pointer", "value", "detail", "seen", "allowed"), FAULTS)
def test_a_fault_says_where_it_is_and_what_to_do(operation, pointer, value, detail, seen, allowed, request_reader):
    found = faults_of(request_reader, operation, changed(operation, {pointer: value}))
    [(where, fault)] = found.items()
    if detail is None:
        assert where.startswith(pointer + "/")
        return
    assert where == pointer
    assert detail in fault.detail
    assert fault.seen == seen
    assert allowed in fault.allowed


def test_a_misspelt_option_of_a_style_is_placed_in_the_heading(request_reader):
    request = changed("pleats", {"/heading/take_up": {"leest": "4"}, "/heading/buckram": "4"})
    found = faults_of(request_reader, "pleats", request)
    assert set(found) == {"/heading/take_up/leest", "/heading/buckram"}
    assert 'did you mean "least"?' in found["/heading/take_up/leest"].detail
    assert 'did you mean "buckram_depth"?' in found["/heading/buckram"].detail


def test_a_count_of_widths_goes_in_halves(request_reader):
    fault = faults_of(request_reader, "panel", changed("panel", {"/make_up/width_count": 2.25}))["/make_up/width_count"]
    assert "steps of 0.5" in fault.detail
    assert faults_of(request_reader, "panel", changed("panel", {"/make_up/width_count": 2.5})) == {}


def test_a_whole_number_may_be_written_with_a_point(request_reader):
    body = json.dumps(changed("repeat", {"/cuts": 6.0})).encode()
    assert b"6.0" in body
    assert request_reader.read("repeat", body).cuts == 6


REFUSED_LENGTHS = [
    ("1,5", "two meanings: write 1.5 with a point, or 15 without the comma"),
    ("84 1/0", "divides by zero"),
    ("1e3", "exponent"),
    ("5²", "exponent"),
    ("84 parsecs", "unit not known here; the units are in, ft, yd, mm, cm and m"),
    ("84 IN", "small letters"),
    ("", "is empty"),
    ("7' 13\"", "feet and inches, which go up to 11"),
    ("eighty-four", "84.5"),
    ("9" * 41, "over 40 characters"),
    ("-3", "negative"),
    (-3, "negative"),
    (1e7, "longer than 1000 m"),
    ("2 km", "unit not known here"),
    (True, "a length is a number or a text"),
    (["84"], "a length is a number or a text"),
    ({"in": 84}, "a length is a number or a text"),
    (None, "a length is a number or a text"),
]


@pytest.mark.parametrize(("value", "reason"), REFUSED_LENGTHS)
def test_a_length_is_refused_with_its_reason(value, reason, request_reader):
    found = faults_of(request_reader, "repeat", changed("repeat", {"/cut_length": value}))
    assert set(found) == {"/cut_length"}
    assert reason in found["/cut_length"].detail


def test_a_length_that_may_be_negative_is_refused_for_what_else_is_wrong(request_reader):
    assert faults_of(request_reader, "panel", changed("panel", {"/hang/clearance": "-1 1/2"})) == {}
    found = faults_of(request_reader, "panel", changed("panel", {"/hang/clearance": "--1"}))
    assert "84.5" in found["/hang/clearance"].detail


@pytest.mark.parametrize("length", ["1 3/2", "2000 m", "40000 in", 39_371, "7' 11 12/8\""])
def test_a_length_that_the_schema_allows_is_left_to_the_workroom_to_refuse(length, request_reader):
    assert faults_of(request_reader, "repeat", changed("repeat", {"/cut_length": length})) == {}


@pytest.mark.parametrize("value", ["", "banana", "1,5", -1, 2_000_000, "1" * 41])
def test_a_length_that_nothing_is_reckoned_from_is_held_to_the_contract_too(value, request_reader):
    asked = {"units": "in", "cut_length": "90", "cuts": 2, "mark": value}
    with pytest.raises(UnreadableError) as refused:
        request_reader.read("repeat", json.dumps(asked).encode())
    assert [json_pointer(fault.where) for fault in refused.value.faults] == ["/mark"]


@pytest.mark.parametrize("units", ["in", "cm", "mm"])
def test_a_bare_number_over_a_million_is_refused_in_any_unit(units, request_reader):
    request = changed("repeat", {"/units": units, "/cut_length": 1_000_000, "/increment": 1_000_001})
    assert set(faults_of(request_reader, "repeat", request)) == {"/increment"}


@pytest.mark.parametrize(
    ("value", "of_width", "over"),
    [
        (250, "2.5", "3.5"),
        (200.0, "2", "3"),
        ("250%", "2.5", "3.5"),
        ("200 percent", "2", "3"),
        ("225 per cent", "2.25", "3.25"),
        (" 300 % ", "3", "4"),
    ],
)
def test_a_percentage_of_fullness_is_refused_with_both_of_its_readings(value, of_width, over, request_reader):
    found = faults_of(request_reader, "panel", changed("panel", {"/fullness": value}))
    detail = found["/fullness"].detail
    assert f"is read as {of_width} times the width in federal guide specifications (UFGS 12 22 00)" in detail
    assert f"and as {over} times in stage-curtain work" in detail
    assert detail.endswith(f"Write {of_width} or {over}")


@pytest.mark.parametrize("value", ["2.5", 0, 0.99, 6.01, 7, 49, True, [2.5], {}, -2, "full", "", 1e300])
def test_any_other_fullness_is_refused_with_how_to_write_it(value, request_reader):
    found = faults_of(request_reader, "panel", changed("panel", {"/fullness": value}))
    assert "a number from 1 to 6" in found["/fullness"].detail
    assert "write it as 2.5" in found["/fullness"].detail


@pytest.mark.parametrize("value", ["50%", "99 percent", 700, "700%", 10**20])
def test_a_percentage_is_not_answered_with_a_fullness_that_would_be_refused_too(value, request_reader):
    detail = faults_of(request_reader, "panel", changed("panel", {"/fullness": value}))["/fullness"].detail
    advised = re.search(r"[Ww]rite (.*)$", detail)[1]
    assert all(1 <= float(number) <= 6 for number in re.findall(r"[0-9.]+", advised))


NOT_JSON = [
    b"",
    b" ",
    b"{",
    b"{]",
    b"rod: 96",
    b"<rod/>",
    b'{"units": "in",}',
    b"{'units': 'in'}",
    b'{"units": "in"} {"units": "in"}',
    b'{"cut_length": NaN}',
    b'{"cut_length": Infinity}',
    b'{"cut_length": -Infinity}',
    b'{"cut_length": 084}',
    b'{"cut_length": .5}',
    b'{"units": "\\ud800"}',
    b"\x00",
    b"\xef\xbb\xbf{}",
    b"\xff\xfe{\x00}\x00",
]


@pytest.mark.parametrize("operation", VALID)
@pytest.mark.parametrize("body", NOT_JSON)
def test_what_is_not_json_is_said_to_be_none(operation, body, request_reader):
    error = refusal(request_reader, operation, body)
    assert error.detail.startswith("The request is not JSON")
    assert error.faults == ()


@pytest.mark.parametrize("body", [b'{"units": "\xff"}', b'{"\xc3\x28": 1}', b'{"job": "\xed\xa0\x80"}'])
def test_what_is_not_utf_8_is_said_to_be_none(body, request_reader):
    error = refusal(request_reader, "estimate", body)
    assert "not JSON" in error.detail
    assert "not UTF-8" in error.detail


@pytest.mark.parametrize(
    "body",
    [
        b"[" * 200_000,
        b'{"a":' * 40_000,
        b"[" * 100_000 + b"]" * 100_000,
        b'{"units":' + b"[" * 100_000 + b"]" * 100_000 + b"}",
        b'{"seams":' + b"[" * 100_000 + b"]" * 100_000 + b"}",
    ],
)
def test_deep_nesting_is_refused_in_words(body, request_reader):
    assert "nested too deeply" in refusal(request_reader, "pleats", body).detail


@pytest.mark.parametrize("depth", [10, 100, 300, 500, 700, 900, 950, 1000])
@pytest.mark.parametrize("field", ["units", "heading", "seams", "flat_width", "fullness", "unheard"])
def test_nesting_of_any_depth_is_refused_and_never_breaks(depth, field, request_reader):
    body = json.dumps(changed("pleats", {f"/{field}": "here"})).replace('"here"', "[" * depth + "]" * depth)
    error = refusal(request_reader, "pleats", body.encode())
    assert error.faults or "nested too deeply" in error.detail


@pytest.mark.parametrize("digits", [19, 20, 39, 309, 400, 4000, 5000, 50_000])
@pytest.mark.parametrize(
    ("operation", "field"),
    [
        ("repeat", "cuts"),
        ("repeat", "cut_length"),
        ("repeat", "units"),
        ("pleats", "pleat_count"),
        ("panel", "fullness"),
        ("panel", "worksheet"),
    ],
)
def test_a_huge_number_is_refused_and_not_echoed_whole(digits, operation, field, request_reader):
    text = json.dumps(changed(operation, {f"/{field}": "here"})).replace('"here"', "9" * digits)
    error = faults_or_refusal(request_reader, operation, text.encode())
    assert error
    assert all(len(part) < 700 for part in error)


@pytest.mark.parametrize("number", ["1e308", "-1e308", "1e309", "1e-400", "1e999999999", "-0", "1E400", "9" * 400])
@pytest.mark.parametrize("field", ["width_count", "side_hem"])
def test_a_number_beyond_floating_point_breaks_nothing(number, field, request_reader):
    text = json.dumps(changed("panel", {f"/make_up/{field}": "here"})).replace('"here"', number)
    faults_or_refusal(request_reader, "panel", text.encode())


def faults_or_refusal(reader, operation, body):
    """Return the texts of everything that is said against a request."""
    try:
        found = faults_of(reader, operation, body).values()
        reader.read(operation, body)
    except UnreadableError as error:
        found = error.faults
        if error.detail:
            return [error.detail]
    return [
        text for fault in found for text in (*map(str, fault.where), fault.detail, fault.seen, fault.allowed) if text
    ]


@pytest.mark.parametrize(
    "changes",
    [
        {f"/{'x' * 200_000}": 1},
        {f"/rod/{'x' * 200_000}": 1},
        {f"/heading/{'x' * 200_000}": 1},
        {"/units": "x" * 200_000},
        {"/heading/style": "x" * 200_000},
        {"/rod/width": "9" * 200_000},
        {"/fullness": "9" * 200_000},
        {"/fullness": ["x" * 200_000]},
        {f"/field-{number}-{'y' * 1900}": 1 for number in range(100)},
        {f"/f{number}": 1 for number in range(20_000)},
    ],
)
def test_a_clients_own_text_is_echoed_short(changes, request_reader):
    body = json.dumps(changed("panel", changes)).encode()
    texts = faults_or_refusal(request_reader, "panel", body)
    assert texts
    assert max(map(len, texts)) < 400
    assert sum(map(len, texts)) < 40_000


@pytest.mark.parametrize("value", [None, [], "panel", 5, True])
def test_what_is_not_an_object_is_no_request(value, request_reader):
    [(where, fault)] = faults_of(request_reader, "panel", value).items()
    assert where == ""
    assert "must be an object" in fault.detail


@pytest.mark.parametrize("first", ["5", '"x"', "null"])
def test_of_two_fields_of_one_name_neither_counts(first, request_reader):
    for last in ("7", '"y"'):
        body = json.dumps(VALID["repeat"]).replace('"cuts": 6', f'"cuts": {first}, "cuts": {last}')
        assert set(faults_of(request_reader, "repeat", body.encode())) == {"/cuts"}


HEADINGS = find_headings()
READER = RequestReader(HEADINGS.options)
SCHEMAS = document(HEADINGS.options)["components"]
BY_SCHEMA = {
    name: Draft202012Validator({"$ref": COMPONENTS + kind.__name__, "components": SCHEMAS})
    for name, kind in TYPES.items()
}
WORDS = (
    st.sampled_from(["in", "cm", "mm", "pair", "sill", "1/2", "half", "Moor wool", "x" * 81, ""])
    | st.sampled_from(sorted(HEADINGS.installed))
    | st.sampled_from(["84 1/2", "3 1/2 in", "7' 1/2\"", "2.5 m", "0", "½", " 1 "])
    | st.sampled_from(["1,5", "250%", "1 3/2", "-6", "−6", "-0", "99999 yd", "84\u00a0in", "84\n", "٣"])
)
FIGURES = st.sampled_from(
    [0, 1, 2, 6, 84, 200, 201, 1000, 1001, 40_000, 10**6, 10**6 + 1, 2**53, 2**63, 2**64, 10**40, -1]
) | st.sampled_from([-0.0, 0.25, 0.5, 1.0, 2.0, 2.5, 6.0, 1e-9, 84.0000001, 1e22, 1e300])
SCALARS = (
    st.none()
    | st.booleans()
    | FIGURES
    | st.integers(-(10**30), 10**30)
    | st.floats(allow_nan=False, allow_infinity=False)
    | WORDS
    | st.text(max_size=90)
)
NAMES = st.text(max_size=8) | st.sampled_from(["units", "style", "width", "return", "take_up", "least", "rise", "a~/b"])
NESTED = st.recursive(
    SCALARS, lambda inner: st.lists(inner, max_size=4) | st.dictionaries(NAMES, inner, max_size=4), max_leaves=12
)
LENGTHS = st.from_regex(SIGNED_PATTERN) | st.from_regex(PATTERN, fullmatch=True)
ANYTHING = st.one_of(WORDS, FIGURES, LENGTHS, NESTED)
HUGE = st.sampled_from([10**309, -(10**309), 10**1000, 10**4299])


def places(value, way=()):
    """Yield the way to every part of a JSON value."""
    yield way
    parts = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, inner in parts:
        yield from places(inner, (*way, key))


@st.composite
def mutated(draw, values):
    """Draw an operation and a request of it that has been changed in up to four places."""
    operation = draw(st.sampled_from(sorted(VALID)))
    box = [copy.deepcopy(VALID[operation])]
    for _ in range(draw(st.sampled_from([0, 1, 1, 1, 2, 4]))):
        way = draw(st.sampled_from(list(places(box[0]))))
        place, last = box, 0
        for part in way:
            place, last = place[last], part
        match draw(st.sampled_from(["replace", "replace", "leave out", "add"])):
            case "leave out" if way:
                del place[last]
            case "add" if isinstance(place[last], dict):
                place[last][draw(NAMES)] = draw(values)
            case "add" if isinstance(place[last], list):
                place[last].append(draw(values))
            case _:
                place[last] = draw(values)
    return operation, box[0]


def said_against(operation, body):
    """Return the faults or the detail that a body is refused with; nothing when it is a request."""
    try:
        assert isinstance(READER.read(operation, body), TYPES[operation])
        return READER.faults(operation, body)
    except UnreadableError as error:
        return error.faults or error.detail or "refused without a word"


@settings(max_examples=1500, deadline=None, derandomize=True)
@given(mutated(ANYTHING | HUGE))
def test_any_json_is_read_or_refused_with_a_reason(drawn):
    operation, value = drawn
    body = json.dumps(value).encode("utf-8", "surrogatepass")
    assert said_against(operation, body) != "refused without a word"


@settings(max_examples=500, deadline=None, derandomize=True)
@given(st.sampled_from(sorted(VALID)), st.binary(max_size=60), st.data())
def test_any_bytes_are_read_or_refused_with_a_reason(operation, noise, data):
    body = json.dumps(VALID[operation]).encode()
    at = data.draw(st.integers(0, len(body)))
    body = body[:at] + noise + body[data.draw(st.integers(at, len(body))) :]
    assert said_against(operation, body) != "refused without a word"


@settings(max_examples=2500, deadline=None, derandomize=True)
@given(mutated(ANYTHING))
def test_a_request_is_refused_exactly_when_the_published_schema_refuses_it(drawn):
    operation, value = drawn
    refused = said_against(operation, json.dumps(value).encode("utf-8", "surrogatepass"))
    assert bool(refused) == (not BY_SCHEMA[operation].is_valid(value)), refused
