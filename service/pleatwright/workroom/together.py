"""Reads the windows of a job together: which sheer hangs behind which over-drapery, and what they share."""

from collections import Counter
from collections.abc import Sequence
from typing import Any

from pleatwright.contract.requests import Window
from pleatwright.faults import Fault
from pleatwright.headings.host import Headings
from pleatwright.workroom.figures import FaceCloth
from pleatwright.workroom.reader import Reader
from pleatwright.workroom.windows import ReadWindow, read_window
from pleatwright.workroom.work import Work


def read_windows(
    reader: Reader, windows: Sequence[Window[Any]], fabrics: dict[str, FaceCloth], headings: Headings
) -> Work[list[ReadWindow | None]]:
    """Read a job's windows, one after the other; None, with its faults remembered, for one that cannot be used."""
    labels = [window.label or f"Window {number}" for number, window in enumerate(windows, 1)]
    read: dict[int, ReadWindow | None] = {}
    # An over-drapery is read before the sheer behind it, wherever it stands in the job.
    for index in sorted(range(len(windows)), key=lambda index: windows[index].behind is not None):
        yield None
        inner = reader.under("windows", index)
        over = _over(inner, index, windows, labels)
        found = read_window(
            inner, windows[index], labels[index], fabrics, headings, read[over] if over is not None else None
        )
        read[index] = found
    ordered = [read[index] for index in range(len(windows))]
    _check_levels(ordered)
    return ordered


def _over(reader: Reader, index: int, windows: Sequence[Window[Any]], labels: Sequence[str]) -> int | None:
    """Return the place of the window that this one hangs behind; None, perhaps with a fault remembered, for none."""
    behind = windows[index].behind
    if behind is None:
        return None
    places = [place for place, label in enumerate(labels) if label == behind.window and place != index]
    if len(places) == 1 and windows[places[0]].behind is None:
        return places[0]
    if len(places) == 1:
        detail = "that window's panels hang behind another's themselves: name the over-drapery in front of both"
    elif places:
        detail = "several windows have this label: give each its own"
    else:
        detail = "no other window of the job has this label: name the one with the over-drapery"
    reader.fault(Fault(("behind", "window"), detail, behind.window, "the label of one other window"))
    return None


def _check_levels(windows: Sequence[ReadWindow | None]) -> None:
    """Remember a fault where a pattern is to be level in the room and heights above the floor are not known."""
    read = [window for window in windows if window]
    shared = Counter(window.request.fabric for window in read)
    for window in read:
        fabric = window.fabric
        levelled = fabric.vertical_repeat and fabric.level == "room" and shared[window.request.fabric] > 1
        if levelled and window.hang.measured_from != "floor" and window.request.hang:
            detail = (
                "the pattern is to stand at one height in the room, and a drop to the sill or the apron does not say "
                'how high that is: give heights from the floor, or set the level of the fabric to "window"'
            )
            window.reader.fault(
                Fault(("hang", "drop"), detail, "{drop}", "null", {"drop": window.hang.carrying_height})
            )
