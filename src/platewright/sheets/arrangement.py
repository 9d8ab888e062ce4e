"""Where drawing, tables and notes lie on a page with a title block."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Final, TypeAlias

from platewright.drawing.paper import INCH, METRIC, SCALES, Paper, trials
from platewright.drawing.picture import Primitive
from platewright.drawing.table_print import ROW_PAD, PrintTable, flow
from platewright.foundation.units import Mm, Ratio
from platewright.model.geometry import Box
from platewright.model.job import DisplayUnit, JobSettings
from platewright.sheets.page import BLOCK_HEIGHT, BLOCK_WIDTH, Leaf, inside, list_paper

GAP: Final[Mm] = 7.0  # clear of the centring marks
NOTES_HEIGHT: Final[Mm] = 40.0
# Tried where words have no room. 1:4 and 1:3 are between those of ISO 5455, which allows that for
# a reason of use (from memory; check against the standard).
FINER: Final = (20, 10, 5, 4, 3, 2, 1)
TABLE_PADS: Final[tuple[Ratio, ...]] = (ROW_PAD, 0.45, 0.3)  # of rows, the airiest that fits

Measure: TypeAlias = Callable[[int], tuple[Mm, Mm]]  # scale 1:n -> size on paper


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrangement:
    """Parts of one page. Without ``side`` the tables stand on pages of their own."""

    paper: Paper
    scale: int
    drawing: Box
    notes: Box
    side: Box | None


def arrange_page(
    settings: JobSettings,
    *,
    measure: Measure,
    table_width: Mm,
    on_one: bool = False,
    is_clear: Callable[[int], bool] = lambda _: True,
) -> Arrangement:
    """Return the smallest paper and largest scale that hold a drawing with its table.

    ``on_one``: on the smallest paper at any scale, for drawings with little on them.
    ``is_clear``: whether no words lie on each other at a scale; else a larger scale is looked for.
    """
    papers = INCH if settings.units is DisplayUnit.INCH else METRIC
    sizes: dict[int, tuple[Mm, Mm]] = {}

    def first(tries: Iterable[tuple[Paper, int]]) -> Arrangement | None:
        for paper, scale in tries:
            width, height = sizes.setdefault(scale, sizes.get(scale) or measure(scale))
            for arrangement in _ways(paper, scale, table_width):
                room = arrangement.drawing
                if width <= room.width and height <= room.height:
                    return arrangement
        return None

    found = first(((papers[0], scale) for scale in SCALES) if on_one else trials(papers))
    if found is None:
        raise ValueError("the plate is larger than any paper")
    if is_clear(found.scale):
        return found
    finer = (scale for scale in FINER if scale < found.scale)
    larger = (first((paper, scale) for paper in papers) for scale in finer)
    return next((page for page in larger if page is not None and is_clear(page.scale)), found)


def _ways(paper: Paper, scale: int, table_width: Mm) -> Iterator[Arrangement]:
    """Yield: table beside it above the block; block and table beside it; table elsewhere."""
    space = inside(paper)
    foot = space.bottom + BLOCK_HEIGHT
    block = space.right - BLOCK_WIDTH
    beside = space.right - table_width
    under = Box(space.left + GAP, space.bottom, block - GAP, foot - GAP / 2)
    yield Arrangement(
        paper=paper,
        scale=scale,
        drawing=Box(space.left, foot, beside, space.top),
        notes=under,
        side=Box(beside, foot + GAP, space.right - GAP, space.top - GAP),
    )
    yield Arrangement(
        paper=paper,
        scale=scale,
        drawing=Box(space.left, space.bottom, block, space.top),
        notes=Box(block + 2, foot, space.right - GAP, foot + NOTES_HEIGHT - 3),
        side=Box(block + 2, foot + NOTES_HEIGHT + 2, space.right - GAP, space.top - GAP),
    )
    yield Arrangement(
        paper=paper,
        scale=scale,
        drawing=Box(space.left, foot, space.right, space.top),
        notes=under,
        side=None,
    )


def table_frames(page: Arrangement, table_width: Mm) -> Iterator[Box]:
    """Yield the frames of a table: beside the drawing, then the columns of further pages."""
    if page.side is not None:
        yield from _columns(page.side, table_width)
    while True:
        yield from _columns(_further(page.paper), table_width)


def on_pages(
    page: Arrangement, table_width: Mm, parts: list[tuple[Primitive, ...]]
) -> tuple[tuple[Primitive, ...], tuple[Leaf, ...]]:
    """Return the filled frames of the first page, and further pages, in the frames' order."""
    count = 0 if page.side is None else len(_columns(page.side, table_width))
    step = len(_columns(_further(page.paper), table_width))
    rest = parts[count:]
    further = tuple(
        Leaf(
            paper=page.paper,
            scale="–",
            primitives=tuple(part for column in rest[start : start + step] for part in column),
        )
        for start in range(0, len(rest), step)
    )
    return tuple(part for column in parts[:count] for part in column), further


def table_pages(
    page: Arrangement, table_width: Mm, table: PrintTable, settings: JobSettings
) -> tuple[tuple[Primitive, ...], tuple[Leaf, ...]]:
    """Return a table beside the drawing and, where it does not fit there, on further pages.

    Rows a little closer are tried before a page is turned for a few of them; what is left over
    goes on the smallest paper that takes no more pages than the drawing's own.
    """
    for pad in TABLE_PADS:
        beside, further = _flowed(page, page.paper, (table_width, pad), table)
        if not further:
            return beside, ()
    papers = INCH if settings.units is DisplayUnit.INCH else METRIC
    smaller = [p for p in papers if p.width * p.height < page.paper.width * page.paper.height]
    tries = [
        _flowed(page, paper, (table_width, ROW_PAD), table)
        for paper in (list_paper(settings), *smaller, page.paper)
    ]
    return min(tries, key=lambda found: len(found[1]))


def _flowed(
    page: Arrangement, paper: Paper, sizes: tuple[Mm, Ratio], table: PrintTable
) -> tuple[tuple[Primitive, ...], tuple[Leaf, ...]]:
    """Return a table beside the drawing and on further pages of a paper."""
    table_width, pad = sizes
    rest = replace(page, paper=paper)
    frames = table_frames(rest, table_width)
    parts = [part for part, _ in flow(table, frames, pad=pad)]
    return on_pages(rest, table_width, parts)


def _further(paper: Paper) -> Box:
    space = inside(paper)
    return Box(
        space.left + GAP, space.bottom + BLOCK_HEIGHT + GAP, space.right - GAP, space.top - GAP
    )


def _columns(space: Box, table_width: Mm) -> tuple[Box, ...]:
    count = max(1, int((space.width + GAP) // table_width))
    width = (space.width + GAP) / count - GAP
    lefts = [space.left + index * (width + GAP) for index in range(count)]
    return tuple(Box(left, space.bottom, left + width, space.top) for left in lefts)
