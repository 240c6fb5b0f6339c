"""A worksheet in the making: each figure by its name, its formula in trade words, what was put in, and the result."""

from fractions import Fraction

from pleatwright.contract.notes import Step
from pleatwright.lengths import Units, in_units, rounded_in_units


class Sheet:
    """Steps in the making, in one request's units."""

    def __init__(self, units: Units, prefix: str = "") -> None:
        self.steps: list[Step] = []
        self._units = units
        self._prefix = prefix

    def length(self, name: str, formula: str, result: int | Fraction, **figures: int | Fraction) -> None:
        """Add a step whose figures and result are lengths."""
        shown = {label.replace("_", " "): self.shown(figure) for label, figure in figures.items()}
        self.steps.append(Step(name=self._prefix + name, formula=formula, figures=shown, result=self.shown(result)))

    def mixed(self, name: str, formula: str, result: float, figures: dict[str, float]) -> None:
        """Add a step of ready numbers."""
        self.steps.append(Step(name=self._prefix + name, formula=formula, figures=figures, result=result))

    def shown(self, length: int | Fraction) -> float:
        """Return a length as a number in the request's units."""
        whole = isinstance(length, int) or length.denominator == 1
        return in_units(length, self._units) if whole else rounded_in_units(length, self._units)
