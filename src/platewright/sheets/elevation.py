"""The plate from the right: how far devices stand out, and what the door brings towards them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from platewright.drawing.extent import extent
from platewright.drawing.lettering import wrap
from platewright.drawing.paper import INCH, METRIC, SCALES, Paper, trials
from platewright.drawing.picture import (
    Anchor,
    Axis,
    Circle,
    Dimension,
    Polyline,
    Primitive,
    Rect,
    Text,
    placed,
)
from platewright.drawing.spread import spread
from platewright.drawing.table import length_text
from platewright.foundation.units import Mm
from platewright.model.geometry import Box, Point
from platewright.model.job import DisplayUnit
from platewright.model.layout import Placement, Run
from platewright.model.panel import Panel, body_box
from platewright.sheets.layout import NO_LAYOUT
from platewright.sheets.page import Leaf, above_block, inside, list_paper
from platewright.sheets.plate_tags import rows
from platewright.sheets.rail_footprint import rail_box
from platewright.sheets.registry import Findings, sheet

LETTERING: Final[Mm] = 2.5
PITCH: Final = 1.9
HEAD: Final[Mm] = 22.0  # for the notes
SMALL: Final = 3  # so many papers, the smallest first, are enough: there is little on this sheet
SMALLEST: Final = 10  # 1:10, before a larger paper is taken
AIR: Final[Mm] = 3.0  # above and below the drawing
DOOR_SHEET: Final[Mm] = 2.0  # drawn thickness only
RAIL_HEIGHT: Final[Mm] = 7.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """What is seen from the right: nearest last."""

    tag: str
    near: Mm  # right edge on the plate
    low: Mm
    high: Mm
    depth: Mm
    reach: Mm  # covers and plugs included


@sheet(id="elevation", title="Side view, depth to the door", place=20)
def elevation_sheet(panel: Panel, findings: Findings) -> tuple[Leaf, ...]:  # noqa: ARG001
    """Return one page."""
    large = INCH if panel.job.settings.units is DisplayUnit.INCH else METRIC
    turned = [way for paper in large for way in (paper, paper.turned)]
    papers = (list_paper(panel.job.settings), *turned)
    paper, scale, drawing = _on_paper(panel, papers)
    space, box = above_block(paper).grown(0, 0, 0, -HEAD), extent(drawing)
    at = Point(space.centre.x - box.centre.x / scale, space.centre.y - box.centre.y / scale)
    parts = (*placed(drawing, at=at, scale=1 / scale), *_notes(panel, paper))
    return (Leaf(paper=paper, scale=f"1:{scale}", primitives=parts),)


def _on_paper(panel: Panel, papers: tuple[Paper, ...]) -> tuple[Paper, int, tuple[Primitive, ...]]:
    small = [(paper, scale) for scale in SCALES if scale <= SMALLEST for paper in papers[:SMALL]]
    for paper, scale in (*small, *trials(papers)):
        drawing = tuple(side_view(panel, lettering=LETTERING * scale))
        box, space = extent(drawing), above_block(paper)
        if (
            box.width / scale + 8 <= space.width
            and box.height / scale + HEAD + 2 * AIR <= space.height
        ):
            return paper, scale, drawing
    raise ValueError("the plate is larger than any paper")


def side_view(panel: Panel, *, lettering: Mm) -> Iterator[Primitive]:
    """Yield the view at scale 1: x is minus the height above the plate's face, y as on the plate.

    Seen from the right the plate's face looks to the left, so the door is at the left.
    """
    settings = panel.job.settings
    plate, door = settings.plate, settings.enclosure.door_inside
    yield Rect(layer="PLATE", box=Box(0, 0, plate.thickness, plate.height))
    overhang = max(0.0, (settings.enclosure.height - plate.height) / 2)
    yield Rect(
        layer="DOOR",
        box=Box(-door - DOOR_SHEET, -overhang, -door, plate.height + overhang),
    )
    for rail in panel.layout.rails.values():
        box = rail_box(rail)
        yield Rect(layer="RAIL", box=Box(-RAIL_HEIGHT, box.bottom, 0, box.top))
    for duct in sorted(panel.layout.ducts.values(), key=lambda duct: duct.box.right):
        if duct.run is Run.ACROSS:
            yield Rect(layer="DUCT", box=Box(-duct.height, duct.box.bottom, 0, duct.box.top))
    standing = _standing(panel)
    for item in standing:
        if item.reach > item.depth:
            yield Rect(layer="COVER", box=Box(-item.reach, item.low, 0, item.high))
        yield Rect(layer="DEVICE", box=Box(-item.depth, item.low, 0, item.high))
    for device in panel.job.on_door:
        part = panel.job.part_of(device.tag)
        if device.door_y is not None:
            y = device.door_y
            box = Box(-door, y, -door + part.depth, y + part.height)
            yield Rect(layer="DEVICE", box=box)
    for x, y, words in (
        (-door - DOOR_SHEET / 2, plate.height + overhang, "door"),
        (plate.thickness / 2, plate.height, "plate"),
    ):
        at = Point(x, y + 0.9 * lettering)
        yield Text(layer="TAG", at=at, text=words, size=lettering, anchor=Anchor.CENTRE)
    yield from _labels(panel, standing, lettering)
    yield from _dimensions(panel, lettering)


def _standing(panel: Panel) -> tuple[Standing, ...]:
    items = []
    for tag, at in panel.layout.devices.items():
        part = panel.job.part_of(tag)
        items.append(
            Standing(
                tag=tag,
                near=at.x + part.width,
                low=at.y,
                high=at.y + part.height,
                depth=part.depth,
                reach=part.depth + (part.cover_front or 0.0),
            )
        )
    return tuple(sorted(items, key=lambda item: (item.near, item.tag)))


def _deepest(panel: Panel, standing: tuple[Standing, ...]) -> tuple[Standing, ...]:
    """Return the device of each row that has the least room in front of it."""
    by_tag = {item.tag: item for item in standing}
    return tuple(
        min(
            (by_tag[tag] for tag in row),
            key=lambda item: (_in_front(panel, item)[0], -item.reach, item.tag),
        )
        for row in rows(panel)
    )


def _in_front(panel: Panel, item: Standing) -> tuple[Mm, str]:
    """Return the room in front of a device, and what bounds it: the door, or what it carries."""
    door = panel.job.settings.enclosure.door_inside
    found = [(door - item.reach, "the door")]
    body = body_box(panel.job.part_of(item.tag), panel.layout.devices[item.tag])
    for device in panel.job.on_door:
        part = panel.job.part_of(device.tag)
        if device.door_x is not None and device.door_y is not None:
            at = Placement(x=device.door_x, y=device.door_y)
            if body_box(part, at).overlaps(body):
                found.append((door - part.depth - item.reach, device.tag))
    return min(found)


def _labels(panel: Panel, standing: tuple[Standing, ...], lettering: Mm) -> Iterator[Primitive]:
    """Yield what reaches farthest in each row, and the door devices, on leaders at the left."""
    settings = panel.job.settings
    unit, door = settings.units, settings.enclosure.door_inside
    found: list[tuple[Point, str, bool]] = []  # place, words, on an outline
    for item in _deepest(panel, standing):
        room, what = _in_front(panel, item)
        words = (
            f"{item.tag}  reaches {length_text(item.reach, unit)}, "
            f"{length_text(room, unit)} to {what}"
        )
        found.append((Point(-item.reach, (item.low + item.high) / 2), words, True))
    for device in panel.job.on_door:
        part = panel.job.part_of(device.tag)
        if device.door_y is not None:
            words = (
                f"{device.tag} on the door, {length_text(part.depth, unit)} deep, "
                f"leaves {length_text(door - part.depth, unit)}"
            )
            at = Point(-door + part.depth * 0.5, device.door_y + part.height / 2)
            found.append((at, words, False))
    found.sort(key=lambda item: (item[0].y, item[1]))
    edge = -door - DOOR_SHEET - 2.0 * lettering
    levels = spread([point.y for point, _, _ in found], PITCH * lettering)
    for (point, words, on_line), level in zip(found, levels, strict=True):
        yield Polyline(
            layer="TAG",
            points=(point, Point(edge, point.y), Point(edge - 2 * lettering, level)),
        )
        if on_line:
            yield from _arrow(point, lettering)
        else:
            yield Circle(layer="DATUM", centre=point, radius=0.16 * lettering)
        yield _left_text(words, Point(edge - 2.4 * lettering, level), lettering)


def _left_text(words: str, at: Point, size: Mm) -> Text:
    return Text(layer="TAG", at=at, text=words, size=size, anchor=Anchor.RIGHT)


def _arrow(tip: Point, size: Mm) -> Iterator[Primitive]:
    yield Polyline(
        layer="ARROW",
        points=(tip, Point(tip.x - size, tip.y + size / 6), Point(tip.x - size, tip.y - size / 6)),
        closed=True,
    )


def _dimensions(panel: Panel, size: Mm) -> Iterator[Primitive]:
    settings = panel.job.settings
    unit, door, plate = settings.units, settings.enclosure.door_inside, settings.plate
    overhang = max(0.0, (settings.enclosure.height - plate.height) / 2)
    foot = -overhang - 3 * size
    yield Dimension(
        layer="DIM",
        axis=Axis.X,
        start=Point(-door, -overhang),
        end=Point(0, 0),
        through=foot,
        text=f"{length_text(door, unit)} plate face to door",
        size=size,
    )
    yield Dimension(
        layer="DIM",
        axis=Axis.Y,
        start=Point(plate.thickness, 0),
        end=Point(plate.thickness, plate.height),
        through=plate.thickness + 4 * size,
        text=length_text(plate.height, unit),
        size=size,
    )


def _notes(panel: Panel, paper: Paper) -> Iterator[Primitive]:
    space = inside(paper)
    words = (
        "Seen from the right: door at the left, plate at the right. Nearer devices hide farther "
        "ones. Dashed: covers, plugs, levers. Labelled: the least room in front, row by row."
    )
    if not panel.layout.devices:
        words = NO_LAYOUT
    for index, line in enumerate(wrap(words, space.width - 12, LETTERING)):
        yield Text(
            layer="TEXT",
            at=Point(space.left + 6, space.top - 9 - index * 4.2),
            text=line,
            size=LETTERING,
        )
