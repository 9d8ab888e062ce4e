"""The drill template: the plate's holes at true scale, tiled on the shop's paper."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot
from typing import Final

from platewright.drawing.extent import text_box
from platewright.drawing.lettering import wrap
from platewright.drawing.picture import Anchor, Line, Primitive, Rect, Text
from platewright.foundation.units import Mm
from platewright.model.geometry import Box, Point
from platewright.model.job import DisplayUnit
from platewright.model.lengths import with_unit
from platewright.model.panel import Panel
from platewright.sheets.layout import NO_LAYOUT
from platewright.sheets.page import Leaf, above_block, list_paper
from platewright.sheets.registry import Findings, sheet
from platewright.sheets.template_page import tile_page
from platewright.sheets.tiles import Tiling, tiling

LETTERING: Final[Mm] = 2.5
MARGIN: Final[Mm] = 8.0
RULER_OFF: Final[Mm] = 0.3  # most that a printed ruler may be off
NUMBER_SIZES: Final[tuple[Mm, ...]] = (5.0, 3.5, 2.5)
NUMBER_SHIFTS: Final = tuple(
    sorted(
        ((dx / 20, dy / 20) for dx in range(-6, 7) for dy in range(-6, 7)),
        key=lambda at: (hypot(*at), at),
    )
)  # of a number from the middle of its cell, in the cell's sides, near ones first
NOTHING: Final = "No hole is left to drill: no template is needed."
NOTES: Final = (
    (
        "Print at 100 % (actual size), never fitted to the page. On EVERY sheet measure both "
        "rulers, across and upright, and write down what they measured: 100 mm must be 100 mm, 4 in "
        "must be 4 in. If one is off by more than {}, do not use the sheet."
    ),
    (
        "Cut each sheet along the dashed line on the sides that join another; lay the half-black "
        "squares (register marks) of both sheets on each other; begin with tile 1, the datum corner "
        "(lower left, seen from the front): its two lines lie on the plate's edges. Tape outwards. "
        "Below each tile stands a map of all, this one black."
    ),
    "Check two holes far apart with a tape from the datum, by the hole schedule, before punching.",
    (
        "Centre-punch only where a long cross runs through a circle with a tag (H1, H2 …); after the "
        "tag stand drill, thread and what the hole holds. Thin grey outlines are what will stand "
        "there: nothing to punch, nothing to cut along. Never "
        "punch a half-black square (register, not a hole), a grey ring (exists already, or drilled) "
        "or a grey cross aslant (a mark of before: wipe it off). Take the paper off, then drill. Wear eye protection."
    ),
)


@sheet(id="template", title="Drill template 1:1", place=42)
def template_sheet(panel: Panel, findings: Findings) -> tuple[Leaf, ...]:  # noqa: ARG001
    """Return the key plan, then each sheet that is needed."""
    holes = panel.layout.holes.values()
    todo = [hole for hole in holes if hole.is_to_drill]
    if not todo:
        words = NOTHING if holes else NO_LAYOUT
        paper = list_paper(panel.job.settings)
        space = above_block(paper)
        at = Point(space.left + MARGIN, space.top - MARGIN)
        text = Text(layer="TEXT", at=at, text=words, size=LETTERING, bold=True)
        return (Leaf(paper=paper, scale="–", primitives=(text,)),)
    tiles = tiling(panel.job.settings, todo)
    return (
        _key_plan(panel, tiles),
        *(
            Leaf(paper=tiles.paper, scale="1:1", primitives=tile_page(panel, tiles, tile))
            for tile in tiles.printed
        ),
    )


def _key_plan(panel: Panel, tiles: Tiling) -> Leaf:
    paper = list_paper(panel.job.settings)
    space = above_block(paper).grown(-MARGIN, -MARGIN, -MARGIN, -MARGIN)
    parts: list[Primitive] = []
    y = space.top
    unit = panel.job.settings.units
    measure = NOTES[0].format(with_unit(RULER_OFF, unit))
    for note in (measure, _printer_words(tiles), *NOTES[1:], _counted(tiles, unit)):
        for line in wrap(note, space.width, LETTERING):
            parts.append(
                Text(layer="TEXT", at=Point(space.left, y - LETTERING / 2), text=line,
                     size=LETTERING)
            )  # fmt: skip
            y -= 1.65 * LETTERING
        y -= 0.8 * LETTERING
    room = Box(space.left, space.bottom, space.right, y - 4)
    whole = tiles.tiles[0].shows.union(tiles.tiles[-1].shows)
    scale = max(whole.width / room.width, whole.height / room.height)  # a map, none to measure on
    parts += _map(panel, tiles, room, scale)
    return Leaf(paper=paper, scale="–", primitives=tuple(parts))


def _printer_words(tiles: Tiling) -> str:
    """Return how a printer that is off is allowed for, with what is allowed for now."""
    x, y = tiles.printer
    if tiles.printer == (1.0, 1.0):
        return (
            "A printer that is always off by as much: write what the ruler of 100 mm measured, "
            "divided by 100, into [bench] of job.toml as printer_scale_x (across) and "
            "printer_scale_y (up the paper), and print again."
        )
    return (
        f"Drawn for a printer of x {x:.4f}, y {y:.4f} ([bench] of job.toml). Still off: multiply "
        "these by what the ruler measured divided by 100, and print again. Another printer or "
        "paper: set both to 1 first."
    )


def _counted(tiles: Tiling, unit: DisplayUnit) -> str:
    left_out = [tile for tile in tiles.tiles if not tile.number]
    words = (
        f"{len(tiles.printed)} tiles on {tiles.paper.name}, {tiles.columns} columns by {tiles.rows} "
        f"rows, {with_unit(tiles.overlap, unit)} overlap."
    )
    if left_out:
        names = ", ".join(f"{tile.column + 1}/{tile.row + 1}" for tile in left_out)
        words += f" Left out, nothing new on them (column/row): {names}. Crossed out below."
    return words


def _map(panel: Panel, tiles: Tiling, room: Box, scale: float) -> Iterator[Primitive]:
    whole = tiles.tiles[0].shows.union(tiles.tiles[-1].shows)
    shift = Point(room.centre.x - whole.centre.x / scale, room.centre.y - whole.centre.y / scale)

    def there(x: Mm, y: Mm) -> Point:
        return Point(shift.x + x / scale, shift.y + y / scale)

    plate = panel.job.settings.plate
    corner = there(plate.width, plate.height)
    yield Rect(layer="PLATE", box=Box(shift.x, shift.y, corner.x, corner.y))
    signs: list[Box] = []
    for hole in panel.layout.holes.values():
        if hole.is_to_drill:
            at = there(hole.x, hole.y)
            signs.append(Box(at.x - 1, at.y - 1, at.x + 1, at.y + 1))
            yield Line(layer="TAG", start=Point(at.x - 0.7, at.y), end=Point(at.x + 0.7, at.y))
            yield Line(layer="TAG", start=Point(at.x, at.y - 0.7), end=Point(at.x, at.y + 0.7))
    for tile in tiles.tiles:
        low = there(tile.shows.left, tile.shows.bottom)
        high = there(tile.shows.right, tile.shows.top)
        for start, end in (
            (low, Point(high.x, low.y)), (Point(high.x, low.y), high),
            (high, Point(low.x, high.y)), (Point(low.x, high.y), low),
        ):  # fmt: skip
            yield Line(layer="CUT-LINE", start=start, end=end)
        if tile.number:
            yield _number(str(tile.number), Box(low.x, low.y, high.x, high.y), signs)
        else:
            yield Line(layer="CUT-LINE", start=low, end=high)
            yield Line(layer="CUT-LINE", start=Point(low.x, high.y), end=Point(high.x, low.y))
    yield Text(
        layer="TAG", at=Point(shift.x - 1.5, shift.y - 3.2), text="datum 0, 0", size=LETTERING,
        anchor=Anchor.RIGHT,
    )  # fmt: skip


def _number(words: str, cell: Box, signs: list[Box]) -> Text:
    """Return a sheet's number in its cell, as large and as near the middle as clears the holes."""
    middle = cell.centre
    texts = [
        Text(
            layer="TAG", at=Point(middle.x + dx * cell.width, middle.y + dy * cell.height),
            text=words, size=size, anchor=Anchor.CENTRE, bold=True,
        )
        for size in NUMBER_SIZES
        for dx, dy in NUMBER_SHIFTS
    ]  # fmt: skip
    boxes = [(text, text_box(text).grown(0.4, 0.4, 0.4, 0.4)) for text in texts]
    free = (
        text
        for text, box in boxes
        if cell.grown(-1, -1, -1, -1).union(box) == cell.grown(-1, -1, -1, -1)
        and not any(box.overlaps(sign) for sign in signs)
    )
    return next(free, texts[-len(NUMBER_SHIFTS)])
