"""Pieces of cloth on the shelf, with their lots and flaws, and what a plan of cutting from them says."""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from msgspec import Struct

from pleatwright.faults import Fault


class Flaw(Struct, frozen=True):
    """A flaw from `start` to `end` along a piece, both from its start; the same for a point."""

    start: int
    end: int


class Piece(Struct, frozen=True):
    """One piece of cloth on the shelf. `phase` is how far into the repeat it starts."""

    length: int
    lot: str = ""
    phase: int = 0
    flaws: tuple[Flaw, ...] = ()

    def clear(self) -> Iterator[tuple[int, int]]:
        """Yield each stretch without a flaw.

        >>> list(Piece(100, flaws=(Flaw(60, 70), Flaw(20, 20))).clear())
        [(0, 20), (20, 60), (70, 100)]
        """
        at = 0
        for flaw in sorted(self.flaws, key=lambda flaw: (flaw.start, flaw.end)):
            if flaw.start > at:
                yield at, flaw.start
            at = max(at, flaw.end)
        if at < self.length:
            yield at, self.length


class PlacedCut(Struct, frozen=True):
    """A cut by its place among those wanted, where it starts and ends on its piece."""

    index: int
    start: Fraction
    end: Fraction


class Plan(Struct, frozen=True):
    """What comes from each piece, in order along it.

    `pieces_gap` and `cloth_gap` are by how many pieces, and by what length, a better plan might still beat this one:
    both are 0 when it is proved the best.
    """

    cuts: tuple[tuple[PlacedCut, ...], ...]
    pieces_gap: int
    cloth_gap: Fraction

    @property
    def proved(self) -> bool:
        """Whether there is no better plan."""
        return not self.pieces_gap and not self.cloth_gap


class Shortfall(Struct, frozen=True):
    """What is missing: the shortest further piece with which there is a plan, and its lot, None for a lot of its own.

    `proved` tells whether no shorter piece would do.
    """

    length: int
    lot: str | None
    proved: bool


class Undecided(Struct, frozen=True):
    """The work allowed ran out before a plan was found, or proved impossible."""


def shelf_faults(pieces: Sequence[Piece], repeat: int) -> list[Fault]:
    """Return what is wrong with the pieces, under `bolts`."""
    faults = []
    for at, piece in enumerate(pieces):
        for number, flaw in enumerate(piece.flaws):
            if not 0 <= flaw.start <= flaw.end <= piece.length:
                faults.append(
                    Fault(
                        ("bolts", at, "flaws", number),
                        "a flaw lies on its piece and ends no earlier than it starts, both measured from its start",
                        "{start} to {end}",
                        "from 0 to {length}",
                        {"start": flaw.start, "end": flaw.end, "length": piece.length},
                    )
                )
        if piece.phase and not piece.phase < repeat:
            faults.append(
                Fault(
                    ("bolts", at, "phase"),
                    "this is how far into the repeat the piece starts: less than the vertical repeat",
                    "{phase}",
                    "less than {repeat}" if repeat else "nothing, for plain cloth",
                    {"phase": piece.phase, "repeat": repeat},
                )
            )
    return faults
