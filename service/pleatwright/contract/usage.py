"""How operations are used: real requests as examples, and links from one operation to the next."""

import json
from pathlib import Path
from typing import Any, Final

SUMMARIES: Final = {
    "panel": "One window in patterned cloth, each figure with how it was reached.",
    "pleats": "A flat panel of three widths, pleated so that both seams are hidden.",
    "pleats-eyelet": "A flat panel of two widths, hung from eyelets.",
    "pins": "The pins of the same panel, with hooks that rise 1 3/8 in.",
    "hang": "A panel made already, on rings, with the depth of its pins.",
    "rod": "The rod that lets a lined pair clear 72 in of glass.",
    "repeat": "Six cuts of a half-drop pattern.",
    "enough": "What 20 yards of a half-drop pattern will do.",
    "estimate": "One bay in patterned cloth, lined, with everything the maker settled.",
    "estimate-four-fields": "The least a window can be asked with, in a cloth of the example rate book.",
    "estimate-metric": "Two windows in centimetres, each in a cloth of its own.",
    "estimate-rods": "Eyelets, a wave, a rod pocket and a gathering tape, side by side.",
    "estimate-two-layers": "A bay with a sheer behind its over-drapery, and their weights.",
    "estimate-twelve-windows": "A whole house in one half-drop print.",
    "batch": "Two jobs, one in inches and one in centimetres.",
    "compare": "One window with two other headings and a wider cloth.",
}
"""Each example by the stem of its file, whose first word is the operation; those of an operation in this order."""

STYLE_AT: Final = {
    **dict.fromkeys(("panel", "pleats", "pins", "hang", "rod", "enough"), "$request.body#/heading/style"),
    "estimate": "$request.body#/windows/0/heading/style",
    "compare": "$request.body#/window/heading/style",
    "headings": "$response.body#/headings/0/style",
}
"""Where an operation that was answered names a style which can then be asked about."""


def shown(paths: dict[str, Any]) -> dict[str, Any]:
    """Return the paths of the document with the examples and links of each operation."""
    return {
        path: {method: _with_links(_with_examples(operation)) for method, operation in item.items()}
        for path, item in paths.items()
    }


def _with_examples(operation: dict[str, Any]) -> dict[str, Any]:
    stems = [stem for stem in SUMMARIES if stem.partition("-")[0] == operation["operationId"]]
    if not stems:
        return operation
    files = {path.stem: path for path in _folder().rglob("*json")}
    examples = {stem: {"summary": SUMMARIES[stem], "value": _value(files[stem])} for stem in stems}
    body = operation["requestBody"]
    content = {media: {**each, "examples": examples} for media, each in body["content"].items()}
    return {**operation, "requestBody": {**body, "content": content}}


def _value(path: Path) -> Any:
    """Return an example as it is sent: one in lines as the text that it is."""
    text = path.read_text(encoding="utf-8")
    return text if path.suffix == ".ndjson" else json.loads(text)


def _with_links(operation: dict[str, Any]) -> dict[str, Any]:
    place = STYLE_AT.get(operation["operationId"])
    if place is None:
        return operation
    link = {
        "operationId": "heading",
        "parameters": {"style": place},
        "description": "The style's usual figures and its options.",
    }
    answered = {**operation["responses"]["200"], "links": {"heading": link}}
    return {**operation, "responses": {**operation["responses"], "200": answered}}


def _folder() -> Path:
    """Return the folder of the examples: beside this module in a wheel, in openapi/ of a checkout."""
    packed = Path(__file__).with_name("examples")
    return packed if packed.is_dir() else Path(__file__).parents[3] / "openapi" / "examples"
