"""The heading styles as a table for a Markdown page, or as a list, made from the plugins themselves."""

from collections.abc import Iterator

from pleatwright.contract.about import HeadingFigures, HeadingsReply, LengthLimits
from pleatwright.lengths import Units, from_units, length_text

_HEAD = ("style", "laid out in", "folds", "stitched", "tacked", "depth", "cloth", "space")


def styles_table(reply: HeadingsReply) -> str:
    """Return one row for each style, in the order and the units of the reply."""
    rows = [_HEAD, tuple("---" for _ in _HEAD), *(tuple(_cells(each)) for each in reply.headings)]
    return "".join(f"| {' | '.join(row)} |\n" for row in rows)


def styles_list(reply: HeadingsReply) -> str:
    """Return a few lines on each style, in the order and the units of the reply."""
    return "".join(f"{line}\n" for each in reply.headings for line in _lines(each))


def _lines(figures: HeadingFigures) -> Iterator[str]:
    yield f"{figures.style}  ({figures.package} {figures.version})"
    yield f"  {figures.label}. {figures.summary}"
    yield f"  {figures.making}"
    sewn = f"folds {figures.folds}; stitched {figures.stitched}; tacked {figures.tacked}; " if figures.folds else ""
    yield f"  {figures.layout}; {sewn}depth {_text(figures.depth, figures.units)}"
    yield f"  {_cloth(figures)}"
    if figures.space:
        yield f"  space {_limits(figures.space, figures.units)}"
    for material in figures.materials:
        size = f" of {_text(material.size, figures.units)}" if material.size else ""
        yield f"  {material.kind}{size}, for the {material.per.replace('-', ' ')}"


def _cells(figures: HeadingFigures) -> Iterator[str]:
    yield f"`{figures.style}`"
    yield figures.layout
    yield str(figures.folds or "–")
    yield figures.stitched or "–"
    yield (figures.tacked or "–").replace("-", " ")
    yield _text(figures.depth, figures.units)
    yield _cloth(figures)
    yield _limits(figures.space, figures.units) if figures.space else "–"


def _cloth(figures: HeadingFigures) -> str:
    """Say what limits the cloth: that of a pleat, of a gap, or the fullness."""
    if figures.take_up:
        return f"take-up {_limits(figures.take_up, figures.units)}"
    if figures.gap:
        return f"gap {_limits(figures.gap, figures.units)}"
    fullness = figures.fullness
    return f"fullness {fullness.least:g} to {fullness.most:g}, usually {fullness.usual:g}"


def _limits(limits: LengthLimits, units: Units) -> str:
    least, usual, most = (_text(value, units) for value in (limits.least, limits.usual, limits.most))
    return usual if least == most else f"{least} to {most}, usually {usual}"


def _text(value: float, units: Units) -> str:
    return length_text(from_units(value, units), units)
