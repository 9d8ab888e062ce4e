"""Dimensions taken apart into lines, arrows and lettering, once for all writers."""

from __future__ import annotations

import math
from collections.abc import Iterator

from platewright.drawing.lettering import text_width
from platewright.drawing.picture import (
    Anchor,
    Axis,
    Dimension,
    Line,
    Ordinate,
    Picture,
    Polyline,
    Primitive,
    Text,
)
from platewright.foundation.units import Mm
from platewright.model.geometry import Point


def flat(picture: Picture) -> Iterator[Primitive]:
    """Yield the primitives with every dimension taken apart."""
    for primitive in picture.primitives:
        match primitive:
            case Ordinate():
                yield from flat_ordinate(primitive)
            case Dimension():
                yield from flat_dimension(primitive)
            case _:
                yield primitive


def baseline(text: Text) -> Point:
    """Return where the base line of a text starts, ends or has its middle, as it is anchored."""
    if text.on_base:
        return text.at
    turn = math.radians(text.rotation)
    down = text.size / 2
    return Point(text.at.x + down * math.sin(turn), text.at.y - down * math.cos(turn))


def flat_ordinate(ordinate: Ordinate) -> Iterator[Primitive]:
    """Yield leader and number."""
    yield Polyline(layer=ordinate.layer, points=ordinate.path)
    end, gap = ordinate.path[-1], ordinate.size * 0.4
    upright = ordinate.axis is Axis.X and not ordinate.is_level
    below = Point(end.x, end.y - gap - (ordinate.size / 2 if ordinate.is_level else 0.0))
    yield Text(
        layer=ordinate.layer,
        at=below if ordinate.axis is Axis.X else Point(end.x - gap, end.y),
        text=ordinate.text,
        size=ordinate.size,
        anchor=Anchor.CENTRE if ordinate.is_level else Anchor.RIGHT,
        rotation=90.0 if upright else 0.0,
    )


def flat_dimension(dimension: Dimension) -> Iterator[Primitive]:
    """Yield extension lines, dimension line, arrows and number (ISO 129-1)."""
    size = dimension.size
    along = dimension.axis is Axis.X

    def at(place: Mm, across: Mm) -> Point:
        return Point(place, across) if along else Point(across, place)

    ends = sorted(((p.x, p.y) if along else (p.y, p.x)) for p in (dimension.start, dimension.end))
    (low, low_at), (high, high_at) = ends
    through = dimension.through
    for place, feature in ((low, low_at), (high, high_at)):
        way = math.copysign(1.0, through - feature)
        yield Line(
            layer=dimension.layer,
            start=at(place, feature + way * size * 0.3),
            end=at(place, through + way * size * 0.6),
        )
    arrow = size * 1.1
    outside = high - low < 3 * arrow
    reach = 2 * arrow if outside else 0.0
    yield Line(layer=dimension.layer, start=at(low - reach, through), end=at(high + reach, through))
    for place, way in ((low, 1.0), (high, -1.0)):
        back = place + (-way if outside else way) * arrow
        yield Polyline(
            layer="ARROW",
            points=(
                at(place, through),
                at(back, through + arrow / 6),
                at(back, through - arrow / 6),
            ),
            closed=True,
        )
    fits = text_width(dimension.text, size) < high - low - (0 if outside else 2 * arrow)
    place = (low + high) / 2 if fits else high + reach + size * 0.5
    lift = through + (size * 0.9 if along else -size * 0.9)
    yield Text(
        layer=dimension.layer,
        at=at(place, lift if fits else through),
        text=dimension.text,
        size=size,
        anchor=Anchor.CENTRE if fits else Anchor.LEFT,
        rotation=0.0 if along else 90.0,
    )
