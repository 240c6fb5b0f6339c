"""What is marked on a flat panel, from the leading edge: where its pieces end, the middles of pleats, the points."""

from dataclasses import dataclass
from itertools import pairwise

from pleatwright.contract.replies import PleatFigures
from pleatwright.lengths import Units, from_units
from pleatwright.paper.drawings.words import counted, figure, listed, told


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of the flat panel, in grid units from the leading edge; `number` is 0 where it has none."""

    kind: str
    number: int
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Mark:
    """A place to mark, and what it is of, such as `pleat 3 end`."""

    at: int
    of: str


@dataclass(frozen=True, slots=True)
class Marked:
    """All the marks of one panel, each kind in order from the leading edge.

    `ends` are where pieces end and where hooks go; `middles` those of pleats, and of points that have a width.
    `numbered` are the places that carry a number: pleats at their middles, points, hooks. A seam has its number.
    """

    pieces: tuple[Piece, ...]
    ends: tuple[Mark, ...]
    middles: tuple[Mark, ...]
    numbered: tuple[Mark, ...]
    seams: tuple[Mark, ...]
    flat_width: int


def marked(pleats: PleatFigures, units: Units) -> Marked:
    """Return what is marked on a panel, its lengths on the grid."""
    pieces = tuple(
        # There may be an edge at either end: they are told apart as first and second.
        Piece(
            each.kind,
            each.number or (1 + bool(each.start) if each.kind == "edge" else 0),
            from_units(each.start, units),
            from_units(each.end, units),
        )
        for each in pleats.stations
    )
    hung = [Mark(from_units(each.flat, units), f"{each.on} {each.number}") for each in pleats.hanging_points]
    ends = {piece.end: Mark(piece.end, f"{_named(piece)} end") for piece in pieces}
    middles: list[Mark] = []
    numbered = hung
    if pleats.layout == "gathers":
        ends |= {mark.at: Mark(mark.at, mark.of.replace("gather", "hook")) for mark in hung}
    elif pleats.layout == "points":
        middles = [mark for mark in hung if mark.at not in ends]
    else:
        middles = [
            Mark(from_units(each.centre or 0, units), f"pleat {each.number} centre")
            for each in pleats.stations
            if each.kind == "pleat"
        ]
        numbered = [Mark(mark.at, mark.of.removesuffix(" centre")) for mark in middles]
    seams = tuple(Mark(from_units(seam.at, units), f"seam {number}") for number, seam in enumerate(pleats.seams, 1))
    return Marked(
        pieces,
        tuple(ends[at] for at in sorted(ends)),
        tuple(middles),
        tuple(numbered),
        seams,
        pieces[-1].end,
    )


def _named(piece: Piece) -> str:
    return f"{piece.kind} {piece.number}" if piece.number else piece.kind


def heading_in_words(pleats: PleatFigures, units: Units) -> str:
    """Say in a line what the heading is laid out in."""
    if pleats.take_up and pleats.space is not None:
        least, most = (told(value, units) for value in (pleats.take_up.least, pleats.take_up.most))
        take_up = least if least == most else f"{least} to {most}"
        spaces = f"{counted(pleats.space_count, 'space')} of {told(pleats.space, units)}"
        return f"{counted(pleats.pleat_count, 'pleat')} taking up {take_up}, {spaces}"
    if points := pleats.points:
        gaps = f"{told(points.gap, units)} of flat cloth from one to the next, hung to"
        return f"{counted(points.count, points.word)}, {gaps} {told(points.finished_gap, units)}"
    hooks = len(pleats.hanging_points)
    on = f"on {counted(hooks, 'hook')}" if hooks else "on the rod itself"
    return f"gathered from edge to edge, {on}"


def marks_in_words(marks: Marked, units: Units) -> str:
    """Say where every mark is, from the leading edge."""
    both = sorted((*marks.ends, *marks.middles, *marks.seams), key=lambda mark: mark.at)
    return listed([f"{mark.of} at {figure(mark.at, units)}" for mark in both])


def strips(marks: Marked, length: int) -> list[tuple[int, int]]:
    """Part the flat width into strips of a length at the most, each from and to where a piece ends if it can be.

    A piece longer than a strip is parted within.

    >>> pieces = (Piece("pleat", 1, 0, 6), Piece("space", 1, 6, 10), Piece("pleat", 2, 10, 16))
    >>> strips(Marked(pieces, (), (), (), (), 16), 11), strips(Marked(pieces, (), (), (), (), 16), 5)
    ([(0, 10), (10, 16)], [(0, 5), (5, 10), (10, 15), (15, 16)])
    """
    places = [0]
    while places[-1] < marks.flat_width:
        reach = places[-1] + max(length, 1)
        places.append(max((piece.end for piece in marks.pieces if places[-1] < piece.end <= reach), default=reach))
    return list(pairwise(places))
