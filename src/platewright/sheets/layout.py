"""The layout drawing: dimensioned plate, parts table, notes."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.drawing.lettering import wrap
from platewright.drawing.paper import INCH, METRIC, Paper, trials
from platewright.drawing.picture import Picture, Primitive, Text, placed
from platewright.drawing.table import length_text
from platewright.drawing.table_print import PrintRow, PrintTable, flow, print_table
from platewright.foundation.units import Mm
from platewright.model.device import Place
from platewright.model.geometry import Box, Point
from platewright.model.job import DisplayUnit
from platewright.model.panel import Panel
from platewright.sheets.device_list import device_table
from platewright.sheets.page import BLOCK_HEIGHT, BLOCK_WIDTH, Leaf, inside
from platewright.sheets.plate_picture import plate_picture
from platewright.sheets.registry import Findings, sheet

LETTERING: Final[Mm] = 2.5
TABLE_WIDTH: Final[Mm] = 122.0
NO_LAYOUT: Final = "No layout yet. Run the plan, or place the devices by hand, then print again."


def paper_and_scale(panel: Panel) -> tuple[Paper, int, Picture]:
    """Return the smallest readable paper, the scale 1:n and the plate drawn for it."""
    papers = INCH if panel.job.settings.units is DisplayUnit.INCH else METRIC
    for paper, scale in trials(papers):
        picture = plate_picture(panel, lettering=LETTERING * scale, with_holes=False)
        room = drawing_space(paper)
        if picture.width / scale <= room.width and picture.height / scale <= room.height:
            return paper, scale, picture
    raise ValueError("the plate is larger than any paper")


def plate_at_scale(panel: Panel) -> Picture:
    """Return the plate at 1:1 with holes, its lettering as high as on the printed drawing."""
    _, scale, _ = paper_and_scale(panel)
    return plate_picture(panel, lettering=LETTERING * scale)


def drawing_space(paper: Paper) -> Box:
    """Return the space for the plate: above the title block."""
    space = inside(paper)
    return Box(space.left, space.bottom + BLOCK_HEIGHT, space.right, space.top)


@sheet(id="layout", title="Plate layout", place=10)
def layout_sheet(panel: Panel, findings: Findings) -> tuple[Leaf, ...]:
    """Return the drawing and, where the table does not fit beside it, further pages."""
    paper, scale, picture = paper_and_scale(panel)
    space = drawing_space(paper)
    width, height = picture.width / scale, picture.height / scale
    has_table = space.width - width >= TABLE_WIDTH
    left = space.left + (0.0 if has_table else (space.width - width) / 2)
    slack = space.width - TABLE_WIDTH - width
    if has_table:
        left += slack / 2
    corner = Point(left, space.bottom + (space.height - height) / 2)
    origin = Point(corner.x - picture.left / scale, corner.y - picture.bottom / scale)
    first: list[Primitive] = [*placed(picture.primitives, at=origin, scale=1 / scale)]
    first += _notes(panel, paper)
    table = parts_table(panel, findings)
    frames = _frames(paper, first=has_table)
    pages = [part for part, _ in flow(table, frames)]
    if has_table:
        first += pages.pop(0)
    leaves = [Leaf(paper=paper, scale=f"1:{scale}", primitives=tuple(first))]
    leaves += _continued(paper, pages)
    return tuple(leaves)


def parts_table(panel: Panel, findings: Findings) -> PrintTable:
    """Return the parts table of the drawing, made from the list of devices."""
    unit = panel.job.settings.units
    table = device_table(panel, findings)
    rows = []
    for row, printed in zip(table.rows, print_table(table, unit).rows, strict=True):
        tag, function, part, what, *sizes, place, _, _ = row
        words = str(function or what or part)
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


def _frames(paper: Paper, *, first: bool) -> Iterator[Box]:
    space = drawing_space(paper)
    gap = 4.0
    if first:
        yield Box(space.right - TABLE_WIDTH, space.bottom + gap, space.right - gap, space.top - gap)
    columns = max(1, int((space.width + gap) // (TABLE_WIDTH + 10)))
    width = (space.width - (columns + 1) * gap) / columns
    while True:
        for column in range(columns):
            left = space.left + gap + column * (width + gap)
            yield Box(left, space.bottom + gap, left + width, space.top - gap)


def _continued(paper: Paper, columns: list[tuple[Primitive, ...]]) -> Iterator[Leaf]:
    space = drawing_space(paper)
    count = max(1, int((space.width + 4.0) // (TABLE_WIDTH + 10)))
    for start in range(0, len(columns), count):
        parts = tuple(part for column in columns[start : start + count] for part in column)
        yield Leaf(paper=paper, scale="–", primitives=parts)


def _notes(panel: Panel, paper: Paper) -> Iterator[Primitive]:
    """Yield the notes left of the title block."""
    space = inside(paper)
    plate, unit = panel.job.settings.plate, panel.job.settings.units
    lines = [
        f"Plate {length_text(plate.width, unit)} × {length_text(plate.height, unit)} × "
        f"{length_text(plate.thickness, unit)}, {plate.material}",
        "Bodies: thick lines. Covers, plugs, levers: dashed. Numbers below a row: left edges "
        "of the bodies and ends of the rails, from the datum.",
        "Holes to drill: see the hole schedule.",
    ]
    if plate.fixing_holes:
        places = "; ".join(
            f"{length_text(hole.x, unit)}, {length_text(hole.y, unit)}"
            for hole in plate.fixing_holes
        )
        lines.append(f"Plate fixings (centre marks, circle kept free) at x, y: {places}")
    if not panel.layout.ducts and not panel.layout.devices:
        lines.insert(0, NO_LAYOUT)
    room = space.width - BLOCK_WIDTH - 8
    y = space.bottom + BLOCK_HEIGHT - 4
    for index, paragraph in enumerate(lines):
        for line in wrap(paragraph, room, LETTERING):
            yield Text(
                layer="TEXT",
                at=Point(space.left + 4, y),
                text=line,
                size=LETTERING,
                bold=paragraph is NO_LAYOUT,
            )
            y -= LETTERING * 1.65
        y -= LETTERING * (0.5 if index < len(lines) else 0)
