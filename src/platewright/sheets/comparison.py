"""Several plates of one job side by side, their figures under or beside each."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from platewright.drawing.lettering import text_width, wrap
from platewright.drawing.paper import A3, SCALES, TABLOID
from platewright.drawing.picture import Anchor, Picture, Primitive, Rect, Text, placed
from platewright.foundation.units import Mm, Ratio
from platewright.model.geometry import Box, Point
from platewright.model.job import DisplayUnit, JobSettings
from platewright.model.panel import Panel, body_box
from platewright.sheets.lettering_rules import fitted
from platewright.sheets.page import Leaf, above_block, framed, inside
from platewright.sheets.plate_picture import plate_body

TITLE: Final = "Plates compared"
GAP: Final[Mm] = 7.0
NAME: Final[Mm] = 3.5
SIZE: Final[Mm] = 2.5
PITCH: Final = 1.6  # of lines, in heights of the lettering
BESIDE: Final[Mm] = 58.0  # width of the figures where they stand beside the plate
SMALLEST: Final = 20  # 1:20; smaller pictures tell nothing
WANTED: Final = 10  # 1:10 on two pages before 1:20 on one: devices can be told apart
MOST_NAMED: Final = 3  # plates not to build that the title has room for
MOST_OF_THE_HEAT: Final[Ratio] = 0.8
LEGEND: Final = (
    "Bold: least of all plates in that line; less is better in every line. Grey devices give off "
    "four fifths of the heat. Weight × height: every stated mass times the height of its middle "
    "above the plate's lower edge. Warmest housing, and air over a device's own limit where it is "
    "most (below 0: under it): by a simple heat model, steady state, losses as stated."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownLine:
    """One figure under a plate."""

    words: str
    value: str
    is_best: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """One plate with what is written under it."""

    panel: Panel
    name: str
    title: str
    lines: tuple[ShownLine, ...]
    remarks: tuple[str, ...]
    fails: int = 0  # findings; more than none, and the title of the sheet names the plate


@dataclass(frozen=True, slots=True)
class _Grid:
    """Cells of one page, and the scale 1:n that fits them. Figures under the plates, or beside."""

    columns: int
    rows: int
    scale: int
    is_beside: bool = False


def comparison_pages(shown: Sequence[Shown]) -> tuple[Picture, ...]:
    """Return the plates on as few pages as keep the pictures readable."""
    settings = _stamped(shown)
    paper = TABLOID if settings.units is DisplayUnit.INCH else A3
    space = above_block(paper).grown(-GAP, -GAP, -GAP, -GAP)
    each = len(shown)
    while (grid := _grid(shown, space, each)).scale > SMALLEST and each > 1:
        each = math.ceil(each / 2)
    halved = math.ceil(len(shown) / 2)
    if each == len(shown) > 2 and grid.scale > WANTED:
        larger = _grid(shown, space, halved)
        if larger.scale <= WANTED:
            each, grid = halved, larger
    parts = [shown[k : k + each] for k in range(0, len(shown), each)]
    foot = Box(inside(paper).left + GAP, inside(paper).bottom, space.right, space.bottom - GAP)
    return tuple(
        framed(
            Leaf(
                paper=paper,
                scale=f"1:{grid.scale}",
                primitives=(*_page(part, space, grid), *_legend(foot)),
            ),
            settings, title=TITLE, number=number, of=len(parts),
        )
        for number, part in enumerate(parts, start=1)
    )  # fmt: skip


def _stamped(shown: Sequence[Shown]) -> JobSettings:
    """Return the settings with a title that names the plates that are not to build."""
    settings = shown[0].panel.job.settings
    failing = [one.name for one in shown if one.fails]
    if not failing:
        return settings
    named = ", ".join(failing)
    if len(failing) > MOST_NAMED:
        named = f"{len(failing)} of {len(shown)} plates, said beside each"
    title = f"NOT TO BUILD: {named}. {settings.job.title}"
    return replace(settings, job=replace(settings.job, title=title))


def _grid(shown: Sequence[Shown], space: Box, count: int) -> _Grid:
    """Return the columns and rows that show so many plates largest."""
    plate = shown[0].panel.job.settings.plate
    grids = []
    for columns in range(1, count + 1):
        rows = math.ceil(count / columns)
        width, height = _cell_width(space, columns), (space.height + GAP) / rows - GAP
        under = height - _text_height(shown, width)
        beside = width - BESIDE - GAP / 2
        for across, up, is_beside in ((width, under, False), (beside, height, True)):
            if across > 0 and up > 0 and _reaches(shown, height, is_beside=is_beside):
                least = max(plate.width / across, plate.height / up) - 1e-9
                scale = next((s for s in SCALES if s >= least), SCALES[-1])
                grids.append(_Grid(columns, rows, scale, is_beside))
    best = min(grids, key=lambda grid: (grid.scale, grid.is_beside, grid.columns), default=None)
    return best or _Grid(1, 1, SMALLEST)


def _reaches(shown: Sequence[Shown], height: Mm, *, is_beside: bool) -> bool:
    return not is_beside or _text_height(shown, BESIDE) <= height


def _cell_width(space: Box, columns: int) -> Mm:
    return (space.width + GAP) / columns - GAP


def _text_height(shown: Sequence[Shown], width: Mm) -> Mm:
    """Return the room for the words of any of the plates: their figures stand at one height."""
    names, lines = _head(shown, width)
    figures = max(
        sum(len(_figure_words(figure, _figure_width(width))) for figure in one.lines)
        for one in shown
    )
    return 2.2 * NAME * names + (lines + figures + 0.5) * SIZE * PITCH


def _head(shown: Sequence[Shown], width: Mm) -> tuple[int, int]:
    """Return the most lines that a name takes, and what is said under it."""
    names = max(len(_name_lines(one, width)) for one in shown)
    return names, max(len(_paragraphs(one, width)) for one in shown)


def _figure_width(width: Mm) -> Mm:
    return min(width, BESIDE)


def _figure_words(figure: ShownLine, width: Mm) -> tuple[str, ...]:
    """Return the words before a value, on as many lines as keep clear of it.

    Measured as bold, so that a line breaks alike by every plate.
    """
    room = width - text_width(figure.value, SIZE, bold=True) - SIZE
    return wrap(figure.words, room, SIZE, bold=True)


def _name_lines(one: Shown, width: Mm) -> tuple[str, ...]:
    return wrap(one.name, width, NAME, bold=True)


def _paragraphs(one: Shown, width: Mm) -> list[tuple[str, bool]]:
    lines = [(line, False) for line in wrap(one.title, width, SIZE)]
    for remark in one.remarks:
        lines += [(line, True) for line in wrap(remark, width, SIZE, bold=True)]
    return lines


def _page(part: Sequence[Shown], space: Box, grid: _Grid) -> Iterator[Primitive]:
    width = _cell_width(space, grid.columns)
    height = (space.height + GAP) / grid.rows - GAP
    head = _head(part, BESIDE if grid.is_beside else width)
    for number, one in enumerate(part):
        row, column = divmod(number, grid.columns)
        left = space.left + column * (width + GAP)
        top = space.top - row * (height + GAP)
        yield from _cell(one, Box(left, top - height, left + width, top), grid, head)


def _cell(one: Shown, cell: Box, grid: _Grid, head: tuple[int, int]) -> Iterator[Primitive]:
    plate, scale = one.panel.job.settings.plate, grid.scale
    corner = Point(cell.left, cell.top - plate.height / scale)
    picture = (*plate_body(one.panel, lettering=0.0), *_warm(one.panel), *_tags(one.panel, scale))
    kept = [part for part in picture if part.layer not in ("DATUM", "AXIS", "FIXING")]
    yield from placed([p for p in kept if not _is_datum(p)], at=corner, scale=1 / scale)
    if grid.is_beside:
        left = cell.left + plate.width / scale + GAP / 2
        yield from _words(one, Box(left, cell.bottom, left + BESIDE, cell.top + NAME), head)
    else:
        yield from _words(one, Box(cell.left, cell.bottom, cell.right, corner.y), head)


def _words(one: Shown, space: Box, head: tuple[int, int]) -> Iterator[Primitive]:
    """Yield name, words and figures; ``head``: lines kept for the first two, so figures align."""
    y = space.top
    for line in _name_lines(one, space.width):
        y -= 2.2 * NAME
        yield Text(
            layer="TEXT", at=Point(space.left, y), text=line, size=NAME, bold=True, on_base=True
        )
    for line, bold in _paragraphs(one, space.width):
        y -= SIZE * PITCH
        yield Text(
            layer="TEXT", at=Point(space.left, y), text=line, size=SIZE, bold=bold, on_base=True
        )
    y = space.top - 2.2 * NAME * head[0] - (head[1] + 0.5 / PITCH) * SIZE * PITCH
    width = _figure_width(space.width)
    for figure in one.lines:
        words = _figure_words(figure, width)
        for line in words:
            y -= SIZE * PITCH
            yield Text(
                layer="TEXT", at=Point(space.left, y), text=line, size=SIZE, bold=figure.is_best,
                on_base=True,
            )  # fmt: skip
        yield Text(
            layer="TEXT", at=Point(space.left + width, y), text=figure.value, size=SIZE,
            bold=figure.is_best, on_base=True, anchor=Anchor.RIGHT,
        )  # fmt: skip


def _is_datum(part: Primitive) -> bool:
    return isinstance(part, Text) and part.text.startswith("datum")


def warm_devices(panel: Panel) -> frozenset[str]:
    """Return the fewest placed devices that give off most of the heat."""
    heat = {
        tag: (panel.job.part_of(tag).heat or 0.0) * panel.job.devices[tag].load
        for tag in panel.layout.devices
    }
    wanted = MOST_OF_THE_HEAT * sum(heat.values())
    found: set[str] = set()
    for tag in sorted(heat, key=lambda tag: (-heat[tag], tag)):
        if sum(heat[one] for one in found) >= wanted:
            break
        found.add(tag)
    return frozenset(found)


def _warm(panel: Panel) -> Iterator[Primitive]:
    for tag in sorted(warm_devices(panel)):
        yield Rect(layer="WASTE", box=body_box(panel.job.part_of(tag), panel.layout.devices[tag]))


def _tags(panel: Panel, scale: int) -> Iterator[Primitive]:
    """Yield the tags that fit into their devices."""
    for tag, at in panel.layout.devices.items():
        text = fitted(tag, body_box(panel.job.part_of(tag), at), SIZE * scale)
        if text is not None:
            yield text


def _legend(foot: Box) -> Iterator[Primitive]:
    width = foot.width - 180.0 - GAP  # beside the title block
    for number, line in enumerate(wrap(LEGEND, width, SIZE)):
        yield Text(
            layer="TEXT", at=Point(foot.left, foot.top - (number + 1) * SIZE * PITCH), text=line,
            size=SIZE, on_base=True,
        )  # fmt: skip
