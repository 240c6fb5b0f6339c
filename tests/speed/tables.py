"""What was measured, as tables in Markdown, and beside each goal whether it was met."""

import statistics
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class Goal:
    """A figure that has a goal: at least, or at most, so much."""

    what: str
    measured: float
    goal: float
    at_least: bool = False
    unit: str = ""

    @property
    def met(self) -> bool:
        """Whether the figure is as good as was wanted."""
        return self.measured >= self.goal if self.at_least else self.measured <= self.goal


@dataclass(frozen=True)
class Table:
    """A table: what it is of and how it was measured, the columns' names, the rows."""

    title: str
    columns: Sequence[str]
    rows: Sequence[Sequence[str]]


@dataclass(frozen=True)
class Measured:
    """What a part measured."""

    tables: Sequence[Table]
    goals: Sequence[Goal] = ()


def with_spread(values: Sequence[float], decimals: int = 0) -> str:
    """Return the median, and half of the way from the least to the most if there are several."""
    median = f"{statistics.median(values):,.{decimals}f}"
    spread = (max(values) - min(values)) / 2
    return f"{median} ±{spread:,.{decimals}f}" if len(values) > 1 else median


def ratio_with_spread(above: Sequence[float], below: Sequence[float]) -> str:
    """Return the median of the rounds' own ratios with its spread: what disturbs a round disturbs both."""
    return with_spread([one / other for one, other in zip(above, below, strict=True)], 2)


def median_ratio(above: Sequence[float], below: Sequence[float]) -> float:
    """Return the median of the rounds' own ratios."""
    return statistics.median(one / other for one, other in zip(above, below, strict=True))


def markdown(table: Table) -> str:
    """Return a table in Markdown, its title above it."""
    lines = [table.columns, ["---"] + ["---:"] * (len(table.columns) - 1), *table.rows]
    return f"**{table.title}**\n\n" + "\n".join(f"| {' | '.join(each)} |" for each in lines) + "\n"


def of_goals(goals: Sequence[Goal]) -> Table:
    """Return the goals in a table, met or not."""
    rows = [
        [
            each.what,
            f"{each.measured:,.2f}{each.unit}",
            f"{'at least' if each.at_least else 'at most'} {each.goal:g}{each.unit}",
            "yes" if each.met else "no",
        ]
        for each in goals
    ]
    return Table("Goals", ("what", "measured", "goal", "met"), rows)
