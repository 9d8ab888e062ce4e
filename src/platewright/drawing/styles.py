"""One table of layers: pens after ISO 128-2 (0.18, 0.25, 0.35, 0.5, 0.7), dashes, greys."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from platewright.drawing.temperature_colours import band_colours, grey_of
from platewright.foundation.units import Mm, Ratio

DASHED: Final = (2.5, 1.0)
CHAIN: Final = (6.0, 1.2, 0.6, 1.2)
SHORT: Final = (1.2, 0.8)


@dataclass(frozen=True, slots=True, kw_only=True)
class LayerStyle:
    """How a layer is drawn. Greys: 0 black, 1 white. ``colour``: DXF colour index.

    ``tint``: a fill in colour, #rrggbb, where a writer has colour; ``fill`` is its grey.
    """

    pen: Mm
    dash: tuple[Mm, ...] = ()
    grey: Ratio = 0.0
    fill: Ratio | None = None
    tint: str = ""
    colour: int = 7


STYLES: Final[dict[str, LayerStyle]] = {
    # the plate
    "PLATE": LayerStyle(pen=0.5, fill=1.0),
    "FIXING": LayerStyle(pen=0.25, colour=1),
    "KEEPOUT": LayerStyle(pen=0.18, dash=SHORT, colour=1),
    "DUCT": LayerStyle(pen=0.25, fill=0.92, colour=8),
    "RAIL": LayerStyle(pen=0.25, fill=1.0, colour=5),
    "AXIS": LayerStyle(pen=0.18, dash=CHAIN, colour=5),
    "DEVICE": LayerStyle(pen=0.35, fill=1.0),
    "COVER": LayerStyle(pen=0.18, dash=DASHED, colour=6),
    "TAG": LayerStyle(pen=0.18),
    "HOLE-TAP": LayerStyle(pen=0.25, fill=1.0, colour=1),
    "HOLE-CLEAR": LayerStyle(pen=0.25, fill=1.0, colour=3),
    "HOLE-RIVET": LayerStyle(pen=0.25, fill=1.0, colour=4),
    "HOLE-SELFTAP": LayerStyle(pen=0.25, fill=1.0, colour=30),
    "HOLE-DRILLED": LayerStyle(pen=0.18, grey=0.45, colour=9),
    "MARK-WIPE-OFF": LayerStyle(pen=0.18, grey=0.45, colour=8),
    "HOLE-TAG": LayerStyle(pen=0.18),
    "INTERRUPT": LayerStyle(pen=0.0, fill=1.0),  # under a number that would cross a line
    "DATUM": LayerStyle(pen=0.35, fill=0.0, colour=1),
    "DIM": LayerStyle(pen=0.18, colour=2),
    "GHOST": LayerStyle(pen=0.18, grey=0.62, fill=1.0, colour=9),
    "GHOST-TAG": LayerStyle(pen=0.18, grey=0.45, colour=9),
    "BALLOON": LayerStyle(pen=0.35, fill=1.0),
    "BALLOON-FAIL": LayerStyle(pen=0.35, fill=0.0),
    "BALLOON-LIGHT": LayerStyle(pen=0.18, grey=1.0),  # lettering on a black balloon
    # side view
    "WALL": LayerStyle(pen=0.7),
    "DOOR": LayerStyle(pen=0.5, fill=0.85),
    # temperature: darker is warmer, one lightness a band, so that print and every eye can tell
    **{
        f"HEAT-{band}": LayerStyle(pen=0.0, fill=grey_of(tint), tint=tint)
        for band, tint in enumerate(band_colours())
    },
    "HEAT-LINE": LayerStyle(pen=0.18, grey=0.2),
    "HEAT-BODY": LayerStyle(pen=0.25),
    "HEAT-OVER": LayerStyle(pen=0.7),  # over its limit, band and all
    "HEAT-CLOSE": LayerStyle(pen=0.7, dash=SHORT),  # its band reaches over the limit
    "HEAT-DUCT": LayerStyle(pen=0.18, dash=SHORT),
    # paper
    "FRAME": LayerStyle(pen=0.7),
    "BORDER": LayerStyle(pen=0.35),
    "GRID": LayerStyle(pen=0.18, grey=0.55),
    "TEXT": LayerStyle(pen=0.18),
    "NOTE": LayerStyle(pen=0.18, grey=0.25),
    "ARROW": LayerStyle(pen=0.18, fill=0.0),
    "SHADE": LayerStyle(pen=0.0, fill=0.93),
    "BAR": LayerStyle(pen=0.35, fill=1.0),
    "WASTE": LayerStyle(pen=0.25, fill=0.82),
    "MISSING": LayerStyle(pen=0.18),
    # drill template
    "CUT-LINE": LayerStyle(pen=0.18, dash=DASHED, grey=0.35),
    "REGISTER": LayerStyle(pen=0.25),
    "REGISTER-BLACK": LayerStyle(pen=0.0, fill=0.0),
    "RULER": LayerStyle(pen=0.18),
    "BALLOON-OPEN": LayerStyle(pen=0.25),
}


def style_of(layer: str) -> LayerStyle:
    """Return the style of a layer; a layer without one is a mistake of ours.

    ``HOLE-TAP-M5-D4.2`` is drawn as its kind ``HOLE-TAP`` is.
    """
    while layer not in STYLES and "-" in layer:
        layer = layer.rpartition("-")[0]
    return STYLES[layer]
