"""What a client is told of a whole job."""

from typing import Annotated

from msgspec import UNSET, Meta, Struct, UnsetType

from pleatwright.contract.cut_lists import FabricOrder, LayerCuts, LayerOrder, Number, RunFigures
from pleatwright.contract.hanging import HangFigures, RodFigures, WeightFigures
from pleatwright.contract.notes import Assumed, Caution, MadeWith, Step
from pleatwright.contract.prices import Price, WorkroomPrice
from pleatwright.contract.replies import PanelFigures, PinFigures, PleatFigures, Range
from pleatwright.lengths import Units


class EstimatedPanel(PanelFigures, frozen=True, kw_only=True):
    """One panel with its heading laid out, and its pins."""

    pleats: PleatFigures
    pins: PinFigures


class Sundry(Struct, frozen=True, kw_only=True):
    """Something that headings take besides cloth: so many of it, or a length of it."""

    kind: Annotated[str, Meta(description="Its name in the trade, in the singular.", examples=["buckram", "eyelet"])]
    size: Annotated[
        Range | UnsetType, Meta(description="Depth, diameter or length of one; the least and the most that are needed.")
    ] = UNSET
    count: int | UnsetType = UNSET
    length: Number | UnsetType = UNSET


class WindowMaterials(Struct, frozen=True, kw_only=True):
    """What one window takes besides its face cloth."""

    layers: Annotated[list[LayerCuts], Meta(description="Lining, interlining and blackout, those there are.")]
    sundries: list[Sundry]
    pins: Annotated[int, Meta(description="Pins or hooks.")]


class EstimatedWindow(Struct, frozen=True, kw_only=True):
    """One window, complete."""

    label: str
    fabric: str
    style: str
    hang_to: str
    behind: Annotated[
        str | None, Meta(description="Label of the window whose over-drapery these panels hang behind; null for none.")
    ]
    panels: list[EstimatedPanel]
    hang: HangFigures
    rod: RodFigures
    weight: Annotated[WeightFigures | None, Meta(description="Null when the mass of the face cloth is not known.")]
    cuts: RunFigures
    materials: WindowMaterials
    cautions: list[Caution]


class SundryOrder(Sundry, frozen=True, kw_only=True):
    """A sundry to order for the whole job; a length is raised to what sellers usually cut."""

    quantity: Annotated[str, Meta(description="To be read aloud.", examples=["8 5/8 yd", "24"])]


class JobMaterials(Struct, frozen=True, kw_only=True):
    """What the whole job takes."""

    fabrics: list[FabricOrder]
    layers: list[LayerOrder]
    sundries: list[SundryOrder]
    pins: Annotated[int, Meta(description="Pins or hooks.")]


class EstimateReply(Struct, frozen=True, kw_only=True):
    """A whole job, complete."""

    units: Units
    job: str | None
    tolerance: Annotated[Number, Meta(description="Finished sizes hold within this, either way (UFGS 12 22 00).")]
    windows: list[EstimatedWindow]
    materials: JobMaterials
    price: Annotated[Price | None, Meta(description="Null when there is no rate book, or it lacks a rate.")]
    workroom: Annotated[WorkroomPrice | UnsetType, Meta(description="Only in the workroom's view.")] = UNSET
    cautions: list[Caution]
    assumed: list[Assumed]
    made_with: MadeWith
    worksheet: list[Step] | UnsetType = UNSET
