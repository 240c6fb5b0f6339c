"""What a bench ticket is made of: sections of blocks, which HTML and PDF put down alike.

Texts are for people: a client's names in them are cleaned, and whoever puts them down escapes them.
"""

from dataclasses import dataclass

from pleatwright.paper.drawings.shapes import Drawing


@dataclass(frozen=True, slots=True)
class Facts:
    """Labels with what they are, so many to a line."""

    caption: str
    rows: tuple[tuple[str, str], ...]
    across: int = 2


@dataclass(frozen=True, slots=True)
class Table:
    """A table; with `ticked` there is a box to tick before each row, and `wide` columns have most of the room."""

    caption: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    ticked: bool = False
    wide: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Notes:
    """Sentences one below the other; `urgent` ones are to be seen before anything else."""

    caption: str
    lines: tuple[str, ...]
    urgent: bool = False


@dataclass(frozen=True, slots=True)
class Ticks:
    """What is to be done, each with a box to tick, two to a line."""

    caption: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Blanks:
    """Room to write measured sizes: what each is, and what was planned; two to a line."""

    caption: str
    rows: tuple[tuple[str, str], ...]


Block = Facts | Table | Notes | Ticks | Blanks


@dataclass(frozen=True, slots=True)
class Section:
    """What starts on a new sheet: blocks on upright sheets, then drawings on sheets lying down; all `lying`, if so.

    Its `name` stands at the head of each of its sheets.
    """

    name: str
    summary: str
    blocks: tuple[Block, ...]
    drawings: tuple[Drawing, ...]
    lying: bool = False


@dataclass(frozen=True, slots=True)
class Ticket:
    """A bench ticket; `stamp` tells what it was made with."""

    title: str
    stamp: str
    sections: tuple[Section, ...]
