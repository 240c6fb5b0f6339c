"""Names for choices of words, and plain numbers: what makes code that is generated from the contract pleasant to use.

A choice written out in place is named by a generator after each place that it stands in: nineteen kinds of units
that cannot stand for each other, or a `HangToType0`. So a choice that stands in several places, or that may also be
null, is a component under a name of its own. What the contract allows is the same, to the letter.
"""

from collections.abc import Mapping
from typing import Any, Final

from pleatwright.contract import papers, scalars

REFERENCE: Final = "#/components/schemas/"
NAMED: Final = {
    "ChangeKind": ("Way", "change"),
    "Draw": ("Rod", "draw"),
    "HangsTo": ("Hang", "to"),
    "HemType": ("MakeUp", "side_hem_type"),
    "Layout": ("HeadingFigures", "layout"),
    "LayerName": ("LayerOrder", "layer"),
    "LineKind": ("PriceLine", "kind"),
    "MeasuredFrom": ("HangReply", "measured_from"),
    "MountKind": ("HangFigures", "mount"),
    "OneLot": ("Fabric", "one_lot"),
    "PleatSide": ("PlacedSeam", "side"),
    "PointCounts": ("HeadingFigures", "point_counts"),
    "SeamType": ("MakeUp", "seam_type"),
    "Side": ("PanelFigures", "side"),
    "Stitched": ("HeadingFigures", "stitched"),
    "Tacked": ("HeadingFigures", "tacked"),
    "Units": ("HeadingFigures", "units"),
}
"""The name of each such choice, and one field that offers it."""

OF_QUERIES: Final = {"Sheet": papers.SHEETS}
"""The same of each such choice that only queries offer, and its words."""

RESERVED: Final = frozenset((*NAMED, *OF_QUERIES, *scalars.SCHEMAS))
"""Names that no plugin's type can have in the document."""


def named(schemas: Mapping[str, Any]) -> dict[str, Any]:
    """Return, by name, the schema of each choice that has one, as the components `schemas` have it in place."""
    found: dict[str, Any] = {name: {"title": name, "enum": sorted(words)} for name, words in OF_QUERIES.items()}
    for name, (title, field) in NAMED.items():
        offered = schemas[title]["properties"][field]
        [choice] = [each for each in (offered, *offered.get("anyOf", ())) if "enum" in each]
        found[name] = {"title": name, **{key: choice[key] for key in ("description", "enum") if key in choice}}
    return found


def tidied(schema: Any, choices: Mapping[str, Any]) -> Any:
    """Return `schema` with each choice by its name, and with a number that may be whole as a number."""
    if isinstance(schema, list):
        return [tidied(each, choices) for each in schema]
    if not isinstance(schema, dict):
        return schema
    tidy = {key: tidied(each, choices) for key, each in schema.items()}
    if isinstance(tidy.get("enum"), list):
        words = sorted(tidy["enum"])
        for name, choice in choices.items():
            if sorted(choice["enum"]) == words:
                own = {key: value for key, value in tidy.items() if choice.get(key) != value and key != "enum"}
                return {"$ref": REFERENCE + name, **own}
    if {"type": "number"} in tidy.get("anyOf", ()) and {"type": "integer"} in tidy["anyOf"]:
        kinds = [each for each in tidy.pop("anyOf") if each != {"type": "integer"}]
        return {**tidy, **(kinds[0] if len(kinds) == 1 else {"anyOf": kinds})}
    return tidy
