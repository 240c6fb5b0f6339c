"""What a client may say of sewing: hems, seams and the layers behind the face."""

from typing import Annotated, Literal

from msgspec import Meta, Struct

from pleatwright.lengths import Length
from pleatwright.masses import Mass, MassPerArea, MassPerLength

HemType = Annotated[
    Literal["double", "single", "faced"],
    Meta(
        description="double: turned twice by its depth; single: once, with the raw edge turned under; faced: sewn to a "
        "facing, and turned by no more than that seam."
    ),
]
SeamType = Annotated[
    Literal["plain", "french", "flat-felled", "overlocked"],
    Meta(description="How widths are joined, which says what each side of a seam takes."),
]


class HemWeights(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What is sewn into the bottom hem to make it hang."""

    each: Annotated[Mass | None, Meta(description="Mass of one weight, with its unit. Null: none.")] = None
    at: Annotated[Literal["corners", "corners-and-seams"], Meta(description="Where the weights are.")] = (
        "corners-and-seams"
    )
    cord: Annotated[
        MassPerLength | None, Meta(description="Mass of a weighted cord all along the hem, with its unit. Null: none.")
    ] = None


class MakeUp(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What sewing takes: the flat cloth used up, hems and turnings counted with all their layers.

    A hem or a seam is given by what it takes, or by its type.
    """

    side_hem: Annotated[Length | None, Meta(description="At each edge. Null: 3 in or 75 mm, a double hem.")] = None
    side_hem_type: Annotated[HemType | None, Meta(description="Null: as `side_hem` says.")] = None
    side_hem_depth: Annotated[
        Length | None, Meta(description="Depth of a hem of that type, finished. Null: 1 1/2 in or 38 mm.")
    ] = None
    bottom_hem: Annotated[Length | None, Meta(description="Null: 8 in or 200 mm, a double hem.")] = None
    bottom_hem_type: Annotated[HemType | None, Meta(description="Null: as `bottom_hem` says.")] = None
    bottom_hem_depth: Annotated[
        Length | None, Meta(description="Depth of a hem of that type, finished. Null: 4 in or 100 mm.")
    ] = None
    top_turning: Annotated[Length | None, Meta(description="Null: what the heading takes, as twice its buckram.")] = (
        None
    )
    seam_allowance: Annotated[Length | None, Meta(description="At each side of a seam. Null: 1/2 in or 12 mm.")] = None
    seam_type: Annotated[SeamType | None, Meta(description="Null: as `seam_allowance` says.")] = None
    ease: Annotated[Length | None, Meta(description="Length to spare in each cut, for squaring. Null: none.")] = None
    width_ease: Annotated[Length | None, Meta(description="Width to spare in each width. Null: none.")] = None
    widths: Annotated[
        Literal["half", "whole"], Meta(description="Whether half widths may be used, at the return side.")
    ] = "half"
    nearest: Annotated[
        bool, Meta(description="Take the widths nearest the fullness asked, not the fewest that reach it.")
    ] = False
    width_count: Annotated[
        Annotated[float, Meta(ge=0.5, le=100, multiple_of=0.5)] | None,
        Meta(description="Widths in each panel when the maker has settled them."),
    ] = None
    hem_weights: Annotated[HemWeights | None, Meta(description="Null: none.")] = None


class Layer(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A plain cloth behind the face: a lining, an interlining or a blackout."""

    width: Annotated[
        Length | None, Meta(description="Width of its own bolt. Null: it is cut at as many widths as the face.")
    ] = None
    selvage: Annotated[
        Length | None, Meta(description="Selvage that cannot be sewn into, at each edge. Null: none.")
    ] = None
    seam_allowance: Annotated[
        Length | None, Meta(description="At each side of a seam. Null: 1/2 in or 12 mm; none for one without a hem.")
    ] = None
    side_turning: Annotated[
        Length | None,
        Meta(description="Cloth turned in at each edge. Null: 1 in or 25 mm; none for one without a hem."),
    ] = None
    narrower: Annotated[
        Length | None, Meta(description="How much narrower than the flat face, at each edge. Null: none.")
    ] = None
    shorter: Annotated[
        Length | None,
        Meta(description="Shorter than the face at the hem. Null: 1 in or 25 mm; none for one without a hem."),
    ] = None
    bottom_hem: Annotated[
        Length | None, Meta(description="Null: 4 in or 100 mm, a double hem, for a lining; none for the others.")
    ] = None
    top_turning: Annotated[Length | None, Meta(description="Null: 1 in or 25 mm for a lining, else none.")] = None
    cloth: Annotated[
        Annotated[str, Meta(max_length=80)] | None,
        Meta(description="Its name in the workroom's rate book. Null: the one that the book has for this layer."),
    ] = None
    mass_per_area: Annotated[
        MassPerArea | None,
        Meta(
            description="With its unit. Null: what the rate book says, else, where the face's is known, 130 g/m2 for a "
            "lining, 300 g/m2 for an interlining, 280 g/m2 for a blackout."
        ),
    ] = None
    thickness: Annotated[
        Length | None,
        Meta(description="For the stack. Null: 1/64 in or 0.4 mm; of an interlining 1/16 in or 1.6 mm."),
    ] = None
    increment: Annotated[
        Length | None, Meta(description="The seller cuts whole numbers of this. Null: 1/8 yd, or 0.1 m.")
    ] = None
