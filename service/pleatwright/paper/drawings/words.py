"""Words and figures on a drawing: a client's names made safe and short, lengths as a maker reads them."""

import unicodedata
from collections.abc import Sequence
from typing import Final

from pleatwright.lengths import INCH, Units, from_units, length_text
from pleatwright.paper.plain import printable

UNITS_IN_WORDS: Final[dict[Units, str]] = {"in": "inches", "cm": "centimetres", "mm": "millimetres"}
_FINER: Final = (16, 32, 64)
_JOINERS: Final = "\u200c\u200d"
_ISOLATE, _END_OF_ISOLATE = "\u2068", "\u2069"
# Advance widths of the common plain faces, in parts of the size; what is not here is taken as a small letter.
_NARROW: Final = dict.fromkeys("iljI.,:;'|!ft()[]/ ", 0.29) | dict.fromkeys("r-", 0.34) | dict.fromkeys("mwMW@%", 0.9)


def clean(text: str) -> str:
    r"""Return a client's text on one line, without what would break a document or turn its reading order about.

    Joiners stay, since some scripts need them.

    >>> clean("Teasel\x00\u202egnikram\nrust")
    'Teasel gnikram rust'
    """
    kept = (character if character in _JOINERS else printable(character) for character in text)
    return " ".join("".join(kept).split())


def isolated(text: str) -> str:
    """Return a name so that its own reading order ends where it ends: one written right to left, among other words."""
    mixed = any(unicodedata.bidirectional(character) in ("R", "AL", "AN") for character in text)
    return f"{_ISOLATE}{text}{_END_OF_ISOLATE}" if mixed else text


def width_of(text: str, size: float) -> float:
    """Return about how wide a line of text is, in millimetres at a size in millimetres; on the wide side.

    >>> width_of("145 1/2", 10.0) < width_of("145 11/16", 10.0) < 50
    True
    """
    return size * sum(map(_advance, text))


def _advance(character: str) -> float:
    if unicodedata.combining(character) or character in _JOINERS or character in (_ISOLATE, _END_OF_ISOLATE):
        return 0.0
    if unicodedata.east_asian_width(character) in ("W", "F"):
        return 1.0
    return _NARROW.get(character, 0.7 if character.isupper() else 0.57)


def shortened(text: str, room: float, size: float) -> str:
    """Return the text if there is room for it, else as much of it as fits with an ellipsis; nothing if none does.

    >>> shortened("South bay", 100.0, 3.0), shortened("South bay", 12.0, 3.0), shortened("South bay", 1.0, 3.0)
    ('South bay', 'South…', '')
    """
    if width_of(text, size) <= room:
        return text
    kept, used = "", width_of("…", size)
    for character in text:
        used += width_of(character, size)
        if used > room:
            break
        kept += character
    return f"{kept.rstrip()}…" if kept else ""


def wrapped(text: str, room: float, size: float, lines: int) -> list[str]:
    """Return the text in lines that fit, the last of them shortened if there is more.

    >>> wrapped("Morning room, south bay", 20.0, 3.0, 2)
    ['Morning', 'room, south…']
    """
    found: list[str] = []
    words = text.split(" ")
    while words and len(found) < lines - 1:
        line = words.pop(0)
        if width_of(line, size) > room:
            return [*found, shortened(" ".join([line, *words]), room, size)]
        while words and width_of(f"{line} {words[0]}", size) <= room:
            line += f" {words.pop(0)}"
        found.append(line)
    return [*found, shortened(" ".join(words), room, size)] if words else found


def figure(length: int, units: Units) -> str:
    """Write a length without its unit, which the drawing says once; as fine as it needs, down to 1/64 in.

    >>> figure(3 * INCH + 127 * 3, "in"), figure(1285 * 320, "cm")
    ('3 3/64', '128.5')
    """
    finest = next((each for each in _FINER if units == "in" and length * each % INCH == 0), _FINER[0])
    return length_text(length, units, finest=finest).removesuffix(f" {units}")


def told(value: float, units: Units) -> str:
    """Write a length of a reply the same way.

    >>> told(3.0625, "in")
    '3 1/16'
    """
    return figure(from_units(value, units), units)


def counted(count: float, word: str) -> str:
    """Return a count with its word, which takes an s.

    >>> counted(1, "width"), counted(2.5, "width")
    ('1 width', '2.5 widths')
    """
    return f"{count:g} {word}{'' if count == 1 else 's'}"


def listed(names: Sequence[str]) -> str:
    """Return names as a sentence lists them.

    >>> listed(["a", "b", "c"])
    'a, b and c'
    """
    return f"{', '.join(names[:-1])} and {names[-1]}" if len(names) > 1 else "".join(names)
