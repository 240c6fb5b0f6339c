"""What every drawing has in common: the paper, its head with a line of running stitches, and the scale at its foot."""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from pleatwright.lengths import GRID, MILLIMETRE, Units
from pleatwright.paper.drawings.placing import scale_text
from pleatwright.paper.drawings.shapes import (
    BARE_ABOVE,
    BARE_BELOW,
    NOTE,
    Drawing,
    Fill,
    Line,
    Pen,
    Rectangle,
    Shape,
    Text,
)
from pleatwright.paper.drawings.words import UNITS_IN_WORDS, clean, figure, isolated, shortened, wrapped

WIDTH: Final = 297.0
"""Of the paper: A4 lying down."""
MARGIN: Final = 12.0
ROOM: Final = WIDTH - 2 * MARGIN
"""Across the paper, for what is drawn."""
HEAD: Final = 33.5
"""Where a drawing may start below its head."""
FOOT: Final = 16.0
TALLEST: Final = 200.0
"""As much of a drawing as goes on one sheet lying down, a little smaller than it is."""
_NAME: Final = 3.4
_BAR: Final = 60.0


def bare(drawing: Drawing) -> tuple[float, float, float, float]:
    """Return what of a drawing is drawn on: its left, its top, its width and its height in millimetres."""
    beside = MARGIN - 3.0
    return beside, BARE_ABOVE, drawing.width - 2 * beside, drawing.height - BARE_ABOVE - BARE_BELOW


def name(text: str) -> str:
    """Return a client's own name, to stand among other words."""
    return isolated(clean(text))


def finished(
    heading: str,
    names: Sequence[str],
    description: str,
    shapes: Sequence[Shape],
    height: float,
    scale: float,
    units: Units,
    breaks: Sequence[float] = (),
) -> Drawing:
    """Return a drawing with its head and its foot; what is drawn ends at `height`.

    `heading` says what it is, `names` whose; both whole in its title, and shortened on the paper.
    """
    safe = [name(each) for each in names if clean(each)]
    title = ". ".join([heading, *safe])
    bottom = height + FOOT
    return Drawing(
        title=title,
        description=f"{description} Drawn {scale_text(scale)}; figures are in {UNITS_IN_WORDS[units]}.",
        width=WIDTH,
        height=bottom,
        scale=scale,
        shapes=(*_head(heading, names), *shapes, *_foot(bottom, scale, units)),
        breaks=tuple(breaks),
    )


def _head(heading: str, names: Sequence[str]) -> Iterator[Shape]:
    yield Text((MARGIN, 16.5), shortened(heading, ROOM, 7.0), 7.0, face="title", of="heading")
    whole = "  ·  ".join(clean(each) for each in names if clean(each))
    yield from (
        Text((MARGIN, 23.6 + 4.2 * number), isolated(line), _NAME, of="names")
        for number, line in enumerate(wrapped(whole, ROOM, _NAME, 2))
    )
    yield Line((MARGIN, 18.9), (MARGIN + ROOM, 18.9), Pen.STITCH)


def _foot(bottom: float, scale: float, units: Units) -> Iterator[Shape]:
    """Yield the scale as figures and as a bar like a tape, which stays true when the paper is enlarged."""
    base = bottom - 7.0
    unit = GRID[units] / MILLIMETRE / scale
    length = max((step for step in _steps() if float(step) * unit <= _BAR), default=0)
    if length:
        part = float(length) * unit / 4
        for number in range(4):
            fill = Fill.INK if number % 2 else Fill.PAPER
            yield Rectangle((MARGIN + number * part, base - 1.4), part, 1.4, Pen.THIN, fill)
        yield Text((MARGIN, base - 2.4), "0", NOTE, of="bar start")
        end = figure(int(length * GRID[units]), units)
        yield Text((MARGIN + 4 * part, base - 2.4), f"{end} {units}", NOTE, "middle", of="bar end")
    words = f"Scale {scale_text(scale)}. Figures in {UNITS_IN_WORDS[units]}."
    yield Text((MARGIN + ROOM, base), words, NOTE, "end", "note", of="scale")


def _steps() -> Iterator[int | Fraction]:
    """Yield lengths that a bar of four parts may have."""
    yield from (Fraction(1, 4), Fraction(1, 2), 1, 2)
    for power in range(7):
        yield from (4 * 10**power, 8 * 10**power, 20 * 10**power)
