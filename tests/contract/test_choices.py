"""Choices and numbers are written so that code generated from the contract is pleasant, and the contract as exact."""

from collections import Counter

import pytest

from pleatwright.contract import choices
from pleatwright.contract.openapi import document
from pleatwright.headings.host import find_headings
from pleatwright.lengths import UNITS

DOCUMENT = document(find_headings().options)
SCHEMAS = DOCUMENT["components"]["schemas"]


def within(schema, where=()):
    """Yield every object within the document, and the way to it."""
    if isinstance(schema, dict):
        yield where, schema
        for key, each in schema.items():
            yield from within(each, (*where, key))
    elif isinstance(schema, list):
        for at, each in enumerate(schema):
            yield from within(each, (*where, str(at)))


def in_place():
    """Return where each choice of several words stands that has no name of its own."""
    return {
        where: tuple(sorted(each["enum"]))
        for where, each in within({"schemas": SCHEMAS, "paths": DOCUMENT["paths"]})
        if isinstance(each.get("enum"), list) and where[1] not in choices.NAMED
    }


def test_a_choice_that_stands_in_two_places_has_a_name():
    assert [words for words, times in Counter(in_place().values()).items() if times > 1] == []


def test_a_choice_that_may_also_be_null_has_a_name():
    assert [where for where in in_place() if "anyOf" in where] == []


@pytest.mark.parametrize("name", choices.NAMED)
def test_every_name_is_used_where_its_choice_is_offered(name):
    title, field = choices.NAMED[name]
    offered = SCHEMAS[title]["properties"][field]
    reference = f"#/components/schemas/{name}"
    assert reference in [each.get("$ref") for each in (offered, *offered.get("anyOf", ()))]


def test_the_units_are_one_choice_wherever_they_are_asked_for_and_told():
    assert set(SCHEMAS["Units"]["enum"]) == set(UNITS)
    uses = [where for where, each in within(DOCUMENT) if each.get("$ref") == "#/components/schemas/Units"]
    assert len(uses) > 20


def test_a_number_that_may_be_whole_is_a_number():
    for where, each in within(SCHEMAS):
        kinds = [kind.get("type") for kind in each.get("anyOf", ()) if isinstance(kind, dict)]
        assert not {"integer", "number"} <= set(kinds), where


def test_no_object_has_a_field_that_goes_by_its_own_name():
    # The Python that is generated from one cannot be told apart from its field.
    for title, schema in SCHEMAS.items():
        assert title.lower() not in [field.replace("_", "") for field in schema.get("properties", ())]


@pytest.mark.parametrize(
    ("given", "expected"),
    [
        ({"anyOf": [{"type": "integer"}, {"type": "number"}]}, {"type": "number"}),
        (
            {"anyOf": [{"type": "integer"}, {"type": "number"}, {"type": "null"}], "description": "Depth."},
            {"description": "Depth.", "anyOf": [{"type": "number"}, {"type": "null"}]},
        ),
        ({"anyOf": [{"type": "integer"}, {"type": "null"}]}, {"anyOf": [{"type": "integer"}, {"type": "null"}]}),
        ({"anyOf": [{"type": "integer"}, {"type": "number", "minimum": 0}]}, None),
        ({"enum": ["b", "a"], "default": "a"}, {"$ref": "#/components/schemas/Letter", "default": "a"}),
        ({"enum": ["a", "b", "c"]}, None),
        (
            {"properties": {"enum": {"enum": ["a", "b"]}}},
            {"properties": {"enum": {"$ref": "#/components/schemas/Letter"}}},
        ),
    ],
)
def test_nothing_but_the_same_choice_and_a_plain_number_is_put_another_way(given, expected):
    assert choices.tidied(given, {"Letter": {"title": "Letter", "enum": ["a", "b"]}}) == (expected or given)
