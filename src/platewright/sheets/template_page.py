"""What stands on one sheet of the drill template, at true scale."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Final

from platewright.drawing.clip import clipped
from platewright.drawing.extent import extent, text_box
from platewright.drawing.lettering import text_width
from platewright.drawing.picture import Anchor, Circle, Line, Polyline, Primitive, Text
from platewright.fabricate.drill_names import drill_short
from platewright.foundation.units import MM_PER_INCH, Mm
from platewright.model.geometry import Box, Point
from platewright.model.job import DisplayUnit
from platewright.model.layout import Hole, HoleKind, HoleState
from platewright.model.panel import Panel
from platewright.sheets.plate_picture import HOLE_LAYERS
from platewright.sheets.rail_footprint import rail_box
from platewright.sheets.tags import natural
from platewright.sheets.tiles import Tile, Tiling, on_paper, shows_whole

LETTERING: Final[Mm] = 2.5
CROSS: Final[Mm] = 7.0  # reach of the cross through a hole's centre
MARK: Final[Mm] = 4.0  # reach of a register mark
MARK_WORDS: Final = "register, not a hole"
SMALL_PRINT: Final[Mm] = 1.8
EXISTS: Final = "exists already"
RING: Final[Mm] = 3.0  # radius of the ring at a hole of the plate's own, whose size nobody states
PUNCH: Final = "Punch: a long cross through a tagged circle"
RULER_MM: Final[Mm] = 100.0
RULER_IN: Final = 4
MARKS_AT: Final = (0.22, 0.78)  # of the window's side


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
        *_label(tiling, tile),
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
    """Yield plate, ducts and rails as thin lines, cut off at the window."""
    layout = panel.layout
    for layer, boxes in (
        ("GHOST", [duct.box for duct in layout.ducts.values()]),
        ("GHOST", [rail_box(rail) for rail in layout.rails.values()]),
        ("BORDER", [panel.job.settings.plate.box]),
    ):
        for box in boxes:
            for side in _sides(box):
                part = clipped(*side, shows)
                if part is not None:
                    yield Line(layer=layer, start=part[0], end=part[1])


def _cross(centre: Point, reach: Mm, shows: Box, layer: str) -> Iterator[Primitive]:
    for start, end in (
        (Point(centre.x - reach, centre.y), Point(centre.x + reach, centre.y)),
        (Point(centre.x, centre.y - reach), Point(centre.x, centre.y + reach)),
    ):
        part = clipped(start, end, shows)
        if part is not None:
            yield Line(layer=layer, start=part[0], end=part[1])


def _holes(panel: Panel, tile: Tile, taken: list[Box]) -> Iterator[Primitive]:
    """Yield every hole that is wholly in the window, with its tag and tool beside it.

    What is there already is a grey ring without a cross: only what is to be punched has one.
    """
    holes = _seen(panel, tile)
    crosses = [arm for hole in holes.values() for arm in _arms(hole.centre, hole.drill)]
    unit = panel.job.settings.units
    named = [
        (f"{tag}  {_tool(hole, unit)}", hole.centre, hole.drill / 2) for tag, hole in holes.items()
    ]
    for hole in holes.values():
        drilled = hole.state is HoleState.DRILLED
        layer = "GHOST" if drilled else HOLE_LAYERS[hole.kind]
        yield Circle(layer=layer, centre=hole.centre, radius=hole.drill / 2)
        if not drilled:
            yield from _cross(hole.centre, CROSS, tile.shows, "RULER")
    for fixing in panel.job.settings.plate.fixing_holes:
        if tile.shows.grown(-RING, -RING, -RING, -RING).contains(fixing.centre):
            yield Circle(layer="GHOST", centre=fixing.centre, radius=RING)
            crosses.append(
                Box(fixing.x, fixing.y, fixing.x, fixing.y).grown(RING, RING, RING, RING)
            )
            named.append((EXISTS, fixing.centre, RING))
    yield from _tags(named, tile.shows, taken + crosses)


def _seen(panel: Panel, tile: Tile) -> dict[str, Hole]:
    """Return the holes that are wholly in a tile's window, in reading order."""
    holes = panel.layout.holes
    return {tag: holes[tag] for tag in sorted(holes, key=natural) if shows_whole(tile, holes[tag])}


def _arms(centre: Point, drill: Mm) -> tuple[Box, Box]:
    """Return the room that the cross of a hole takes."""
    reach, thin = CROSS, max(0.6, drill / 2)
    at = Box(centre.x, centre.y, centre.x, centre.y)
    return at.grown(reach, thin, reach, thin), at.grown(thin, reach, thin, reach)


def _tags(
    named: Iterable[tuple[str, Point, Mm]], shows: Box, taken: list[Box]
) -> Iterator[Primitive]:
    """Yield the words of each hole (words, centre, radius) in the first place that is free."""
    for words, centre, radius in named:
        for text in _places(words, centre, radius):
            box = text_box(text).grown(0.5, 0.5, 0.5, 0.5)
            inside = (
                box.left > shows.left and box.right < shows.right
                and box.bottom > shows.bottom and box.top < shows.top
            )  # fmt: skip
            if inside and not any(box.overlaps(other) for other in taken):
                taken.append(box)
                yield text
                if box.distance_to(centre) > 1.2 * CROSS:
                    near = Point(
                        min(max(centre.x, box.left), box.right),
                        min(max(centre.y, box.bottom), box.top),
                    )
                    yield Line(layer="RULER", start=centre, end=near)
                break


def _tool(hole: Hole, unit: DisplayUnit) -> str:
    if hole.state is HoleState.DRILLED:
        return "drilled"
    drill = drill_short(hole.drill, unit)
    return f"{drill} {hole.size}" if hole.kind is HoleKind.TAPPED else drill


def _places(words: str, centre: Point, radius: Mm) -> Iterator[Text]:
    """Yield lettering round a hole, near places first."""
    wide = text_width(words, LETTERING)
    for ring in (1.0, 1.9, 2.8, 4.0, 5.5):
        off = 2.2 * ring + radius
        for dx, dy, anchor in (
            (off, off, Anchor.LEFT), (off, -off, Anchor.LEFT),
            (-off, off, Anchor.RIGHT), (-off, -off, Anchor.RIGHT),
            (-wide / 2, off + 5 * ring, Anchor.LEFT), (-wide / 2, -off - 5 * ring, Anchor.LEFT),
        ):  # fmt: skip
            at = Point(centre.x + dx, centre.y + dy)
            yield Text(layer="HOLE-TAG", at=at, text=words, size=LETTERING, anchor=anchor)


def _register_marks(panel: Panel, tiling: Tiling, tile: Tile) -> Iterator[Primitive]:
    """Yield half-black squares in the overlap: at the same places of the plate on both sheets."""
    box, half = tile.shows, tiling.overlap / 2
    places = []
    for on_edge, x in ((tile.column > 0, box.left + half),
                       (tile.column < tiling.columns - 1, box.right - half)):  # fmt: skip
        places += [Point(x, box.bottom + s * box.height) for s in MARKS_AT if on_edge]
    for on_edge, y in ((tile.row > 0, box.bottom + half),
                       (tile.row < tiling.rows - 1, box.top - half)):  # fmt: skip
        places += [Point(box.left + s * box.width, y) for s in MARKS_AT if on_edge]
    taken = [arm for hole in _seen(panel, tile).values() for arm in _arms(hole.centre, hole.drill)]
    for place in places:
        yield from _register_mark(place)
        yield _mark_words(place, box, taken)


def _register_mark(at: Point) -> Iterator[Primitive]:
    """Yield a square with two black quarters that meet at its middle: like no hole."""
    square = Box(at.x, at.y, at.x, at.y).grown(MARK, MARK, MARK, MARK)
    for start, end in _sides(square):
        yield Line(layer="REGISTER", start=start, end=end)
    for y in (square.bottom, square.top):
        corners = (at, Point(square.left, y), Point(square.right, y))
        yield Polyline(layer="REGISTER-BLACK", points=corners, closed=True)


def _mark_words(at: Point, shows: Box, taken: Iterable[Box]) -> Text:
    """Return what the mark is, on a side where neither the window ends nor a hole is."""
    off, wide = MARK + 1.2, text_width(MARK_WORDS, SMALL_PRINT) / 2
    places = [
        Text(layer="REGISTER", at=Point(at.x + dx, at.y + dy), text=MARK_WORDS, size=SMALL_PRINT,
             anchor=anchor)
        for dx, dy, anchor in (
            (off, 0.0, Anchor.LEFT), (-off, 0.0, Anchor.RIGHT), (-wide, off + 0.9, Anchor.LEFT),
            (-wide, -off - 0.9, Anchor.LEFT),
        )
    ]  # fmt: skip
    inside = [
        text
        for text in places
        if all(shows.contains(Point(x, text.at.y)) for x in _ends(text_box(text)))
    ]
    holes = tuple(taken)
    free = (t for t in inside if not any(text_box(t).overlaps(arm) for arm in holes))
    return next(free, inside[0])


def _ends(box: Box) -> tuple[Mm, Mm]:
    return box.left, box.right


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
    for words, aside, along in (("100 mm", 2.8 if across else 3.4, 25.0), ("4 in", -3.0, 19.0)):
        yield Text(
            layer="TEXT", at=at(along, aside), text=words, size=1.8, anchor=Anchor.CENTRE,
            rotation=turn,
        )  # fmt: skip


def _label(tiling: Tiling, tile: Tile) -> Iterator[Primitive]:
    """Yield which sheet this is, and room for what its rulers measured, right of the ruler."""
    box, window = tile.shows, tiling.window
    x, y = tiling.printer
    lines = [
        f"Tile {tile.number}: column {tile.column + 1}, row {tile.row + 1}",
        f"x {box.left:.1f} to {box.right:.1f}, y {box.bottom:.1f} to {box.top:.1f} mm",
        "Rulers measured: across ______ up ______ mm",
        PUNCH,
    ]
    if tiling.printer != (1.0, 1.0):
        lines.append(f"Drawn for a printer of x {x:.4f}, y {y:.4f}")
    left = window.left + RULER_IN * MM_PER_INCH / x + 5.0
    for index, line in enumerate(lines):
        yield Text(
            layer="TEXT",
            at=Point(left, window.bottom - 2.2 - 2.9 * index),
            text=line,
            size=2.5 if index == 0 else 1.8,
            bold=index == 0,
        )
