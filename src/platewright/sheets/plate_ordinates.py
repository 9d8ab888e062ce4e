"""Ordinate dimensions of the plate drawing, all from the datum corner (ISO 129-1)."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Final

from platewright.drawing.lettering import text_width
from platewright.drawing.picture import Anchor, Axis, Ordinate, Text
from platewright.drawing.spread import spread
from platewright.drawing.table import length_text
from platewright.foundation.units import Mm
from platewright.model.geometry import Point
from platewright.model.job import DisplayUnit
from platewright.model.layout import Run
from platewright.model.panel import Panel
from platewright.sheets.lettering_rules import PITCH, SAME

GAP: Final = 0.25  # between feature and leader, in heights of the lettering
CLEAR: Final = 0.6  # between the plate's edge and the jog
JOG: Final = 1.0  # length of the jog
NAME: Final = 1.1  # from the leader's end over the number to a rail's name, less the number


def edge_ordinates(
    panel: Panel, lettering: Mm, names: Mapping[Mm, str]
) -> Iterator[Ordinate | Text]:
    """Yield the y ordinates at the left and the x ordinates below the plate.

    ``names``: of rails, by their level, to stand beside their ordinate.
    """
    unit = panel.job.settings.units
    yield from _at_left(panel, lettering, unit, names)
    yield from below(panel, lettering)


def _at_left(
    panel: Panel, size: Mm, unit: DisplayUnit, names: Mapping[Mm, str]
) -> Iterator[Ordinate | Text]:
    plate = panel.job.settings.plate
    features = [Point(0, 0), Point(0, plate.height)]
    for duct in panel.layout.ducts.values():
        if duct.run is Run.ACROSS:
            features += [Point(duct.x, duct.box.bottom), Point(duct.x, duct.box.top)]
    features += [
        Point(rail.x - 0.6 * size, rail.y)
        for rail in panel.layout.rails.values()
        if rail.run is Run.ACROSS
    ]
    kept = unlike((feature.y, feature.x, feature) for feature in features)
    levels = spread([feature.y for feature in kept], PITCH * size)
    for feature, level in zip(kept, levels, strict=True):
        knee, words = -CLEAR * size, length_text(feature.y, unit)
        if feature.y in names:
            at = Point(knee - (JOG + 0.4 + NAME) * size - text_width(words, size), level)
            yield Text(layer="TAG", at=at, text=names[feature.y], size=size, anchor=Anchor.RIGHT)
        yield Ordinate(
            layer="DIM",
            axis=Axis.Y,
            path=(
                Point(feature.x - GAP * size, feature.y),
                Point(knee, feature.y),
                Point(knee - JOG * size, level),
                Point(knee - (JOG + 0.4) * size, level),
            ),
            text=words,
            size=size,
        )


def below(panel: Panel, size: Mm) -> Iterator[Ordinate]:
    """Yield the x ordinates of plate, ducts and upright rails, below the plate."""
    plate, unit = panel.job.settings.plate, panel.job.settings.units
    features = [Point(0, 0), Point(plate.width, 0)]
    for duct in panel.layout.ducts.values():
        features += [Point(duct.box.left, duct.y), Point(duct.box.right, duct.y)]
    features += [
        Point(rail.x, rail.y) for rail in panel.layout.rails.values() if rail.run is Run.UPRIGHT
    ]
    kept = unlike((feature.x, feature.y, feature) for feature in features)
    places = spread([feature.x for feature in kept], PITCH * size)
    for feature, place in zip(kept, places, strict=True):
        knee = -CLEAR * size
        yield Ordinate(
            layer="DIM",
            axis=Axis.X,
            path=(
                Point(feature.x, feature.y - GAP * size),
                Point(feature.x, knee),
                Point(place, knee - JOG * size),
                Point(place, knee - (JOG + 0.4) * size),
            ),
            text=length_text(feature.x, unit),
            size=size,
        )


def unlike(features: Iterable[tuple[Mm, Mm, Point]]) -> list[Point]:
    """Return one feature for each place along the axis: the one nearest the numbers."""
    kept: list[tuple[Mm, Point]] = []
    for place, _, feature in sorted(features, key=lambda item: (item[0], item[1])):
        if not kept or place - kept[-1][0] > SAME:
            kept.append((place, feature))
    return [feature for _, feature in kept]
