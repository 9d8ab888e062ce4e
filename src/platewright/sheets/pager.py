"""Pages of lists, filled from the top: headings, paragraphs, pictures, tables."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.drawing.extent import extent
from platewright.drawing.lettering import text_width, wrap
from platewright.drawing.paper import Paper
from platewright.drawing.picture import Primitive, Text, placed
from platewright.drawing.table_print import LETTERING, LINE_PITCH, PrintTable, flow
from platewright.foundation.units import Mm
from platewright.model.geometry import Box, Point
from platewright.sheets.page import Leaf, above_block

MARGIN: Final[Mm] = 7.0
HEADING: Final[Mm] = 3.5
AGAIN: Final = ", continued"
LEAST_TABLE: Final[Mm] = 22.0  # a head with three rows; less is not begun at the foot of a page


class Pager:
    """Builds leaves from top to bottom; the one mutable thing of the sheets."""

    def __init__(self, paper: Paper) -> None:
        self._paper = paper
        space = above_block(paper)
        self.space = space.grown(-MARGIN, -MARGIN, -MARGIN, -MARGIN)
        self._pages: list[list[Primitive]] = [[]]
        self._y = self.space.top
        self._head = ""  # of the table or pictures that come next
        self._has_begun = False  # pictures under it stand already

    @property
    def room(self) -> Mm:
        """Height left on the page."""
        return self._y - self.space.bottom

    def heading(self, text: str, *, keep: Mm = LEAST_TABLE) -> None:
        """Add a heading that stays with the next ``keep`` mm."""
        if self.room < keep + 3 * HEADING:
            self.turn()
        if self._pages[-1]:
            self._y -= HEADING
        self._lines(wrap(text, self.space.width, HEADING, bold=True), HEADING, bold=True)
        self._y -= 0.6 * HEADING
        self._head, self._has_begun = text, False

    def paragraph(self, text: str, *, bold: bool = False) -> None:
        """Add lines of text."""
        lines = wrap(text, self.space.width, LETTERING, bold=bold)
        if self.room < len(lines) * LETTERING * LINE_PITCH:
            self.turn()
        self._lines(lines, LETTERING, bold=bold)
        self._y -= 0.8 * LETTERING

    def picture(self, primitives: tuple[Primitive, ...], *, indent: Mm | None = None) -> None:
        """Add a picture, its x = 0 at the indent or else centred; a new page where need be."""
        box = extent(primitives)
        if self.room < box.height + 4:
            self.turn()
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
        if self.room < LEAST_TABLE:
            self.turn()
        head, self._head, self._has_begun = self._head, "", False
        for index, (part, height) in enumerate(flow(table, self._frames(head), size=size)):
            if index:
                self.turn()
                self._continued(head)
            self._pages[-1] += part
            self._y -= height
        self._y -= 2 * LETTERING

    def _continued(self, head: str) -> None:
        if head:
            self._lines((self._again(head),), LETTERING, bold=True)
            self._y -= 0.4 * LETTERING

    def _again(self, head: str) -> str:
        """Return the heading of a page that goes on with a table, on one line."""
        lines = wrap(head, self.space.width - text_width(AGAIN, LETTERING, bold=True), LETTERING,
                     bold=True)  # fmt: skip
        return lines[0] + AGAIN

    def turn(self) -> None:
        """Begin a new page."""
        self._pages.append([])
        self._y = self.space.top

    def leaves(self) -> tuple[Leaf, ...]:
        """Return the pages."""
        return tuple(
            Leaf(paper=self._paper, scale="–", primitives=tuple(page)) for page in self._pages
        )

    def _frames(self, head: str) -> Iterator[Box]:
        space = self.space
        yield Box(space.left, space.bottom, space.right, self._y)
        taken = (LINE_PITCH + 0.4) * LETTERING if head else 0.0
        while True:
            yield Box(space.left, space.bottom, space.right, space.top - taken)

    def _lines(self, lines: tuple[str, ...], size: Mm, *, bold: bool) -> None:
        for line in lines:
            self._y -= size
            if line:
                self._pages[-1].append(
                    Text(
                        layer="TEXT",
                        at=Point(self.space.left, self._y),
                        text=line,
                        size=size,
                        bold=bold,
                        on_base=True,
                    )
                )
            self._y -= size * (LINE_PITCH - 1)
