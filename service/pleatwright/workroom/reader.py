"""Reads a request: lengths onto the grid, usual figures for what is left out, faults with their places."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from typing import Final, Self

from pleatwright import __version__
from pleatwright.contract.replies import Assumed, MadeWith
from pleatwright.faults import Fault, Impossible, Path, json_pointer
from pleatwright.headings.contract import Pleat, PleatOptions, Shape
from pleatwright.headings.host import Headings, InstalledHeading
from pleatwright.headings.soundness import check_figures
from pleatwright.headings.timing import ANSWERING, FAILURES, time_limit
from pleatwright.lengths import LengthError, Units, in_units, length_text, parse_length, quoted
from pleatwright.trade.search import Budget
from pleatwright.workroom.usual import Usual

MOST_CURE_WORK: Final = 1_000_000
"""Runs looked at, in one request, for cures of seams that cannot be hidden."""


class StyleFailedError(RuntimeError):
    """A heading style broke while a request was answered; the message names it and not what it said."""

    def __init__(self, installed: InstalledHeading) -> None:
        super().__init__(
            f"heading style {installed.style!r} of {installed.package} {installed.version} failed on this request"
        )


_FIELDS_OF_WINDOW: Final[dict[str | int, Path]] = {
    "flat_width": ("fullness",),
    "finished_width": ("rod", "width"),
    "seams": ("make_up", "seam_allowance"),
    "heading_above": ("hang", "heading_above"),
    "fabric": ("fabric",),
}


def _placed_in_window(fault: Fault) -> Fault:
    """Place a fault of a panel where a window's request decides what the panel's figures come to."""
    place = _FIELDS_OF_WINDOW.get(fault.where[0])
    return replace(fault, where=place) if place else fault


class Reader:
    """Reads one request, and remembers what was wrong and what was assumed.

    A reader made by `under` reads a part of the request further in, into the same memory. `budget` is the work that the
    whole request may spend on looking for cures.
    """

    def __init__(self, units: Units) -> None:
        self.units = units
        self._prefix: Path = ()
        self._faults: list[Fault] = []
        self._assumed: list[tuple[Path, int]] = []
        self._styles: dict[str, str] = {}
        self.budget = Budget(MOST_CURE_WORK)

    def under(self, *prefix: str | int) -> Self:
        """Return a reader of the part of the request that lies under `prefix`."""
        inner = type(self)(self.units)
        inner._prefix = self._prefix + prefix
        inner._faults, inner._assumed, inner._styles = self._faults, self._assumed, self._styles
        inner.budget = self.budget
        return inner

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
                self._assumed.append((self._prefix + where, figure))
            return figure
        try:
            return parse_length(value, self.units, signed=signed)
        except LengthError as error:
            self._faults.append(Fault(self._prefix + where, str(error), seen=quoted(value)))
            return 0

    def positive(self, value: float | str | None, *where: str | int, usual: Usual | int | None = None) -> int:
        """Return a length that must be more than nothing; see `length`."""
        found = self.length(value, *where, usual=usual)
        if not found and not any(fault.where == self._prefix + where for fault in self._faults):
            self.fault(Fault(where, "this must be more than nothing: check the figure", "0", "more than 0"))
        return found

    def fault(self, *faults: Fault) -> None:
        """Remember faults of this part of the request."""
        self._faults.extend(fault.under(self._prefix) for fault in faults)

    @contextmanager
    def collecting(self) -> Iterator[None]:
        """Remember the faults of a calculation made with this part of the request, then raise with all so far."""
        try:
            yield
        except Impossible as impossible:
            self.fault(*impossible.faults)
            self.check()

    @contextmanager
    def remembering(self) -> Iterator[None]:
        """Remember the faults of a calculation made for one window of a job, and go on with the next window."""
        try:
            yield
        except Impossible as impossible:
            self.fault(*(_placed_in_window(fault) for fault in impossible.faults))

    def check(self) -> None:
        """Raise Impossible with every fault so far, in words, if there is one."""
        if self._faults:
            raise Impossible(*(self._worded(fault) for fault in self._faults))

    def pleat(self, headings: Headings, options: PleatOptions) -> Pleat | None:
        """Return the pleat that a heading's options describe; None, with its faults remembered, if they cannot be.

        Raises StyleFailedError when the style itself breaks.
        """
        installed = headings.of(options)
        self._styles[installed.style] = f"{installed.package} {installed.version}"
        inner = self.under("heading")

        def measure(value: float | str | None, usual: int, *field: str) -> int:
            return usual if value is None else inner.length(value, *field)

        before = len(self._faults)
        try:
            with time_limit(ANSWERING):
                pleat = installed.heading.pleat(options, measure)
            if len(self._faults) == before:
                check_figures(installed.style, pleat)
                return pleat
        except Impossible as impossible:
            if len(self._faults) == before:
                inner.fault(*impossible.faults)
        except FAILURES as error:
            # A length that could not be read counts as 0, which a style need not be proof against.
            if len(self._faults) == before:
                raise StyleFailedError(installed) from error
        return None

    def shape(self, headings: Headings, options: PleatOptions, pleat: Pleat, take_up: float) -> Shape:
        """Return the shape of a pleat of this take-up. Raises StyleFailedError when the style itself breaks."""
        installed = headings.of(options)
        try:
            with time_limit(ANSWERING):
                return pleat.shape(take_up)
        except FAILURES as error:
            raise StyleFailedError(installed) from error

    @property
    def assumed(self) -> list[Assumed]:
        """What was assumed, with its place in the request."""
        return [Assumed(at=json_pointer(where), value=in_units(value, self.units)) for where, value in self._assumed]

    @property
    def made_with(self) -> MadeWith:
        """The versions that this request was answered with."""
        return MadeWith(pleatwright=__version__, styles=dict(sorted(self._styles.items())))

    def text(self, value: int) -> str:
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
