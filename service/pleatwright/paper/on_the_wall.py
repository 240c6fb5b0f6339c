"""How a window hangs, as lines of text: heights, stack, carriers, bends and weight."""

from collections.abc import Callable, Iterator
from typing import Final

from pleatwright.contract.estimates import EstimatedWindow
from pleatwright.contract.hanging import HangFigures, HeightOf, PanelSliders, RodFigures, WeightFigures

Lengths = Callable[[float], str]

HEIGHT_NAMES: Final[dict[HeightOf, str]] = {
    "ceiling": "ceiling",
    "rod-top": "top of the rod",
    "heading-top": "top of the heading",
    "rod-underside": "underside of the rod",
    "carrying-point": "carrying point",
    "pin": "pins go in",
    "heading-foot": "foot of the heading",
    "sill": "sill",
    "apron": "bottom of the apron",
    "hem": "hem",
    "floor": "floor",
}
"""Heights on the wall as a maker calls them."""


def on_the_wall(window: EstimatedWindow, length: Lengths) -> Iterator[str]:
    """Yield lines on how a window's panels hang; `length` writes a length of the reply."""
    yield from _hang(window.hang, length)
    yield from _rod(window.rod, length)
    if window.weight:
        yield from _weight(window.weight)


def _hang(hang: HangFigures, length: Lengths) -> Iterator[str]:
    yield f"  HANG, heights from the {hang.measured_from}:"
    for height in hang.heights:
        yield f"    {HEIGHT_NAMES[height.point]:<22}{length(height.height)}"


def _rod(rod: RodFigures, length: Lengths) -> Iterator[str]:
    yield f"  ROD  {length(rod.width)} wide, {length(rod.length)} with its returns"
    for stack in rod.stacks:
        covered = f"; covers {length(stack.glass_covered)} of the glass" if stack.glass_covered else ""
        yield (
            f"    {stack.side} panel stacks in {length(stack.stack)} (a third of its share: "
            f"{length(stack.rule_of_thumb)}){covered}"
        )
    for sliders in rod.sliders:
        yield f"    {sliders.side} panel on {hangs_on(sliders)}"
    for bend in rod.bends:
        nearest = f"; {bend.nearest} is {length(bend.off or 0)} from it" if bend.nearest else ""
        yield f"    bend {bend.bend} at {length(bend.at)}, in the {bend.side} panel{nearest}"


def hangs_on(sliders: PanelSliders) -> str:
    """Say what one panel hangs on."""
    ends = [f"{sliders.overlap} on the master carrier"] if sliders.overlap else []
    ends += [f"{sliders.return_} at the return"] if sliders.return_ else []
    return ", ".join([f"{sliders.sliding} carriers or rings", *ends])


def _weight(weight: WeightFigures) -> Iterator[str]:
    per = "foot" if weight.units == "lb" else "metre"
    for panel in weight.panels:
        each = f", {panel.per_slider:g} {weight.units} on each carrier or ring" if panel.per_slider else ""
        yield f"  WEIGHT  {panel.side} panel {panel.total:g} {weight.units}{each}"
    yield f"    in all {weight.total:g} {weight.units}, {weight.per_rod_length:g} {weight.units} a {per} of the rod"
