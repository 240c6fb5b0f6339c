"""Reads a request: lengths onto the grid, usual figures for what is left out, faults with their places."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction
from typing import Any, Final, Literal, Self, TypeVar

from msgspec.structs import replace

from pleatwright import __version__
from pleatwright.contract.notes import Assumed, MadeWith
from pleatwright.faults import Fault, Impossible, Path, json_pointer
from pleatwright.headings.host import Headings, InstalledHeading
from pleatwright.headings.made import Made, Shape
from pleatwright.headings.options import HeadingOptions, option_faults
from pleatwright.headings.soundness import check_figures
from pleatwright.headings.timing import ANSWERING, Allowance, fenced
from pleatwright.lengths import LengthError, Units, in_units, length_text, parse_length, seen
from pleatwright.masses import parse_mass
from pleatwright.trade.laid_out import LaidOut
from pleatwright.trade.search import Budget
from pleatwright.workroom.usual import Usual

Word = TypeVar("Word", bound=str)
Result = TypeVar("Result")

MOST_CURE_WORK: Final = 1_000_000
"""Runs looked at, in one request, for cures of seams that cannot be hidden."""


class StyleFailedError(RuntimeError):
    """A heading style broke while a request was answered; the message names it and not what it said, in `cause`."""

    def __init__(self, installed: InstalledHeading, cause: Exception) -> None:
        super().__init__(
            f"heading style {installed.style!r} of {installed.package} {installed.version} failed on this request"
        )
        self.cause = cause


_FIELDS_OF_WINDOW: Final[dict[str | int, Path]] = {
    "flat_width": ("fullness",),
    "finished_width": ("rod", "width"),
    "seams": ("make_up", "seam_allowance"),
    "heading_above": ("hang", "heading_above"),
}


def _placed_in_window(fault: Fault) -> Fault:
    """Place a fault of a panel where a window's request decides what the panel's figures come to."""
    place = _FIELDS_OF_WINDOW.get(fault.where[0])
    if fault.where[0] == "flat_width":
        detail = f"{fault.detail} (it follows from the fullness, the cloth's width, the count of widths and the hems)"
        seen, allowed = (f"a flat width of {text}" if text else None for text in (fault.seen, fault.allowed))
        fault = replace(fault, detail=detail, seen=seen, allowed=allowed)
    return replace(fault, where=place) if place else fault


def in_thousandths(ratio: Fraction) -> float:
    """Return a ratio as it is told."""
    return round(float(ratio), 3)


@dataclass(slots=True)
class _Memory:
    """What is remembered of one request.

    `styles_allowed` is the time that styles may still take. `shapes` are those that a style has drawn, by what it made,
    which they keep alive, and the piece.
    """

    faults: list[Fault] = field(default_factory=list)
    assumed: list[Assumed] = field(default_factory=list)
    styles: dict[str, str] = field(default_factory=dict)
    budget: Budget = field(default_factory=lambda: Budget(MOST_CURE_WORK))
    styles_allowed: Allowance = field(default_factory=lambda: Allowance.of(ANSWERING))
    shapes: dict[tuple[int, tuple[float, ...]], tuple[Made, Shape]] = field(default_factory=dict)


class Reader:
    """Reads one request, and remembers what was wrong and what was assumed.

    A reader made by `under` reads a part of the request further in, into the same memory.
    """

    __slots__ = ("_memory", "_prefix", "units")

    def __init__(self, units: Units, prefix: Path = (), memory: _Memory | None = None) -> None:
        self.units = units
        self._prefix = prefix
        self._memory = memory or _Memory()

    def under(self, *prefix: str | int) -> Self:
        """Return a reader of the part of the request that lies under `prefix`."""
        return type(self)(self.units, self._prefix + prefix, self._memory)

    @property
    def budget(self) -> Budget:
        """The work that the whole request may spend on looking for cures."""
        return self._memory.budget

    def usual(self, figure: Usual) -> int:
        """Return a usual figure in the measure that the request works in."""
        return figure.inch if self.units == "in" else figure.metric

    def length(
        self, value: float | str | None, *where: str | int, usual: Usual | int | None = None, signed: bool = False
    ) -> int:
        """Return a length in grid units; the usual one, remembered as assumed, for None.

        A length that cannot be read is remembered as a fault, and counts as 0 until `check` is called.
        """
        if value is None:
            assert usual is not None, "a field without a usual figure is required by the contract"
            figure = usual if isinstance(usual, int) else self.usual(usual)
            if figure:
                self._assume(where, in_units(figure, self.units), "length")
            return figure
        try:
            return parse_length(value, self.units, signed=signed)
        except LengthError as error:
            self._memory.faults.append(Fault(self._prefix + where, str(error), seen=seen(value)))
            return 0

    def fullness(self, value: float | Fraction) -> Fraction:
        """Return the fullness asked for, a number; a usual one, a fraction, is remembered as assumed and as told."""
        if isinstance(value, Fraction):
            value = in_thousandths(value)
            self._assume(("fullness",), value, "ratio")
        # repr gives back the decimal that was written; the float itself lies a hair beside it.
        return Fraction(Decimal(repr(value)))

    def mass_per_area(self, value: str | None, *where: str | int, usual: Fraction) -> Fraction:
        """Return a mass per unit area in grams a square metre; the usual one, remembered as assumed, for None."""
        if value is None:
            self._assume(where, float(usual), "grams-per-square-metre")
            return usual
        return parse_mass(value)

    def word(self, value: Word | None, *where: str | int, usual: Word) -> Word:
        """Return a word of a choice; the usual one, remembered as assumed, for None."""
        if value is None:
            self._assume(where, usual, "word")
            return usual
        return value

    def _assume(
        self,
        where: Path,
        value: float | str,
        measure: Literal["length", "ratio", "grams-per-square-metre", "word"],
    ) -> None:
        self._memory.assumed.append(Assumed(at=json_pointer(self._prefix + where), value=value, measure=measure))

    def positive(self, value: float | str | None, *where: str | int, usual: Usual | int | None = None) -> int:
        """Return a length that must be more than nothing; see `length`."""
        found = self.length(value, *where, usual=usual)
        if not found and not any(fault.where == self._prefix + where for fault in self._memory.faults):
            self.fault(Fault(where, "this must be more than nothing: check the figure", "0", "more than 0"))
        return found

    def fault(self, *faults: Fault) -> None:
        """Remember faults of this part of the request."""
        self._memory.faults.extend(fault.under(self._prefix) for fault in faults)

    @contextmanager
    def collecting(self) -> Iterator[None]:
        """Remember the faults of a calculation made with this part of the request, then raise with all so far."""
        try:
            yield
        except Impossible as impossible:
            self.fault(*impossible.faults)
            self.check()

    @contextmanager
    def remembering(self, fabric: Path = ()) -> Iterator[None]:
        """Remember the faults of a calculation made for one window of a job, and go on with the next window.

        `fabric` is where in the whole request the window's fabric is described; nowhere if a rate book describes it.
        """
        try:
            yield
        except Impossible as impossible:
            for fault in impossible.faults:
                if fault.where[0] == "fabric" and fabric:
                    self._memory.faults.append(replace(fault, where=fabric + fault.where[1:]))
                elif fault.where[0] == "fabric":
                    self.fault(replace(fault, where=("fabric",)))
                else:
                    self.fault(_placed_in_window(fault))

    def check(self) -> None:
        """Raise Impossible with every fault so far, in words, if there is one."""
        if self._memory.faults:
            raise Impossible(*(self._worded(fault) for fault in self._memory.faults))

    def settled(self, made: Made | None) -> Made:
        """Return what a style made, once all that was read is right; see `check`."""
        self.check()
        assert made is not None, "a heading that cannot be made has left a fault"
        return made

    def made(self, headings: Headings, options: HeadingOptions) -> Made | None:
        """Return what a style makes of its options; None, with its faults remembered, if they cannot be.

        Raises StyleFailedError when the style itself breaks.
        """
        installed = headings.of(options)
        self._memory.styles[installed.style] = f"{installed.package} {installed.version}"
        inner = self.under("heading")
        as_it_comes = installed.as_it_comes
        if options != as_it_comes.options:
            return inner._made(installed, options)
        for where, length in as_it_comes.assumed:
            inner.length(None, *where, usual=length)
        return as_it_comes.made

    def _made(self, installed: InstalledHeading, options: HeadingOptions) -> Made | None:
        def measure(value: float | str | None, usual: int, *field: str, least: int = 1) -> int:
            before = len(self._memory.faults)
            length = self.length(value, *field, usual=usual)
            if value is not None and len(self._memory.faults) == before:
                self.fault(*option_faults(length, least, *field))
            return length

        before = len(self._memory.faults)

        def make() -> Made | None:
            made = installed.heading.make(options, measure)
            if len(self._memory.faults) > before:
                return None
            check_figures(installed.style, made)
            return made

        try:
            return self._fenced(installed, make)
        except Impossible as impossible:
            if len(self._memory.faults) == before:
                self.fault(*impossible.faults)
        except StyleFailedError:
            # A length that could not be read counts as 0, which a style need not be proof against.
            if len(self._memory.faults) == before:
                raise
        return None

    def shape(self, headings: Headings, options: HeadingOptions, made: Made, *piece: float) -> Shape:
        """Return the shape of a piece of a heading. Raises StyleFailedError when the style itself breaks."""
        asked = id(made), piece
        if asked not in self._memory.shapes:
            installed = headings.of(options)
            try:
                self._memory.shapes[asked] = made, self._fenced(installed, made.shape, *piece)
            except Impossible as error:
                raise StyleFailedError(installed, error) from error
        return self._memory.shapes[asked][1]

    def largest_pleat(self, headings: Headings, options: HeadingOptions, made: Made, laid_out: LaidOut) -> Shape | None:
        """Return the shape of a panel's largest pleat, in grid units; None where there are no pleats."""
        if laid_out.pleats is None:
            return None
        return self.shape(headings, options, made, float(laid_out.pleats.most_take_up))

    def _fenced(self, installed: InstalledHeading, call: Callable[..., Result], *arguments: Any) -> Result:
        try:
            return fenced(self._memory.styles_allowed, call, *arguments)
        except Impossible:
            raise
        except Exception as error:
            raise StyleFailedError(installed, error) from error

    @property
    def assumed(self) -> list[Assumed]:
        """What was assumed, with its place in the request."""
        return self._memory.assumed

    @property
    def made_with(self) -> MadeWith:
        """The versions that this request was answered with."""
        return MadeWith(pleatwright=__version__, styles=dict(sorted(self._memory.styles.items())))

    def text(self, value: int | Fraction) -> str:
        """Write a length in the request's units, as a maker reads it."""
        return length_text(value, self.units)

    def _worded(self, fault: Fault) -> Fault:
        if not fault.lengths:
            return fault
        texts = {name: length_text(value, self.units, finest=64) for name, value in fault.lengths.items()}

        def worded(text: str | None) -> str | None:
            return text.format_map(texts) if text else text

        return replace(
            fault,
            detail=fault.detail.format_map(texts),
            seen=worded(fault.seen),
            allowed=worded(fault.allowed),
            lengths={},
        )
