"""The hole schedule: what is drilled where, tool by tool, with a map."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Final

from platewright.drawing.extent import extent
from platewright.drawing.lettering import wrap
from platewright.drawing.picture import Primitive, Text, placed
from platewright.drawing.table import Column, Quantity, Table
from platewright.drawing.table_print import PrintRow, PrintTable, print_table
from platewright.fabricate.drill_names import drill_short
from platewright.fabricate.solvers.bench_work import passes_of
from platewright.fabricate.stands_already import idle_marks, left_over
from platewright.foundation.units import Mm
from platewright.model.geometry import Box, Point
from platewright.model.layout import Hole, HoleState
from platewright.model.panel import Panel
from platewright.model.steps import Work
from platewright.sheets.arrangement import GAP, arrange_page, table_pages
from platewright.sheets.hole_map import (
    DONE,
    LEFT_OVER,
    WIPE_OFF,
    drilled,
    hole_map,
    legend,
    legend_lines,
    tool_words,
    tools,
    why_so,
)
from platewright.sheets.layout import NO_LAYOUT
from platewright.sheets.page import Leaf
from platewright.sheets.registry import Findings, listing, sheet

LETTERING: Final[Mm] = 2.5
NOTE_SIZES: Final[tuple[Mm, ...]] = (2.5, 2.2, 2.0, 1.8)  # smaller for many tools only
PITCH: Final = 1.65  # of lines of notes
TABLE_WIDTH: Final[Mm] = 86.0
FROM: Final = "From the"
SAFETY: Final = (
    "Each tool's holes in the order of the list: round the plate, a short way. Try the first hole "
    "of each tool on scrap of the same sheet. Clamp the plate, drill with nothing mounted on it, "
    "wear eye protection, de-burr both faces."
)


@listing(id="holes", title="Holes")
def hole_table(panel: Panel, findings: Findings) -> Table:  # noqa: ARG001  (one shape for all)
    """Return every hole once, tool by tool, in the order in which it is drilled.

    What is drilled already, and marks to wipe off, stand at the end.
    """
    unit = panel.job.settings.units
    tags = [tag for part in _parts(panel) for tag in part.tags]
    rows = []
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
                drill_short(hole.drill, unit) if hole.is_to_drill else _no_tool(hole),
                why_so(panel, hole) if hole.is_to_drill else "",
            )
        )
    return Table(
        title="Holes",
        columns=(
            Column(name="tag", head="Hole"),
            Column(name="x", head="x", quantity=Quantity.PLACE),
            Column(name="y", head="y", quantity=Quantity.PLACE),
            Column(name="kind", head="Kind"),
            Column(name="size", head="Size"),
            Column(name="drill", head="Drill", quantity=Quantity.NUMBER, unit="mm"),
            Column(name="holds", head="Holds", wraps=True),
            Column(name="state", head="State"),
            Column(name="tool", head="Tool"),
            Column(name="reason", head="Why so", wraps=True),
        ),
        rows=tuple(rows),
    )


def _no_tool(hole: Hole) -> str:
    return "none: wipe the mark off" if hole.is_idle_mark else "none: drilled"


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """Holes under one heading of the schedule."""

    heading: str
    tags: tuple[str, ...]


def _parts(panel: Panel) -> tuple[Part, ...]:
    """Return the parts of the schedule: each tool's stations, then what no tool goes to."""
    unit = panel.job.settings.units
    stands = _stands(panel)
    parts = []
    for tool, tags in tools(panel).items():
        words = tool_words(tool, unit)
        heading = f"{words[0].upper()}{words[1:]}: {len(tags)} off"
        here = [
            (where, tuple(tag for tag in holes if tag in set(tags)))
            for where, holes in stands.get(tool[1], ())
        ]
        here = [(where, holes) for where, holes in here if holes]
        if len(here) == 1 and here[0][0].startswith(FROM):
            parts.append(Part(heading=heading, tags=here[0][1]))
            continue
        parts.append(Part(heading=heading, tags=()))
        parts += [Part(heading=f"{where}: {len(holes)}", tags=holes) for where, holes in here]
    layout = panel.layout
    for words, there in (
        (DONE, drilled(panel)), (LEFT_OVER, left_over(layout)), (WIPE_OFF, idle_marks(layout)),
    ):  # fmt: skip
        if there:
            heading = f"{words[0].upper()}{words[1:]} ({len(there)})"
            parts.append(Part(heading=heading, tags=there))
    return tuple(parts)


def _stands(panel: Panel) -> dict[Mm, list[tuple[str, tuple[str, ...]]]]:
    """Return, by drill, where one stands with the holes that are drilled from there, in order."""
    found: dict[Mm, list[tuple[str, tuple[str, ...]]]] = {}
    for one in passes_of(panel.job, panel.layout):
        if one.work is Work.DRILL and not one.pilot:
            for stand in one.stands:
                where = f"{FROM} {stand.edge.value} edge"
                if stand.beyond:
                    where = "Beyond reach: plate upright, or a board across"
                found.setdefault(one.diameter, []).append((where, stand.holes))
    return found


@sheet(id="holes", title="Hole schedule", place=40)
def hole_sheet(panel: Panel, findings: Findings) -> tuple[Leaf, ...]:
    """Return the map with as much of the schedule as fits beside it, then the rest."""

    @cache
    def at_scale(scale: int) -> tuple[Primitive, ...]:
        return hole_map(panel, lettering=LETTERING * scale)

    def measure(scale: int) -> tuple[Mm, Mm]:
        box = extent(at_scale(scale))
        return box.width / scale + 2 * GAP, box.height / scale + 2 * GAP

    page = arrange_page(panel.job.settings, measure=measure, table_width=TABLE_WIDTH)
    scale = page.scale
    drawing = at_scale(scale)
    middle, room = extent(drawing).centre, page.drawing.centre
    at = Point(room.x - middle.x / scale, room.y - middle.y / scale)
    beside: tuple[Primitive, ...] = ()
    further: tuple[Leaf, ...] = ()
    if panel.layout.holes:
        schedule = _schedule(panel, findings)
        beside, further = table_pages(page, TABLE_WIDTH, schedule, panel.job.settings)
    first = (
        *placed(drawing, at=at, scale=1 / scale),
        *beside,
        *_notes(panel, page.notes),
    )
    return (Leaf(paper=page.paper, scale=f"1:{scale}", primitives=first), *further)


def _schedule(panel: Panel, findings: Findings) -> PrintTable:
    """Return the printed schedule: the list of holes under the headings of its parts."""
    unit = panel.job.settings.units
    table = print_table(hole_table(panel, findings), unit)
    states = {h.state for h in panel.layout.holes.values() if not h.is_idle_mark}
    headed = states <= {HoleState.PLANNED, HoleState.DRILLED}  # the headings say as much
    kept = (0, 1, 2, 6) if headed else (0, 1, 2, 6, 7)
    rows: list[PrintRow] = []
    cells = iter(table.rows)
    blank = ("",) * (len(kept) - 1)
    for part in _parts(panel):
        rows.append(PrintRow(cells=(part.heading, *blank), is_heading=True))
        for tag in part.tags:
            nothing = "nothing" if panel.layout.holes[tag].is_idle_mark else "left over"
            row = next(cells).cells
            rows.append(PrintRow(cells=tuple(row[index] or nothing for index in kept)))
    return PrintTable(
        heads=tuple(table.heads[index] for index in kept),
        to_right=tuple(table.to_right[index] for index in kept),
        wraps=tuple(table.wraps[index] for index in kept),
        rows=tuple(rows),
    )


def _notes(panel: Panel, space: Box) -> Iterator[Primitive]:
    if not panel.layout.holes:
        words = NO_LAYOUT if not panel.layout.devices else "No holes to drill."
        yield Text(
            layer="TEXT", at=Point(space.left, space.top), text=words, size=LETTERING, bold=True
        )
        return
    size = _notes_size(panel, space)
    yield from legend(panel, Point(space.left - 1, space.top), size)
    y = space.top - 2.0 * size * legend_lines(panel) - size
    for line in wrap(SAFETY, space.width, size):
        yield Text(layer="TEXT", at=Point(space.left, y), text=line, size=size)
        y -= PITCH * size


def _notes_size(panel: Panel, space: Box) -> Mm:
    """Return the largest lettering with which legend and notes stay above the title block."""
    for size in NOTE_SIZES:
        height = size * (2.0 * legend_lines(panel) + PITCH * len(wrap(SAFETY, space.width, size)))
        words = extent(legend(panel, Point(space.left - 1, space.top), size))
        if height <= space.height and words.right <= space.right:
            return size
    return NOTE_SIZES[-1]
