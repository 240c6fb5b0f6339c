"""The two figures that the contract words for itself: lengths and fullness."""

import re
from decimal import Decimal
from typing import Any, Final

from pleatwright.lengths import LARGEST_BARE as MOST
from pleatwright.lengths import LONGEST_TEXT, PATTERN, SIGNED_PATTERN, LengthError, parse_length, quoted

SCHEMAS: Final[dict[str, dict[str, Any]]] = {
    "Length": {
        "title": "Length",
        "description": "A length: a number in the request's units, or a text that may name its own unit, such as "
        '"84 1/2", "84-1/2 in", "7\' 1/2\\"", "2146 mm" or "2 1/4 yd".',
        "anyOf": [
            {"type": "number", "minimum": 0, "maximum": MOST},
            {"type": "string", "maxLength": LONGEST_TEXT, "pattern": PATTERN},
        ],
        "examples": ["84 1/2", 84.5, "2146 mm"],
    },
    "SignedLength": {
        "title": "SignedLength",
        "description": "A length that may be negative.",
        "anyOf": [
            {"type": "number", "minimum": -MOST, "maximum": MOST},
            {"type": "string", "maxLength": LONGEST_TEXT, "pattern": SIGNED_PATTERN},
        ],
        "examples": ["-6", -1, "13 mm"],
    },
    "Fullness": {
        "title": "Fullness",
        "description": "Flat width divided by finished width, a ratio: 2.5 means two and a half times. A percentage is "
        "never accepted: 200 percent means twice the width to some (UFGS 12 22 00) and three times to others.",
        "type": "number",
        "minimum": 1,
        "maximum": 6,
        "examples": [2.5],
    },
}

_PERCENTAGE: Final = re.compile(r" *([0-9]+(?:\.[0-9]+)?) *(%| percent| per cent)? *")


def why_not(name: str, value: Any, units: str) -> str | None:
    """Return why `value` is none of the figures named `name`, with a remedy; None when it is one."""
    if name == "Fullness":
        return _why_not_fullness(value)
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        return 'a length is a number or a text: write it as 84.5, "84 1/2 in" or "2146 mm"'
    if _keeps_the_schema(name, value):
        return None
    try:
        parse_length(value, units, signed=name == "SignedLength")
    except LengthError as error:
        return str(error)
    return f"{quoted(value)} is over {MOST:,}, longer than any cloth: check the figure and its unit"


def _keeps_the_schema(name: str, value: str | float) -> bool:
    if isinstance(value, str):
        pattern = SIGNED_PATTERN if name == "SignedLength" else PATTERN
        return len(value) <= LONGEST_TEXT and re.search(pattern, value) is not None
    return (-MOST if name == "SignedLength" else 0) <= value <= MOST


def _why_not_fullness(value: Any) -> str | None:
    if isinstance(value, int | float) and not isinstance(value, bool) and 1 <= value <= 6:
        return None
    found = _PERCENTAGE.fullmatch(value if isinstance(value, str) else str(value)) if _short(value) else None
    percentage = Decimal(found[1]) if found else None
    if found and percentage is not None and (found[2] or percentage >= 50):
        readings = (percentage / 100, percentage / 100 + 1)
        of_width, over = map(_plain, readings)
        allowed = " or ".join(_plain(reading) for reading in readings if 1 <= reading <= 6)
        return (
            f"fullness is a ratio, and a percentage is never accepted: {_plain(percentage)} percent is read as "
            f"{of_width} times the width in federal guide specifications (UFGS 12 22 00) and as {over} times in "
            f"stage-curtain work. Write {allowed or 'the ratio you mean, from 1 to 6'}"
        )
    how = "write it as 2.5, without quotes" if isinstance(value, str) else "write it as 2.5"
    return f"fullness is a number from 1 to 6, the flat width divided by the finished width: {how}"


def _short(value: Any) -> bool:
    return not isinstance(value, bool) and isinstance(value, int | float | str) and len(str(value)) <= LONGEST_TEXT


def _plain(value: Decimal) -> str:
    text = f"{value:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
