"""How a plate at true scale is spread over sheets of paper that overlap.

A printer that prints too small is allowed for: what comes out of it is at true scale, so a window
on the paper shows a little less of the plate.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import ceil
from typing import Final

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
RULER_STRIP: Final[Mm] = 15.0  # left of the window and below it
AIR: Final[Mm] = 6.0  # right of the window and above it, clear of the centring marks
ROUND_PLATE: Final[Mm] = 6.0  # shown beyond the plate's edges
SHIFTS: Final = (0.0, 0.25, 0.5, 0.75, 1.0)  # where the grid begins, in what it has to spare


@dataclass(frozen=True, slots=True, kw_only=True)
class Tile:
    """One sheet: its place in the grid, and the part of the plate in its window."""

    number: int  # among those that are printed; 0: left out, no hole in it
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
        """The sheets with holes, from the datum on, row by row."""
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

    The grid may begin farther out than the plate by what its last sheets show beyond the plate.
    """
    paper, todo = paper_of(settings), tuple(holes)
    ways = (
        _tiling(way, settings, todo, begin=(across, up))
        for way in (paper, paper.turned)
        for across in SHIFTS
        for up in SHIFTS
    )
    return min(ways, key=lambda way: len(way.printed))


def shows_whole(tile: Tile, hole: Hole) -> bool:
    """Tell whether a hole lies wholly in a tile's window."""
    r = hole.drill / 2
    box = tile.shows
    return box.left + r <= hole.x <= box.right - r and box.bottom + r <= hole.y <= box.top - r


def on_paper(tiling: Tiling, tile: Tile) -> Point:
    """Return where on the paper the plate's datum would lie."""
    window, (x, y) = tiling.window, tiling.printer
    return Point(window.left - tile.shows.left / x, window.bottom - tile.shows.bottom / y)


def _tiling(
    paper: Paper, settings: JobSettings, holes: tuple[Hole, ...], *, begin: tuple[float, float]
) -> Tiling:
    space = above_block(paper)
    window = space.grown(-RULER_STRIP, -RULER_STRIP, -AIR, -AIR)
    overlap = max(OVERLAP, *(hole.drill + 1 for hole in holes)) if holes else OVERLAP
    plate, bench = settings.plate, settings.bench
    printer = (bench.printer_scale_x, bench.printer_scale_y)
    wide, high = window.width * printer[0], window.height * printer[1]
    columns, across = _spread(plate.width + 2 * ROUND_PLATE, wide, overlap)
    rows, up = _spread(plate.height + 2 * ROUND_PLATE, high, overlap)
    spare_x = wide + (columns - 1) * across - plate.width - 2 * ROUND_PLATE
    spare_y = high + (rows - 1) * up - plate.height - 2 * ROUND_PLATE
    start_x, start_y = ROUND_PLATE + begin[0] * spare_x, ROUND_PLATE + begin[1] * spare_y
    tiles: list[Tile] = []
    number = 0
    for row in range(rows):
        for column in range(columns):
            left, bottom = column * across - start_x, row * up - start_y
            shows = Box(left, bottom, left + wide, bottom + high)
            tile = Tile(number=0, column=column, row=row, shows=shows)
            if any(shows_whole(tile, hole) for hole in holes):
                number += 1
                tile = Tile(number=number, column=column, row=row, shows=shows)
            tiles.append(tile)
    return Tiling(
        paper=paper,
        window=window,
        printer=printer,
        overlap=overlap,
        columns=columns,
        rows=rows,
        tiles=tuple(tiles),
    )


def _spread(whole: Mm, seen: Mm, overlap: Mm) -> tuple[int, Mm]:
    """Return how many windows cover a length, and how far one stands from the next."""
    step = seen - overlap
    return max(1, ceil((whole - overlap) / step - 1e-9)), step
