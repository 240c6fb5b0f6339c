"""What is fuzzed: bytes in, and nothing may come out but an answer or a refusal in the words that are kept for it."""

import json
from fractions import Fraction
from pathlib import Path
from typing import Any

import msgspec

from pleatwright import workroom
from pleatwright.contract.operations import OPERATIONS
from pleatwright.contract.reading import RequestReader, UnreadableError
from pleatwright.faults import Impossible
from pleatwright.headings.host import find_headings
from pleatwright.lengths import LONGEST, UNITS, LengthError, length_text, parse_length
from pleatwright.pricing.book import read_book

PROJECT = Path(__file__).parents[2]
EXAMPLES = sorted((PROJECT / "openapi" / "examples").rglob("*.json"))
POSTS = [operation.name for operation in OPERATIONS if operation.request]
PRICED = ("estimate", "compare")

headings = find_headings()
reader = RequestReader(headings.options)
book = read_book((PROJECT / "deploy" / "rates.example.toml").read_bytes())


def lengths(data: bytes) -> None:
    """Read a text as a length: the first byte chooses its unit. What is read is written, and read again the same."""
    text = data[1:].decode(errors="replace")
    units = (*UNITS, None)[data[0] % (len(UNITS) + 1)] if data else None
    for signed in (False, True):
        try:
            found = parse_length(text, units, signed=signed)
        except LengthError as error:
            _check_words(error)
            continue
        assert type(found) is int
        assert abs(found) <= LONGEST
        assert signed or found >= 0
        for unit in UNITS:
            again = parse_length(length_text(Fraction(found), unit, finest=64), None, signed=True)
            # A fraction of an inch finer than 1/64 is written to the nearest.
            assert abs(again - found) <= 8128 // 64, (text, found, again)


def _check_words(refusal: Exception) -> None:
    """Check that a refusal is told in words, and each of its faults in a few."""
    assert str(refusal)
    details = [fault.detail for fault in getattr(refusal, "faults", ())] or [str(refusal)]
    assert max(map(len, details)) < 600


def requests(data: bytes) -> None:
    """Read a request and answer it: the first byte chooses the operation."""
    if not data:
        return
    operation = POSTS[data[0] % len(POSTS)]
    try:
        request = reader.read(operation, data[1:])
    except UnreadableError as error:
        _check_words(error)
        return
    try:
        answered: Any = getattr(workroom, operation)
        if operation == "repeat":
            reply = answered(request)
        else:
            reply = answered(request, headings, *([book] if operation in PRICED else []))
    except Impossible as error:
        _check_words(error)
        return
    json.loads(msgspec.json.encode(reply))


TARGETS = {"lengths": lengths, "requests": requests}


def seeds(target: str) -> list[bytes]:
    """Return inputs to start from, and those that found something before."""
    before = [path.read_bytes() for path in sorted((Path(__file__).parent / "found").glob(f"{target}-*"))]
    if target == "lengths":
        texts = ("84 1/2 in", "7' 1/2\"", "84½", "2146 mm", "2.146 m", "2 1/4 yd", "7 ft 0 1/2 in", "-3", "1,5", "1e9")
        return before + [b"\0" + text.encode() for text in texts]
    found = []
    for path in EXAMPLES:
        body = json.dumps(json.loads(path.read_bytes()), separators=(",", ":")).encode()
        found.append(bytes([POSTS.index(path.stem.partition("-")[0])]) + body)
    return before + found
