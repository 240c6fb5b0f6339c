"""What every reply carries besides its figures: cautions, what was assumed, how figures were reached, the versions."""

from typing import Annotated, Literal

from msgspec import UNSET, Meta, Struct, UnsetType

from pleatwright.contract.cut_lists import Number


class Caution(Struct, frozen=True, kw_only=True):
    """Something to look at before cutting. A result that carries one still stands."""

    kind: Annotated[str, Meta(description="A stable name of the caution.", examples=["seam-shows"])]
    detail: str
    seam: Annotated[int | UnsetType, Meta(description="The seam it is about, counted from 1 at the leading edge.")] = (
        UNSET
    )


class Step(Struct, frozen=True, kw_only=True):
    """How one figure was reached."""

    name: str
    formula: Annotated[str, Meta(description="In trade words.")]
    figures: Annotated[dict[str, Number], Meta(description="What was put in.")]
    result: Number


class Assumed(Struct, frozen=True, kw_only=True):
    """A figure that the request left out, and what was taken in its place."""

    at: Annotated[str, Meta(description="JSON Pointer to the field in the request.", examples=["/rod/overlap"])]
    value: Number | str
    measure: Annotated[
        Literal["length", "ratio", "grams-per-square-metre", "word"],
        Meta(description="A length in the request's units, a ratio, a mass per unit area, or a word."),
    ]


class Progress(Struct, frozen=True, kw_only=True):
    """How far work is that takes long: a line before the reply, where a reply is asked for as application/x-ndjson."""

    doing: Annotated[str, Meta(description="What is being done, in words.", examples=["window"])]
    done: Annotated[int, Meta(description="How many of these are done.")]
    of: Annotated[int | None, Meta(description="How many there are; null where that is not known.")]


class MadeWith(Struct, frozen=True, kw_only=True):
    """The versions that a reply was made with."""

    pleatwright: str
    styles: Annotated[dict[str, str], Meta(description="Package and version of each style used, by style.")]
