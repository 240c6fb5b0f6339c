"""One piece of cloth, or a strip of it, along the paper: cuts, pattern, flaws and what is lost."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from pleatwright.lengths import Units
from pleatwright.paper.drawings.leaders import LEADER, upright
from pleatwright.paper.drawings.placing import Frame, spread
from pleatwright.paper.drawings.shapes import (
    FIGURE,
    Circle,
    Fill,
    Line,
    Pen,
    Polyline,
    Rectangle,
    Shape,
    Strokes,
    Text,
    hatched,
)
from pleatwright.paper.drawings.sheet import MARGIN, ROOM
from pleatwright.paper.drawings.words import figure, width_of, wrapped

_TOKEN: Final = 2.1
_SMALL: Final = 2.3
_LINE: Final = 2.9


@dataclass(frozen=True, slots=True)
class Cut:
    """One cut along a piece. `served` has what it is for, whether that is a half, and which one."""

    number: int
    start: int
    end: int
    phase: int
    served: Sequence[tuple[str, bool, str]]


@dataclass(frozen=True, slots=True)
class Bolt:
    """One piece of cloth: what it is called, its cuts in order, its flaws, and where its pattern starts anew."""

    name: str
    words: str
    length: int
    cuts: list[Cut]
    flaws: list[tuple[int, int]]
    pattern: list[int]


def bolt_strips(bolt: Bolt, length: int) -> list[tuple[int, int]]:
    """Part a piece into strips of a length at the most, at the starts of cuts where that can be.

    >>> cuts = [Cut(1, 0, 40, 0, []), Cut(2, 50, 90, 0, []), Cut(3, 100, 140, 0, [])]
    >>> bolt_strips(Bolt("", "", 150, cuts, [], []), 120)
    [(0, 100), (100, 150)]
    """
    places = [0]
    while places[-1] + length < bolt.length:
        reach = places[-1] + max(length, 1)
        places.append(max((cut.start for cut in bolt.cuts if places[-1] < cut.start <= reach), default=reach))
    return list(zip(places, [*places[1:], bolt.length], strict=True))


def room_below(bolts: Sequence[Bolt], units: Units) -> float:
    """Return what the figures below the cloth take, in millimetres."""
    places = [at for bolt in bolts for cut in bolt.cuts for at in (cut.start, cut.end)]
    return max(width_of(figure(at, units), FIGURE) for at in places) + LEADER + 6.0


def strip_shapes(bolt: Bolt, start: int, end: int, frame: Frame, across: float, units: Units) -> Iterator[Shape]:
    """Yield a strip of a piece from `start` to `end`, its cloth from the top of the frame and `across` wide."""
    left, right, top, foot = frame.x(start), frame.x(end), frame.top, frame.top + across
    yield Rectangle((left, top), right - left, across, None, Fill.CLOTH, of="cloth")
    yield from _lost(bolt, start, end, frame, across)
    lines = tuple(((frame.x(at), top), (frame.x(at), foot)) for at in bolt.pattern if start <= at <= end)
    if lines:
        yield Strokes(lines, Pen.FAINT, of="pattern")
    for edge in (top, foot):
        yield Line((left, edge), (right, edge), Pen.EDGE, of="selvage")
    for x, at in ((left, start), (right, end)):
        outer = at in (0, bolt.length)
        yield Line((x, top), (x, foot), Pen.EDGE if outer else Pen.CENTRE, of="piece end" if outer else "strip end")
    for cut in bolt.cuts:
        if cut.start < end and cut.end > start:
            yield from _cut(cut, max(cut.start, start), min(cut.end, end), frame, across, units, patterned=bool(lines))
    yield from _flaws(bolt, start, end, frame, across, units)
    yield from _figures(bolt, start, end, frame, foot, units)
    last = bolt.cuts[-1].end
    words = f"left over {figure(bolt.length - last, units)}"
    if last < bolt.length and last >= start and width_of(words, FIGURE) < right - frame.x(last):
        middle = ((frame.x(last) + right) / 2, (top + foot) / 2 + 1.0)
        yield Text(middle, words, FIGURE, "middle", "note", of="left over")


def _lost(bolt: Bolt, start: int, end: int, frame: Frame, across: float) -> Iterator[Shape]:
    at = 0
    for cut in bolt.cuts:
        low, high = max(at, start), min(cut.start, end)
        if low < high:
            yield hatched(frame.x(low), frame.top, frame.along(high - low), across, 1.6)
        at = max(at, cut.end)


def _cut(
    cut: Cut, start: int, end: int, frame: Frame, across: float, units: Units, *, patterned: bool
) -> Iterator[Shape]:
    left, right, top = frame.x(start), frame.x(end), frame.top
    middle = top + across / 2
    for at in (cut.start, cut.end):
        if start <= at <= end:
            yield Line((frame.x(at), top), (frame.x(at), top + across), Pen.MARK, of=f"cut {cut.number} edge")
    if cut.start < start or right - left < 2 * _TOKEN + 1.0:
        return
    room = right - left - 2.4
    is_split = any(half for _, half, _ in cut.served)
    if is_split:
        yield Line((left, middle), (right, middle), Pen.SEAM, of=f"cut {cut.number} split")
    token = (left + _TOKEN + 1.0, top + _TOKEN + 1.0)
    yield Circle(token, _TOKEN, Pen.FOLD, Fill.PAPER)
    number = str(cut.number)
    yield Text((token[0], token[1] + 0.85), number, _SMALL, "middle", "bold", of=f"cut {number} number")
    size = f"{figure(cut.end - cut.start, units)} long"
    if patterned:
        size += f", phase {figure(cut.phase, units)}"
    if width_of(size, _SMALL) < room - 2 * _TOKEN - 1.0:
        yield Text((token[0] + _TOKEN + 1.0, token[1] + 0.85), size, _SMALL, face="note", of=f"cut {number} length")
    # The left half of a cut whose top is at the left is the lower one.
    for place, (words, half, which) in enumerate(cut.served):
        below = is_split and (which == "left" or (which != "right" and place == 1))
        start_y = middle + _LINE if below else token[1] + _TOKEN + _LINE
        until = top + across if below or not is_split else middle
        named = f"{words} ({which} half)" if half and which in ("left", "right") else words
        lines = max(1, int((until - start_y) / _LINE) + 1)
        for line, text in enumerate(wrapped(named, room, _SMALL, lines)):
            yield Text((left + 1.2, start_y + line * _LINE), text, _SMALL, of=f"cut {number} for")


def _flaws(bolt: Bolt, start: int, end: int, frame: Frame, across: float, units: Units) -> Iterator[Shape]:
    """Yield flaws: cross-hatched, and pointed at from above with where they are."""
    held = [flaw for flaw in bolt.flaws if flaw[0] <= end and flaw[1] >= start]
    words = [f"flaw {figure(a, units)}" + (f" to {figure(b, units)}" if b > a else "") for a, b in held]
    widest = max((width_of(each, _SMALL) for each in words), default=0.0) + 2.0
    wanted = [frame.x((max(a, start) + min(b, end)) / 2) for a, b in held]
    places = spread(wanted, widest, MARGIN + widest / 2, MARGIN + ROOM - widest / 2)
    for (a, b), text, x, place in zip(held, words, wanted, places, strict=True):
        low, high = frame.x(max(a, start)), frame.x(min(b, end))
        if high - low < 1.2:
            # Too small to be seen at this scale: a cross, as it is chalked on the cloth.
            arms = tuple(
                ((x - 1.4, y - 1.4 * way), (x + 1.4, y + 1.4 * way))
                for y in (frame.top + across * part for part in (0.2, 0.5, 0.8))
                for way in (-1, 1)
            )
            yield Strokes(arms, Pen.MARK, of=f"{text} cross")
        yield Rectangle((low, frame.top), high - low, across, Pen.FOLD, None, of=text)
        if high > low:
            yield hatched(low, frame.top, high - low, across, 0.9)
            yield hatched(low, frame.top, high - low, across, 0.9, rising=False)
        yield Polyline(((x, frame.top), (x, frame.top - 1.2), (place, frame.top - 2.2)), Pen.THIN)
        yield Text((place, frame.top - 2.7), text, _SMALL, "middle", of="flaw")


def _figures(bolt: Bolt, start: int, end: int, frame: Frame, foot: float, units: Units) -> Iterator[Shape]:
    """Yield where each cut starts and ends along the piece, as the tape shows it."""
    places = sorted({at for cut in bolt.cuts for at in (cut.start, cut.end)} | {bolt.length})
    held = [at for at in places if start < at <= end or (at == start and start in {cut.start for cut in bolt.cuts})]
    labels = [(frame.x(at), figure(at, units), "along") for at in held]
    yield from upright(labels, foot + 0.6, MARGIN + 1.0, MARGIN + ROOM - 1.0, above=False)
