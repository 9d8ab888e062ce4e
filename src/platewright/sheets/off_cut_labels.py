"""Labels for what is left of each bar: written on before it goes back into the rack."""

from __future__ import annotations

from typing import Final

from platewright.drawing.picture import Primitive, Rect, Text
from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import Mm
from platewright.model.geometry import Box, Point
from platewright.model.panel import Panel
from platewright.model.pieces import Bar
from platewright.sheets.cut_list import rest_words
from platewright.sheets.page import Leaf, above_block, list_paper
from platewright.sheets.registry import Findings, sheet

WIDTH: Final[Mm] = 80.0
HEIGHT: Final[Mm] = 30.0
GAP: Final[Mm] = 4.0
MARGIN: Final[Mm] = 7.0
NOTHING: Final = "No off-cut is long enough to keep, or nothing is cut yet."


@sheet(id="off-cuts", title="Off-cut labels", place=32)
def off_cut_sheet(panel: Panel, findings: Findings) -> tuple[Leaf, ...]:  # noqa: ARG001
    """Return a label for every rest that is worth keeping, longest first."""
    paper = list_paper(panel.job.settings)
    space = above_block(paper).grown(-MARGIN, -MARGIN, -MARGIN, -MARGIN)
    rests = sorted(
        (bar for bar in panel.cuts.bars if bar.rest_label),
        key=lambda bar: (bar.stock, -bar.rest, tag_order(bar.rest_label)),
    )
    if not rests:
        at = Point(space.left, space.top - 3)
        text = Text(layer="TEXT", at=at, text=NOTHING, size=2.5, bold=True)
        return (Leaf(paper=paper, scale="–", primitives=(text,)),)
    columns = int((space.width + GAP) // (WIDTH + GAP))
    lines = int((space.height - 8 + GAP) // (HEIGHT + GAP))
    pages = []
    for start in range(0, len(rests), columns * lines):
        parts: list[Primitive] = [
            Text(
                layer="TEXT", at=Point(space.left, space.top - 2),
                text="Cut out, stick on the end of the off-cut; measure it and correct the length.",
                size=2.5,
            )
        ]  # fmt: skip
        for index, rest in enumerate(rests[start : start + columns * lines]):
            line, column = divmod(index, columns)
            corner = Point(
                space.left + column * (WIDTH + GAP), space.top - 8 - line * (HEIGHT + GAP)
            )
            parts += _label(panel, rest, corner)
        pages.append(Leaf(paper=paper, scale="–", primitives=tuple(parts)))
    return tuple(pages)


def _label(panel: Panel, bar: Bar, corner: Point) -> list[Primitive]:
    unit, job = panel.job.settings.units, panel.job.settings.job
    rows = (
        (6.0, 4.0, f"{bar.rest_label}   {bar.stock}", True),
        (13.5, 5.0, f"{rest_words(bar, unit)} {unit.value}", True),
        (20.5, 2.5, f"left over from {job.number or job.title}, rev. {job.revision or '–'}", False),
        (26.0, 2.5, "measured ____________   date ____________", False),
    )
    box = Box(corner.x, corner.y - HEIGHT, corner.x + WIDTH, corner.y)
    return [
        Rect(layer="CUT-LINE", box=box),
        *(
            Text(
                layer="TEXT", at=Point(corner.x + 4, corner.y - down), text=words, size=size,
                bold=bold,
            )
            for down, size, words, bold in rows
        ),
    ]  # fmt: skip
