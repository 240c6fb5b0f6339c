"""Two layers on one window: a sheer that hangs behind an over-drapery, and must not show above it or below it."""

from msgspec.structs import replace

from pleatwright.faults import Fault
from pleatwright.trade.hang_section import HangSection
from pleatwright.trade.window import Hang


def hang_behind(over: Hang, heading_above: int, lower_at_heading: int, shorter_at_hem: int) -> Hang:
    """Return the heights of a sheer: below the top of its over-drapery, and above its hem, by these amounts.

    What its own heading draws up, and how deep that is, is left for it to say.

    >>> over = Hang(carrying_height=960, heading_above=2, to="floor", level=0, clearance=10)
    >>> sheer = hang_behind(over, 4, 5, 5)
    >>> sheer.carrying_height, sheer.clearance, over.finished_length - sheer.finished_length
    (953, 15, 10)
    """
    top = over.carrying_height + over.heading_above - lower_at_heading
    clearance = over.clearance + shorter_at_hem
    lies = over.to in ("break", "puddle") and clearance < 0
    return replace(
        over,
        to=over.to if lies or over.to in ("sill", "apron") else "floor",
        carrying_height=top - heading_above,
        heading_above=heading_above,
        clearance=clearance,
        drawn_up=0,
        heading_depth=0,
        mount=None,
    )


def sheer_faults(sheer: HangSection, over: HangSection) -> list[Fault]:
    """Return how a sheer would show past its over-drapery, at its `hang`."""
    faults = []
    lengths = {"hem": sheer.hem, "lowest": over.hem, "top": sheer.top, "highest": over.top}
    if sheer.hem < over.hem:
        detail = "the sheer is longer than its over-drapery: its hem at {hem} shows below the other at {lowest}"
        faults.append(Fault(("hang", "clearance"), detail, "a hem at {hem}", "a hem at {lowest} or higher", lengths))
    if sheer.top > over.top:
        detail = "the sheer shows above its over-drapery: its heading reaches {top}, and the other's {highest}"
        allowed = "a heading up to {highest}"
        faults.append(Fault(("hang", "carrying_height"), detail, "a heading at {top}", allowed, lengths))
    return faults
