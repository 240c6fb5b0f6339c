"""The contract breaks nothing that was released, and the comparison that says so finds every kind of break."""

import copy
import json
from pathlib import Path

import pytest

from pleatwright.contract.openapi import document
from pleatwright.contract.stability import breaks
from pleatwright.headings.host import find_headings

RELEASED = Path(__file__).parents[2] / "openapi" / "released"
DOCUMENT = document(find_headings().options)
ESTIMATE = "/paths/~1v1~1estimate/post"
HEADING = "/paths/~1v1~1headings~1{style}/get"
SCHEMAS = "/components/schemas"


def newest():
    """Return the contract of the newest release: of the greatest version."""
    return max(RELEASED.glob("v*.json"), key=lambda path: [int(part) for part in path.stem[1:].split(".")])


def test_nothing_that_was_released_is_broken():
    assert breaks(json.loads(newest().read_text(encoding="utf-8")), DOCUMENT) == []


def test_the_newest_release_is_named_by_its_version():
    for path in RELEASED.glob("*.json"):
        assert path.stem == f"v{json.loads(path.read_text(encoding='utf-8'))['info']['version']}"


def test_a_document_breaks_nothing_of_itself():
    assert breaks(DOCUMENT, copy.deepcopy(DOCUMENT)) == []


def found(pointer, value):
    """Return what a JSON Pointer leads to."""
    for part in pointer.split("/")[1:]:
        value = value[int(part) if isinstance(value, list) else part.replace("~1", "/").replace("~0", "~")]
    return value


def putting(pointer, value):
    """Return a change of a document: another value at the pointer."""
    parent, _, last = pointer.rpartition("/")

    def change(changed):
        holder = found(parent, changed)
        holder[int(last) if isinstance(holder, list) else last.replace("~1", "/").replace("~0", "~")] = value

    return change


def taking(pointer, *values):
    """Return a change of a document: nothing at the pointer any more, or values no longer in the list that is there."""
    parent, _, last = pointer.rpartition("/")

    def change(changed):
        if values:
            for value in values:
                found(pointer, changed).remove(value)
        else:
            del found(parent, changed)[
                int(last) if last.isdigit() and isinstance(found(parent, changed), list) else last.replace("~1", "/")
            ]

    return change


def adding(pointer, *values):
    """Return a change of a document: values more in the list at the pointer."""
    return lambda changed: found(pointer, changed).extend(values)


def both(*changes):
    """Return several changes of a document as one."""
    return lambda changed: [change(changed) for change in changes]


NUMBER, TEXT, NULL = {"type": "number"}, {"type": "string"}, {"type": "null"}
STYLE = {"type": "object", "properties": {"style": {"const": "tulip"}}, "required": ["style"]}

BREAKING = {
    "an operation goes": (taking("/paths/~1v1~1rod/post"), "/paths/~1v1~1rod/post"),
    "an operation is renamed": (putting(f"{ESTIMATE}/operationId", "price"), f"{ESTIMATE}/operationId"),
    "a type is renamed": (
        lambda changed: changed["components"]["schemas"].pop("Eyelet"),
        f"{SCHEMAS}/Eyelet",
    ),
    "a status goes": (taking(f"{ESTIMATE}/responses/422"), f"{ESTIMATE}/responses/422"),
    "a success is added": (
        putting(f"{ESTIMATE}/responses/202", {"description": "Later."}),
        f"{ESTIMATE}/responses/202",
    ),
    "a form of the reply goes": (
        taking(f"{ESTIMATE}/responses/200/content/application~1msgpack"),
        f"{ESTIMATE}/responses/200/content/application~1msgpack",
    ),
    "a form of the request goes": (
        both(
            putting(f"{ESTIMATE}/requestBody/content/text~1json", {"schema": TEXT}),
            taking(f"{ESTIMATE}/requestBody/content/application~1json"),
        ),
        f"{ESTIMATE}/requestBody/content/application~1json",
    ),
    "a body must be sent": (
        putting(f"{HEADING}/requestBody", {"required": True, "content": {}}),
        f"{HEADING}/requestBody",
    ),
    "a key is needed": (putting(f"{ESTIMATE}/security", [{"workroom_key": []}]), f"{ESTIMATE}/security"),
    "a parameter goes": (taking(f"{HEADING}/parameters/1"), f"{HEADING}/parameters/1"),
    "a parameter must be given": (
        putting(f"{HEADING}/parameters/1/required", True),
        f"{HEADING}/parameters/1/required",
    ),
    "a new parameter must be given": (
        adding(f"{HEADING}/parameters", {"in": "query", "name": "cloth", "required": True, "schema": TEXT}),
        f"{HEADING}/parameters/3",
    ),
    "a parameter's default changes": (
        putting(f"{HEADING}/parameters/1/schema/default", "mm"),
        f"{HEADING}/parameters/1/schema/default",
    ),
    "a parameter is held to less": (
        putting(f"{HEADING}/parameters/0/schema/maxLength", 8),
        f"{HEADING}/parameters/0/schema/maxLength",
    ),
    "a field of a request goes": (
        taking(f"{SCHEMAS}/Rod/properties/overlap"),
        f"{SCHEMAS}/Rod/properties/overlap",
    ),
    "a field must be given": (adding(f"{SCHEMAS}/Pricing/required", "view"), f"{SCHEMAS}/Pricing/properties/view"),
    "a new field must be given": (
        both(putting(f"{SCHEMAS}/Fabric/properties/weave", TEXT), adding(f"{SCHEMAS}/Fabric/required", "weave")),
        f"{SCHEMAS}/Fabric/properties/weave",
    ),
    "a word of a request goes": (taking(f"{SCHEMAS}/HangsTo/enum", "puddle"), f"{SCHEMAS}/HangsTo/enum"),
    "a style's word goes": (
        taking(f"{SCHEMAS}/Knife/properties/turned/enum", "left"),
        f"{SCHEMAS}/Knife/properties/turned/enum",
    ),
    "a style goes": (
        lambda changed: [
            each["properties"]["heading"]["oneOf"].remove({"$ref": f"#{SCHEMAS}/Wave"})
            for each in changed["components"]["schemas"].values()
            if "oneOf" in each.get("properties", {}).get("heading", {})
        ],
        f"{SCHEMAS}/Wave",
    ),
    "a style's constant changes": (
        putting(f"{SCHEMAS}/Wave/properties/style/const", "ripple"),
        f"{SCHEMAS}/Wave",
    ),
    "a request may not be null": (
        putting(f"{SCHEMAS}/EstimateRequest/properties/job/anyOf", [TEXT | {"maxLength": 80}]),
        f"{SCHEMAS}/EstimateRequest/properties/job/anyOf/1",
    ),
    "a type of a request is narrowed": (
        putting(f"{SCHEMAS}/Fullness/type", "integer"),
        f"{SCHEMAS}/Fullness/type",
    ),
    "a length may be no text": (taking(f"{SCHEMAS}/Length/anyOf/1"), f"{SCHEMAS}/Length/anyOf/1"),
    "a length's pattern changes": (
        putting(f"{SCHEMAS}/Length/anyOf/1/pattern", "^[0-9]+$"),
        f"{SCHEMAS}/Length/anyOf/1/pattern",
    ),
    "a limit is lower": (putting(f"{SCHEMAS}/Fullness/maximum", 5), f"{SCHEMAS}/Fullness/maximum"),
    "a limit is higher": (putting(f"{SCHEMAS}/Fullness/minimum", 1.5), f"{SCHEMAS}/Fullness/minimum"),
    "a limit is new": (
        putting(f"{SCHEMAS}/PanelRequest/properties/worksheet/maximum", 1),
        f"{SCHEMAS}/PanelRequest/properties/worksheet/maximum",
    ),
    "fewer windows are taken": (
        putting(f"{SCHEMAS}/EstimateRequest/properties/windows/maxItems", 20),
        f"{SCHEMAS}/EstimateRequest/properties/windows/maxItems",
    ),
    "a default changes": (
        putting(f"{SCHEMAS}/Pricing/properties/rush/default", True),
        f"{SCHEMAS}/Pricing/properties/rush/default",
    ),
    "a choice's default changes": (
        putting(f"{SCHEMAS}/Fabric/properties/one_lot/default", "room"),
        f"{SCHEMAS}/Fabric/properties/one_lot/default",
    ),
    "fields of any name are no longer taken": (
        putting(f"{SCHEMAS}/EstimateRequest/properties/fabrics/additionalProperties", False),
        f"{SCHEMAS}/EstimateRequest/properties/fabrics/additionalProperties",
    ),
    "a field of a reply goes": (
        both(taking(f"{SCHEMAS}/Price/properties/net"), taking(f"{SCHEMAS}/Price/required", "net")),
        f"{SCHEMAS}/Price/properties/net",
    ),
    "a field of a reply may be missing": (
        taking(f"{SCHEMAS}/Price/required", "net"),
        f"{SCHEMAS}/Price/properties/net",
    ),
    "a field of a problem may be missing": (
        taking(f"{SCHEMAS}/Problem/required", "detail"),
        f"{SCHEMAS}/Problem/properties/detail",
    ),
    "a reply may be null": (
        putting(f"{SCHEMAS}/Price/properties/net", {"anyOf": [TEXT | {"format": "decimal"}, NULL]}),
        f"{SCHEMAS}/Price/properties/net/anyOf/1",
    ),
    "a type of a reply is widened": (
        putting(f"{SCHEMAS}/PriceLine/properties/unit/type", ["string", "number"]),
        f"{SCHEMAS}/PriceLine/properties/unit/type",
    ),
    "a type of a reply changes": (
        putting(f"{SCHEMAS}/Price/properties/total", NUMBER),
        f"{SCHEMAS}/Price/properties/total/type",
    ),
    "a count is a fraction": (
        putting(f"{SCHEMAS}/EvenPoints/properties/count/type", "number"),
        f"{SCHEMAS}/EvenPoints/properties/count/type",
    ),
    "a word of a reply is new": (adding(f"{SCHEMAS}/LineKind/enum", "delivery"), f"{SCHEMAS}/LineKind/enum"),
    "a word of a reply is any": (taking(f"{SCHEMAS}/LineKind/enum"), f"{SCHEMAS}/LineKind/enum"),
    "the items of a reply's list change": (
        putting(f"{SCHEMAS}/Price/properties/lines/items", {"$ref": f"#{SCHEMAS}/CostLine"}),
        f"{SCHEMAS}/PriceLine/properties/quantity",
    ),
    "a keyword that is not compared": (
        putting(f"{SCHEMAS}/Pricing/dependentRequired", {"rush": ["fitting"]}),
        f"{SCHEMAS}/Pricing",
    ),
}

ADDITIVE = {
    "an operation": putting("/paths/~1v1~1trim", {"get": {"operationId": "trim", "responses": {}}}),
    "a type": putting(f"{SCHEMAS}/Trim", {"type": "object"}),
    "a problem": putting(f"{ESTIMATE}/responses/451", {"$ref": "#/components/responses/broken"}),
    "a header": putting(f"{ESTIMATE}/responses/200/headers", {"Deprecation": {"schema": TEXT}}),
    "a form of the reply": putting(f"{ESTIMATE}/responses/200/content/text~1csv", {"schema": TEXT}),
    "a form of the request": putting(f"{ESTIMATE}/requestBody/content/application~1msgpack", {"schema": TEXT}),
    "a kind of key": adding(f"{ESTIMATE}/security", {"customer_key": []}),
    "a parameter": adding(f"{HEADING}/parameters", {"in": "query", "name": "cloth", "schema": TEXT}),
    "a field of a request": putting(f"{SCHEMAS}/Fabric/properties/weave", {"anyOf": [TEXT, NULL], "default": None}),
    "a field that may be left out": taking(f"{SCHEMAS}/Fabric/required", "width"),
    "a field of a reply": both(
        putting(f"{SCHEMAS}/Price/properties/deposit", TEXT), adding(f"{SCHEMAS}/Price/required", "deposit")
    ),
    "a field of a reply that is always there": adding(f"{SCHEMAS}/Problem/required", "errors"),
    "a word of a request": adding(f"{SCHEMAS}/HangsTo/enum", "sill-and-apron"),
    "a style": both(
        putting(f"{SCHEMAS}/Tulip", STYLE),
        lambda changed: [
            each["properties"]["heading"]["oneOf"].append({"$ref": f"#{SCHEMAS}/Tulip"})
            for each in changed["components"]["schemas"].values()
            if "oneOf" in each.get("properties", {}).get("heading", {})
        ],
    ),
    "a request that may be null": putting(
        f"{SCHEMAS}/Pricing/properties/rush", {"anyOf": [{"type": "boolean"}, NULL], "default": False}
    ),
    "a type of a request that is wider": putting(f"{SCHEMAS}/RepeatRequest/properties/cuts/type", "number"),
    "a limit that is wider": putting(f"{SCHEMAS}/Fullness/maximum", 8),
    "a limit that is gone": taking(f"{SCHEMAS}/EstimateRequest/properties/windows/maxItems"),
    "a reply that is never null": putting(f"{SCHEMAS}/Price/properties/tax", {"$ref": f"#{SCHEMAS}/Tax"}),
    "other words": putting(f"{SCHEMAS}/Price/description", "What it costs."),
    "other examples": putting(f"{ESTIMATE}/requestBody/content/application~1json/examples", {}),
    "a choice written in place": putting(
        f"{SCHEMAS}/PriceLine/properties/kind", copy.deepcopy(found(f"{SCHEMAS}/LineKind", DOCUMENT))
    ),
}


@pytest.mark.parametrize(("change", "at"), BREAKING.values(), ids=BREAKING)
def test_a_break_is_found_and_named_by_its_place(change, at):
    changed = copy.deepcopy(DOCUMENT)
    change(changed)
    if at == f"{SCHEMAS}/Eyelet":  # the type is there by another name, and used by it
        changed = json.loads(json.dumps(changed).replace(f"{SCHEMAS}/Eyelet", f"{SCHEMAS}/Grommet"))
        changed["components"]["schemas"]["Grommet"] = DOCUMENT["components"]["schemas"]["Eyelet"]
    assert at in [each.at for each in breaks(DOCUMENT, changed)]


@pytest.mark.parametrize("change", ADDITIVE.values(), ids=ADDITIVE)
def test_an_addition_breaks_nothing(change):
    changed = copy.deepcopy(DOCUMENT)
    change(changed)
    assert changed != DOCUMENT
    assert breaks(DOCUMENT, changed) == []
