"""How a plate at true scale is spread over sheets of paper that overlap.

A printer that prints too small is allowed for: what comes out of it is at true scale, so a window
on the paper shows a little less of the plate.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import ceil
from typing import Final, TypeAlias

from platewright.drawing.paper import A3, A4, LETTER, TABLOID, Paper
from platewright.foundation.units import Mm
from platewright.model.geometry import Box, Point
from platewright.model.job import JobSettings, Practice, TemplatePaper
from platewright.model.layout import Hole
from platewright.sheets.page import above_block

PAPERS: Final = {
    TemplatePaper.A4: A4,
    TemplatePaper.A3: A3,
    TemplatePaper.LETTER: LETTER,
    TemplatePaper.TABLOID: TABLOID,
}
OVERLAP: Final[Mm] = 10.0  # both sheets show it; the register marks lie in its middle
RULER_STRIP: Final[Mm] = 15.0  # left of the window
FOOT: Final[Mm] = 20.0  # below it: ruler, words, map of the sheets
AIR: Final[Mm] = 6.0  # right of the window and above it, clear of the centring marks
ROUND_PLATE: Final[Mm] = 6.0  # shown beyond the plate's edges where there is room
LEAST_ROUND: Final[Mm] = 0.5  # the plate's outline is still drawn
LEAST_STRIP: Final[Mm] = 3 * OVERLAP  # of plate on a sheet that its neighbours do not show
SHIFTS: Final = (0.0, 0.25, 0.5, 0.75, 1.0)  # where the grid begins, in what it has to spare

Place: TypeAlias = tuple[int, int]  # column, row
DATUM: Final[Place] = (0, 0)  # of the sheet with the corner that all is measured from


@dataclass(frozen=True, slots=True, kw_only=True)
class Tile:
    """One sheet: its place in the grid, and the part of the plate in its window."""

    number: int  # among those that are printed; 0: left out, nothing needs it
    column: int
    row: int
    shows: Box


@dataclass(frozen=True, slots=True, kw_only=True)
class Tiling:
    """All sheets of a template. ``window``: where on the paper the plate is seen.

    ``printer``: what the printer makes of a length across and up the paper.
    """

    paper: Paper
    window: Box
    printer: tuple[float, float]
    overlap: Mm
    columns: int
    rows: int
    tiles: tuple[Tile, ...]

    @property
    def printed(self) -> tuple[Tile, ...]:
        """The sheets that are needed, from the datum on, row by row."""
        return tuple(tile for tile in self.tiles if tile.number)


def paper_of(settings: JobSettings) -> Paper:
    """Return the template's paper: as the job says, else the large one of its practice."""
    chosen = settings.bench.paper
    if chosen is None:
        american = settings.practice is Practice.NORTH_AMERICA
        chosen = TemplatePaper.TABLOID if american else TemplatePaper.A3
    return PAPERS[chosen]


def tiling(settings: JobSettings, holes: Iterable[Hole]) -> Tiling:
    """Return the way to lay the paper, lying or upright and from where, that takes fewest sheets.

    The grid may begin farther out than the plate by what its last sheets show beyond the plate:
    of ways with as many sheets that one is taken whose narrowest sheet shows most of the plate, and
    a way with a sheet for a mere strip only where there is no other.
    """
    paper, todo = paper_of(settings), tuple(holes)
    ways = (
        _tiling(way, settings, todo, begin=(across, up))
        for way in (paper, paper.turned)
        for across in SHIFTS
        for up in SHIFTS
    )

    def liking(way: Tiling) -> tuple[bool, int, Mm]:
        strip = round(least_strip(way, settings.plate.box), 3)
        return strip < LEAST_STRIP, len(way.printed), -strip

    return min(ways, key=liking)


def least_strip(tiling: Tiling, plate: Box) -> Mm:
    """Return the least width or height of plate that a printed sheet shows and no other would."""
    spans = []
    for tile in tiling.printed:
        for count, at, low, high, end in (
            (tiling.columns, tile.column, tile.shows.left, tile.shows.right, plate.right),
            (tiling.rows, tile.row, tile.shows.bottom, tile.shows.top, plate.top),
        ):
            start = max(0.0, low + (tiling.overlap if at else 0.0))
            stop = min(end, high - (tiling.overlap if at < count - 1 else 0.0))
            spans.append(end if count == 1 else stop - start)
    return min(spans, default=0.0)


def shows_whole(tile: Tile, hole: Hole) -> bool:
    """Tell whether a hole lies wholly in a tile's window."""
    return _is_whole(tile.shows, hole)


def _is_whole(box: Box, hole: Hole) -> bool:
    r = hole.drill / 2
    return box.left + r <= hole.x <= box.right - r and box.bottom + r <= hole.y <= box.top - r


def on_paper(tiling: Tiling, tile: Tile) -> Point:
    """Return where on the paper the plate's datum would lie."""
    window, (x, y) = tiling.window, tiling.printer
    return Point(window.left - tile.shows.left / x, window.bottom - tile.shows.bottom / y)


def _tiling(
    paper: Paper, settings: JobSettings, holes: tuple[Hole, ...], *, begin: tuple[float, float]
) -> Tiling:
    space = above_block(paper)
    window = space.grown(-RULER_STRIP, -FOOT, -AIR, -AIR)
    overlap = max(OVERLAP, *(hole.drill + 1 for hole in holes)) if holes else OVERLAP
    plate, bench = settings.plate, settings.bench
    printer = (bench.printer_scale_x, bench.printer_scale_y)
    wide, high = window.width * printer[0], window.height * printer[1]
    columns, across = _spread(plate.width, wide, overlap)
    rows, up = _spread(plate.height, high, overlap)
    start_x = _start(wide + (columns - 1) * across - plate.width, begin[0])
    start_y = _start(high + (rows - 1) * up - plate.height, begin[1])
    grid = {
        (column, row): Box(
            column * across - start_x,
            row * up - start_y,
            column * across - start_x + wide,
            row * up - start_y + high,
        )
        for row in range(rows)
        for column in range(columns)
    }
    needed = _needed(grid, holes)
    numbers = {place: number for number, place in enumerate(sorted(needed, key=_by_row), start=1)}
    return Tiling(
        paper=paper,
        window=window,
        printer=printer,
        overlap=overlap,
        columns=columns,
        rows=rows,
        tiles=tuple(
            Tile(number=numbers.get(place, 0), column=place[0], row=place[1], shows=shows)
            for place, shows in grid.items()
        ),
    )


def _by_row(place: Place) -> tuple[int, int]:
    return place[1], place[0]


def _start(spare: Mm, share: float) -> Mm:
    """Return how far outside the plate the grid begins: by a share of what it has to spare."""
    least = min(ROUND_PLATE, spare / 2)
    return least + share * (spare - 2 * least)


def _needed(grid: Mapping[Place, Box], holes: tuple[Hole, ...]) -> frozenset[Place]:
    """Return the sheets to print: each hole is on one, the datum is, and all hang together.

    A sheet whose every hole others show is not needed. What joins two groups of sheets is printed
    with no hole on it: without it nothing would hold them at their distance.
    """
    if not holes:
        return frozenset()
    shown = {
        place: frozenset(k for k, hole in enumerate(holes) if _is_whole(box, hole))
        for place, box in grid.items()
    }
    kept = {place for place in grid if shown[place]} | {DATUM}
    for place in sorted(kept - {DATUM}, key=lambda one: (len(shown[one]), _by_row(one))):
        if shown[place] <= frozenset().union(*(shown[other] for other in kept - {place})):
            kept.remove(place)
    joined = {DATUM}
    while kept - joined:
        joined |= set(_way(joined, kept - joined, grid))
    return frozenset(joined)


def _way(reached: set[Place], wanted: set[Place], grid: Mapping[Place, Box]) -> list[Place]:
    """Return the fewest sheets side by side that lead from those reached to one that is wanted."""
    came_from: dict[Place, Place | None] = dict.fromkeys(sorted(reached, key=_by_row))
    for place in (queue := list(came_from)):
        if place in wanted:
            break
        column, row = place
        for other in ((column + 1, row), (column, row + 1), (column - 1, row), (column, row - 1)):
            if other in grid and other not in came_from:
                came_from[other] = place
                queue.append(other)
    way: list[Place] = []
    step: Place | None = place
    while step is not None:
        way.append(step)
        step = came_from[step]
    return way


def _spread(plate: Mm, seen: Mm, overlap: Mm) -> tuple[int, Mm]:
    """Return how many windows cover a plate, and how far one stands from the next."""
    step = seen - overlap
    return max(1, ceil((plate + 2 * LEAST_ROUND - overlap) / step - 1e-9)), step
