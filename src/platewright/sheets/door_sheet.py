"""The door: cut-outs and holes with their places, and what is not known of them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, TypeAlias

from platewright.drawing.extent import extent, text_box
from platewright.drawing.lettering import text_width, wrap
from platewright.drawing.picture import Anchor, Circle, Line, Primitive, Rect, Text, placed
from platewright.drawing.table import Cell, Column, Quantity, Table, length_text
from platewright.drawing.table_print import PrintRow, PrintTable, print_table
from platewright.fabricate.door_work import DoorWork, door_box, door_work
from platewright.fabricate.drill_names import drill_name
from platewright.foundation.units import Mm
from platewright.model.geometry import Box, Point
from platewright.model.job import DisplayUnit
from platewright.model.panel import Panel
from platewright.sheets.arrangement import GAP, arrange_page, table_pages
from platewright.sheets.page import Leaf, above_block, list_paper
from platewright.sheets.plate_picture import centre_mark
from platewright.sheets.registry import Findings, listing, sheet

LETTERING: Final[Mm] = 2.5
LINE: Final = 1.5  # from a tag to the numbers under it, in heights of the lettering
AIR: Final = 0.3  # round them, in the same
OFFS: Final = (1.0, 2.4, 4.0, 6.0, 9.0)  # of them from a body, in the same, near places first
TABLE_WIDTH: Final[Mm] = 150.0
Label: TypeAlias = tuple[Text, Text]  # a tag, and the place of the centre under it
NOTHING: Final = (
    "Nothing is cut in the door: no device of the job stands there, no shaft goes to it."
)
NOTES: Final = (
    "Seen from outside. Places are of centres, from the door's lower left corner (from the "
    "plate's datum in door.csv). The door is taken as large as the enclosure, the plate in its middle: both are "
    "assumed, so measure before you mark. Dashed: what lies behind the door, and the room of a "
    "handle. Mask the paint, clamp, cut, de-burr and paint the edge before seals go on. Eye "
    "protection; chips out of the enclosure before anything is wired."
)


@listing(id="door", title="Door cut-outs")
def door_table(panel: Panel, findings: Findings) -> Table:  # noqa: ARG001  (one shape for all)
    """Return each cut-out and each hole in the door with its place, or what is missing."""
    door = door_box(panel.job.settings)
    unit = panel.job.settings.units
    rows: list[tuple[Cell, ...]] = []
    for work in door_work(panel.job, panel.layout):
        what = "shaft and handle" if work.is_shaft else panel.job.part_of(work.tag).description
        if work.centre is not None and (work.missing or _has_cutout(work)):
            x, y = work.centre.x - door.left, work.centre.y - door.bottom
            rows.append(
                (work.tag, what, _cutout_words(work, unit), x, y, work.centre.x, work.centre.y)
            )
        elif work.centre is None:
            rows.append((work.tag, what, _cutout_words(work, unit), None, None, None, None))
        for hole in work.holes:
            name = "?" if work.drill is None else drill_name(work.drill, unit)
            rows.append(
                (
                    work.tag, what, f"drill {name} for {work.size}",
                    hole.x - door.left, hole.y - door.bottom, hole.x, hole.y,
                )
            )  # fmt: skip
    return Table(
        title="Door cut-outs",
        columns=(
            Column(name="tag", head="Tag"),
            Column(name="what", head="What", wraps=True),
            Column(name="cutout", head="Cut-out or hole", wraps=True),
            Column(name="door_x", head="x of door", quantity=Quantity.PLACE),
            Column(name="door_y", head="y of door", quantity=Quantity.PLACE),
            Column(name="plate_x", head="x of plate", quantity=Quantity.PLACE),
            Column(name="plate_y", head="y of plate", quantity=Quantity.PLACE),
        ),
        rows=tuple(rows),
    )


@sheet(id="door", title="Door cut-outs", place=44)
def door_sheet(panel: Panel, findings: Findings) -> tuple[Leaf, ...]:
    """Return the door with its cut-outs and the list beside it."""
    works = door_work(panel.job, panel.layout)
    if not works:
        paper = list_paper(panel.job.settings)
        space = above_block(paper)
        at = Point(space.left + GAP, space.top - GAP)
        text = Text(layer="TEXT", at=at, text=NOTHING, size=LETTERING, bold=True)
        return (Leaf(paper=paper, scale="–", primitives=(text,)),)

    def measure(scale: int) -> tuple[Mm, Mm]:
        box = extent(door_picture(panel, lettering=LETTERING * scale))
        return box.width / scale + 2 * GAP, box.height / scale + 2 * GAP

    page = arrange_page(panel.job.settings, measure=measure, table_width=TABLE_WIDTH, on_one=True)
    scale = page.scale
    drawing = door_picture(panel, lettering=LETTERING * scale)
    middle, room = extent(drawing).centre, page.drawing.centre
    at = Point(room.x - middle.x / scale, room.y - middle.y / scale)
    table = _printed(panel, findings)
    beside, further = table_pages(page, TABLE_WIDTH, table, panel.job.settings)
    first = (
        *placed(drawing, at=at, scale=1 / scale),
        *beside,
        *_notes(works, page.notes),
    )
    return (Leaf(paper=page.paper, scale=f"1:{scale}", primitives=first), *further)


def _printed(panel: Panel, findings: Findings) -> PrintTable:
    """Return the list as printed: places from the door's corner only, each device named once."""
    table = print_table(door_table(panel, findings), panel.job.settings.units)
    before = [("", ""), *(row.cells[:2] for row in table.rows[:-1])]
    return PrintTable(
        heads=table.heads[:5],
        to_right=table.to_right[:5],
        wraps=table.wraps[:5],
        rows=tuple(
            PrintRow(cells=("", "", *row.cells[2:5]) if row.cells[:2] == last else row.cells[:5])
            for last, row in zip(before, table.rows, strict=True)
        ),
    )


def door_picture(panel: Panel, *, lettering: Mm) -> tuple[Primitive, ...]:
    """Return the door at scale 1 in plate coordinates; ``lettering``: height of tags."""
    settings = panel.job.settings
    door = door_box(settings)
    parts: list[Primitive] = [
        Rect(layer="PLATE", box=door),
        Rect(layer="GHOST", box=settings.plate.box),
    ]
    hinge = door.left if settings.enclosure.hinge == "left" else door.right
    parts.append(
        Text(
            layer="TAG", at=Point(hinge, door.top + lettering), text="hinge", size=lettering,
            anchor=Anchor.CENTRE,
        )
    )  # fmt: skip
    works = [w for w in door_work(panel.job, panel.layout) if w.centre is not None]
    for work in works:
        parts += _drawn(work, lettering)
    bodies = [work.body for work in works if work.body is not None]
    written: list[Box] = [text_box(part) for part in parts if isinstance(part, Text)]
    for work in works:
        others = [box for box in bodies if box is not work.body]
        labels = tuple(_label_places(work, door, lettering, settings.units))
        free = (one for one in labels if _is_free(one, [*others, *written], lettering))
        label = next(free, labels[0])
        written.append(_box_of(label))
        parts += label
        parts += _leader(work, label, lettering)
    return tuple(parts)


def _box_of(label: Label) -> Box:
    first, second = label
    return text_box(first).union(text_box(second))


def _is_free(label: Label, taken: list[Box], lettering: Mm) -> bool:
    air = AIR * lettering
    box = _box_of(label).grown(air, air, air, air)
    return not any(box.overlaps(other) for other in taken)


def _leader(work: DoorWork, label: Label, lettering: Mm) -> Iterator[Primitive]:
    """Yield a line from a body to its words where they stand off."""
    box, body = _box_of(label), work.body
    if body is None or work.centre is None or body.overlaps(box):
        return
    near = Point(
        min(max(work.centre.x, box.left), box.right), min(max(work.centre.y, box.bottom), box.top)
    )
    if body.distance_to(near) > 1.2 * lettering:
        start = Point(
            min(max(near.x, body.left), body.right), min(max(near.y, body.bottom), body.top)
        )
        yield Line(layer="DIM", start=start, end=near)


def _drawn(work: DoorWork, lettering: Mm) -> Iterator[Primitive]:
    """Yield the body behind the door dashed, the cut-out and the holes full."""
    if work.centre is None or work.body is None:
        return
    if work.is_shaft:
        yield Circle(layer="COVER", centre=work.centre, radius=work.body.width / 2)
    else:
        yield Rect(layer="COVER", box=work.body)
    if work.diameter is not None:
        yield Circle(layer="HOLE-CLEAR", centre=work.centre, radius=work.diameter / 2)
    elif work.cutout is not None:
        wide, high = work.cutout[0] / 2, work.cutout[1] / 2
        yield Rect(
            layer="HOLE-CLEAR",
            box=Box(work.centre.x - wide, work.centre.y - high,
                    work.centre.x + wide, work.centre.y + high),
        )  # fmt: skip
    yield from centre_mark(work.centre, 0.8 * lettering, layer="FIXING")
    for hole in work.holes:
        yield Circle(layer="HOLE-CLEAR", centre=hole, radius=(work.drill or 1.0) / 2)


def _label_places(work: DoorWork, door: Box, lettering: Mm, unit: DisplayUnit) -> Iterator[Label]:
    """Yield where a tag may stand with the place of the centre, from the door's corner, under it.

    The two stay together, so that no number can be read as a neighbour's: in a cut-out with room
    for them, else above the body, below it, beside it, and farther off.
    """
    if work.centre is None:
        return
    tag = f"{work.tag} ?" if work.missing else work.tag
    x, y = work.centre.x - door.left, work.centre.y - door.bottom
    place = f"{length_text(x, unit)}, {length_text(y, unit)}"
    wide = max(text_width(tag, lettering), text_width(place, lettering))
    centre = work.centre
    body = work.body or Box(centre.x, centre.y, centre.x, centre.y)
    step = LINE * lettering

    def label(at: Point, anchor: Anchor) -> Label:
        upper = Point(at.x, at.y + step)
        return (
            Text(layer="TAG", at=upper, text=tag, size=lettering, anchor=anchor),
            Text(layer="DIM", at=at, text=place, size=lettering, anchor=anchor),
        )

    across, up = work.cutout or (0.0, 0.0)
    if across >= wide + 2 * lettering and up >= 10 * lettering:
        yield label(Point(centre.x, centre.y + 2 * lettering), Anchor.CENTRE)
    for off in OFFS:
        out = off * lettering
        yield label(Point(centre.x, body.top + out), Anchor.CENTRE)
        yield label(Point(centre.x, body.bottom - out - step), Anchor.CENTRE)
        yield label(Point(body.right + 0.5 * out, centre.y - step / 2), Anchor.LEFT)
        yield label(Point(body.left - 0.5 * out, centre.y - step / 2), Anchor.RIGHT)


def _has_cutout(work: DoorWork) -> bool:
    return work.cutout is not None or work.diameter is not None


def _cutout_words(work: DoorWork, unit: DisplayUnit) -> str:
    if work.missing:
        return f"NOT KNOWN: {', '.join(work.missing)}"
    if work.diameter is not None:
        return f"⌀{length_text(work.diameter, unit)} {unit.value}"
    if work.cutout is not None:
        wide, high = work.cutout
        return f"{length_text(wide, unit)} × {length_text(high, unit)} {unit.value}"
    return "holes only"


def _notes(works: tuple[DoorWork, ...], space: Box) -> Iterator[Primitive]:
    open_items = [work.tag for work in works if work.missing]
    words = [NOTES]
    if open_items:
        words.insert(
            0, f"Not to be cut yet, data missing (?): {', '.join(open_items)}. See the list."
        )
    y = space.top
    for paragraph in words:
        bold = paragraph is not NOTES
        for line in wrap(paragraph, space.width, LETTERING, bold=bold):
            yield Text(layer="TEXT", at=Point(space.left, y), text=line, size=LETTERING, bold=bold)
            y -= 1.6 * LETTERING
        y -= 1.0
