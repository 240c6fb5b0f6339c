"""One way to find every fault at once: by a schema, with figures that word their own."""

from decimal import Decimal

from pleatwright.contract.checking import LONGEST_ECHO, Checker, echo, with_figures
from pleatwright.faults import Fault

SCHEMA = {
    "type": "object",
    "properties": {
        "title": {"type": "string"},
        "rate": {"anyOf": [{"title": "Money", "type": "string"}, {"type": "null"}]},
        "rod": {"$ref": "#/$defs/Length"},
        "depth": {"type": "integer", "minimum": 1},
    },
    "required": ["rod"],
    "additionalProperties": False,
    "$defs": {"Length": {"title": "Length", "type": "string"}},
}


def why_not(figure, value):
    return None if value == "right" else f"this is no {figure}"


def faults(value, most=None):
    return Checker(with_figures(SCHEMA, ["Money", "Length"]), why_not).faults(value, most)


def test_figures_are_put_in_by_title_and_by_reference_and_nothing_else_is_touched():
    schema = with_figures(SCHEMA, ["Money", "Length"])
    assert schema["properties"]["rate"]["anyOf"] == [{"figure": "Money"}, {"type": "null"}]
    assert schema["properties"]["rod"] == {"figure": "Length"}
    assert {key: schema["properties"][key] for key in ("title", "depth")} == {
        key: SCHEMA["properties"][key] for key in ("title", "depth")
    }
    assert with_figures(SCHEMA, []) == SCHEMA


def test_every_fault_is_found_and_figures_are_told_in_their_own_words():
    assert faults({"rod": "right", "rate": None, "title": "T", "depth": 1}) == []
    assert faults({"rate": "wrong", "depht": 0, "depth": 0}) == [
        Fault(("rate",), "this is no Money", "wrong"),
        Fault(("depth",), "this must be 1 or more", "0", "1 or more"),
        Fault(("rod",), "rod is missing: add it", None, "required"),
        Fault(("depht",), 'there is no field of this name: did you mean "depth"?', "depht", "title, rate, rod, depth"),
    ]


def test_no_more_are_looked_for_than_asked():
    assert len(faults({"rate": "wrong", "depht": 0, "depth": 0}, 2)) == 2


def test_what_is_echoed_is_short_whatever_it_is():
    assert echo(Decimal("24.50")) == "24.50"
    assert echo(Decimal("1." + "7" * 500)) == "1." + "7" * (LONGEST_ECHO - 2) + "…"
    assert echo({"cost": 1}) == "an object"
    assert echo(None) == "null"
