"""The command `pleatwright paper`."""

import sys
from pathlib import Path
from typing import Final, Literal, get_args

from pleatwright import workroom
from pleatwright.command.estimating import worked_out
from pleatwright.command.outcome import DONE, WRONG_FIGURES, complain
from pleatwright.contract.estimates import EstimateReply
from pleatwright.headings.host import Headings
from pleatwright.paper import drawings

DrawingName = Literal["panel-flat", "panel-finished", "heading", "hang", "cut-plan"]
DRAWINGS: Final[tuple[DrawingName, ...]] = get_args(DrawingName)


def paper(
    file: str, headings: Headings, name: DrawingName, *, window: int, panel: int, layer: int | None, to: str
) -> int:
    """Write one drawing of a job as SVG to a file, or to standard output for -.

    Windows, panels and layers count from 1; a cut plan is of the window's fabric unless a layer is named.
    """
    reply = worked_out(file, headings)
    if isinstance(reply, int):
        return reply
    if not 0 < window <= len(reply.windows):
        return complain(f"--window {window}: the job has windows 1 to {len(reply.windows)}", WRONG_FIGURES)
    panels = reply.windows[window - 1].panels
    if not 0 < panel <= len(panels):
        return complain(f"--panel {panel}: this window has panels 1 to {len(panels)}", WRONG_FIGURES)
    layers = reply.materials.layers
    if layer is not None and (name != "cut-plan" or not 0 < layer <= len(layers)):
        which = f"the job orders {len(layers)}, and each has a cut-plan" if layers else "the job orders none"
        return complain(f"--layer {layer}: {which}", WRONG_FIGURES)
    if layer is None:
        drawn = _drawn(reply, headings, name, window - 1, panel - 1)
    else:
        drawn = drawings.layer_plan(layers[layer - 1], reply.units)
    text = drawings.svg(drawn)
    try:
        if to == "-":
            sys.stdout.buffer.write(text.encode())
            sys.stdout.buffer.flush()
        else:
            Path(to).write_bytes(text.encode())
    except OSError as error:
        if isinstance(error, BrokenPipeError):
            raise
        return complain(f"{to}: {error.strerror}", WRONG_FIGURES)
    return DONE


def _drawn(
    reply: EstimateReply, headings: Headings, name: DrawingName, window_at: int, panel_at: int
) -> drawings.Drawing:
    window = reply.windows[window_at]
    match name:
        case "panel-flat":
            return drawings.panel_flat(window, window.panels[panel_at], reply.units)
        case "panel-finished":
            return drawings.panel_finished(window, window.panels[panel_at], reply.units)
        case "heading":
            return drawings.heading_section(workroom.heading(window.style, headings, reply.units))
        case "hang":
            return drawings.hang_section(window, reply.windows, reply.units)
        case "cut-plan":
            fabric = next(each for each in reply.materials.fabrics if each.fabric == window.fabric)
            return drawings.cut_plan(fabric, reply.units)
