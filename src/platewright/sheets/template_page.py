"""What stands on one sheet of the drill template, at true scale."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from typing import Final

from platewright.drawing.clip import clipped
from platewright.drawing.extent import extent, text_box
from platewright.drawing.lettering import text_width
from platewright.drawing.picture import Anchor, Circle, Line, Polyline, Primitive, Rect, Text
from platewright.fabricate.drill_names import drill_short
from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import MM_PER_INCH, Mm
from platewright.model.geometry import Box, Point
from platewright.model.job import DisplayUnit
from platewright.model.layout import Hole, HoleKind, HoleState
from platewright.model.lengths import said, with_unit
from platewright.model.panel import Panel, body_box
from platewright.sheets.page import BLOCK_WIDTH, inside
from platewright.sheets.plate_picture import HOLE_LAYERS
from platewright.sheets.rail_footprint import rail_box
from platewright.sheets.template_words import (
    LETTERING,
    around_words,
    hole_tags,
    in_steps,
    is_inside,
    meets,
)
from platewright.sheets.tiles import FOOT, Tile, Tiling, on_paper, shows_whole

CROSS: Final[Mm] = 7.0  # reach of the cross through a hole's centre
STRUCK: Final[Mm] = 2.0  # reach of the lines through a mark that is wiped off, either way
FAR: Final[Mm] = 8.4  # words farther than this from a hole with a cross are led to it
FAR_FROM_RING: Final[Mm] = 2.0  # the same from a ring, which has none
MARK: Final[Mm] = 4.0  # reach of a register mark
MARK_WORDS: Final = "register, not a hole"
EXISTS: Final = "exists already"
CORNER: Final = "datum 0, 0: the plate's lower left corner"
RING: Final[Mm] = 3.0  # radius of the ring at a hole of the plate's own, whose size nobody states
MEASURED: Final = "Measured: across _____ up _____"
RULER_MM: Final[Mm] = 100.0
RULER_IN: Final = 4
MARKS_AT: Final = (0.22, 0.3, 0.14, 0.38, 0.46)  # of a seam from each end, the first free one
LINE: Final[Mm] = 3.6  # from line to line of the label
TAGS_AT: Final = (0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9)  # of a body's sides, where its tag may be
LEAST_CELL: Final = (4.4, 3.4)  # of the map, so that a number stands in it


def tile_page(panel: Panel, tiling: Tiling, tile: Tile) -> tuple[Primitive, ...]:
    """Return window, plate, holes, register marks and rulers of one sheet."""
    marks = tuple(_register_marks(panel, tiling, tile))
    plate = (
        *_outlines(panel, tile.shows),
        *_holes(panel, tile, [extent((p,)) for p in marks]),
        *marks,
    )
    return (
        *_for_the_printer(plate, on_paper(tiling, tile), tiling.printer),
        *_window(tiling.window),
        *rulers(tiling.window, tiling.printer),
        *_label(tiling, tile, panel.job.settings.units),
        *_where(tiling, tile),
    )


def _for_the_printer(
    parts: Iterable[Primitive], at: Point, printer: tuple[float, float]
) -> Iterator[Primitive]:
    """Yield what is on the plate as it is drawn, so that it is right once it is printed.

    A circle stays round: it is off by a few hundredths where the two directions differ.
    """
    x, y = printer

    def there(point: Point) -> Point:
        return Point(at.x + point.x / x, at.y + point.y / y)

    for part in parts:
        match part:
            case Line():
                yield replace(part, start=there(part.start), end=there(part.end))
            case Circle():
                yield replace(part, centre=there(part.centre), radius=part.radius * 2 / (x + y))
            case Text():
                yield replace(part, at=there(part.at))
            case Polyline():
                yield replace(part, points=tuple(map(there, part.points)))
            case _:
                raise TypeError(f"a tile has no {type(part).__name__}")


def _window(window: Box) -> Iterator[Primitive]:
    for start, end in _sides(window):
        yield Line(layer="CUT-LINE", start=start, end=end)


def _sides(box: Box) -> tuple[tuple[Point, Point], ...]:
    corners = (
        Point(box.left, box.bottom),
        Point(box.right, box.bottom),
        Point(box.right, box.top),
        Point(box.left, box.top),
    )
    return tuple(zip(corners, (*corners[1:], corners[0]), strict=True))


def _outlines(panel: Panel, shows: Box) -> Iterator[Primitive]:
    """Yield the plate and what will stand on it as thin lines, cut off at the window."""
    for layer, boxes in (
        ("GHOST", list(_bodies(panel).values())),
        ("BORDER", [panel.job.settings.plate.box]),
    ):
        for box in boxes:
            for side in _sides(box):
                part = clipped(*side, shows)
                if part is not None:
                    yield Line(layer=layer, start=part[0], end=part[1])


def _bodies(panel: Panel) -> dict[str, Box]:
    """Return what of the plate each duct, rail and device's body will cover."""
    layout, parts = panel.layout, panel.job.part_of
    return {
        **{tag: duct.box for tag, duct in layout.ducts.items()},
        **{tag: rail_box(rail) for tag, rail in layout.rails.items()},
        **{tag: body_box(parts(tag), at) for tag, at in layout.devices.items()},
    }


def _body_tags(
    bodies: Mapping[str, Box], shows: Box, taken: list[Box], lines: list[Box]
) -> Iterator[Text]:
    """Yield the grey tag of each body where what is seen of it has room, clear of all else.

    A body without such a room goes without: the words at its holes name it.
    """
    for tag in sorted(bodies, key=tag_order):
        body = bodies[tag]
        seen = Box(
            max(body.left, shows.left), max(body.bottom, shows.bottom),
            min(body.right, shows.right), min(body.top, shows.top),
        )  # fmt: skip
        if seen.left >= seen.right or seen.bottom >= seen.top:
            continue
        texts = [
            Text(
                layer="GHOST-TAG", text=tag, size=LETTERING, anchor=Anchor.CENTRE, rotation=turn,
                at=Point(seen.left + across * seen.width, seen.bottom + up * seen.height),
            )
            for turn in (0.0, 90.0)
            for up in TAGS_AT
            for across in TAGS_AT
        ]  # fmt: skip
        inside = (text for text in texts if is_inside(text, seen))
        near = [box for box in (*taken, *lines) if box.overlaps(seen)]
        text = next((text for text in inside if not meets(text, near)), None)
        if text is not None:
            taken.append(around_words(text))
            yield text


def _lines(panel: Panel, shows: Box) -> list[Box]:
    """Return thin boxes on the outlines, which lettering had better not cross."""
    return [extent((line,)).grown(0.2, 0.2, 0.2, 0.2) for line in _outlines(panel, shows)]


def _cross(centre: Point, reach: Mm, shows: Box, layer: str) -> Iterator[Primitive]:
    for start, end in (
        (Point(centre.x - reach, centre.y), Point(centre.x + reach, centre.y)),
        (Point(centre.x, centre.y - reach), Point(centre.x, centre.y + reach)),
    ):
        part = clipped(start, end, shows)
        if part is not None:
            yield Line(layer=layer, start=part[0], end=part[1])


def _holes(panel: Panel, tile: Tile, taken: list[Box]) -> Iterator[Primitive]:
    """Yield every hole that is wholly in the window, with its tag, tool and what it holds.

    What is there already is a grey ring without a cross: only what is to be punched has one. A
    mark to wipe off is struck through aslant, in grey and without a ring.
    """
    holes = _seen(panel, tile)
    crosses = [arm for hole in holes.values() for arm in _arms(hole.centre, hole.drill)]
    unit = panel.job.settings.units
    named = []
    for tag, hole in holes.items():
        radius = hole.drill / 2
        far = FAR if hole.is_to_drill else FAR_FROM_RING + radius
        named.append((_hole_words(tag, hole, unit), hole.centre, radius, far))
    for hole in holes.values():
        if hole.is_idle_mark:
            yield from _struck(hole.centre)
            continue
        layer = HOLE_LAYERS[hole.kind] if hole.is_to_drill else "GHOST"
        yield Circle(layer=layer, centre=hole.centre, radius=hole.drill / 2)
        if hole.is_to_drill:
            yield from _cross(hole.centre, CROSS, tile.shows, "RULER")
    for fixing in panel.job.settings.plate.fixing_holes:
        if tile.shows.grown(-RING, -RING, -RING, -RING).contains(fixing.centre):
            yield Circle(layer="GHOST", centre=fixing.centre, radius=RING)
            crosses.append(
                Box(fixing.x, fixing.y, fixing.x, fixing.y).grown(RING, RING, RING, RING)
            )
            named.append(((EXISTS,), fixing.centre, RING, FAR))
    lines = _lines(panel, tile.shows)
    if tile.shows.contains(Point(0.0, 0.0)):
        named.append(((CORNER,), Point(0.0, 0.0), 1.0, FAR))
    taken = taken + crosses
    words = tuple(hole_tags(named, tile.shows, taken, lines))
    yield from words
    leaders = [extent((part,)) for part in in_steps(words)]
    yield from _body_tags(_bodies(panel), tile.shows, [*taken, *leaders], lines)


def _struck(centre: Point) -> Iterator[Primitive]:
    """Yield two grey lines aslant through a mark that is wiped off: like no cross to punch."""
    for up in (STRUCK, -STRUCK):
        yield Line(
            layer="GHOST",
            start=Point(centre.x - STRUCK, centre.y - up),
            end=Point(centre.x + STRUCK, centre.y + up),
        )


def _hole_words(tag: str, hole: Hole, unit: DisplayUnit) -> tuple[str, ...]:
    """Return what is written at a hole; the second is for where the first finds no room."""
    short = f"{tag}  {_tool(hole, unit)}"
    return (f"{short}  {hole.holds}", short) if hole.holds else (short,)


def _seen(panel: Panel, tile: Tile) -> dict[str, Hole]:
    """Return the holes that are wholly in a tile's window, in reading order."""
    holes = panel.layout.holes
    return {
        tag: holes[tag] for tag in sorted(holes, key=tag_order) if shows_whole(tile, holes[tag])
    }


def _arms(centre: Point, drill: Mm) -> tuple[Box, Box]:
    """Return the room that the cross of a hole takes."""
    reach, thin = CROSS, max(0.6, drill / 2)
    at = Box(centre.x, centre.y, centre.x, centre.y)
    return at.grown(reach, thin, reach, thin), at.grown(thin, reach, thin, reach)


def _tool(hole: Hole, unit: DisplayUnit) -> str:
    if hole.state is HoleState.DRILLED:
        return "drilled" if hole.holds else "drilled, left over"
    if hole.is_idle_mark:
        return "marked: wipe off, do not drill"
    drill = drill_short(hole.drill, unit)
    return f"{drill} {hole.size}" if hole.kind is HoleKind.TAPPED else drill


def _register_marks(panel: Panel, tiling: Tiling, tile: Tile) -> Iterator[Primitive]:
    """Yield half-black squares in the overlaps: at the same places of the plate on both sheets."""
    box, half = tile.shows, tiling.overlap / 2
    printed = {(one.column, one.row) for one in tiling.printed}
    arms, lines = _all_arms(panel), _lines(panel, box)
    places: list[Point] = []
    for column, x in ((tile.column - 1, box.left + half), (tile.column + 1, box.right - half)):
        if (column, tile.row) in printed:
            places += _on_seam(Point(x, box.bottom), Point(x, box.top), arms)
    for row, y in ((tile.row - 1, box.bottom + half), (tile.row + 1, box.top - half)):
        if (tile.column, row) in printed:
            places += _on_seam(Point(box.left, y), Point(box.right, y), arms)
    for place in places:
        yield from _register_mark(place)
        yield _mark_words(place, box, arms, lines)


def _on_seam(start: Point, end: Point, arms: list[Box]) -> Iterator[Point]:
    """Yield a place from each end of a seam, clear of every hole: the same for both its sheets."""
    for first, last in ((start, end), (end, start)):
        places = [
            Point(first.x + share * (last.x - first.x), first.y + share * (last.y - first.y))
            for share in MARKS_AT
        ]
        free = (at for at in places if not any(_square(at).overlaps(arm) for arm in arms))
        yield next(free, places[0])


def _square(at: Point) -> Box:
    return Box(at.x, at.y, at.x, at.y).grown(MARK, MARK, MARK, MARK)


def _all_arms(panel: Panel) -> list[Box]:
    """Return the room of every cross of the plate, and of the rings of its own holes."""
    arms = [arm for hole in panel.layout.holes.values() for arm in _arms(hole.centre, hole.drill)]
    fixings = panel.job.settings.plate.fixing_holes
    return arms + [Box(f.x, f.y, f.x, f.y).grown(RING, RING, RING, RING) for f in fixings]


def _register_mark(at: Point) -> Iterator[Primitive]:
    """Yield a square with two black quarters that meet at its middle: like no hole."""
    square = _square(at)
    for start, end in _sides(square):
        yield Line(layer="REGISTER", start=start, end=end)
    for y in (square.bottom, square.top):
        corners = (at, Point(square.left, y), Point(square.right, y))
        yield Polyline(layer="REGISTER-BLACK", points=corners, closed=True)


def _mark_words(at: Point, shows: Box, arms: list[Box], lines: list[Box]) -> Text:
    """Return what the mark is, on a side where neither the window ends nor a hole is."""
    off, wide = MARK + 1.2, text_width(MARK_WORDS, LETTERING) / 2
    texts = [
        Text(layer="REGISTER", at=Point(at.x + dx, at.y + dy), text=MARK_WORDS, size=LETTERING,
             anchor=anchor)
        for dx, dy, anchor in (
            (off, 0.0, Anchor.LEFT), (-off, 0.0, Anchor.RIGHT), (-wide, off + 0.9, Anchor.LEFT),
            (-wide, -off - 0.9, Anchor.LEFT),
        )
    ]  # fmt: skip
    inside = [text for text in texts if shows.contains(text_box(text).centre)]
    inside = [text for text in inside if is_inside(text, shows)] or inside
    free = [text for text in inside if not meets(text, arms)]
    return next((text for text in free if not meets(text, lines)), (free or inside)[0])


def rulers(window: Box, printer: tuple[float, float] = (1.0, 1.0)) -> Iterator[Primitive]:
    """Yield a ruler of 100 mm and 4 in below the window, and one left of it."""
    start = Point(window.left, window.bottom - 6.0)
    yield from _ruler(start, across=True, printer=printer[0])
    yield from _ruler(Point(window.left - 6.0, window.bottom), across=False, printer=printer[1])


def _ruler(start: Point, *, across: bool, printer: float) -> Iterator[Primitive]:
    """Yield one ruler: millimetres on the window's side, inches on the other."""
    long = RULER_IN * MM_PER_INCH

    def at(along: Mm, aside: Mm) -> Point:
        if across:
            return Point(start.x + along / printer, start.y + aside)
        return Point(start.x + aside, start.y + along / printer)

    yield Line(layer="RULER", start=at(0, 0), end=at(long, 0))
    for step in range(0, int(RULER_MM) + 1, 10):
        reach = 3.0 if step in (0, 50, 100) else 2.0
        yield Line(layer="RULER", start=at(step, 0), end=at(step, reach))
    for quarter in range(4 * RULER_IN + 1):
        reach = 3.0 if quarter in (0, 4 * RULER_IN) else 2.0 if quarter % 4 == 0 else 1.2
        along = quarter * MM_PER_INCH / 4
        yield Line(layer="RULER", start=at(along, 0), end=at(along, -reach))
    turn = 0.0 if across else 90.0
    for words, aside, along in (("100 mm", 4.2, 25.0), ("4 in", -3.6, 19.0)):
        yield Text(
            layer="TEXT", at=at(along, aside), text=words, size=LETTERING,
            anchor=Anchor.CENTRE, rotation=turn,
        )  # fmt: skip


def _label(tiling: Tiling, tile: Tile, unit: DisplayUnit) -> Iterator[Primitive]:
    """Yield which sheet this is, and room for what its rulers measured, right of the ruler."""
    box, window = tile.shows, tiling.window
    x, y = tiling.printer
    lines = [
        f"Tile {tile.number}: column {tile.column + 1}, row {tile.row + 1}",
        f"x {said(box.left, unit)} to {with_unit(box.right, unit)}",
        f"y {said(box.bottom, unit)} to {with_unit(box.top, unit)}",
        MEASURED,
    ]
    if tiling.printer != (1.0, 1.0):
        lines.append(f"Printer: x {x:.4f}, y {y:.4f}")
    left = window.left + RULER_IN * MM_PER_INCH / x + 5.0
    for index, line in enumerate(lines):
        yield Text(
            layer="TEXT",
            at=Point(left, window.bottom - 2.6 - LINE * index),
            text=line,
            size=LETTERING,
            bold=index == 0,
        )


def _where(tiling: Tiling, tile: Tile) -> Iterator[Primitive]:
    """Yield a small map of all sheets, this one black, where the foot of the paper has room."""
    window, space = tiling.window, inside(tiling.paper)
    foot = Box(window.left, space.bottom + 3, space.right - BLOCK_WIDTH - 5, window.bottom - FOOT)
    over = window.bottom + RULER_IN * MM_PER_INCH / tiling.printer[1] + 4
    strip = Box(space.left + 2, over, window.left - 2, window.top)
    room = foot if foot.width > strip.width else strip
    whole = tiling.tiles[0].shows.union(tiling.tiles[-1].shows)
    scale = max(whole.width / room.width, whole.height / room.height)

    def there(box: Box) -> Box:
        left, bottom = room.left - whole.left / scale, room.bottom - whole.bottom / scale
        return Box(left + box.left / scale, bottom + box.bottom / scale,
                   left + box.right / scale, bottom + box.top / scale)  # fmt: skip

    half = tiling.overlap / 2
    for one in tiling.tiles:
        cell = there(one.shows.grown(-half, -half, -half, -half))
        here = one is tile
        if one.number:
            yield Rect(layer="REGISTER-BLACK" if here else "GRID", box=cell)
        if one.number and cell.width >= LEAST_CELL[0] and cell.height >= LEAST_CELL[1]:
            layer = "BALLOON-LIGHT" if here else "TEXT"
            yield Text(layer=layer, at=cell.centre, text=str(one.number), size=LETTERING,
                       anchor=Anchor.CENTRE)  # fmt: skip
