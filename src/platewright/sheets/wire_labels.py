"""Labels for both ends of every wire, to print and cut, or to feed to a label printer."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.drawing.lettering import text_width
from platewright.drawing.picture import Anchor, Primitive, Rect, Text
from platewright.drawing.table import Column, Quantity, Table
from platewright.foundation.units import Mm
from platewright.model.geometry import Box, Point
from platewright.model.panel import Panel
from platewright.model.wire import End, Wire
from platewright.sheets.page import Leaf, above_block, list_paper
from platewright.sheets.registry import Findings, listing, sheet

WIDTH: Final[Mm] = 40.0
HEIGHT: Final[Mm] = 11.0
MARGIN: Final[Mm] = 7.0
HEAD: Final[Mm] = 10.0
NO_WIRES: Final = "The job lists no wires."
NOTE: Final = "Both ends of a wire side by side: number, own terminal, where the other end goes. Print at 100 %."


@listing(id="wire-labels", title="Wire labels")
def label_table(panel: Panel, findings: Findings) -> Table:  # noqa: ARG001  (one shape for all)
    """Return one row for each end of each wire, both ends of a wire after each other."""
    rows = []
    for wire in panel.job.wires:
        diameter = panel.outer_diameters.get(wire.number)
        for number, (here, there) in enumerate(_ends(wire), start=1):
            rows.append(
                (
                    wire.number,
                    number,
                    str(here),
                    str(there),
                    here.device,
                    here.terminal,
                    str(wire.size),
                    wire.colour,
                    wire.group,
                    diameter,
                )
            )
    return Table(
        title="Wire labels",
        columns=(
            Column(name="number", head="Wire"),
            Column(name="end", head="End", quantity=Quantity.COUNT),
            Column(name="here", head="Here"),
            Column(name="there", head="Other end"),
            Column(name="device", head="Device"),
            Column(name="terminal", head="Terminal"),
            Column(name="size", head="Size"),
            Column(name="colour", head="Colour"),
            Column(name="group", head="Group"),
            Column(name="outer", head="Outside", quantity=Quantity.LENGTH),
        ),
        rows=tuple(rows),
    )


@sheet(id="wire-labels", title="Wire labels", place=52)
def label_sheet(panel: Panel, findings: Findings) -> tuple[Leaf, ...]:  # noqa: ARG001
    """Return the labels in a grid, down the columns, the two ends of a wire side by side."""
    paper = list_paper(panel.job.settings)
    space = above_block(paper).grown(-MARGIN, -MARGIN, -MARGIN, -MARGIN)
    wires = panel.job.wires
    note = NOTE if wires else NO_WIRES
    head = Text(
        layer="TEXT", at=Point(space.left, space.top - 2), text=note, size=2.5, bold=not wires
    )
    pairs = int(space.width // (2 * WIDTH))
    lines = int((space.height - HEAD) // HEIGHT)
    pages = []
    for start in range(0, max(1, len(wires)), pairs * lines):
        parts: list[Primitive] = [head]
        for index, wire in enumerate(wires[start : start + pairs * lines]):
            column, line = divmod(index, lines)
            left, top = space.left + 2 * WIDTH * column, space.top - HEAD - HEIGHT * line
            for side, (here, there) in enumerate(_ends(wire)):
                box = Box(left + side * WIDTH, top - HEIGHT, left + (side + 1) * WIDTH, top)
                parts += _label(wire, here, there, box)
        pages.append(Leaf(paper=paper, scale="–", primitives=tuple(parts)))
    return tuple(pages)


def _ends(wire: Wire) -> tuple[tuple[End, End], tuple[End, End]]:
    return (wire.start, wire.end), (wire.end, wire.start)


def _label(wire: Wire, here: End, there: End, box: Box) -> Iterator[Primitive]:
    yield Rect(layer="CUT-LINE", box=box)
    middle = box.centre.x
    for down, size, words, bold in (
        (3.2, 3.5, f"{wire.number}   {here}", True),
        (8.0, 2.5, f"to {there}", False),
    ):
        wide = text_width(words, size, bold=bold)
        fitting = size * min(1.0, (box.width - 2.0) / wide) if wide else size
        yield Text(
            layer="TEXT", at=Point(middle, box.top - down), text=words, size=fitting,
            anchor=Anchor.CENTRE, bold=bold,
        )  # fmt: skip
