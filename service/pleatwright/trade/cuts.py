"""The cuts that a job's panels need: each width at its phase, half widths two to a cut where they can be."""

from collections.abc import Sequence
from fractions import Fraction
from typing import Final, Literal

from msgspec import Struct

from pleatwright.lengths import Exact
from pleatwright.trade.panel import Panel, Side
from pleatwright.trade.repeat import Wanted, phase_after, raised

Hand = Literal["left", "right", "either"]


class Served(Struct, frozen=True):
    """A width of a panel that a cut serves, and which half of the cut does, if half of it does."""

    window: int
    side: Side
    width: int
    half: Hand | None


class WindowCuts(Struct, frozen=True):
    """One window's panels, the phase at which their first widths start, and the division of the rule to cut by."""

    panels: Sequence[Panel]
    first_phase: Exact
    division: int


class Pattern(Struct, frozen=True):
    """A pattern along the bolt; 0 for a repeat that there is none of."""

    vertical_repeat: int
    horizontal_repeat: int
    drop: Fraction

    @property
    def is_plain(self) -> bool:
        """Whether the halves of a cut are alike."""
        return not (self.vertical_repeat or self.horizontal_repeat)


def cuts_of(windows: Sequence[WindowCuts], pattern: Pattern) -> tuple[list[Wanted], list[list[Served]]]:
    """Return the cuts that the windows need, raised to whole divisions of the rule, and what each of them serves.

    Every panel starts its pattern at its leading edge. From there a right panel goes on to the right, each width a drop
    lower, and a left panel to the left, each width a drop higher. A half width is at the return edge: so a right
    panel's is the left half of a cut and a left panel's the right half, and both may come from one cut if they start
    alike [geometry]. Of plain cloth any two halves make a cut.
    """
    wanted: list[Wanted] = []
    served: list[list[Served]] = []
    waiting: dict[tuple[Wanted, Hand], list[Served]] = {}
    for number, window in enumerate(windows):
        for panel in window.panels:
            onward = 1 if panel.side == "right" else -1
            for width, cut in enumerate(_cuts(window, panel, onward, pattern)):
                half = _half(panel, width, pattern)
                piece = Served(number, panel.side, width + 1, half)
                if half and (other := waiting.pop((cut, half), None)):
                    other.append(piece)
                    continue
                wanted.append(cut)
                served.append([piece])
                if half:
                    waiting[cut, _other(half)] = served[-1]
    return wanted, served


def _cuts(window: WindowCuts, panel: Panel, onward: int, pattern: Pattern) -> list[Wanted]:
    """Return the cuts of a panel's widths or lengths, from its leading edge."""
    repeat = pattern.vertical_repeat
    if panel.runs:
        return [
            Wanted(raised(length, window.division), offset % repeat if repeat else 0) for length, offset in panel.runs
        ]
    length = raised(panel.cut_length, window.division)
    if not repeat:
        return [Wanted(length)] * panel.pieces
    return [
        Wanted(length, (window.first_phase + phase_after(onward * width, pattern.drop, repeat)) % repeat)
        for width in range(panel.pieces)
    ]


def _half(panel: Panel, width: int, pattern: Pattern) -> Hand | None:
    if width < panel.pieces - 1 or panel.halves % 2 == 0:
        return None
    if pattern.is_plain:
        return "either"
    return "left" if panel.side == "right" else "right"


def _other(half: Hand) -> Hand:
    return _OTHER[half]


_OTHER: Final[dict[Hand, Hand]] = {"left": "right", "right": "left", "either": "either"}
