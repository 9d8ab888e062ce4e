"""Pages of lists, filled from the top: headings, paragraphs, pictures, tables."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from platewright.drawing.extent import extent
from platewright.drawing.lettering import text_width, wrap
from platewright.drawing.paper import Paper
from platewright.drawing.picture import Primitive, Text, placed
from platewright.drawing.table_print import LETTERING, LINE_PITCH, PrintTable, flow, least_height
from platewright.foundation.units import Mm
from platewright.model.geometry import Box, Point
from platewright.sheets.page import Leaf, above_block

MARGIN: Final[Mm] = 7.0
HEADING: Final[Mm] = 3.5
AGAIN: Final = ", continued"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Lines:
    """Lettering that waits for what it belongs to: a heading, or words below one."""

    lines: tuple[str, ...]
    size: Mm
    bold: bool
    after: Mm

    @property
    def height(self) -> Mm:
        return len(self.lines) * self.size * LINE_PITCH + self.after


class Pager:
    """Builds leaves from top to bottom; the one mutable thing of the sheets.

    A heading, with the words below it, stays with the table or picture it stands over.
    """

    def __init__(self, paper: Paper) -> None:
        self._paper = paper
        space = above_block(paper)
        self.space = space.grown(-MARGIN, -MARGIN, -MARGIN, -MARGIN)
        self._pages: list[list[Primitive]] = [[]]
        self._y = self.space.top
        self._head = ""  # of the table or pictures that come next
        self._has_begun = False  # pictures under it stand already
        self._waiting: list[_Lines] = []

    @property
    def room(self) -> Mm:
        """Height left on the page."""
        return self._y - self._waits() - self.space.bottom

    def heading(self, text: str) -> None:
        """Add a heading, on the page of what follows it."""
        self._put(0.0)
        lines = wrap(text, self.space.width, HEADING, bold=True)
        self._waiting = [_Lines(lines=lines, size=HEADING, bold=True, after=0.6 * HEADING)]
        self._head, self._has_begun = text, False

    def paragraph(self, text: str, *, bold: bool = False) -> None:
        """Add lines of text."""
        lines = wrap(text, self.space.width, LETTERING, bold=bold)
        words = _Lines(lines=lines, size=LETTERING, bold=bold, after=0.8 * LETTERING)
        if self._waiting:
            self._waiting.append(words)
            return
        if self.room < words.height - words.after:
            self._turn()
        self._lines(words)

    def picture(self, primitives: tuple[Primitive, ...], *, indent: Mm | None = None) -> None:
        """Add a picture, its x = 0 at the indent or else centred; a new page where need be."""
        box = extent(primitives)
        self._put(box.height + 4)
        if self.room < box.height + 4:
            self._turn()
            if self._has_begun:
                self._continued(self._head)
        self._has_begun = bool(self._head)
        middle = max(0.0, (self.space.width - box.width) / 2) - box.left
        x = self.space.left + (middle if indent is None else indent)
        shift = Point(x, self._y - 2 - box.top)
        self._pages[-1] += placed(primitives, at=shift)
        self._y -= box.height + 5

    def table(self, table: PrintTable, *, size: Mm = LETTERING) -> None:
        """Add a table, broken over pages as need be: each page says what its rows are of."""
        least = least_height(table, self.space.width, size=size)
        waits = bool(self._waiting)
        self._put(least)
        if self.room < least and self._pages[-1] and not waits:
            self._turn()
        head, self._head, self._has_begun = self._head, "", False
        for index, (part, height) in enumerate(flow(table, self._frames(head), size=size)):
            if index:
                self._turn()
                self._continued(head)
            self._pages[-1] += part
            self._y -= height
        self._y -= 2 * LETTERING

    def _put(self, need: Mm) -> None:
        """Draw what waits, on a new page where it would be parted from what needs so much."""
        waiting, height = self._waiting, self._waits()
        self._waiting = []
        if not waiting:
            return
        if self._pages[-1] and self._y - height - need < self.space.bottom:
            self._turn()
        if self._pages[-1]:
            self._y -= HEADING
        for words in waiting:
            if self._y - words.height + words.after < self.space.bottom:
                self._turn()
            self._lines(words)

    def _waits(self) -> Mm:
        if not self._waiting:
            return 0.0
        return HEADING * bool(self._pages[-1]) + sum(words.height for words in self._waiting)

    def _continued(self, head: str) -> None:
        if head:
            again = (self._again(head),)
            self._lines(_Lines(lines=again, size=LETTERING, bold=True, after=0.4 * LETTERING))

    def _again(self, head: str) -> str:
        """Return the heading of a page that goes on with a table, on one line."""
        lines = wrap(head, self.space.width - text_width(AGAIN, LETTERING, bold=True), LETTERING,
                     bold=True)  # fmt: skip
        return lines[0] + AGAIN

    def turn(self) -> None:
        """Begin a new page."""
        self._put(0.0)
        self._turn()

    def _turn(self) -> None:
        self._pages.append([])
        self._y = self.space.top

    def leaves(self) -> tuple[Leaf, ...]:
        """Return the pages."""
        self._put(0.0)
        return tuple(
            Leaf(paper=self._paper, scale="–", primitives=tuple(page)) for page in self._pages
        )

    def _frames(self, head: str) -> Iterator[Box]:
        space = self.space
        yield Box(space.left, space.bottom, space.right, self._y)
        taken = (LINE_PITCH + 0.4) * LETTERING if head else 0.0
        while True:
            yield Box(space.left, space.bottom, space.right, space.top - taken)

    def _lines(self, words: _Lines) -> None:
        for line in words.lines:
            self._y -= words.size
            if line:
                self._pages[-1].append(
                    Text(
                        layer="TEXT",
                        at=Point(self.space.left, self._y),
                        text=line,
                        size=words.size,
                        bold=words.bold,
                        on_base=True,
                    )
                )
            self._y -= words.size * (LINE_PITCH - 1)
        self._y -= words.after
