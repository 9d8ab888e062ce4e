"""The plate as a drawing at scale 1, in plate coordinates. Every sheet and the DXF start here."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from platewright.drawing.extent import extent
from platewright.drawing.numbers import short
from platewright.drawing.picture import (
    Anchor,
    Circle,
    Line,
    Picture,
    Polyline,
    Primitive,
    Rect,
    Text,
)
from platewright.foundation.units import Mm
from platewright.model.geometry import Point
from platewright.model.layout import HoleKind, Rail, Run
from platewright.model.panel import Panel, body_box, envelope_box
from platewright.sheets.plate_ordinates import below, edge_ordinates
from platewright.sheets.plate_tags import tags
from platewright.sheets.rail_footprint import rail_box
from platewright.sheets.rail_tags import at_ordinates, duct_names, rail_names
from platewright.sheets.row_numbers import row_ordinates
from platewright.sheets.word_faults import Drawn, blanks, drawn

HOLE_LAYERS: Final = {
    HoleKind.TAPPED: "HOLE-TAP",
    HoleKind.CLEARANCE: "HOLE-CLEAR",
    HoleKind.RIVET: "HOLE-RIVET",
    HoleKind.SELF_TAPPING: "HOLE-SELFTAP",
}
AROUND: Final = 0.15  # empty border of the picture, in heights of the lettering
CENTRE_MARK: Final = 0.8  # reach of a centre mark, in heights of the lettering
FRESH_LETTERING: Final[Mm] = 12.5  # 2.5 mm at 1:5


def plate_picture(
    panel: Panel, *, lettering: Mm = FRESH_LETTERING, with_holes: bool = True
) -> Picture:
    """Return the dimensioned plate, 1 mm for 1 mm, (0, 0) at the datum corner.

    ``lettering`` is the height of capitals in plate mm: 2.5 times n where it is printed at 1:n.
    """
    edges = drawn(below(panel, lettering))
    numbers = tuple(row_ordinates(panel, lettering, edges))
    named = tuple(tags(panel, lettering, edges.with_more(numbers)))
    air = 0.3 * lettering
    around = [
        box.grown(air, air, air, air) for box in Drawn().with_more((*numbers, *named)).boxes()
    ]
    rails = rail_names(panel, lettering, around)
    in_place = tuple(text for text in rails.values() if text is not None)
    taken = edges.with_more((*numbers, *named, *in_place))
    words = (*in_place, *duct_names(panel, lettering, tuple(taken.boxes())), *named, *numbers)
    words += tuple(blanks(drawn(words).words, edges.leaders, 0.2 * lettering))
    parts = (
        *_ground(panel, lettering),
        # under the devices: a body interrupts their leaders
        *edge_ordinates(panel, lettering, at_ordinates(panel, rails)),
        *_devices(panel),
        *(hole_circles(panel) if with_holes else ()),
        *(part for part in words if part.layer == "INTERRUPT"),  # blanks lines, never lettering
        *(part for part in words if part.layer != "INTERRUPT"),
    )
    box = extent(parts)
    border = AROUND * lettering
    box = box.grown(border, border, border, border)
    return Picture(
        width=box.width,
        height=box.height,
        title=f"{panel.job.settings.job.title}: plate",
        primitives=parts,
        left=box.left,
        bottom=box.bottom,
    )


def plate_body(panel: Panel, *, lettering: Mm) -> Iterator[Primitive]:
    """Yield plate, ducts, rails and devices without words."""
    yield from _ground(panel, lettering)
    yield from _devices(panel)


def _ground(panel: Panel, lettering: Mm) -> Iterator[Primitive]:
    plate = panel.job.settings.plate
    yield Rect(layer="PLATE", box=plate.box)
    yield from _datum(lettering)
    for keep_out in plate.keep_outs:
        yield Rect(layer="KEEPOUT", box=keep_out.box)
    for duct in panel.layout.ducts.values():
        yield Rect(layer="DUCT", box=duct.box)
    for rail in panel.layout.rails.values():
        yield from _rail(rail, lettering)
    for hole in plate.fixing_holes:
        yield Circle(layer="KEEPOUT", centre=hole.centre, radius=hole.keep_out / 2)
        yield from centre_mark(hole.centre, CENTRE_MARK * lettering, layer="FIXING")


def hole_circles(panel: Panel) -> Iterator[Primitive]:
    """Yield every hole to drill, or drilled, as a circle of its drill's diameter."""
    for hole in panel.layout.holes.values():
        if hole.is_idle_mark:
            continue
        yield Circle(layer=HOLE_LAYERS[hole.kind], centre=hole.centre, radius=hole.drill / 2)


def tool_circles(panel: Panel) -> Iterator[Primitive]:
    """Yield every hole as a true circle on the layer of its tool: ``HOLE-TAP-M5-D4.2``."""
    for hole in panel.layout.holes.values():
        layer = "MARK-WIPE-OFF" if hole.is_idle_mark else "HOLE-DRILLED"
        if hole.is_to_drill:
            size = "".join(char if char.isalnum() or char in "-." else "_" for char in hole.size)
            layer = f"{HOLE_LAYERS[hole.kind]}-{size}-D{short(hole.drill, 2)}"
        yield Circle(layer=layer, centre=hole.centre, radius=hole.drill / 2)


def ghost(primitives: Iterable[Primitive]) -> Iterator[Primitive]:
    """Yield outlines in light grey, as a background of something else."""
    for primitive in primitives:
        if primitive.layer == "PLATE" and isinstance(primitive, Rect):
            yield primitive
        elif isinstance(primitive, Rect) and primitive.layer in ("DUCT", "DEVICE", "RAIL"):
            yield Rect(layer="GHOST", box=primitive.box)


def centre_mark(centre: Point, reach: Mm, *, layer: str) -> Iterator[Primitive]:
    """Yield two crossing lines."""
    yield Line(
        layer=layer,
        start=Point(centre.x - reach, centre.y),
        end=Point(centre.x + reach, centre.y),
    )
    yield Line(
        layer=layer,
        start=Point(centre.x, centre.y - reach),
        end=Point(centre.x, centre.y + reach),
    )


def _rail(rail: Rail, lettering: Mm) -> Iterator[Primitive]:
    box = rail_box(rail)
    over = 0.6 * lettering
    yield Rect(layer="RAIL", box=box)
    start, end = (
        (Point(box.left - over, rail.y), Point(box.right + over, rail.y))
        if rail.run is Run.ACROSS
        else (Point(rail.x, box.bottom - over), Point(rail.x, box.top + over))
    )
    yield Line(layer="AXIS", start=start, end=end)


def _devices(panel: Panel) -> Iterator[Primitive]:
    for tag, at in panel.layout.devices.items():
        part = panel.job.part_of(tag)
        body, envelope = body_box(part, at), envelope_box(part, at)
        if envelope != body:
            yield Rect(layer="COVER", box=envelope)
    for tag, at in panel.layout.devices.items():
        yield Rect(layer="DEVICE", box=body_box(panel.job.part_of(tag), at))


def _datum(lettering: Mm) -> Iterator[Primitive]:
    """Yield the datum sign: a quarter-filled circle on the lower left corner."""
    radius = 0.7 * lettering
    yield Polyline(
        layer="DATUM",
        points=(
            Point(0, 0),
            Point(radius, 0),
            Point(radius * 0.707, radius * 0.707),
            Point(0, radius),
        ),
        closed=True,
    )
    yield Text(
        layer="TAG",
        at=Point(-2.0 * lettering, -3.4 * lettering),
        text="datum 0, 0",
        size=lettering,
        anchor=Anchor.RIGHT,
    )
