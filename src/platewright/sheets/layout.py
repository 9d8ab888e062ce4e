"""The layout drawing: dimensioned plate, parts table, notes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from platewright.drawing.lettering import wrap
from platewright.drawing.picture import Picture, Primitive, Text, placed
from platewright.drawing.table import length_text, thickness_text
from platewright.drawing.table_print import PrintRow, PrintTable, print_table
from platewright.foundation.units import Mm
from platewright.model.device import Place
from platewright.model.geometry import Box, Point
from platewright.model.panel import Panel
from platewright.sheets.arrangement import Arrangement, arrange_page, table_pages
from platewright.sheets.device_list import device_table
from platewright.sheets.page import Leaf
from platewright.sheets.plate_picture import plate_picture, tool_circles
from platewright.sheets.registry import Findings, sheet
from platewright.sheets.word_faults import picture_faults

LETTERING: Final[Mm] = 2.5
TABLE_WIDTH: Final[Mm] = 122.0
NO_LAYOUT: Final = "No layout yet. Run the plan, or place the devices by hand, then print again."


_LAST: Final[list[tuple[Panel, dict[int, Picture]]]] = []  # sheet and DXF ask for the same panel


def _drawn(panel: Panel, scale: int) -> Picture:
    """Return the plate lettered for 1:``scale``, drawn once for a panel."""
    kept = _LAST[0] if _LAST else None
    if kept is None or kept[0] is not panel:
        kept = (panel, {})
        _LAST[:] = [kept]
    if scale not in kept[1]:
        kept[1][scale] = plate_picture(panel, lettering=LETTERING * scale, with_holes=False)
    return kept[1][scale]


def page_of(panel: Panel) -> Arrangement:
    """Return paper, scale and spaces of the layout drawing."""

    def measure(scale: int) -> tuple[Mm, Mm]:
        picture = _drawn(panel, scale)
        return picture.width / scale, picture.height / scale

    def is_clear(scale: int) -> bool:
        return not picture_faults(panel, _drawn(panel, scale).primitives)

    return arrange_page(
        panel.job.settings, measure=measure, table_width=TABLE_WIDTH, is_clear=is_clear
    )


def plate_at_scale(panel: Panel) -> Picture:
    """Return the plate at 1:1 with holes, its lettering as high as on the printed drawing."""
    plain = _drawn(panel, page_of(panel).scale).without(
        ("INTERRUPT",)
    )  # a DXF has no fills, so nothing to blank
    return replace(plain, primitives=(*plain.primitives, *tool_circles(panel)))


@sheet(id="layout", title="Plate layout", place=10)
def layout_sheet(panel: Panel, findings: Findings) -> tuple[Leaf, ...]:
    """Return the drawing and, where the table does not fit beside it, further pages."""
    page = page_of(panel)
    scale = page.scale
    picture = _drawn(panel, scale)
    at = Point(
        page.drawing.centre.x - (picture.left + picture.width / 2) / scale,
        page.drawing.centre.y - (picture.bottom + picture.height / 2) / scale,
    )
    table = parts_table(panel, findings)
    beside, further = table_pages(page, TABLE_WIDTH, table, panel.job.settings)
    first = (
        *placed(picture.primitives, at=at, scale=1 / scale),
        *beside,
        *_notes(panel, page.notes),
    )
    return (Leaf(paper=page.paper, scale=f"1:{scale}", primitives=first), *further)


def parts_table(panel: Panel, findings: Findings) -> PrintTable:
    """Return the parts table of the drawing, made from the list of devices."""
    unit = panel.job.settings.units
    table = device_table(panel, findings)
    rows = []
    for row, printed in zip(table.rows, print_table(table, unit).rows, strict=True):
        tag, _, part, what, *sizes, place, _, _ = row
        words = str(what or part)
        size = "×".join(length_text(s, unit) for s in sizes if isinstance(s, int | float))
        if place == Place.DOOR:
            words += " (door)"
        rows.append(PrintRow(cells=(str(tag), words, size, *printed.cells[-2:])))
    return PrintTable(
        heads=("Tag", "What", "W×H×D", "x", "y"),
        to_right=(False, False, True, True, True),
        wraps=(False, True, False, False, False),
        rows=tuple(rows),
    )


def _notes(panel: Panel, space: Box) -> Iterator[Primitive]:
    plate, unit = panel.job.settings.plate, panel.job.settings.units
    lines = [
        (
            f"Plate {length_text(plate.width, unit)} × {length_text(plate.height, unit)} × "
            f"{thickness_text(plate.thickness, unit)}, {plate.material}"
        ),
        (
            "Bodies: thick lines. Covers, plugs, levers: dashed. Numbers below a row: left edges "
            f"of the bodies and ends of the rails, from the datum; 3 × {length_text(6.2, unit)}: so "
            "many equal neighbours of that width side by side."
        ),
        "Holes to drill: see the hole schedule.",
    ]
    profiles = sorted({rail.profile for rail in panel.layout.rails.values()})
    if profiles:
        lines[0] += f". Rails {', '.join(profiles)}"
    if plate.fixing_holes:
        places = "; ".join(
            f"{length_text(hole.x, unit)}, {length_text(hole.y, unit)}"
            for hole in plate.fixing_holes
        )
        lines.append(f"Plate fixings (centre marks, circle kept free) at x, y: {places}")
    if not panel.layout.ducts and not panel.layout.devices:
        lines.insert(0, NO_LAYOUT)
    y = space.top
    for paragraph in lines:
        for line in wrap(paragraph, space.width, LETTERING):
            yield Text(
                layer="TEXT",
                at=Point(space.left, y),
                text=line,
                size=LETTERING,
                bold=paragraph is NO_LAYOUT,
            )
            y -= LETTERING * 1.65
        y -= LETTERING * 0.4
