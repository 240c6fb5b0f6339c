"""What a drawing is made of: a few shapes in millimetres on paper, which any renderer can put down.

x runs to the right and y down, from the top left corner of the paper. A dimension keeps the exact length that it
states, in grid units, beside its place on paper, so that a drawing can be checked against what it was made from.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from typing import Final, Literal

Point = tuple[float, float]
Anchor = Literal["start", "middle", "end"]
Face = Literal["plain", "bold", "title", "note"]

PIN: Final = 0.55
"""Radius of the pin's head that ends a dimension."""
GAP: Final = 0.8
"""Between a dimension's line and its figure."""
FIGURE: Final = 2.6
"""Size of an ordinary figure: x-height and digits can be read at arm's length over a table."""
NOTE: Final = 2.9
"""Size of what is said beside a drawing."""
BARE_ABOVE: Final = 9.0
"""Of a drawing's height, what nothing is drawn in at its top."""
BARE_BELOW: Final = 4.5
"""The same at its foot."""


class Pen(Enum):
    """How a line is drawn: its width, its dashes, and whether it is cloth's ink or the maker's chalk.

    Told apart by weight and dash alone: chalk is dark enough to print as black.
    """

    EDGE = (0.55, (), "ink")
    """The edge of the cloth, and of what is solid."""
    FOLD = (0.28, (), "ink")
    """A fold or a hem."""
    THIN = (0.16, (), "ink")
    """Leaders, dimensions, hatching."""
    FAINT = (0.12, (), "faint")
    """What only helps the eye: folds that hang, the pattern."""
    SEAM = (0.4, (2.4, 0.9, 0.5, 0.9), "ink")
    """Where two widths are joined."""
    STITCH = (0.35, (1.1, 0.8), "ink")
    """Stitching, and the edge of what lies behind."""
    MARK = (0.45, (), "chalk")
    """What the maker chalks."""
    CENTRE = (0.22, (1.6, 0.7, 0.3, 0.7), "chalk")
    """The middle of a pleat."""

    def __init__(self, width: float, dashes: tuple[float, ...], ink: Literal["ink", "chalk", "faint"]) -> None:
        self.width = width
        self.dashes = dashes
        self.ink = ink


class Fill(Enum):
    """What a closed shape is filled with."""

    CLOTH = "cloth"
    PAPER = "paper"
    INK = "ink"
    CHALK = "chalk"


INKS: Final = {"ink": "#1c1a17", "chalk": "#23406e", "faint": "#6b655b"}
"""The colour of each ink."""
FILLS: Final = {Fill.CLOTH: "#f4efe4", Fill.PAPER: "#ffffff", Fill.INK: INKS["ink"], Fill.CHALK: INKS["chalk"]}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Named:
    """`of` says in a word or two what a shape stands for, such as `pleat 3 start`; it is not drawn."""

    of: str = ""


@dataclass(frozen=True, slots=True)
class Line(_Named):
    """Straight from one point to another."""

    start: Point
    end: Point
    pen: Pen = Pen.THIN


@dataclass(frozen=True, slots=True)
class Strokes(_Named):
    """Many straight lines with one pen, as a hatch is."""

    lines: tuple[tuple[Point, Point], ...]
    pen: Pen = Pen.THIN


@dataclass(frozen=True, slots=True)
class Polyline(_Named):
    """Straight from point to point; closed if it is filled."""

    points: tuple[Point, ...]
    pen: Pen | None = Pen.FOLD
    fill: Fill | None = None


@dataclass(frozen=True, slots=True)
class Rectangle(_Named):
    """A rectangle by its top left corner."""

    corner: Point
    width: float
    height: float
    pen: Pen | None = Pen.EDGE
    fill: Fill | None = None


@dataclass(frozen=True, slots=True)
class Circle(_Named):
    """A circle."""

    centre: Point
    radius: float
    pen: Pen | None = Pen.FOLD
    fill: Fill | None = None


@dataclass(frozen=True, slots=True)
class Text(_Named):
    """One line of text, its baseline at `at`; `turned` is counter-clockwise, in degrees."""

    at: Point
    text: str
    size: float = FIGURE
    anchor: Anchor = "start"
    face: Face = "plain"
    turned: int = 0


@dataclass(frozen=True, slots=True)
class Dimension(_Named):
    """A length along a straight line, level or upright, between two pins' heads, with its figure beside it.

    `length` is exact, in grid units; `text` is what is written. The figure stands above a level line and to the left
    of an upright one, reading upwards; `beyond` puts it past the end of a line too short for it.
    """

    start: Point
    end: Point
    length: int
    text: str
    beyond: bool = False
    size: float = FIGURE

    def parts(self) -> Iterator[Line | Circle | Text]:
        """Yield the shapes it is drawn with."""
        (x, y), (to_x, to_y) = self.start, self.end
        yield Line(self.start, self.end, Pen.THIN)
        yield Circle(self.start, PIN, None, Fill.INK)
        yield Circle(self.end, PIN, None, Fill.INK)
        middle = ((x + to_x) / 2, (y + to_y) / 2)
        if y == to_y:
            if self.beyond:
                yield Text((max(x, to_x) + 2 * GAP, y + self.size * 0.36), self.text, self.size)
            else:
                yield Text((middle[0], y - GAP), self.text, self.size, "middle")
        elif self.beyond:
            yield Text((x - GAP, max(y, to_y) + 2 * GAP), self.text, self.size, "end", turned=90)
        else:
            yield Text((x - GAP, middle[1]), self.text, self.size, "middle", turned=90)


Shape = Line | Strokes | Polyline | Rectangle | Circle | Text | Dimension


@dataclass(frozen=True, slots=True)
class Drawing:
    """A drawing on paper of `width` by `height` millimetres.

    `title` names it in a line and `description` tells it in sentences to those who cannot see it. `scale` is how many
    times smaller than the cloth its main part is. A tall one may be parted at the heights `breaks`, for paper.
    """

    title: str
    description: str
    width: float
    height: float
    scale: float
    shapes: tuple[Shape, ...]
    breaks: tuple[float, ...] = ()


def hatched(
    left: float, top: float, width: float, height: float, apart: float, *, rising: bool = True, of: str = ""
) -> Strokes:
    """Return lines at half a right angle across a rectangle, cut off at its sides.

    >>> hatched(0.0, 0.0, 2.0, 1.0, 2.0).lines
    (((0.0, 0.0), (0.0, 0.0)), ((1.0, 1.0), (2.0, 0.0)))
    """
    found = []
    offset = 0.0
    while offset <= width + height and apart > 0:
        low = (max(0.0, offset - height), min(offset, height))
        high = (min(offset, width), max(0.0, offset - width))
        ends = [(left + x, top + (y if rising else height - y)) for x, y in (low, high)]
        found.append((ends[0], ends[1]))
        offset += apart
    return Strokes(tuple(found), Pen.THIN, of=of)
