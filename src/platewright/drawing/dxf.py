"""DXF R2010 in mm: named layers, true circles, true dimensions."""

from __future__ import annotations

import io
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import pairwise
from typing import Any, Final

import ezdxf
from ezdxf.document import Drawing
from ezdxf.enums import TextEntityAlignment

from platewright.drawing.extent import text_box
from platewright.drawing.flatten import baseline, flat_ordinate
from platewright.drawing.picture import (
    Anchor,
    Arc,
    Axis,
    Circle,
    Dimension,
    Line,
    Ordinate,
    Picture,
    Polyline,
    Primitive,
    Rect,
    Text,
)
from platewright.drawing.styles import CHAIN, DASHED, SHORT, style_of
from platewright.model.geometry import Point

EZDXF: Final[Any] = ezdxf  # it exports these names without saying so to type checkers
LINE_TYPES: Final = {(): "CONTINUOUS", DASHED: "COVER-DASH", CHAIN: "AXIS-CHAIN", SHORT: "SHORT"}
ALIGNED: Final = {
    Anchor.LEFT: TextEntityAlignment.LEFT,
    Anchor.CENTRE: TextEntityAlignment.CENTER,
    Anchor.RIGHT: TextEntityAlignment.RIGHT,
}
LETTERS: Final = "LETTERS"
# The stroke font of DXF readers moves the pen by a letter's height, the drawings' font by three
# quarters of it (from memory; check against a reader at hand): words must not grow into others.
NARROWER: Final = 0.8
MIDDLE: Final = 5  # attachment of lettering by its middle (group code 71)
PLACED: Final = 128  # the number stands where it was put, not where a program would (code 70)
DIMENSIONS: Final = "PLATE"


def write_dxf(picture: Picture) -> bytes:
    """Return the picture as a DXF file, one drawing unit a mm, nothing scaled."""
    with _fixed_dates():
        document = EZDXF.new("R2010", units=4)  # 4: mm
        document.header["$MEASUREMENT"] = 1
        document.header["$LUNITS"] = 2
        _add_tables(document, picture)
        space = document.modelspace()
        for primitive in picture.primitives:
            _add(space, primitive)
        out = io.StringIO(newline="")
        document.write(out)
        return out.getvalue().encode(document.output_encoding)


@contextmanager
def _fixed_dates() -> Iterator[None]:
    before = EZDXF.options.write_fixed_meta_data_for_testing
    EZDXF.options.write_fixed_meta_data_for_testing = True  # no clock, no random ids
    try:
        yield
    finally:
        EZDXF.options.write_fixed_meta_data_for_testing = before


def _add_tables(document: Drawing, picture: Picture) -> None:
    for dash, name in LINE_TYPES.items():
        if dash:
            pattern = [length * (-1) ** index for index, length in enumerate(dash)]
            document.linetypes.add(name, [sum(dash), *pattern], description=name)
    document.styles.add(LETTERS, font="txt", dxfattribs={"width": NARROWER})
    dimension = document.dimstyles.new(DIMENSIONS)
    dimension.dxf.dimtxsty = LETTERS
    dimension.dxf.dimdec = 1
    for layer in sorted({primitive.layer for primitive in picture.primitives}):
        style = style_of(layer)
        document.layers.add(
            layer,
            color=style.colour,
            linetype=LINE_TYPES[style.dash],
            lineweight=round(style.pen * 100),
        )


def plain(text: str) -> str:
    """Return text without anything that a DXF reader would take for a code."""
    legal = "".join(char if char.isprintable() else "?" for char in text)
    return legal.replace("^", "^ ").replace("%%", "%%%%%%").replace("⌀", "%%c")


def _xy(point: Point) -> tuple[float, float]:
    return point.x, point.y


def _add(space: Any, primitive: Primitive) -> None:
    on = {"layer": primitive.layer}
    match primitive:
        case Line(start=start, end=end):
            space.add_line(_xy(start), _xy(end), dxfattribs=on)
        case Polyline(points=points, closed=closed):
            space.add_lwpolyline([_xy(p) for p in points], close=closed, dxfattribs=on)
        case Rect(box=box):
            corners = [
                (box.left, box.bottom),
                (box.right, box.bottom),
                (box.right, box.top),
                (box.left, box.top),
            ]
            space.add_lwpolyline(corners, close=True, dxfattribs=on)
        case Circle(centre=centre, radius=radius):
            space.add_circle(_xy(centre), radius, dxfattribs=on)
        case Arc(centre=centre, radius=radius, start=start_at, end=end_at):
            space.add_arc(_xy(centre), radius, start_at, end_at, dxfattribs=on)
        case Text():
            text = space.add_text(
                plain(primitive.text),
                height=primitive.size,
                rotation=primitive.rotation,
                dxfattribs=on | {"style": LETTERS, "width": NARROWER},
            )
            text.set_placement(_xy(baseline(primitive)), align=ALIGNED[primitive.anchor])
        case Ordinate():
            _add_ordinate(space, primitive)
        case Dimension():
            _add_dimension(space, primitive)


def _add_ordinate(space: Any, ordinate: Ordinate) -> None:
    feature, end = ordinate.path[0], ordinate.path[-1]
    add = space.add_ordinate_x_dim if ordinate.axis is Axis.X else space.add_ordinate_y_dim
    drawn = add(
        feature_location=_xy(feature),
        offset=(end.x - feature.x, end.y - feature.y),
        origin=(0, 0),
        text=plain(ordinate.text),
        dimstyle=DIMENSIONS,
        override={"dimtxt": ordinate.size, "dimtxsty": LETTERS},
        dxfattribs={"layer": ordinate.layer},
    )
    drawn.render()
    _as_drawn(drawn.dimension, ordinate)


def _as_drawn(dimension: Any, ordinate: Ordinate) -> None:
    """Give a dimension's block the leader and the number's place of the drawing.

    ezdxf draws an x ordinate upright beside its leader whatever is asked for, where words for
    which the drawing keeps no room would lie on others.
    """
    block = dimension.get_geometry_block()
    (words,) = block.query("MTEXT")
    lines = list(block.query("LINE"))
    how = {"layer": lines[0].dxf.layer, "color": lines[0].dxf.color}
    for line in lines:
        block.delete_entity(line)
    for start, end in pairwise(ordinate.path):
        block.add_line(_xy(start), _xy(end), dxfattribs=how)
    (text,) = (part for part in flat_ordinate(ordinate) if isinstance(part, Text))
    centre = _xy(text_box(text).centre)
    words.dxf.attachment_point = MIDDLE
    words.dxf.insert = centre
    words.set_rotation(text.rotation)
    dimension.dxf.text_midpoint = centre
    dimension.dxf.dimtype |= PLACED


def _add_dimension(space: Any, dimension: Dimension) -> None:
    along = dimension.axis is Axis.X
    base = (0, dimension.through) if along else (dimension.through, 0)
    space.add_linear_dim(
        base=base,
        p1=_xy(dimension.start),
        p2=_xy(dimension.end),
        angle=0 if along else 90,
        text=plain(dimension.text),
        dimstyle=DIMENSIONS,
        override={"dimtxt": dimension.size, "dimtxsty": LETTERS, "dimasz": dimension.size},
        dxfattribs={"layer": dimension.layer},
    ).render()
