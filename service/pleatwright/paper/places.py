"""Where things go, in words: a seam in its heading, a cut in its panel."""

from collections.abc import Callable

from pleatwright.contract.cut_lists import PieceServed
from pleatwright.contract.replies import PlacedSeam, PleatFigures


def seam_place(pleats: PleatFigures, seam: PlacedSeam) -> str:
    """Say where a seam is."""
    word = pleats.points.word if pleats.points else "pleat"
    after = f"after {word} {seam.point or seam.pleat}" if seam.point or seam.pleat else "at the edge"
    return {
        "beside-pleat": f"beside pleat {seam.pleat}, on its {seam.side} side",
        "inside-pleat": f"inside pleat {seam.pleat}",
        "in-space": f"in the space {after}" if seam.pleat else "in the flat piece at the edge",
        "in-gathers": "among the gathers",
        "in-back-fold": f"in the fold to the back {after}",
        "in-front-fold": f"in the fold to the front {after}",
        "at-point": f"at {word} {seam.point}",
        "between-points": f"in the gap {after}",
        "in-surplus": "in the cloth that comes off",
    }[seam.place]


def piece_text(piece: PieceServed, name: Callable[[str], str]) -> str:
    """Say which width of which panel a cut serves; `name` makes a client's own name safe."""
    window = f"{name(piece.window)}, " if piece.window else ""
    half = f" ({'either' if piece.half_of_cut == 'either' else f'the {piece.half_of_cut}'} half)" if piece.half else ""
    return f"{window}{piece.panel} {piece.width}{half}"
