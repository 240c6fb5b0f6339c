"""The messages that speed is measured with: distinct requests that are answered, so that no cache can help."""

import json
from pathlib import Path

from pleatwright import workroom
from pleatwright.contract.reading import RequestReader
from pleatwright.faults import Impossible
from pleatwright.headings.host import find_headings

EXAMPLES = Path(__file__).resolve().parents[2] / "openapi" / "examples"
HEADINGS = find_headings()
READER = RequestReader(HEADINGS.options)
DISTINCT = 64
ANSWERS = {
    "pleats": lambda asked: workroom.pleats(asked, HEADINGS),
    "panel": lambda asked: workroom.panel(asked, HEADINGS),
    "repeat": workroom.repeat,
    "estimate": lambda asked: workroom.estimate(asked, HEADINGS),
}


def cases():
    """Return the cases: by name, the operation and its distinct bodies."""
    example = {name: json.loads((EXAMPLES / f"{name}.json").read_bytes()) for name in ANSWERS}
    for body in example.values():
        body.pop("worksheet", None)
    [bay] = example["estimate"]["windows"]
    twelve = example["estimate"] | {"windows": [bay | {"label": f"Bay {number}"} for number in range(12)]}
    return {
        "pleats": ("pleats", _varied(example["pleats"], "pleats", _finished)),
        "panel": ("panel", _varied(example["panel"], "panel", _rod)),
        "repeat": ("repeat", _varied(example["repeat"], "repeat", _cut)),
        "estimate": ("estimate", _varied(example["estimate"], "estimate", _windows)),
        "twelve windows": ("estimate", _varied(twelve, "estimate", _windows)),
    }


def answered(operation, body):
    """Return what comes of a body, as the service encodes it."""
    return ANSWERS[operation](READER.read(operation, body))


def _varied(example, operation, change):
    """Return distinct bodies that are answered, each a sixteenth of an inch or so from the one before."""
    found = []
    for step in range(40 * DISTINCT):
        body = json.dumps(change(json.loads(json.dumps(example)), step)).encode()
        try:
            answered(operation, body)
        except Impossible:
            continue
        found.append(body)
        if len(found) == DISTINCT:
            return found
    raise AssertionError(f"too few {operation} are answered")


def _finished(body, step):
    return body | {"finished_width": f"{53 * 16 + step}/16 in"}


def _rod(body, step):
    return body | {"rod": body["rod"] | {"width": f"{96 * 16 - step}/16 in"}}


def _cut(body, step):
    return body | {"cut_length": f"{111 * 16 + step}/16 in"}


def _windows(body, step):
    for window in body["windows"]:
        window["rod"]["width"] = f"{120 * 16 - step}/16 in"
    return body
