"""The hang section: every height of a panel on the wall, from the ceiling to the floor."""

from msgspec import Struct

from pleatwright.faults import Fault
from pleatwright.trade.mounts import ON_CARRIERS, ON_RINGS, Mount
from pleatwright.trade.window import Hang


class PinSet(Struct, frozen=True):
    """A pin as it is set: how far it rises from where it enters the cloth, and how deep below the top that is."""

    rise: int
    depth: int


class HangSection(Struct, frozen=True):
    """Heights of one panel, in grid units above what the window's heights are measured from.

    `carrying` is that of the point that carries the panel, `top` that of the top of the heading, `heading_foot` that of
    the foot of its buckram, tape or casing, and `pin` where the pins enter the cloth. `level` is what the panel hangs
    to. A panel with a rod through its heading hangs `drawn_up` shorter than it was made.
    """

    carrying: int
    top: int
    heading_foot: int
    pin: int | None
    hem: int
    level: int
    finished_length: int
    drawn_up: int
    mount: Mount | None

    @property
    def heading_above(self) -> int:
        """How far the heading stands above the carrying point."""
        return self.top - self.carrying

    @property
    def clearance(self) -> int:
        """How far the hem hangs above what the panel hangs to; less than nothing below it."""
        return self.hem - self.level

    @property
    def to_ceiling(self) -> int | None:
        """From the top of the heading up to the ceiling, where that is known."""
        return self.mount.ceiling - self.top if self.mount and self.mount.ceiling is not None else None

    @property
    def below_rod(self) -> int | None:
        """From the underside of the rod or track down to the top of the heading; less than nothing if it covers it."""
        return self.mount.underside - self.top if self.mount else None


def hang_section(hang: Hang, pin: PinSet | None = None, finished_length: int | None = None) -> HangSection:
    """Return the heights of a panel: one of a finished length made already, or one made for these heights.

    The top of the heading stands above the carrying point by the pin's depth less its rise, where the panel is pinned,
    and the hem hangs the finished length below the top, less what a rod through the heading draws up [geometry].

    >>> hang = Hang(carrying_height=960, heading_above=2, to="floor", level=0, clearance=10, heading_depth=40)
    >>> made = hang_section(hang, PinSet(rise=14, depth=16))
    >>> made.top, made.pin, made.heading_foot, made.hem, made.finished_length
    (962, 946, 922, 10, 952)
    >>> hang_section(hang, PinSet(14, 20), finished_length=952).hem
    14
    """
    length = hang.finished_length if finished_length is None else finished_length
    top = hang.carrying_height + (pin.depth - pin.rise if pin else hang.heading_above)
    return HangSection(
        carrying=hang.carrying_height,
        top=top,
        # What a rod draws up, it draws up within the heading.
        heading_foot=top - hang.heading_depth + hang.drawn_up,
        pin=top - pin.depth if pin else None,
        hem=top - length + hang.drawn_up,
        level=hang.level,
        finished_length=length,
        drawn_up=hang.drawn_up,
        mount=hang.mount,
    )


def section_faults(section: HangSection) -> list[Fault]:
    """Return what cannot be hung so: a heading that would stand in the ceiling, at `hang`."""
    to_ceiling = section.to_ceiling
    if to_ceiling is None or to_ceiling > 0:
        return []
    lengths = {"above": section.heading_above, "most": section.heading_above + to_ceiling}
    return [
        Fault(
            ("hang", "heading_above"),
            "the heading would stand in the ceiling: let less of it rise above the carrying point, or lower the rod",
            "{above}",
            "less than {most}",
            lengths,
        )
    ]


def light_shows(section: HangSection) -> int:
    """Return how much light shows between a track or a traverse rod and the heading below it; 0 if none does."""
    if section.mount is None or section.mount.kind not in ON_CARRIERS:
        return 0
    return max(section.below_rod or 0, 0)


def rubs(section: HangSection) -> int:
    """Return how far a heading on rings reaches up beside the rod, where it would rub as it is drawn; 0 if not."""
    if section.mount is None or section.mount.kind not in ON_RINGS:
        return 0
    return max(-(section.below_rod or 0), 0)
