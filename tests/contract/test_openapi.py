"""The OpenAPI document is sound, committed as it is served, and says of a request what the service holds it to."""

import json
import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator
from openapi_spec_validator import OpenAPIV31SpecValidator

from pleatwright.contract.openapi import document, written
from pleatwright.headings.host import find_headings
from pleatwright.lengths import LengthError, parse_length

OPENAPI = Path(__file__).parents[2] / "openapi"
DOCUMENT = document(find_headings().options)
SCHEMAS = DOCUMENT["components"]["schemas"]
STYLES = {style: each.heading.options.__name__ for style, each in find_headings().installed.items()}
MOUNTS = {
    "traverse-rod": "TraverseRod",
    "ceiling-track": "CeilingTrack",
    "rings": "Rings",
    "clip-rings": "ClipRings",
    "through-heading": "ThroughHeading",
}
POSTS = {
    path: item["post"]
    for path, item in DOCUMENT["paths"].items()
    if "post" in item and "application/json" in item["post"]["requestBody"]["content"]
}
FIGURES = ("Length", "SignedLength", "Fullness")


def named(reference):
    return SCHEMAS[reference["$ref"].removeprefix("#/components/schemas/")]


def references(schema):
    """Yield every reference within a schema."""
    if isinstance(schema, dict):
        if "$ref" in schema:
            yield schema
        for value in schema.values():
            yield from references(value)
    elif isinstance(schema, list):
        for value in schema:
            yield from references(value)


def request_objects():
    """Return the objects that requests are made of, by title."""
    waiting = [named(post["requestBody"]["content"]["application/json"]["schema"]) for post in POSTS.values()]
    found = {}
    while waiting:
        schema = waiting.pop()
        if schema["title"] in found or schema["title"] in FIGURES or "enum" in schema:
            continue
        found[schema["title"]] = schema
        waiting += map(named, references(schema))
    return found


REQUEST_OBJECTS = request_objects()
REQUEST_FIELDS = [
    (title, field, schema) for title, each in REQUEST_OBJECTS.items() for field, schema in each["properties"].items()
]


def test_the_document_is_sound_openapi():
    assert list(OpenAPIV31SpecValidator(DOCUMENT).iter_errors()) == []


def test_the_committed_document_is_the_one_that_is_served(headings):
    assert (OPENAPI / "openapi.json").read_bytes() == written(document(headings.options))


def test_the_document_is_plain_json_and_every_reference_leads_somewhere():
    assert json.loads(written(document(find_headings().options))) == DOCUMENT
    for reference in references(DOCUMENT["components"]["schemas"]):
        assert named(reference)
    for reference in references(DOCUMENT["paths"]):
        place = DOCUMENT
        for part in reference["$ref"].removeprefix("#/").split("/"):
            place = place[part]
        assert place


def test_every_schema_has_the_name_and_the_title_of_one_type():
    for name, schema in SCHEMAS.items():
        assert re.fullmatch(r"[A-Z][A-Za-z]*", name)
        assert schema["title"] == name
        Draft202012Validator.check_schema(schema)


def test_the_requests_reach_every_object_a_client_may_send():
    assert set(REQUEST_OBJECTS) == {
        *("PanelRequest", "PleatsRequest", "PinsRequest", "RepeatRequest", "EstimateRequest", "EnoughRequest"),
        *("HangRequest", "RodRequest", "CompareRequest"),
        *("Rod", "Hang", "Fabric", "MakeUp", "Layer", "Pin", "Window", "LimitsGiven"),
        *("Motif", "Bolt", "Flaw", "Planned", "Shrinkage", "HemWeights"),
        *("RodSought", "Glass", "Behind", "Pricing", *MOUNTS.values()),
        *STYLES.values(),
    }


@pytest.mark.parametrize("title", REQUEST_OBJECTS)
def test_every_request_object_allows_no_field_it_does_not_name(title):
    assert REQUEST_OBJECTS[title]["type"] == "object"
    assert REQUEST_OBJECTS[title]["additionalProperties"] is False


@pytest.mark.parametrize(("title", "field", "schema"), REQUEST_FIELDS)
def test_every_field_of_every_request_is_described(title, field, schema):
    if "const" in schema:
        assert field == ("kind" if title in MOUNTS.values() else "style")
        return
    kinds = [named(reference) for reference in references(schema)]
    texts = [kind.get("description", "") for kind in kinds if kind["title"] not in ("Length", "SignedLength")]
    assert any(len(text) > 10 for text in [schema.get("description", ""), *texts]), schema


@pytest.mark.parametrize(("style", "title"), STYLES.items())
def test_every_style_is_told_by_its_constant(style, title):
    variant = SCHEMAS[title]
    assert variant["properties"]["style"]["const"] == style
    assert variant["required"] == ["style"]
    assert variant["description"]
    assert len(variant["properties"]) > 1


@pytest.mark.parametrize("title", ["PanelRequest", "PleatsRequest", "PinsRequest", "Window"])
def test_every_heading_is_a_choice_of_style_by_name(title):
    heading = SCHEMAS[title]["properties"]["heading"]
    mapping = {style: f"#/components/schemas/{name}" for style, name in STYLES.items()}
    assert heading["discriminator"] == {"propertyName": "style", "mapping": mapping}
    assert sorted(variant["$ref"] for variant in heading["oneOf"]) == sorted(mapping.values())
    assert "heading" in SCHEMAS[title]["required"]


def test_every_operation_is_named_once_and_says_what_it_does():
    operations = [each for item in DOCUMENT["paths"].values() for each in item.values()]
    assert len({each["operationId"] for each in operations}) == len(operations)
    assert all(each["summary"].endswith(".") for each in operations)
    assert {tag for each in operations for tag in each["tags"]} == {tag["name"] for tag in DOCUMENT["tags"]}


def test_every_operation_lists_every_status_it_may_end_in():
    may_end_in = {
        f"{method} {path}": set(operation["responses"])
        for path, item in DOCUMENT["paths"].items()
        for method, operation in item.items()
    }
    always = {"200", "400", "500"}
    work = always | {"401", "406", "408", "413", "415", "422", "429"}
    for path in ("panel", "pleats", "pins", "hang", "rod", "repeat", "enough", "estimate", "compare"):
        assert may_end_in.pop(f"post /v1/{path}") == work
    assert may_end_in == {
        "post /v1/estimate/batch": always | {"401", "406", "415", "429"},
        "get /v1/headings": always | {"401", "406", "422", "429"},
        "get /v1/cloths": always | {"401", "406", "422", "429"},
        "get /v1/headings/{style}": always | {"401", "404", "406", "422", "429"},
        "get /openapi.json": always | {"406", "429"},
        "get /problems/{name}": always | {"404", "406", "429"},
        "get /health/live": always | {"406"},
        "get /health/ready": always | {"406", "503"},
        "get /metrics": always,
    }


def test_every_problem_that_is_described_is_one_that_an_operation_may_end_in():
    used = {
        response["$ref"].removeprefix("#/components/responses/")
        for item in DOCUMENT["paths"].values()
        for operation in item.values()
        for response in operation["responses"].values()
        if "$ref" in response
    }
    assert used == set(DOCUMENT["components"]["responses"])


def test_an_operation_needs_a_key_of_either_kind_or_none_where_the_service_is_open():
    for path, item in DOCUMENT["paths"].items():
        for operation in item.values():
            keyed = [{}, {"customer_key": []}, {"workroom_key": []}] if path.startswith("/v1/") else None
            assert operation.get("security") == keyed


def test_every_problem_is_sent_as_problem_json():
    for response in DOCUMENT["components"]["responses"].values():
        [(media, content)] = response["content"].items()
        assert media == "application/problem+json"
        assert content["schema"] == {"$ref": "#/components/schemas/Problem"}


@pytest.mark.parametrize("example", sorted((OPENAPI / "examples").glob("*.json")), ids=lambda path: path.stem)
def test_every_example_is_right_by_the_published_schema(example):
    path = f"/v1/{example.stem.partition('-')[0]}"
    schema = POSTS[path]["requestBody"]["content"]["application/json"]["schema"]
    validator = Draft202012Validator(schema | {"components": DOCUMENT["components"]})
    assert list(validator.iter_errors(json.loads(example.read_text()))) == []


@pytest.mark.parametrize("name", FIGURES)
def test_the_examples_of_a_figure_are_right_by_its_schema(name):
    for example in SCHEMAS[name]["examples"]:
        Draft202012Validator(SCHEMAS[name]).validate(example)


@pytest.mark.parametrize("value", [1, 6, 2.5, 1.0])
def test_a_fullness_is_a_number_from_1_to_6(value):
    assert Draft202012Validator(SCHEMAS["Fullness"]).is_valid(value)


@pytest.mark.parametrize("value", [0.99, 6.01, 250, "2.5", "250%", True, None])
def test_a_percentage_is_no_fullness(value):
    assert not Draft202012Validator(SCHEMAS["Fullness"]).is_valid(value)


LENGTH = Draft202012Validator(SCHEMAS["Length"])
SIGNED = Draft202012Validator(SCHEMAS["SignedLength"])
PATTERNS = {
    name: next(choice["pattern"] for choice in SCHEMAS[name]["anyOf"] if choice["type"] == "string")
    for name in ("Length", "SignedLength")
}
PARTS = (
    st.sampled_from(["0", "1", "7", "11", "12", "84", "007", "1000000", "1/2", "3/2", "1/0", "½", "⅞", "²", "٣", "０"])
    | st.sampled_from([" ", "  ", "-", "−", ".", ",", "/", "⁄", "\n", "\t", "\u00a0", "x", "+", "(", "e3"])
    | st.sampled_from(["in", "inch", "inches", '"', "″", "”", "ft", "feet", "'", "′", "’", "yd", "mm", "cm", "m"])
    | st.sampled_from(["IN", "Mm", "km"])
)
TEXTS = st.one_of(
    st.lists(PARTS, max_size=8).map("".join),
    st.from_regex(PATTERNS["Length"]),
    st.from_regex(PATTERNS["SignedLength"], fullmatch=True),
    st.from_regex(PATTERNS["SignedLength"]).map(lambda text: text.replace(" ", "", 1)),
    st.text(max_size=45),
)


def refusal(length, *, signed, units="in"):
    try:
        parse_length(length, units, signed=signed)
    except LengthError as error:
        return str(error)
    return None


def may_be_refused(text, reason):
    """Tell whether a length that its pattern allows is too long or too small, or has a fraction that is too much."""
    if "smaller than can be measured" in reason:
        return any(int(digits) > 0 for digits in re.findall("[0-9]+", text))
    if "longer than 1000 m" in reason:
        return any(int(digits) >= 1000 for digits in re.findall("[0-9]+", text))
    too_much = {"over 11 inches after the feet": 12, "fraction of one or more": 1}
    [least] = [value for words, value in too_much.items() if words in reason]
    ratios = re.findall("([0-9]+)[/⁄]([0-9]+)", text)
    return any(int(above) >= least * int(below) for above, below in ratios)


@settings(max_examples=4000, deadline=None, derandomize=True)
@given(TEXTS, st.booleans())
def test_the_pattern_of_a_length_agrees_with_how_a_length_is_read(text, signed):
    reason = refusal(text, signed=signed)
    if (SIGNED if signed else LENGTH).is_valid(text):
        assert reason is None or may_be_refused(text, reason)
    else:
        assert reason is not None


@pytest.mark.parametrize(
    "text",
    [
        "84 1/2",
        "84-1/2 in",
        "7' 1/2\"",
        "2146 mm",
        "2 1/4 yd",
        "½",
        "3½ ft",
        "0",
        " 5 ",
        "1.5 cm",
        "12/8",
        "7 ft 11 in",
    ],
)
def test_a_length_as_a_maker_writes_it_is_right_by_the_schema_and_is_read(text):
    assert LENGTH.is_valid(text)
    assert SIGNED.is_valid(f"-{text.strip()}")
    assert refusal(text, signed=False) is None


@pytest.mark.parametrize(
    "text",
    ["84\n", "\n84", "84\t", "1,5", "-3", "-0", "−0", "1e3", "84 IN", "7' 12\"", "", " ", "٣", "1" * 41, "84 1/0"],
)
def test_what_is_no_length_is_wrong_by_the_schema_and_is_refused(text):
    assert not LENGTH.is_valid(text)
    assert refusal(text, signed=False) is not None


@settings(max_examples=1000, deadline=None, derandomize=True)
@given(
    st.integers() | st.floats(allow_nan=False) | st.sampled_from([0, -0.0, 10**6, 10**6 + 1, 10**6 + 0.001, -(10**6)])
)
def test_the_bounds_of_a_bare_number_agree_with_how_it_is_read_in_millimetres(number):
    for validator, signed in ((LENGTH, False), (SIGNED, True)):
        reason = refusal(number, units="mm", signed=signed)
        too_small = reason is not None and "smaller than can be measured" in reason
        assert validator.is_valid(number) == (reason is None or too_small)
