"""How deep a hem is drawn."""

from dataclasses import dataclass

from pleatwright.lengths import Units, from_units


@dataclass(frozen=True, slots=True)
class Hem:
    """A hem's finished depth in grid units; taken to be double where only what it takes is known."""

    depth: int
    is_known: bool

    @property
    def proviso(self) -> str:
        """What its depth rests on: whoever folds it another way is not to be misled."""
        return "" if self.is_known else ", if double"


def hem(takes: float, depth: float | None, units: Units) -> Hem:
    """Return a hem that takes so much flat cloth; `depth` is None where its type was not given, or it is faced."""
    return Hem(from_units(takes / 2 if depth is None else depth, units), depth is not None)
