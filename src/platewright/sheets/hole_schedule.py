"""The hole schedule: what is drilled where, tool by tool, with a map."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.drawing.extent import extent
from platewright.drawing.paper import INCH, METRIC, Paper, trials
from platewright.drawing.picture import Primitive, Text, placed
from platewright.drawing.table import Column, Quantity, Table
from platewright.drawing.table_print import PrintRow, PrintTable, flow, print_table
from platewright.foundation.units import Mm
from platewright.model.geometry import Box, Point
from platewright.model.job import DisplayUnit
from platewright.model.panel import Panel
from platewright.sheets.hole_map import hole_map, legend, tool_words, tools
from platewright.sheets.layout import NO_LAYOUT, drawing_space
from platewright.sheets.page import BLOCK_HEIGHT, BLOCK_WIDTH, Leaf, inside
from platewright.sheets.registry import Findings, listing, sheet

LETTERING: Final[Mm] = 2.5
SMALL: Final[Mm] = 1.8
TABLE_WIDTH: Final[Mm] = 92.0
GAP: Final[Mm] = 4.0


@listing(id="holes", title="Holes")
def hole_table(panel: Panel, findings: Findings) -> Table:  # noqa: ARG001  (one shape for all)
    """Return every hole once, tool by tool."""
    rows = []
    for tags in tools(panel).values():
        for tag in tags:
            hole = panel.layout.holes[tag]
            rows.append(
                (
                    tag,
                    hole.x,
                    hole.y,
                    hole.kind.value,
                    hole.size,
                    hole.drill,
                    hole.holds,
                    hole.state.value,
                )
            )
    return Table(
        title="Holes",
        columns=(
            Column(name="tag", head="Hole"),
            Column(name="x", head="x", quantity=Quantity.LENGTH),
            Column(name="y", head="y", quantity=Quantity.LENGTH),
            Column(name="kind", head="Kind"),
            Column(name="size", head="Size"),
            Column(name="drill", head="Drill", quantity=Quantity.NUMBER, unit="mm"),
            Column(name="holds", head="Holds", wraps=True),
            Column(name="state", head="State"),
        ),
        rows=tuple(rows),
    )


@sheet(id="holes", title="Hole schedule", place=40)
def hole_sheet(panel: Panel, findings: Findings) -> tuple[Leaf, ...]:
    """Return the map with as much of the schedule as fits beside it, then the rest."""
    paper, scale, drawing = _map_on_paper(panel)
    space = drawing_space(paper)
    box = extent(drawing)
    room = Box(space.left, space.bottom, space.right - TABLE_WIDTH, space.top)
    at = Point(
        room.centre.x - box.centre.x / scale,
        room.centre.y - box.centre.y / scale,
    )
    first: list[Primitive] = [*placed(drawing, at=at, scale=1 / scale), *_notes(panel, paper)]
    pages: list[tuple[Primitive, ...]] = []
    if panel.layout.holes:
        schedule = _schedule(panel, findings)
        pages = [part for part, _ in flow(schedule, _frames(paper))]
        first += pages.pop(0)
    leaves = [Leaf(paper=paper, scale=f"1:{scale}", primitives=tuple(first))]
    count = _columns(space)
    for start in range(0, len(pages), count):
        parts = tuple(part for page in pages[start : start + count] for part in page)
        leaves.append(Leaf(paper=paper, scale="–", primitives=parts))
    return tuple(leaves)


def _map_on_paper(panel: Panel) -> tuple[Paper, int, tuple[Primitive, ...]]:
    papers = INCH if panel.job.settings.units is DisplayUnit.INCH else METRIC
    for paper, scale in trials(papers):
        drawing = hole_map(panel, lettering=SMALL * scale)
        box, space = extent(drawing), drawing_space(paper)
        wide = box.width / scale + 2 * GAP + TABLE_WIDTH
        if wide <= space.width and box.height / scale + 2 * GAP <= space.height:
            return paper, scale, drawing
    raise ValueError("the plate is larger than any paper")


def _schedule(panel: Panel, findings: Findings) -> PrintTable:
    """Return the printed schedule: the list of holes, its tools become headings."""
    unit = panel.job.settings.units
    table = print_table(hole_table(panel, findings), unit)
    kept = (0, 1, 2, 6, 7)
    rows: list[PrintRow] = []
    cells = iter(table.rows)
    for tool, tags in tools(panel).items():
        words = tool_words(tool)
        heading = f"{words[0].upper()}{words[1:]}: {len(tags)} off"
        rows.append(PrintRow(cells=(heading,) + ("",) * (len(kept) - 1), is_heading=True))
        for _ in tags:
            row = next(cells).cells
            rows.append(PrintRow(cells=tuple(row[index] or "left over" for index in kept)))
    return PrintTable(
        heads=tuple(table.heads[index] for index in kept),
        to_right=tuple(table.to_right[index] for index in kept),
        wraps=tuple(table.wraps[index] for index in kept),
        rows=tuple(rows),
    )


def _columns(space: Box) -> int:
    return int((space.width - GAP) // (TABLE_WIDTH + GAP))


def _frames(paper: Paper) -> Iterator[Box]:
    space = drawing_space(paper)
    yield Box(space.right - TABLE_WIDTH, space.bottom + GAP, space.right - GAP, space.top - GAP)
    count = _columns(space)
    width = (space.width - GAP) / count - GAP
    while True:
        for column in range(count):
            left = space.left + GAP + column * (width + GAP)
            yield Box(left, space.bottom + GAP, left + width, space.top - GAP)


def _notes(panel: Panel, paper: Paper) -> Iterator[Primitive]:
    space = inside(paper)
    top = space.bottom + BLOCK_HEIGHT - 4
    if not panel.layout.holes:
        yield Text(
            layer="TEXT",
            at=Point(space.left + 4, top),
            text=NO_LAYOUT if not panel.layout.devices else "No holes to drill.",
            size=LETTERING,
            bold=True,
        )
        return
    yield from legend(panel, Point(space.left + 3, top), LETTERING)
    lines = (
        "Check the first hole of each tool on scrap of the same sheet. Clamp the plate,",
        "drill with nothing mounted on it, wear eye protection, de-burr both faces.",
    )
    room = space.width - BLOCK_WIDTH - 8
    for index, line in enumerate(lines):
        yield Text(
            layer="TEXT",
            at=Point(space.left + 4, space.bottom + 7.5 - index * 4.1),
            text=line,
            size=LETTERING if room > 130 else SMALL,
        )
