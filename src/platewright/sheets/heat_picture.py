"""Temperature over the plate and from the side: colours, lines, and a number on each device.

Two views from the front: the air with what each device takes in at its foot, and what a hand
would touch (plate, housings, duct walls). One from the side: the air at the hottest column.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from platewright.drawing.picture import Line, Picture, Primitive, Rect, Text, placed
from platewright.foundation.units import DegC, Mm
from platewright.model.geometry import Box, Point
from platewright.model.heat import Banded, PanelHeat
from platewright.model.layout import Duct
from platewright.model.panel import Panel, body_box
from platewright.sheets.heat_field import (
    LEGEND,
    LETTERING,
    Scale,
    bands,
    extremes,
    labelled_lines,
    legend,
)
from platewright.sheets.heat_tags import Unnamed, led_out
from platewright.sheets.lettering_rules import fitted

GAP: Final[Mm] = 6.0
TITLE: Final[Mm] = 6.0  # above each view
LINES: Final = 1.5  # pitch of two lines of lettering


@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    """A box that has a temperature, plate coordinates; ``None``: it has none of its own."""

    tag: str
    box: Box
    value: Banded | None
    limit: DegC | None = None

    def outline(self, usual: str) -> str:
        """Return the layer of the outline: thick where the limit is not kept for sure."""
        if self.value is None or self.limit is None or self.value.high <= self.limit:
            return usual
        return "HEAT-OVER" if self.value.low > self.limit else "HEAT-CLOSE"


def air_picture(panel: Panel, heat: PanelHeat, *, width: Mm, height: Mm) -> tuple[Primitive, ...]:
    """Return the air from front and side at one scale, with its colours below."""
    front, side = heat.front.area, heat.side.area
    size = min((width - GAP) / (front.width + side.width), (height - TITLE - LEGEND) / front.height)
    at = Point(-front.left * size, -front.bottom * size)
    beside = Point(front.width * size + GAP, -side.bottom * size)
    return (
        *_air_front(panel, heat, at, size),
        *_air_side(panel, heat, beside, size),
        *legend(Point(0.0, -3.0), width, air_scale(heat), AIR),
    )


def surface_picture(
    panel: Panel, heat: PanelHeat, *, width: Mm, height: Mm
) -> tuple[Primitive, ...]:
    """Return plate, housings and duct walls from the front, with their colours below."""
    area = heat.plate.area
    size = min(width / area.width, (height - TITLE - LEGEND) / area.height)
    return (
        *_surface_front(panel, heat, Point(0.0, 0.0), size),
        *legend(Point(0.0, -3.0), width, surface_scale(heat), SURFACES),
    )


HEAT_PICTURE: Final = "temperatures"  # name of its files
FRAMES: Final = "Thick frame: over its limit; thick and dashed: its band reaches over it"
AIR: Final = "Air, °C. Lines: the temperatures between the colours"
SURFACES: Final = "Plate, housings and duct walls, °C"
PAPER: Final = (420.0, 297.0)  # A3, lying
MARGIN: Final[Mm] = 12.0
HEADING: Final[Mm] = 3.5


def heat_poster(panel: Panel, heat: PanelHeat) -> Picture:
    """Return all views on one A3 sheet, with the headline and what must be minded."""
    width, height = PAPER
    inner = width - 2 * MARGIN
    foot = MARGIN + (len(heat.cautions) + 1) * LETTERING * LINES
    top = height - MARGIN - 3.5 * HEADING
    front, side, plate = heat.front.area, heat.side.area, heat.plate.area
    wide = front.width + side.width + plate.width
    size = min(
        (inner - 3 * GAP) / wide, (top - foot - TITLE - LEGEND - 4) / front.height
    )  # fmt: skip
    gap = (inner - wide * size) / 2  # what is left is shared
    low = foot + LEGEND + 4
    left = MARGIN
    parts: list[Primitive] = list(_words(panel, heat, height, foot))
    parts += _air_front(
        panel, heat, Point(left - front.left * size, low - front.bottom * size), size
    )
    left += front.width * size + gap
    parts += _air_side(panel, heat, Point(left, low - side.bottom * size), size)
    parts += legend(Point(MARGIN, low - 3), inner / 2 - GAP, air_scale(heat), AIR)
    left += side.width * size + gap
    parts += _surface_front(panel, heat, Point(left, low - front.bottom * size), size)
    parts += legend(Point(left, low - 3), width - MARGIN - left, surface_scale(heat), SURFACES)
    title = f"{panel.job.settings.job.title}: how warm"
    return Picture(width=width, height=height, title=title, primitives=tuple(parts))


def heat_files(panel: Panel, heat: PanelHeat, *, only: str = "") -> dict[str, bytes]:
    """Return the picture as SVG and PNG (``only``: one ending); none before a device is placed."""
    from platewright.drawing.png import write_png  # noqa: PLC0415  (slow to load)
    from platewright.drawing.svg import write_svg  # noqa: PLC0415

    if not heat.devices:
        return {}
    poster = heat_poster(panel, heat)
    writers = {".png": write_png, ".svg": write_svg}
    return {
        f"{HEAT_PICTURE}{ending}": write(poster)
        for ending, write in writers.items()
        if only in ("", ending)
    }


def _words(panel: Panel, heat: PanelHeat, height: Mm, foot: Mm) -> Iterator[Primitive]:
    """Yield title, headline, and what must be minded."""
    inside = heat.level.inside
    told = (
        f"Air inside {inside.value:.0f} ± {inside.band:.0f} °C at {heat.losses.total:.0f} W, "
        f"{heat.level.outside:g} °C outside. "
    )
    lines = [
        (f"{panel.job.settings.job.title}: how warm", HEADING, True),
        (told + "Numbers on devices: °C, and how far off they may be, K. " + FRAMES, 2.5, False),
    ]
    y = height - MARGIN - HEADING
    for words, size, is_bold in lines:
        yield Text(
            layer="TEXT", at=Point(MARGIN, y), text=words, size=size, bold=is_bold, on_base=True
        )
        y -= 2 * HEADING
    y = foot - LETTERING * LINES
    for words in heat.cautions:
        yield Text(layer="TEXT", at=Point(MARGIN, y), text=words, size=LETTERING, on_base=True)
        y -= LETTERING * LINES


def air_scale(heat: PanelHeat) -> Scale:
    """Return the scale of the air: both views and what every device takes in."""
    inlets = [one.air.value for one in heat.devices.values()]
    return Scale.over((*extremes(heat.front, heat.side), *inlets))


def surface_scale(heat: PanelHeat) -> Scale:
    """Return the scale of plate, housings and duct walls."""
    housings = [one.surface.value for one in heat.devices.values()]
    walls = [one.temperature.value for one in heat.ducts.values()]
    return Scale.over((*extremes(heat.plate), *housings, *walls))


def _air_front(panel: Panel, heat: PanelHeat, at: Point, size: float) -> list[Primitive]:
    """Return the air; each device has the colour of what it takes in."""
    scale = air_scale(heat)
    devices = [
        Named(tag=o.tag, box=o.box, value=o.air, limit=o.limit) for o in heat.devices.values()
    ]
    ducts = [Named(tag=tag, box=duct.box, value=None) for tag, duct in _ducts(panel)]
    parts: list[Primitive] = [*bands(heat.front, scale, at, size)]
    parts += placed((Rect(layer="HEAT-BODY", box=panel.job.settings.plate.box),), at=at, scale=size)
    taken = [_there(one.box, at, size) for one in devices]
    shunned = [_there(one.box, at, size) for one in ducts]
    parts += labelled_lines(heat.front, scale, at, size, taken, shunned)
    parts += _things(devices, ducts, scale, at, size)
    parts += led_out(_unnamed(devices, at, size), _there(heat.front.area, at, size), taken, shunned)
    parts += _title(heat.front.area, at, size, "Air, seen from the front")
    return parts


def _surface_front(panel: Panel, heat: PanelHeat, at: Point, size: float) -> list[Primitive]:
    """Return what a hand would touch."""
    scale = surface_scale(heat)
    devices = [Named(tag=o.tag, box=o.box, value=o.surface) for o in heat.devices.values()]
    walls = heat.ducts
    ducts = [
        Named(
            tag=tag,
            box=duct.box,
            value=walls[tag].temperature if tag in walls else None,
            limit=walls[tag].limit if tag in walls else None,
        )
        for tag, duct in _ducts(panel)
    ]
    parts: list[Primitive] = [*bands(heat.plate, scale, at, size)]
    parts += placed((Rect(layer="HEAT-BODY", box=heat.plate.area),), at=at, scale=size)
    taken = [_there(one.box, at, size) for one in (*devices, *ducts)]
    parts += labelled_lines(heat.plate, scale, at, size, taken)
    parts += _things(devices, ducts, scale, at, size)
    parts += led_out(_unnamed(devices, at, size), _there(heat.plate.area, at, size), taken, ())
    parts += _title(heat.plate.area, at, size, "Plate, housings, warmest duct walls")
    return parts


def _things(
    devices: Sequence[Named], ducts: Sequence[Named], scale: Scale, at: Point, size: float
) -> list[Primitive]:
    """Return ducts and devices in their colours, then their lettering."""
    drawn: list[Primitive] = []
    words: list[Primitive] = []
    for named, outline in ((ducts, "HEAT-DUCT"), (devices, "HEAT-BODY")):
        for one in named:
            box = _there(one.box, at, size)
            if one.value is not None:
                drawn.append(Rect(layer=scale.layer(one.value.value), box=box))
                words += _lettering(one.tag, one.value, box)
            drawn.append(Rect(layer=one.outline(outline), box=box))
    return drawn + words


def _unnamed(devices: Sequence[Named], at: Point, size: float) -> list[Unnamed]:
    """Return the devices whose lettering has no tag in it, with the number where it lacks that."""
    found = []
    for one in devices:
        box = _there(one.box, at, size)
        words = _lettering(one.tag, one.value, box) if one.value is not None else []
        told = " ".join(part.text for part in words if isinstance(part, Text))
        if one.tag not in told:
            figure = f"{one.value.value:.0f}" if one.value is not None and not told else ""
            found.append(Unnamed(tag=one.tag, box=box, figure=figure))
    return found


def _lettering(tag: str, value: Banded, box: Box) -> list[Primitive]:
    """Return tag, temperature and band, as much of them as there is room for; the band goes first."""
    number, band = f"{value.value:.0f}", f"±{value.band:.0f}"
    for figures in (f"{number} {band}", number):
        for rows in ((tag, figures), (f"{tag} {figures}",)):
            found = _stacked(rows, box)
            if found:
                return found
    words = fitted(number, box, LETTERING)
    return [words] if words is not None else []


def _stacked(rows: tuple[str, ...], box: Box) -> list[Primitive]:
    """Return rows of lettering in the middle of a box; more than one stand level; or none."""
    pitch = LETTERING * LINES
    lower = pitch * (len(rows) - 1) / 2
    room = Box(box.left, box.bottom + lower, box.right, box.top - lower)
    found: list[Primitive] = []
    for number, row in enumerate(rows):
        words = fitted(row, room, LETTERING)
        if words is None or (len(rows) > 1 and words.rotation):
            return []
        found += placed((words,), at=Point(0.0, lower - number * pitch))
    return found


def _air_side(panel: Panel, heat: PanelHeat, at: Point, size: float) -> list[Primitive]:
    """Return the air from plate to door at the hottest column, with the outlines of all."""
    scale = air_scale(heat)
    outlines = placed(_side_outlines(panel), at=at, scale=size)
    parts: list[Primitive] = [*bands(heat.side, scale, at, size), *outlines]
    taken = [one.box for one in outlines if isinstance(one, Rect) and one.layer == "HEAT-BODY"]
    shunned = [one.box for one in outlines if isinstance(one, Rect) and one.layer == "HEAT-DUCT"]
    parts += labelled_lines(heat.side, scale, at, size, taken, shunned)
    parts += _title(heat.side.area, at, size, "From the side")
    return parts


def _side_outlines(panel: Panel) -> Iterator[Primitive]:
    for _, duct in _ducts(panel):
        box = duct.box
        yield Rect(layer="HEAT-DUCT", box=Box(0.0, box.bottom, duct.height, box.top))
    for tag, at in sorted(panel.layout.devices.items()):
        part = panel.job.part_of(tag)
        box = body_box(part, at)
        yield Rect(layer="HEAT-BODY", box=Box(0.0, box.bottom, part.depth, box.top))
    plate = panel.job.settings.plate.box
    yield Line(layer="WALL", start=Point(0.0, plate.bottom), end=Point(0.0, plate.top))


def _ducts(panel: Panel) -> list[tuple[str, Duct]]:
    return sorted(panel.layout.ducts.items())


def _there(box: Box, at: Point, size: float) -> Box:
    return Box(
        at.x + box.left * size, at.y + box.bottom * size,
        at.x + box.right * size, at.y + box.top * size,
    )  # fmt: skip


def _title(area: Box, at: Point, size: float, words: str) -> Iterator[Primitive]:
    top = _there(area, at, size)
    yield Text(layer="TEXT", at=Point(top.left, top.top + 3), text=words, size=LETTERING, bold=True)
