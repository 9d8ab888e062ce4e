"""Tables on paper: widths from their cells, rows broken over frames under a repeated head."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from platewright.drawing.lettering import text_width, wrap
from platewright.drawing.picture import Anchor, Line, Primitive, Rect, Text
from platewright.drawing.table import Quantity, Table, printed_columns, printed_heads
from platewright.foundation.units import Mm, Ratio
from platewright.model.geometry import Box, Point
from platewright.model.job import DisplayUnit

LETTERING: Final[Mm] = 2.5
LINE_PITCH: Final = 1.65  # of the lettering's height
ROW_PAD: Final = 0.6  # above and below the lines, of the lettering's height
SIDE_PAD: Final[Mm] = 1.1
LEAST_ROWS: Final = 3  # of a table that goes on overleaf
ENOUGH: Final = 8  # lines of rows that stand for three rows, where they are tall
SHARES: Final = 24  # steps in which spare width is shared out


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintRow:
    """A row as printed. A heading spans the table and stays with the row below it."""

    cells: tuple[str, ...]
    is_heading: bool = False
    is_bold: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintTable:
    """A table ready for paper."""

    heads: tuple[str, ...]
    to_right: tuple[bool, ...]
    wraps: tuple[bool, ...]
    rows: tuple[PrintRow, ...]


def print_table(table: Table, unit: DisplayUnit) -> PrintTable:
    """Return a list as it is printed."""
    columns = printed_columns(table, unit)
    return PrintTable(
        heads=printed_heads(table, unit),
        to_right=tuple(column.quantity is not Quantity.WORDS for column in table.columns),
        wraps=tuple(column.wraps for column in table.columns),
        rows=tuple(PrintRow(cells=cells) for cells in zip(*columns, strict=True)),
    )


def flow(
    table: PrintTable, frames: Iterable[Box], *, size: Mm = LETTERING, pad: Ratio = ROW_PAD
) -> list[tuple[tuple[Primitive, ...], Mm]]:
    """Return, frame by frame, the primitives put into it and the height they take.

    Tables hang from the top of each frame. ``frames`` must not run out before the rows do.
    ``pad``: above and below the lines of a row, in heights of the lettering.
    """
    pages: list[tuple[tuple[Primitive, ...], Mm]] = []
    rows = list(table.rows)
    known: dict[Mm, tuple[Mm, ...]] = {}
    for frame in frames:
        widths = known.get(frame.width) or _widths(table, frame.width, size)
        known[frame.width] = widths
        heads = PrintRow(cells=table.heads, is_bold=True)
        head_height = _height(heads, widths, size, pad)
        taken = _fitting(rows, widths, (size, pad), frame.height - head_height)
        lines = [_line_count(row, widths, size) for row in rows[: taken + LEAST_ROWS]]
        taken = _whole_heads(rows, taken, lines)
        taken = _not_leaving_few(rows, taken, lines)
        if taken:
            part = (heads, *rows[:taken])
            pages.append(
                (
                    tuple(_drawn(table, part, frame, widths, (size, pad))),
                    sum(_height(row, widths, size, pad) for row in part),
                )
            )
        else:
            pages.append(((), 0.0))
        rows = rows[taken:]
        if not rows:
            return pages
    raise ValueError(f"no room on paper for {len(rows)} rows")


def least_height(table: PrintTable, width: Mm, *, size: Mm = LETTERING, pad: Ratio = ROW_PAD) -> Mm:
    """Return the height of the least of a table that stands at the foot of a page.

    Its head with three rows, all rows of fewer than six, or as many as are ``ENOUGH`` lines.
    """
    widths = _widths(table, width, size)
    plain = sum(not row.is_heading for row in table.rows)
    wanted = plain if plain < 2 * LEAST_ROWS else LEAST_ROWS
    height = _height(PrintRow(cells=table.heads, is_bold=True), widths, size, pad)
    lines = 0
    for row in table.rows:
        height += _height(row, widths, size, pad)
        if not row.is_heading:
            wanted -= 1
            lines += _line_count(row, widths, size)
        if wanted <= 0 or lines >= ENOUGH:
            break
    return height


def _fitting(
    rows: list[PrintRow], widths: tuple[Mm, ...], sizes: tuple[Mm, Ratio], room: Mm
) -> int:
    taken = 0
    for row in rows:
        room -= _height(row, widths, *sizes)
        if room < 0:
            break
        taken += 1
    return taken


def _whole_heads(rows: list[PrintRow], taken: int, lines: list[int]) -> int:
    """Return how many rows a frame takes so that no heading ends it with few lines below it.

    ``lines``: of each row, on paper.
    """
    if taken in (0, len(rows)):
        return taken
    head = max((at for at in range(taken) if rows[at].is_heading), default=0)
    later = (at for at in range(head + 1, len(rows)) if rows[at].is_heading)
    end = next(later, len(rows))
    if head and taken < end and sum(lines[head + 1 : taken]) < LEAST_ROWS:
        taken = head
    while taken > 0 and rows[taken - 1].is_heading:
        taken -= 1
    return taken


def _not_leaving_few(rows: list[PrintRow], taken: int, lines: list[int]) -> int:
    """Return how many rows a frame takes so that the last one is not there for one or two alone.

    Rows are handed on to it where as many stay; ``ENOUGH`` lines are no few.
    """
    lacking = LEAST_ROWS - (len(rows) - taken)
    if taken == len(rows) or lacking <= 0 or taken - lacking < LEAST_ROWS:
        return taken
    if sum(lines[taken:]) >= ENOUGH:
        return taken
    return _whole_heads(rows, taken - lacking, lines)


def _widths(table: PrintTable, available: Mm, size: Mm) -> tuple[Mm, ...]:
    natural = []
    for index, head in enumerate(table.heads):
        texts = [text_width(line, size, bold=True) for line in head.split("\n")]
        texts += [
            text_width(line, size, bold=row.is_bold)
            for row in table.rows
            if not row.is_heading
            for line in row.cells[index].split("\n")
        ]
        natural.append(max(texts) + 2 * SIDE_PAD)
    stretching = [index for index, wraps in enumerate(table.wraps) if wraps]
    rest = available - sum(natural)
    if rest >= 0:
        for index in stretching:
            natural[index] += rest / len(stretching)
    elif len(stretching) > 1:
        _share_out(table, natural, stretching, available, size)
    else:
        _shrink(natural, stretching or list(range(len(natural))), rest, _words(table, size))
    return tuple(natural)


def _share_out(
    table: PrintTable, widths: list[Mm], pool: list[int], available: Mm, size: Mm
) -> None:
    """Give columns that wrap their longest words, and what is left where it helps most.

    Shares go to the column that saves the table most lines for each of them.
    """
    words = _words(table, size)
    for index in pool:
        widths[index] = min(widths[index], words[index])
    left = available - sum(widths)
    if left < 0:
        _shrink(widths, pool, left, words)
        return
    step, given = left / SHARES, dict.fromkeys(pool, 0)
    counts = {
        (index, share): _line_counts(table, index, widths[index] + share * step, size)
        for index in range(len(widths))
        for share in (range(SHARES + 1) if index in pool else (0,))
    }

    def height(shares: dict[int, int]) -> int:
        columns = (counts[index, shares.get(index, 0)] for index in range(len(widths)))
        return sum(max(lines) for lines in zip(*columns, strict=True))

    while sum(given.values()) < SHARES:
        now, free = height(given), SHARES - sum(given.values())
        gains = {
            (index, more): (now - height({**given, index: given[index] + more})) / more
            for index in pool
            for more in range(1, free + 1)
        }
        best = max(gains, key=lambda at: (gains[at], -at[1]))
        if gains[best] <= 0:
            break
        given[best[0]] += best[1]
    for index in pool:
        widths[index] += given[index] * step
        widths[index] += (SHARES - sum(given.values())) * step / len(pool)


def _line_counts(table: PrintTable, index: int, width: Mm, size: Mm) -> list[int]:
    """Return how many lines each cell of a column takes at a width."""
    return [
        0 if row.is_heading
        else len(wrap(row.cells[index], width - 2 * SIDE_PAD + 0.01, size, bold=row.is_bold))
        for row in table.rows
    ]  # fmt: skip


def _words(table: PrintTable, size: Mm) -> list[Mm]:
    """Return the width that the longest word of each column needs, the head's words too."""
    needed = []
    for index, head in enumerate(table.heads):
        words = [text_width(word, size, bold=True) for word in head.split()]
        words += [
            text_width(word, size, bold=row.is_bold)
            for row in table.rows
            if not row.is_heading
            for word in row.cells[index].split()
        ]
        needed.append(max(words, default=0.0) + 2 * SIDE_PAD)
    return needed


def _shrink(widths: list[Mm], pool: list[int], rest: Mm, words: list[Mm]) -> None:
    """Make the columns of a pool narrower by ``-rest``, none so that it breaks a word.

    Where even that is too wide words have to break: then all shrink alike.
    """
    free, short = list(pool), rest
    while free:
        whole = sum(widths[index] for index in free)
        tight = [i for i in free if widths[i] * (1 + short / whole) < words[i]]
        if not tight:
            break
        for index in tight:
            short += widths[index] - min(widths[index], words[index])
            widths[index] = min(widths[index], words[index])
            free.remove(index)
    left = free or pool
    whole = sum(widths[index] for index in left)
    for index in left:
        widths[index] += short * widths[index] / whole


def _lines(row: PrintRow, widths: tuple[Mm, ...], size: Mm) -> list[tuple[str, ...]]:
    if row.is_heading:
        return [wrap(row.cells[0], sum(widths) - 2 * SIDE_PAD, size, bold=True)]
    return [
        wrap(cell, width - 2 * SIDE_PAD + 0.01, size, bold=row.is_bold)
        for cell, width in zip(row.cells, widths, strict=True)
    ]


def _height(row: PrintRow, widths: tuple[Mm, ...], size: Mm, pad: Ratio) -> Mm:
    return size * (1 + (_line_count(row, widths, size) - 1) * LINE_PITCH + 2 * pad)


def _line_count(row: PrintRow, widths: tuple[Mm, ...], size: Mm) -> int:
    return max(len(lines) for lines in _lines(row, widths, size))


def _drawn(
    table: PrintTable,
    rows: tuple[PrintRow, ...],
    frame: Box,
    widths: tuple[Mm, ...],
    sizes: tuple[Mm, Ratio],
) -> Iterator[Primitive]:
    y = frame.top
    right = frame.left + sum(widths)
    for index, row in enumerate(rows):
        height = _height(row, widths, *sizes)
        if row.is_heading:
            yield Rect(layer="SHADE", box=Box(frame.left, y - height, right, y))
        yield from _row(table, row, Point(frame.left, y), widths, sizes)
        y -= height
        layer = "BORDER" if index in (0, len(rows) - 1) else "GRID"
        yield Line(layer=layer, start=Point(frame.left, y), end=Point(right, y))
    yield Line(layer="BORDER", start=Point(frame.left, frame.top), end=Point(right, frame.top))


def _row(
    table: PrintTable,
    row: PrintRow,
    corner: Point,
    widths: tuple[Mm, ...],
    sizes: tuple[Mm, Ratio],
) -> Iterator[Primitive]:
    size, pad = sizes
    x = corner.x
    for index, lines in enumerate(_lines(row, widths, size)):
        to_right = table.to_right[index] and not row.is_heading
        place = x + widths[index] - SIDE_PAD if to_right else x + SIDE_PAD
        for number, line in enumerate(lines):
            if line:
                yield Text(
                    layer="TEXT",
                    at=Point(place, corner.y - size * (pad + 0.5 + number * LINE_PITCH)),
                    text=line,
                    size=size,
                    anchor=Anchor.RIGHT if to_right else Anchor.LEFT,
                    bold=row.is_bold or row.is_heading,
                )
        x += widths[index]
