"""A drawing as values: mm, y up, every primitive on a named layer.

Writers turn a picture into bytes and know nothing of plates; pictures know nothing of files.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import TypeAlias

from platewright.foundation.units import Mm
from platewright.model.geometry import Box, Path, Point


class Anchor(StrEnum):
    """Which point of a text stands at its place."""

    LEFT = "start"
    CENTRE = "middle"
    RIGHT = "end"


class Axis(StrEnum):
    """What an ordinate or a dimension measures along."""

    X = "x"
    Y = "y"


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A straight line."""

    layer: str
    start: Point
    end: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Polyline:
    """A path of straight pieces; a closed one takes the fill of its layer."""

    layer: str
    points: Path
    closed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Rect:
    """An upright rectangle with the fill of its layer."""

    layer: str
    box: Box


@dataclass(frozen=True, slots=True, kw_only=True)
class Circle:
    """A full circle with the fill of its layer."""

    layer: str
    centre: Point
    radius: Mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Arc:
    """Part of a circle, counter-clockwise from start to end, in degrees."""

    layer: str
    centre: Point
    radius: Mm
    start: float
    end: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """One line of lettering. ``size`` is the height of a capital (ISO 3098)."""

    layer: str
    at: Point  # on the middle of the capitals' height, or on the base line
    text: str
    size: Mm
    anchor: Anchor = Anchor.LEFT
    rotation: float = 0.0  # degrees counter-clockwise
    bold: bool = False
    on_base: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Ordinate:
    """A distance from the datum: a leader from the feature to its number.

    x ordinates are written upright below the feature, or level where told; y ordinates level at
    its left.
    """

    layer: str
    axis: Axis
    path: Path  # from the feature to the number; may jog
    text: str
    size: Mm
    is_level: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimension:
    """A distance between two points along x or y, with its line through ``through``."""

    layer: str
    axis: Axis
    start: Point
    end: Point
    through: Mm  # y of the dimension line for axis x, x of it for axis y
    text: str
    size: Mm


Primitive: TypeAlias = Line | Polyline | Rect | Circle | Arc | Text | Ordinate | Dimension


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A drawing of a given size. On paper its lower left corner is (0, 0)."""

    width: Mm
    height: Mm
    title: str
    primitives: tuple[Primitive, ...]
    left: Mm = 0.0
    bottom: Mm = 0.0

    def without(self, layers: Iterable[str]) -> Picture:
        """Return the picture less some layers."""
        left_out = frozenset(layers)
        return replace(
            self, primitives=tuple(p for p in self.primitives if p.layer not in left_out)
        )


def placed(
    primitives: Iterable[Primitive], *, at: Point, scale: float = 1.0
) -> tuple[Primitive, ...]:
    """Return the primitives scaled about (0, 0) and moved so that (0, 0) comes to ``at``.

    Lettering is scaled as well; pen widths belong to layers and are not.
    """
    return tuple(_placed(primitive, at, scale) for primitive in primitives)


def _placed(primitive: Primitive, at: Point, scale: float) -> Primitive:
    def there(point: Point) -> Point:
        return Point(at.x + point.x * scale, at.y + point.y * scale)

    match primitive:
        case Line(layer=layer, start=start, end=end):
            return Line(layer=layer, start=there(start), end=there(end))
        case Polyline(layer=layer, points=points, closed=closed):
            return Polyline(layer=layer, points=tuple(map(there, points)), closed=closed)
        case Rect(layer=layer, box=box):
            low, high = there(Point(box.left, box.bottom)), there(Point(box.right, box.top))
            return Rect(layer=layer, box=Box(low.x, low.y, high.x, high.y))
        case Circle(layer=layer, centre=centre, radius=radius):
            return Circle(layer=layer, centre=there(centre), radius=radius * scale)
        case Arc():
            return Arc(
                layer=primitive.layer,
                centre=there(primitive.centre),
                radius=primitive.radius * scale,
                start=primitive.start,
                end=primitive.end,
            )
        case Text():
            return Text(
                layer=primitive.layer,
                at=there(primitive.at),
                text=primitive.text,
                size=primitive.size * scale,
                anchor=primitive.anchor,
                rotation=primitive.rotation,
                bold=primitive.bold,
                on_base=primitive.on_base,
            )
        case Ordinate():
            return Ordinate(
                layer=primitive.layer,
                axis=primitive.axis,
                path=tuple(map(there, primitive.path)),
                text=primitive.text,
                size=primitive.size * scale,
                is_level=primitive.is_level,
            )
        case Dimension():
            origin = at.y if primitive.axis is Axis.X else at.x
            return Dimension(
                layer=primitive.layer,
                axis=primitive.axis,
                start=there(primitive.start),
                end=there(primitive.end),
                through=origin + primitive.through * scale,
                text=primitive.text,
                size=primitive.size * scale,
            )
