"""Frame (ISO 5457) and title block (ISO 7200) of every printed page."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

from platewright.drawing.lettering import has_glyph, text_width, wrap
from platewright.drawing.paper import A4, LETTER, Paper
from platewright.drawing.picture import (
    Anchor,
    Arc,
    Circle,
    Line,
    Picture,
    Polyline,
    Primitive,
    Rect,
    Text,
)
from platewright.foundation.units import Mm
from platewright.model.geometry import Box, Point
from platewright.model.job import DisplayUnit, JobSettings, Practice

FILING_EDGE: Final[Mm] = 20.0
EDGE: Final[Mm] = 10.0
BLOCK_WIDTH: Final[Mm] = 180.0
BLOCK_HEIGHT: Final[Mm] = 40.0
ZONE: Final[Mm] = 50.0
ZONE_BAND: Final[Mm] = 5.0
LEAST_VALUE: Final[Mm] = 1.8  # a number of the job is written small before it is cut off
LETTERING: Final[Mm] = 2.5  # the least that is printed (ISO 3098, copied and read at the bench)
CAUTION: Final = (
    "Drafting aid, not an approval. A qualified person must check every sheet, and the "
    "finished panel, before it is used. Isolate and prove dead before work on a live panel."
)
POSITIONS: Final = (
    "Datum: the plate's lower left corner, seen from the front. Marked by hand: ±{off} "
    "(shop practice)."
)
BY_HAND: Final = {DisplayUnit.MM: "0.5 mm", DisplayUnit.INCH: "0.02 in"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaf:
    """What stands on one page, without frame and title block."""

    paper: Paper
    scale: str
    primitives: tuple[Primitive, ...]


def list_paper(settings: JobSettings) -> Paper:
    """Return the paper for lists: upright A4, or Letter where the job prints inches."""
    return (LETTER if settings.units is DisplayUnit.INCH else A4).turned


def inside(paper: Paper) -> Box:
    """Return the drawing space: what the frame encloses."""
    return Box(FILING_EDGE, EDGE, paper.width - EDGE, paper.height - EDGE)


def above_block(paper: Paper) -> Box:
    """Return the part of the drawing space above the title block."""
    space = inside(paper)
    return Box(space.left, space.bottom + BLOCK_HEIGHT, space.right, space.top)


def framed(leaf: Leaf, settings: JobSettings, *, title: str, number: int, of: int) -> Picture:
    """Return a page: the leaf with frame, title block and page number."""
    space = inside(leaf.paper)
    block = Box(space.right - BLOCK_WIDTH, space.bottom, space.right, space.bottom + BLOCK_HEIGHT)
    parts: list[Primitive] = [*leaf.primitives, *_frame(leaf.paper)]
    parts += _block(block, leaf, settings, (title, f"{number} / {of}"))
    parts += _missing_note(parts, block)
    job = settings.job
    return Picture(
        width=leaf.paper.width,
        height=leaf.paper.height,
        title=f"{job.number} {job.title}: {title}, sheet {number} of {of}".strip(),
        primitives=tuple(parts),
    )


def in_package(picture: Picture, number: int, of: int) -> Picture:
    """Return a page with its number among all pages of the package, in its field for the sheet."""
    at = Point(picture.width - EDGE - 1.0, EDGE + BLOCK_HEIGHT - 2.1)
    words = Text(
        layer="NOTE", at=at, text=f"page {number} of {of}", size=LETTERING, anchor=Anchor.RIGHT
    )
    return replace(picture, primitives=(*picture.primitives, words))


def _frame(paper: Paper) -> Iterator[Primitive]:
    space = inside(paper)
    yield Rect(layer="FRAME", box=space)
    middle = Point(paper.width / 2, paper.height / 2)
    for start, end in (
        (Point(middle.x, space.top - 5), Point(middle.x, space.top + 5)),
        (Point(middle.x, space.bottom - 5), Point(middle.x, space.bottom)),
        (Point(space.left - 5, middle.y), Point(space.left + 5, middle.y)),
        (Point(space.right - 5, middle.y), Point(space.right + 5, middle.y)),
    ):
        yield Line(layer="FRAME", start=start, end=end)
    if paper.width > A4.width:
        yield from _zones(paper)


def _zones(paper: Paper) -> Iterator[Primitive]:
    """Yield the grid reference: fields of 50 mm counted from the middle (ISO 5457)."""
    space = inside(paper)
    yield Rect(layer="GRID", box=space.grown(ZONE_BAND, ZONE_BAND, ZONE_BAND, ZONE_BAND))
    for low, high, middle, across in (
        (space.left, space.right, paper.width / 2, True),
        (space.bottom, space.top, paper.height / 2, False),
    ):
        half = int((high - middle) // ZONE + 1)
        marks = [middle + step * ZONE for step in range(-half, half + 1)]
        inner = [mark for mark in marks if low + 1 < mark < high - 1]
        edges = [low, *inner, high]
        for mark in inner:
            for a, b in _bands(space, across=across):
                start, end = (
                    (Point(mark, a), Point(mark, b)) if across else (Point(a, mark), Point(b, mark))
                )
                yield Line(layer="GRID", start=start, end=end)
        for index, (a, b) in enumerate(itertools.pairwise(edges)):
            name = str(index + 1) if across else "ABCDEFGHJKLMNPQRSTUVWXYZ"[len(edges) - 2 - index]
            for c, d in _bands(space, across=across):
                place, band = (a + b) / 2, (c + d) / 2
                yield Text(
                    layer="GHOST-TAG",
                    at=Point(place, band) if across else Point(band, place),
                    text=name,
                    size=2.5,
                    anchor=Anchor.CENTRE,
                )


def _bands(space: Box, *, across: bool) -> tuple[tuple[Mm, Mm], tuple[Mm, Mm]]:
    if across:
        return (space.bottom - ZONE_BAND, space.bottom), (space.top, space.top + ZONE_BAND)
    return (space.left - ZONE_BAND, space.left), (space.right, space.right + ZONE_BAND)


def _block(
    block: Box, leaf: Leaf, settings: JobSettings, document: tuple[str, str]
) -> Iterator[Primitive]:
    job = settings.job
    kind, number = document
    practice = "North America" if settings.practice is Practice.NORTH_AMERICA else "IEC"
    unit = "inch" if settings.units is DisplayUnit.INCH else "mm"
    rows: tuple[tuple[Mm, tuple[tuple[Mm, str, str], ...]], ...] = (
        (8.5, ((64, "Legal owner", job.owner), (76, "Document type", kind), (40, "Sheet", number))),
        (
            10.0,
            (
                (110, "Title", job.title),
                (46, "Identification number", job.number),
                (24, "Rev.", job.revision),
            ),
        ),
        (
            8.5,
            (
                (32, "Created by", job.drawn_by),
                (32, "Checked by", job.checked_by),
                (26, "Date of issue", job.date),
                (16, "Scale", leaf.scale),
                (17, "Lengths", unit),
                (29, "Practice", practice),
                (28, "Projection", ""),
            ),
        ),
    )
    yield Rect(layer="PLATE", box=block)
    top = block.top
    for height, fields in rows:
        left = block.left
        for width, label, value in fields:
            box = Box(left, top - height, left + width, top)
            yield Rect(layer="BORDER", box=box)
            yield from _field(box, label, value)
            left += width
        top -= height
    yield from _projection(
        Point(block.right - 9.0, block.top - 24.7), first=settings.practice is Practice.IEC
    )
    yield from _small_print(Box(block.left, block.bottom, block.right, top), settings.units)


def _field(box: Box, label: str, value: str) -> Iterator[Primitive]:
    yield Text(layer="NOTE", at=Point(box.left + 1, box.top - 2.1), text=label, size=LETTERING)
    big = label == "Title"
    if label == "Projection":
        return
    size, room = (3.5 if big else LETTERING), box.width - 2.4
    while text_width(value or "–", size, bold=big) > room and size > LEAST_VALUE:
        size -= 0.35
    shown = value or "–"
    if text_width(shown, size, bold=big) > room:
        shown = wrap(shown, room - text_width("…", size), size, bold=big)[0] + "…"
    yield Text(
        layer="TEXT",
        at=Point(box.left + 1.2, box.bottom + 2.2 + (1.0 if big else 0.0)),
        text=shown,
        size=size,
        bold=big,
    )


def _small_print(box: Box, unit: DisplayUnit) -> Iterator[Primitive]:
    room = box.width - 2.4
    positions = wrap(POSITIONS.format(off=BY_HAND[unit]), room, LETTERING)
    caution = wrap(CAUTION, room, LETTERING, bold=True)
    lines = (*positions, *caution)
    pitch = box.height / (len(lines) + 0.25)
    for index, line in enumerate(lines):
        yield Text(
            layer="TEXT",
            at=Point(box.left + 1.2, box.top - pitch * (index + 0.6)),
            text=line,
            size=LETTERING,
            bold=index >= len(positions),
        )


def _projection(centre: Point, *, first: bool) -> Iterator[Primitive]:
    """Yield the sign of the projection method (ISO 5456-2): cone and the view of its small end.

    The small end points left in both. It is seen from the left, so both its circles are seen: that
    view stands on the far side of the cone by the first angle, on the near side by the third.
    """
    cone = centre.x + (-5.0 if first else 4.0)
    rings = centre.x + (4.0 if first else -5.0)
    small, large, half = 0.95, 1.9, 2.3
    yield Polyline(
        layer="BORDER",
        points=(
            Point(cone - half, centre.y - small),
            Point(cone + half, centre.y - large),
            Point(cone + half, centre.y + large),
            Point(cone - half, centre.y + small),
        ),
        closed=False,
    )
    yield Line(
        layer="BORDER",
        start=Point(cone - half, centre.y - small),
        end=Point(cone - half, centre.y + small),
    )
    for radius in (large, small):
        yield Arc(layer="BORDER", centre=Point(rings, centre.y), radius=radius, start=0, end=180)
        yield Arc(layer="BORDER", centre=Point(rings, centre.y), radius=radius, start=180, end=360)
    for middle, reach in ((cone, half + 0.9), (rings, large + 0.9)):
        yield Line(
            layer="AXIS",
            start=Point(middle - reach, centre.y),
            end=Point(middle + reach, centre.y),
        )
    yield Circle(layer="BORDER", centre=Point(rings, centre.y), radius=0.05)


def _missing_note(parts: list[Primitive], block: Box) -> Iterator[Primitive]:
    """Say which characters could not be drawn: a box in the lettering is never silent."""
    found = {
        char: part.text
        for part in reversed(parts)
        if isinstance(part, Text)
        for char in part.text
        if not has_glyph(char)
    }
    if not found:
        return
    words = ", ".join(f"U+{ord(char):04X}" for char in sorted(found))
    note = f"Drawn as boxes, not in the drawings' font: {words}"
    line = wrap(note, BLOCK_WIDTH - 4, LETTERING, bold=True)[0]
    yield Text(
        layer="TEXT",
        at=Point(block.left + 1.2, block.top + 2.2),
        text=line,
        size=LETTERING,
        bold=True,
    )
