"""Tulip pleat: one round lobe on a short stem.

Of a take-up T the part s goes into the stem, out and back, and the rest round the lobe. So the stem is T s / 2 long and
the lobe T (1 - s) / pi across; a lobe d across asks for a take-up of pi d / (1 - s).
"""

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Annotated

from msgspec import Meta

from pleatwright.headings import (
    CONTRACT,
    Fault,
    Heading,
    Impossible,
    Length,
    Limits,
    Measure,
    Outline,
    Pleat,
    PleatOptions,
    Shape,
    hookimpl,
    inch_limits,
    inches,
)


class Tulip(PleatOptions, frozen=True, tag="tulip"):
    """Options of the tulip pleat."""

    stem: Annotated[float, Meta(ge=0, le=0.5, description="Part of the take-up that goes into the stem.")] = 0.2
    lobe: Annotated[
        Length | None, Meta(description="Diameter of the lobe wished for; null: that of the usual take-up.")
    ] = None


def stemmed(stem: float, take_up: float) -> Shape:
    """Return a stem T s / 2 long with a lobe T (1 - s) / pi across at its end [geometry].

    >>> shape = stemmed(0.2, 5 * math.pi)
    >>> round(shape.outline.width_shown, 9), round(shape.depth_of_fold - 4, 9) == round(math.pi / 2, 9)
    (4.0, True)
    """
    length = take_up * stem / 2
    diameter = take_up * (1 - stem) / math.pi
    outline = Outline().line(0, length).arc(0, length + diameter / 2, 2 * math.pi).line(0, 0)
    return Shape(outline, depth_of_fold=length + diameter, thicknesses=2)


def pleat(options: Tulip, measure: Measure) -> Pleat:
    """Return the pleat; the lobe that is wished for settles its usual take-up."""

    def shape(take_up: float) -> Shape:
        return stemmed(options.stem, take_up)

    own = Pleat(
        folds=1,
        stitched="face",
        tacked="under-buckram",
        hand_tacks=1,
        buckram_depth=inches("4"),
        take_up=inch_limits("4", "5", "6 1/2"),
        space=inch_limits("3", "3 3/4", "4 1/2"),
        shape=shape,
    )
    asked = own.with_options(options, measure)
    if options.lobe is None:
        return asked
    if options.take_up and options.take_up.usual is not None:
        raise Impossible(Fault(("lobe",), "the usual take-up settles the lobe already: leave one of the two out"))
    return replace(asked, take_up=_for_lobe(measure(options.lobe, 0, "lobe"), options.stem, asked.take_up))


def _for_lobe(lobe: int, stem: float, limits: Limits) -> Limits:
    least, most = (take_up * (1 - stem) / math.pi for take_up in (limits.least, limits.most))
    if not least <= lobe <= most:
        raise Impossible(
            Fault(
                ("lobe",),
                "the limits of the take-up cannot make this lobe: give a lobe between {least} and {most}, or move "
                "the limits",
                seen="{lobe}",
                allowed="{least} to {most}",
                lengths={"lobe": lobe, "least": math.ceil(least), "most": math.floor(most)},
            )
        )
    usual = round(math.pi * lobe / (1 - stem))
    return Limits(limits.least, min(max(usual, limits.least), limits.most), limits.most)


@hookimpl
def pleatwright_headings() -> Iterator[Heading]:
    """Yield the style."""
    yield Heading(
        CONTRACT,
        "Tulip",
        "One round lobe on a short stem.",
        "Stitch the stem, open the lobe round a finger, and tack under the buckram.",
        Tulip,
        pleat,
    )
