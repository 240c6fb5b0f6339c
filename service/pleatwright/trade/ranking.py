"""Ranks ways to make the same window, and tells which of them another one beats."""

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

from msgspec import Struct


class Merits(Struct, frozen=True):
    """What a way to make a window is judged by: fewest seams not hidden, least price, least cloth, fullest, evenest.

    `price` is None where there is none. `kind` is what alone is compared: a style is chosen for its looks, and does not
    lose to another by its price.
    """

    kind: str
    seams_not_hidden: int
    price: Decimal | None
    cloth: int
    fullness: Fraction
    unevenness: Fraction

    @property
    def faults(self) -> tuple[Fraction, ...]:
        """Figures of which less is better, the first that matters first."""
        price = Fraction(self.price or 0)
        return Fraction(self.seams_not_hidden), price, Fraction(self.cloth), -self.fullness, self.unevenness

    def beats(self, other: "Merits") -> bool:
        """Return whether this way is as good in everything as another of its kind, and better in something.

        >>> one = Merits("box", 0, Decimal(100), 500, Fraction(5, 2), Fraction(0))
        >>> dearer = Merits("box", 0, Decimal(110), 500, Fraction(5, 2), Fraction(0))
        >>> fuller = Merits("box", 0, Decimal(110), 500, Fraction(3), Fraction(0))
        >>> one.beats(dearer), one.beats(fuller), one.beats(one)
        (True, False, False)
        """
        if self.kind != other.kind or (self.price is None) != (other.price is None):
            return False
        pairs = list(zip(self.faults, other.faults, strict=True))
        return all(mine <= theirs for mine, theirs in pairs) and any(mine < theirs for mine, theirs in pairs)


def ranked(ways: Sequence[Merits]) -> list[int]:
    """Return the places of the ways, best first and those without a price last; equal ones keep their order."""
    return sorted(range(len(ways)), key=lambda place: (ways[place].price is None, ways[place].faults))


def beaten_by(ways: Sequence[Merits]) -> list[int | None]:
    """Return for each way the place of the first that beats it, if one does."""
    return [next((place for place, other in enumerate(ways) if other.beats(each)), None) for each in ways]
