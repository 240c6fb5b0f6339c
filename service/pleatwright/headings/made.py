"""What a style makes of a panel's heading: pleats with spaces, a continuous gather, or points that it hangs from.

A style gives the figures; laying a panel out by them is the trade's work, the same for every style. Lengths are in
grid units, but for a shape, which is drawn in the unit of the cloth it is drawn for.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import Final, Literal

from pleatwright.faults import Fault, Impossible
from pleatwright.headings.options import Measure, PleatOptions, limits_asked
from pleatwright.headings.outline import Outline, wave
from pleatwright.lengths import Limits

WIDEST_LIMITS: Final = 10
"""How many times the least the most may be: room for any pleat there is, and a bound on the layouts to look at."""

Stitched = Literal["face", "back"]
Tacked = Literal["top", "under-buckram", "cup-base", "none"]
Per = Literal["flat-width", "finished-width", "pleat", "point", "panel"]
Layout = Literal["pleats", "gathers", "points"]
Parity = Literal["any", "even", "odd"]


@dataclass(frozen=True, slots=True)
class Shape:
    """A piece of a heading seen from above, with all its figures in the unit of its cloth.

    `depth_of_fold` is how deep each fold is. `lies_wide` is the width of cloth that lies flat on the face, which no
    outline can show. `filler` is the diameter of the roll that keeps a round pleat open. `thicknesses` are those of
    the cloth side by side along the rod when the panel is stacked.
    """

    outline: Outline
    depth_of_fold: float
    thicknesses: int
    lies_wide: float = 0.0
    filler: float | None = None

    @property
    def width_shown(self) -> float:
        """How wide the piece is as seen from the room."""
        return max(self.outline.width_shown, self.lies_wide)

    def stack(self, cloth_thickness: float) -> float:
        """Return the length of rod that the piece takes when the panel is stacked.

        It is as thick as its thicknesses of cloth, or as wide as its filler [geometry, with cloth that presses flat].
        """
        return max(self.filler or 0.0, self.thicknesses * cloth_thickness)


def waved(cloth: float, shown: float) -> Shape:
    """Return the usual shape of cloth that is gathered or hung: one wave, to the front and to the back [geometry].

    >>> waved(8.0, 4.0).depth_of_fold == wave(8.0, 4.0).projection
    True
    """
    outline = wave(cloth, shown)
    return Shape(outline, outline.projection, thicknesses=2)


@dataclass(frozen=True, slots=True)
class FullnessLimits:
    """The least, the usual and the most of flat width divided by finished width."""

    least: Fraction
    usual: Fraction
    most: Fraction


def fullness_limits(least: str, usual: str, most: str) -> FullnessLimits:
    """Return limits of fullness, for figures that stand in code.

    >>> fullness_limits("1.5", "2", "2.5").least
    Fraction(3, 2)
    """
    return FullnessLimits(Fraction(least), Fraction(usual), Fraction(most))


@dataclass(frozen=True, slots=True)
class Material:
    """Something a heading takes besides cloth.

    `kind` is its name in the trade, in the singular and in small letters. `per` says what there is one of it for, or
    what it is as long as; `extra` is what each panel's length takes more, to turn its ends in. `size` is a depth, a
    diameter or a length.
    """

    kind: str
    per: Per
    size: int | None = None
    extra: int = 0


@dataclass(frozen=True, slots=True)
class Notice:
    """A caution that a style gives with its figures.

    `kind` is written as a style's name. `detail` may hold names in braces, of `lengths` in grid units.
    """

    kind: str
    detail: str
    lengths: Mapping[str, int | Fraction] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Made:
    """What headings of every kind say.

    `materials` are what it takes besides cloth. `heading_above` is how far its top stands above the point that carries
    it, negative below it: the eye of a ring or a carrier, or the top of a rod that goes through the heading. It may be
    None where pins or hooks settle it. `drawn_up` is the length that a rod through the heading
    takes up once it is hung, and `rod` the diameter of the rod that it is made for, where one goes through.
    `overlaps` tells whether the leading edges of a pair can cross. `pin_rise` is the usual
    rise of the hooks it takes; None for the pins of drapery, and where nothing is pinned.
    """

    materials: tuple[Material, ...] = ()
    notices: tuple[Notice, ...] = ()
    heading_above: int | None = None
    drawn_up: int = 0
    rod: int | None = None
    overlaps: bool = True
    pin_rise: int | None = None


@dataclass(frozen=True, slots=True)
class Pleat(_Made):
    """Pleats with spaces between them, pinned at each pleat.

    `hand_tacks` are the tacks sewn by hand in each pleat, at the place `tacked`. `shape` takes a take-up in any unit
    and gives the pleat's shape in that same unit; the developed length of its outline equals the take-up, and it ends
    where it starts.
    """

    folds: int
    stitched: Stitched
    tacked: Tacked
    hand_tacks: int
    buckram_depth: int
    take_up: Limits
    space: Limits
    shape: Callable[[float], Shape]

    @property
    def layout(self) -> Layout:
        """What it is laid out in."""
        return "pleats"

    @property
    def word(self) -> str:
        """The trade's word for one of them."""
        return "pleat"

    @property
    def is_pinned(self) -> bool:
        """Whether pins or hooks carry it: they do."""
        return True

    @property
    def depth(self) -> int:
        """Depth of the heading: that of its buckram."""
        return self.buckram_depth

    @property
    def top_turning(self) -> int:
        """Cloth turned over at the top: it wraps the buckram, front and back [common practice]."""
        return 2 * self.buckram_depth

    @property
    def fullness(self) -> FullnessLimits:
        """What the limits of take-up and space come to: 1 + take-up / space [geometry]."""
        least, usual, most = (
            1 + Fraction(take_up, space)
            for take_up, space in (
                (self.take_up.least, self.space.most),
                (self.take_up.usual, self.space.usual),
                (self.take_up.most, self.space.least),
            )
        )
        return FullnessLimits(least, usual, most)

    def piece(self, part: float | None = None) -> tuple[float, ...]:
        """Return a take-up to draw: `part` of the way through its limits, or the usual one."""
        return (_within(self.take_up, part),)

    def stack_each(self, shape: Shape, cloth_thickness: float) -> float:
        """Return the rod that one pleat takes when stacked, with its space folded in two; shape in grid units."""
        return shape.stack(cloth_thickness) + 2 * cloth_thickness

    def with_options(self, options: PleatOptions, measure: Measure) -> "Pleat":
        """Return the pleat with what the options override.

        Raises Impossible when limits are out of order.
        """
        changed = replace(
            self,
            buckram_depth=measure(options.buckram_depth, self.buckram_depth, "buckram_depth"),
            take_up=limits_asked(options.take_up, self.take_up, measure, "take_up"),
            space=limits_asked(options.space, self.space, measure, "space"),
        )
        if faults := [*limits_faults(changed.take_up, "take_up"), *limits_faults(changed.space, "space")]:
            raise Impossible(*faults)
        return changed


@dataclass(frozen=True, slots=True)
class Gather(_Made):
    """Cloth gathered evenly from edge to edge, on a tape or on the rod itself.

    `depth` is that of the tape or of the casing, with any heading above it. `hook_spacing` is the most from one hook to
    the next on the finished panel; None where the rod carries the cloth all along. `fold` is the flat cloth in one
    fold. `shape` takes the cloth of one fold and the width that it is gathered to, in any unit; the developed length of
    its outline equals the cloth, and it ends as far along the face as it is wide.
    """

    depth: int
    top_turning: int
    fullness: FullnessLimits
    hook_spacing: int | None
    fold: int
    shape: Callable[[float, float], Shape]

    @property
    def layout(self) -> Layout:
        """What it is laid out in."""
        return "gathers"

    @property
    def word(self) -> str:
        """The trade's word for it."""
        return "gather"

    @property
    def is_pinned(self) -> bool:
        """Whether pins or hooks carry it, and not the rod itself."""
        return self.hook_spacing is not None

    def piece(self, part: float | None = None) -> tuple[float, ...]:
        """Return a fold to draw, its cloth and its width: `part` of the way through the fullness, or the usual one."""
        return float(self.fold), self.fold / _within(self.fullness, part)

    def stack_each(self, shape: Shape, cloth_thickness: float) -> float:
        """Return the rod that one fold takes when stacked, its shape in grid units."""
        return shape.stack(cloth_thickness)


@dataclass(frozen=True, slots=True)
class Points(_Made):
    """Points at even distances that carry the panel: eyelets, tabs, snaps.

    `word` names one point. `gap` is the flat cloth between two points, without what the points cover themselves, and
    `finished_gap` the same when the panel hangs closed, where that is limited: with it, a gap without a choice is that
    of a tape made so, and the most finished gap is what its carriers can stand apart. `point_width` is how much of the
    panel's width a point itself covers, flat. A seam within `clear` of a point's middle is in its way. `edge` is the
    part of a gap beyond the outer points. `parity` is that of the count; `count` is the count asked for, if any. In
    `waves`, the gaps stand to the front and to the back in turn, the first to the front. `stacked` is the least length
    of rod that one point takes.

    `shape` takes the flat cloth of two gaps with their points and the width they hang in, in any unit; the developed
    length of its outline equals the cloth, and it ends as far along the face as it is wide.
    """

    word: str
    depth: int
    top_turning: int
    fullness: FullnessLimits
    gap: Limits
    parity: Parity
    waves: bool
    shape: Callable[[float, float], Shape]
    finished_gap: Limits | None = None
    point_width: int = 0
    clear: int = 0
    edge: Fraction = Fraction(0)
    count: int | None = None
    stacked: int = 0

    @property
    def layout(self) -> Layout:
        """What it is laid out in."""
        return "points"

    @property
    def is_pinned(self) -> bool:
        """Whether pins or hooks carry it: its points do."""
        return False

    @property
    def is_fixed(self) -> bool:
        """Whether a tape settles the gaps, and so the flat width, whatever the cloth."""
        return self.finished_gap is not None and self.gap.least == self.gap.most

    def piece(self, part: float | None = None) -> tuple[float, ...]:
        """Return two gaps with their points to draw, cloth and width: `part` through the limits, or usual."""
        cloth = 2 * (_within(self.gap, part) + self.point_width)
        if self.finished_gap:
            return cloth, 2 * (_within(self.finished_gap, part) + self.point_width)
        return cloth, cloth / _within(self.fullness, part)

    def stack_each(self, shape: Shape, cloth_thickness: float) -> float:
        """Return the rod that one point takes when stacked, the shape of two in grid units."""
        return max(float(self.stacked), shape.stack(cloth_thickness) / 2)


Made = Pleat | Gather | Points
"""What a style makes of its options: the one typed result that everything after it works from."""


def _within(limits: Limits | FullnessLimits, part: float | None) -> float:
    return float(limits.usual if part is None else limits.least + (limits.most - limits.least) * part)


def limits_faults(limits: Limits, field: str) -> list[Fault]:
    """Return what is wrong with limits that a style or a request gives: their order, or how far apart they are."""
    lengths = {"least": limits.least, "usual": limits.usual, "most": limits.most}
    if not 0 < limits.least <= limits.usual <= limits.most:
        detail = "limits go up from more than nothing: the least, the usual, the most"
        allowed = "more than 0, and each no less than the one before"
    elif limits.most > WIDEST_LIMITS * limits.least:
        detail = f"the most is over {WIDEST_LIMITS} times the least: check the figures and their units"
        allowed = f"a most of up to {WIDEST_LIMITS} times the least"
    else:
        return []
    return [Fault((field,), detail, "{least}, {usual}, {most}", allowed, lengths)]
