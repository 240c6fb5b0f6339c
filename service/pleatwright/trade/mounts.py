"""What a panel hangs from: where the point is that carries it, and how far its heading may rise above that."""

from fractions import Fraction
from typing import Literal

from msgspec import Struct

from pleatwright.faults import Fault

MountKind = Literal["traverse-rod", "ceiling-track", "rings", "clip-rings", "through-heading"]

ON_RINGS: tuple[MountKind, ...] = ("rings", "clip-rings")
ON_CARRIERS: tuple[MountKind, ...] = ("traverse-rod", "ceiling-track")


class Mount(Struct, frozen=True):
    """A rod or a track as it is fixed; heights are above what the window's heights are measured from.

    `top` is the height of the top of the rod or track: of a track on the ceiling, that of the ceiling. `depth` is from
    there down to its underside, and `carrying_below` down to the point that carries the panel: the eye of a carrier or
    a ring, the foot of a clip's jaws, the top of a rod that goes through the heading. `sliders` are the carriers or
    rings on it for each panel, if their count is fixed, and `slider_length` is the rod that one takes up. The limits
    are in grams, as its maker states them.
    """

    kind: MountKind
    top: int
    depth: int
    carrying_below: int
    ceiling: int | None = None
    sliders: int | None = None
    slider_length: int = 0
    load_limit: Fraction | None = None
    slider_load_limit: Fraction | None = None
    is_supplied: bool = False

    @property
    def carrying_height(self) -> int:
        """Height of the point that carries the panel."""
        return self.top - self.carrying_below

    @property
    def underside(self) -> int:
        """Height of the underside of the rod or track."""
        return self.top - self.depth


def ring_carries_below(ring: int, eye: int) -> int:
    """Return how far below the top of its rod a ring carries: it hangs with its inside on the top of the rod.

    `ring` is its inside diameter, `eye` the distance from its inside, at the bottom, down to where a hook bears
    [geometry].

    >>> ring_carries_below(50, 10)
    60
    """
    return ring + eye


def mount_faults(mount: Mount, ring: int | None = None) -> list[Fault]:
    """Return what is wrong with a mount, at its fields; `ring` is the inside diameter of its rings, if it has any."""
    faults = []
    lengths = {"top": mount.top, "depth": mount.depth, "ring": ring or 0, "ceiling": mount.ceiling or 0}
    if ring is not None and ring <= mount.depth:
        detail = "this ring does not go over its rod of {depth}: measure its inside, and the rod's diameter"
        faults.append(Fault(("ring",), detail, "{ring}", "more than {depth}", lengths))
    if mount.ceiling is not None and mount.ceiling < mount.top:
        detail = "the ceiling cannot be lower than the top of the rod at {top}: measure both from the floor"
        faults.append(Fault(("ceiling",), detail, "{ceiling}", "{top} or more", lengths))
    if mount.carrying_height <= 0:
        detail = "this leaves nothing to hang a panel from: check the heights and their units"
        faults.append(Fault(("height",), detail, "{top}", None, lengths))
    return faults
