"""Answers that a solver has still to complete."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Generic, TypeVar

Reply = TypeVar("Reply")


@dataclass(frozen=True, slots=True)
class Begun(Generic[Reply]):
    """An answer in which no heading style has a part any more.

    `finish` completes it, and may be called in any thread; it takes seconds when `takes_long`.
    """

    takes_long: bool
    finish: Callable[[], Reply]
