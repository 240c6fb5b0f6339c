"""What is priced: the quantities of a job, counted already. Lengths are in grid units."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

Role = Literal["face", "lining", "interlining", "blackout"]


@dataclass(frozen=True, slots=True)
class ClothQuantity:
    """What is ordered of one cloth for the whole job, for one role."""

    cloth: str
    role: Role
    length: int


@dataclass(frozen=True, slots=True)
class HardwareQuantity:
    """What the whole job takes of one kind of hardware: a count, a length, or both."""

    kind: str
    count: int | None
    length: int | None


@dataclass(frozen=True, slots=True)
class WindowQuantities:
    """What one window comes to. `halves` are the half widths in all its panels, and `rod` the width of its rod."""

    label: str
    style: str
    halves: int
    panels: int
    pleats: int
    tacks: int
    finished_length: int
    rod: int
    patterned: bool
    layers: frozenset[Role]


@dataclass(frozen=True, slots=True)
class JobQuantities:
    """A job as it is priced. `discount` is the name of one that is asked for."""

    windows: Sequence[WindowQuantities]
    cloth: Sequence[ClothQuantity]
    hardware: Sequence[HardwareQuantity]
    rush: bool
    fitting: bool
    discount: str | None
