"""The contract shows every operation in use: real requests, and where to go from a reply."""

import json
import re
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from openapi_spec_validator import OpenAPIV31SpecValidator

from pleatwright.contract.openapi import document
from pleatwright.headings.host import find_headings

EXAMPLES = sorted((Path(__file__).parents[2] / "openapi" / "examples").rglob("*.json"))
DOCUMENT = document(find_headings().options)
OPERATIONS = {each["operationId"]: each for item in DOCUMENT["paths"].values() for each in item.values()}
POSTS = {
    name: each["requestBody"]["content"]["application/json"]
    for name, each in OPERATIONS.items()
    if "application/json" in each.get("requestBody", {}).get("content", ())
}
SHOWN = [(name, stem, each) for name, body in POSTS.items() for stem, each in body["examples"].items()]
LINKED = {name: each for name, each in OPERATIONS.items() if "links" in each["responses"]["200"]}


def test_every_example_that_is_committed_is_shown_and_no_other():
    assert sorted(stem for _, stem, _ in SHOWN) == sorted(path.stem for path in EXAMPLES)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_an_example_is_shown_as_it_is_committed_with_its_own_operation(path):
    examples = POSTS[path.stem.partition("-")[0]]["examples"]
    assert examples[path.stem]["value"] == json.loads(path.read_text(encoding="utf-8"))


@pytest.mark.parametrize(("operation", "stem", "example"), SHOWN, ids=[stem for _, stem, _ in SHOWN])
def test_every_example_has_a_summary_of_one_line_and_is_right_by_the_schema(operation, stem, example):
    assert re.fullmatch(r"[A-Z0-9].{8,90}\.", example["summary"])
    assert re.fullmatch(r"[a-zA-Z0-9._-]+", stem)
    validator = Draft202012Validator(POSTS[operation]["schema"] | {"components": DOCUMENT["components"]})
    assert list(validator.iter_errors(example["value"])) == []


def test_every_operation_of_the_workroom_has_an_example():
    listed = {"cloths"}
    of_workroom = {name for name, each in OPERATIONS.items() if each["tags"] == ["workroom"]}
    assert {*POSTS, "batch"} | listed == of_workroom
    assert all(body["examples"] for body in POSTS.values())


def test_a_batch_is_shown_as_the_lines_that_it_is():
    [example] = OPERATIONS["batch"]["requestBody"]["content"]["application/x-ndjson"]["examples"].values()
    [lines] = (path for path in (Path(__file__).parents[2] / "openapi" / "examples").rglob("*.ndjson"))
    assert example["value"] == lines.read_text(encoding="utf-8")
    for line in example["value"].splitlines():
        schema = POSTS["estimate"]["schema"] | {"components": DOCUMENT["components"]}
        Draft202012Validator(schema).validate(json.loads(line))


def test_every_operation_that_names_a_style_leads_to_what_is_known_of_it():
    naming = {name for name, body in POSTS.items() if "/heading" in str(_pointers(body["examples"]))}
    assert set(LINKED) == naming | {"headings"}


@pytest.mark.parametrize("name", [name for name in LINKED if name in POSTS])
def test_a_link_finds_an_installed_style_in_every_example(name):
    [link] = LINKED[name]["responses"]["200"]["links"].values()
    assert OPERATIONS[link["operationId"]]["parameters"][0]["name"] in link["parameters"]
    for example in POSTS[name]["examples"].values():
        found = example["value"]
        for part in link["parameters"]["style"].removeprefix("$request.body#/").split("/"):
            found = found[int(part)] if isinstance(found, list) else found[part]
        assert found in find_headings().installed


def test_the_document_is_still_sound_openapi():
    assert list(OpenAPIV31SpecValidator(DOCUMENT).iter_errors()) == []


def _pointers(value, at=""):
    if isinstance(value, dict):
        return [pointer for key, each in value.items() for pointer in _pointers(each, f"{at}/{key}")]
    if isinstance(value, list):
        return [pointer for each in value for pointer in _pointers(each, at)]
    return [at]
