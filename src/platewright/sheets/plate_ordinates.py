"""Ordinate dimensions of the plate drawing, all from the datum corner (ISO 129-1)."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from platewright.drawing.lettering import text_width
from platewright.drawing.picture import Axis, Ordinate, Primitive
from platewright.drawing.spread import spread
from platewright.drawing.table import length_text
from platewright.foundation.units import Mm
from platewright.model.geometry import Box, Point
from platewright.model.job import DisplayUnit
from platewright.model.layout import Run
from platewright.model.panel import Panel, body_box, envelope_box
from platewright.sheets.lettering_rules import PITCH, SAME, SMALL, interruption
from platewright.sheets.plate_tags import rows
from platewright.sheets.rail_footprint import rail_box

GAP: Final = 0.25  # between feature and leader, in heights of the lettering
CLEAR: Final = 0.8  # between the plate's edge and the jog
JOG: Final = 1.8  # length of the jog
ROW_JOG: Final = 1.2  # the same under a row
FAR: Final = 25.0  # a duct farther below a row is not its own


def edge_ordinates(panel: Panel, lettering: Mm) -> Iterator[Ordinate]:
    """Yield the y ordinates at the left and the x ordinates below the plate."""
    unit = panel.job.settings.units
    yield from _at_left(panel, lettering, unit)
    yield from _below(panel, lettering, unit)


def row_ordinates(panel: Panel, lettering: Mm) -> Iterator[Primitive]:
    """Yield the x ordinates of each row, written under the row."""
    for row in rows(panel):
        yield from _under_row(panel, row, SMALL * lettering)


def _at_left(panel: Panel, size: Mm, unit: DisplayUnit) -> Iterator[Ordinate]:
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
    kept = _unlike((feature.y, feature.x, feature) for feature in features)
    levels = spread([feature.y for feature in kept], PITCH * size)
    for feature, level in zip(kept, levels, strict=True):
        knee = -CLEAR * size
        yield Ordinate(
            layer="DIM",
            axis=Axis.Y,
            path=(
                Point(feature.x - GAP * size, feature.y),
                Point(knee, feature.y),
                Point(knee - JOG * size, level),
                Point(knee - (JOG + 0.4) * size, level),
            ),
            text=length_text(feature.y, unit),
            size=size,
        )


def _below(panel: Panel, size: Mm, unit: DisplayUnit) -> Iterator[Ordinate]:
    plate = panel.job.settings.plate
    features = [Point(0, 0), Point(plate.width, 0)]
    for duct in panel.layout.ducts.values():
        features += [Point(duct.box.left, duct.y), Point(duct.box.right, duct.y)]
    features += [
        Point(rail.x, rail.y) for rail in panel.layout.rails.values() if rail.run is Run.UPRIGHT
    ]
    kept = _unlike((feature.x, feature.y, feature) for feature in features)
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


def _under_row(panel: Panel, row: tuple[str, ...], size: Mm) -> Iterator[Primitive]:
    """Yield left edges of bodies and ends of rails of a row, written below them."""
    bodies = [body_box(panel.job.part_of(tag), panel.layout.devices[tag]) for tag in row]
    bottom = min(
        envelope_box(panel.job.part_of(tag), panel.layout.devices[tag]).bottom for tag in row
    )
    corners = [(body.left, body.bottom, Point(body.left, body.bottom)) for body in bodies]
    low, high = min(body.bottom for body in bodies), max(body.top for body in bodies)
    for rail in panel.layout.rails.values():
        if rail.run is Run.ACROSS and low < rail.y < high:
            foot = rail_box(rail)
            corners += [(x, foot.bottom, Point(x, foot.bottom)) for x in (foot.left, foot.right)]
    kept = _unlike(corners)
    duct = _duct_below(panel, bottom, size)
    left, right = _between_uprights(panel, kept[0].x, kept[-1].x)
    places = spread(
        [corner.x for corner in kept],
        PITCH * size,
        low=left + 0.8 * size,
        high=right - 0.8 * size,
    )
    for group in _bunches(kept, places, size):
        yield from _bunch(panel, row, group, duct, size)


def _between_uprights(panel: Panel, low: Mm, high: Mm) -> tuple[Mm, Mm]:
    """Return the upright ducts' edges left and right of a row, or the plate's."""
    plate = panel.job.settings.plate
    uprights = [duct.box for duct in panel.layout.ducts.values() if duct.run is Run.UPRIGHT]
    lefts = [box.right for box in uprights if box.right <= low + SAME]
    rights = [box.left for box in uprights if box.left >= high - SAME]
    return max(lefts, default=0.0), min(rights, default=plate.width)


def _bunches(
    corners: list[Point], places: tuple[Mm, ...], size: Mm
) -> Iterator[list[tuple[Point, Mm]]]:
    """Yield corners and places of numbers that stand side by side: they share their levels."""
    bunch: list[tuple[Point, Mm]] = []
    for corner, place in zip(corners, places, strict=True):
        if bunch and place - bunch[-1][1] > 1.3 * PITCH * size:
            yield bunch
            bunch = []
        bunch.append((corner, place))
    if bunch:
        yield bunch


def _bunch(
    panel: Panel,
    row: tuple[str, ...],
    bunch: list[tuple[Point, Mm]],
    duct: Box | None,
    size: Mm,
) -> Iterator[Primitive]:
    unit = panel.job.settings.units
    xs = [x for corner, place in bunch for x in (corner.x, place)]
    low, high = min(xs) - size, max(xs) + size
    envelopes = [envelope_box(panel.job.part_of(tag), panel.layout.devices[tag]) for tag in row]
    bottoms = [box.bottom for box in envelopes if box.right > low and box.left < high]
    bottom = min(bottoms + [corner.y for corner, _ in bunch])
    longest = max(text_width(length_text(corner.x, unit), size) for corner, _ in bunch)
    knee, end = _levels(duct, bottom, size, longest)
    for corner, place in bunch:
        words = length_text(corner.x, unit)
        half, length = 0.6 * size, text_width(words, size) + 0.6 * size
        yield from interruption(panel, Box(place - half, end - length, place + half, end))
        yield Ordinate(
            layer="DIM",
            axis=Axis.X,
            path=(
                Point(corner.x, corner.y - GAP * size),
                Point(corner.x, min(knee, corner.y - GAP * size)),
                Point(place, end),
            ),
            text=words,
            size=size,
        )


def _duct_below(panel: Panel, bottom: Mm, size: Mm) -> Box | None:
    near = [
        duct.box
        for duct in panel.layout.ducts.values()
        if duct.run is Run.ACROSS and bottom - FAR * size <= duct.box.top <= bottom + SAME
    ]
    return max(near, key=lambda box: (box.top, box.width), default=None)


def _levels(duct: Box | None, bottom: Mm, size: Mm, longest: Mm) -> tuple[Mm, Mm]:
    """Return where the leaders of a row begin to jog and where they end.

    The numbers stand between row and duct where there is room, else inside the duct, so that
    no edge of a duct crosses them; where both are too narrow an edge has to.
    """
    knee = bottom - 0.2 * size
    near = (knee, knee - ROW_JOG * size)
    need = longest + size
    if duct is None or near[1] - need >= duct.top:
        return near
    edge = duct.top + 0.1 * size
    if need <= duct.height and knee - edge >= 0.5 * ROW_JOG * size:
        return min(knee, edge + 2 * ROW_JOG * size), edge
    return near


def _unlike(features: Iterable[tuple[Mm, Mm, Point]]) -> list[Point]:
    """Return one feature for each place along the axis: the one nearest the numbers."""
    kept: list[tuple[Mm, Point]] = []
    for place, _, feature in sorted(features, key=lambda item: (item[0], item[1])):
        if not kept or place - kept[-1][0] > SAME:
            kept.append((place, feature))
    return [feature for _, feature in kept]
