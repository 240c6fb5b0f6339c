"""How much of the rod an open panel takes, and what it leaves of the glass."""

from collections.abc import Callable, Generator
from fractions import Fraction
from typing import Final

from msgspec import Struct

from pleatwright.faults import Fault, Impossible
from pleatwright.lengths import nearest_whole
from pleatwright.trade.panel import Panel, Side
from pleatwright.trade.window import Rod

MOST_RODS: Final = 400
"""Rods tried for one that clears the glass, and so a bound on the work."""


def heading_thickness(face: int, depth: int, turning: int, stiffening: int, layers: int) -> int:
    """Return how thick the cloth is in the heading, where the folds of a stack lie: more than below it.

    The face is there once, and again in its turning, as far as that goes down the depth of the heading; with the
    buckram or tape inside, and each layer behind [geometry; that cloth turned over twice its buckram wraps it front and
    back is common practice].

    >>> heading_thickness(8, 10, 20, 6, 4)
    34
    """
    return nearest_whole(face * (depth + turning), depth) + stiffening + layers


def stack(folded: int, each: float | Fraction, slider_length: int, overlap: int) -> int:
    """Return the length of rod that an open panel occupies.

    Each of the `folded` pleats with its space, points, or folds of a gather takes `each`, and no less than the carrier
    or ring that it hangs on; the flat piece at the leading edge stays flat before them.

    >>> stack(13, 8.0, 5, 24), stack(13, 4.0, 5, 24)
    (128, 89)
    """
    top, bottom = max(each, slider_length).as_integer_ratio()
    return -(-folded * top // bottom) + overlap


def third_of_share(rod: Rod, panel: Panel) -> Fraction:
    """Return a third of the rod that a panel covers, the rule of thumb for its stack [common practice]."""
    crosses = panel.overlap if rod.draw in ("pair", "off-centre-pair") else 0
    return Fraction(2 * (panel.finished_width - panel.return_ - panel.leading_return) - crosses, 6)


class Glass(Struct, frozen=True):
    """The glass: how wide, and how far its left edge is from the left end of the rod; None for one in the middle."""

    width: int
    from_left: int | None = None

    def beside(self, rod: int) -> dict[Side, int]:
        """Return the rod beyond the glass at each side; less than nothing where the glass goes on past the rod."""
        left = (rod - self.width) // 2 if self.from_left is None else self.from_left
        return {"left": left, "right": rod - self.width - left}

    def covered(self, rod: int, stacks: dict[Side, int]) -> dict[Side, int]:
        """Return the glass that each open panel still covers: what of it lies behind the panel [geometry].

        >>> Glass(100).covered(120, {"left": 15, "right": 8})
        {'left': 5, 'right': 0}
        >>> Glass(100, from_left=-20).covered(60, {"left": 15})
        {'left': 15}
        """
        beside = self.beside(rod)
        return {
            side: max(min(length, beside[side] + self.width) - max(beside[side], 0), 0)
            for side, length in stacks.items()
        }


class ClearRod(Struct, frozen=True):
    """The shortest rod that clears the glass, and the stack of each panel that hangs on it."""

    width: int
    stacks: dict[Side, int]
    left_of_glass: int
    right_of_glass: int


def clear_rod(
    glass: int, spare: int, step: int, both_sides: bool, stacks_on: Callable[[int], dict[Side, int]]
) -> ClearRod:
    """Return the shortest rod, in whole steps, on which the open panels leave the glass clear.

    The stack depends on the rod, which depends on the stack: rods are tried from the width of the glass on, since the
    stack need not grow with the rod and a shorter one may do where a longer does not. `stacks_on` gives the stack of
    each panel on a rod, and raises Impossible when no panels can be made for it. `spare` is rod wanted on each side,
    beside the glass or beyond the stack.

    Raises Impossible when no rod of those tried will do; with why panels cannot be made if that holds for all of them.

    >>> clear_rod(100, 0, 10, True, lambda rod: {"left": rod // 6, "right": rod // 6}).width
    150
    """
    search = clear_rod_in_parts(glass, spare, step, both_sides, stacks_on)
    while True:
        try:
            next(search)
        except StopIteration as end:
            found: ClearRod = end.value
            return found


def clear_rod_in_parts(
    glass: int, spare: int, step: int, both_sides: bool, stacks_on: Callable[[int], dict[Side, int]]
) -> Generator[None, None, ClearRod]:
    """Return `clear_rod`, yielding before each rod that is tried."""
    refused: Impossible | None = None
    hangs = False
    first = -(-(glass + 2 * spare) // step)
    for steps in range(max(first, 1), max(first, 1) + MOST_RODS):
        rod = steps * step
        yield
        try:
            stacks = stacks_on(rod)
        except Impossible as impossible:
            refused = impossible
            continue
        hangs = True
        left, right = stacks.get("left", 0) + spare, stacks.get("right", 0) + spare
        if both_sides:
            left = right = max(left, right)
        if glass + left + right <= rod:
            over = rod - glass - left - right
            left += over // 2 if both_sides else (over if "left" in stacks else 0)
            return ClearRod(rod, stacks, left, rod - glass - left)
    if refused is not None and not hangs:
        raise refused
    raise Impossible(
        Fault(
            ("rod", "step"),
            f"none of {MOST_RODS} rods from {{glass}} on clears the glass: try larger steps, or take less cloth",
            "{step}",
            None,
            {"glass": glass, "step": step},
        )
    )
