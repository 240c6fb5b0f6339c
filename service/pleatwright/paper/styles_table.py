"""The heading styles as a table for a Markdown page, made from the plugins themselves."""

from collections.abc import Iterator

from pleatwright.contract.about import HeadingFigures, HeadingsReply, LengthLimits
from pleatwright.lengths import Units, from_units, length_text

_HEAD = ("style", "folds", "stitched", "tacked", "buckram", "take-up", "space")


def styles_table(reply: HeadingsReply) -> str:
    """Return one row for each style, in the order and the units of the reply."""
    rows = [_HEAD, tuple("---" for _ in _HEAD), *(tuple(_cells(each)) for each in reply.headings)]
    return "".join(f"| {' | '.join(row)} |\n" for row in rows)


def _cells(figures: HeadingFigures) -> Iterator[str]:
    yield f"`{figures.style}`"
    yield str(figures.folds)
    yield figures.stitched
    yield figures.tacked.replace("-", " ")
    yield _text(figures.buckram_depth, figures.units)
    yield _limits(figures.take_up, figures.units)
    yield _limits(figures.space, figures.units)


def _limits(limits: LengthLimits, units: Units) -> str:
    least, usual, most = (_text(value, units) for value in (limits.least, limits.usual, limits.most))
    return f"{least} to {most}, usually {usual}"


def _text(value: float, units: Units) -> str:
    return length_text(from_units(value, units), units)
