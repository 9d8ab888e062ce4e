"""The traveler: the build step by step, with a picture of the plate at each stage."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from platewright.drawing.lettering import wrap
from platewright.drawing.picture import Line, Polyline, Primitive, Rect, Text, placed
from platewright.fabricate.solvers.bench_work import bench_work
from platewright.foundation.units import Mm
from platewright.model.geometry import Box, Point
from platewright.model.panel import Panel
from platewright.model.steps import Step, Work
from platewright.sheets.layout import NO_LAYOUT
from platewright.sheets.page import Leaf, above_block, list_paper
from platewright.sheets.registry import Findings, sheet
from platewright.sheets.stage_picture import Stage, picture_size, stage_picture, stages

LETTERING: Final[Mm] = 2.5
HEADING: Final[Mm] = 3.5
PITCH: Final = 1.6
MARGIN: Final[Mm] = 6.0
PICTURE: Final[Mm] = 52.0  # widest
HEIGHTS: Final[tuple[Mm, ...]] = (56.0, 50.0, 45.0, 40.0)  # of pictures, tallest first
GAP: Final[Mm] = 5.0
SIGN: Final = "done by _____________  date ___________"
SIGNS: Final = (
    "In the pictures: black dots are holes or screws of the step, the ringed one comes first, the "
    "line is the way; small rings are holes made before; grey is what the step adds; two crossed "
    "lines are what it takes off, if it is on."
)
WITHOUT: Final = (Work.CHECK, Work.CUT, Work.LABEL, Work.INSPECT)  # nothing changes on the plate


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """One step as drawn, its top left corner at (0, 0)."""

    primitives: tuple[Primitive, ...]
    height: Mm


@sheet(id="traveler", title="Traveler: the build step by step", place=25)
def traveler_sheet(panel: Panel, findings: Findings) -> tuple[Leaf, ...]:  # noqa: ARG001
    """Return the steps in order, as many on a page as fit."""
    paper = list_paper(panel.job.settings)
    space = above_block(paper).grown(-MARGIN, -MARGIN, -MARGIN, -MARGIN)
    if not panel.layout.devices and not panel.layout.ducts:
        text = Text(layer="TEXT", at=Point(space.left, space.top - 3), text=NO_LAYOUT,
                    size=LETTERING, bold=True)  # fmt: skip
        return (Leaf(paper=paper, scale="–", primitives=(text,)),)
    order = bench_work(panel.job, panel.layout)
    said = [
        *([_told(_circle(order.cycle), space.width, bold=True)] if order.cycle else []),
        *([_told((SIGNS,), space.width)] if panel.layout.holes else []),
    ]
    steps = list(zip(order.steps, stages(panel, order.steps), strict=True))
    blocks = [
        *([block] * len(HEIGHTS) for block in said),
        *(
            [step_block(panel, step, stage, space.width, tallest=tallest) for tallest in HEIGHTS]
            for step, stage in steps
        ),
    ]
    pages: list[list[Primitive]] = []
    while blocks:
        size, count = _fullest(blocks, space.height)
        page: list[Primitive] = []
        y = space.top
        for block in (sizes[size] for sizes in blocks[:count]):
            page += placed(block.primitives, at=Point(space.left, y))
            y -= block.height + GAP
        pages.append(page)
        blocks = blocks[count:]
    return tuple(Leaf(paper=paper, scale="–", primitives=tuple(page)) for page in pages)


def _fullest(blocks: Sequence[Sequence[Block]], room: Mm) -> tuple[int, int]:
    """Return the size of pictures that brings most steps on a page, the largest, and how many.

    A step taller than a page has one to itself.
    """
    counts = []
    for size in range(len(HEIGHTS)):
        left, count = room, 0
        for sizes in blocks:
            left -= sizes[size].height
            if left < 0:
                break
            left -= GAP
            count += 1
        counts.append(max(1, count))
    size = max(range(len(HEIGHTS)), key=lambda one: (counts[one], -one))
    return size, counts[size]


def step_block(
    panel: Panel, step: Step, stage: Stage, width: Mm, *, tallest: Mm = HEIGHTS[0]
) -> Block:
    """Return one step: heading, picture, what to do, why now, cautions, room to sign.

    ``tallest``: of the picture, where the words beside it are shorter.
    """
    has_picture = step.work not in WITHOUT
    beside = picture_size(panel, width=PICTURE, height=HEIGHTS[0])[1].width + 5
    lines = sum(isinstance(line, Text) for line in _lines(step, width - beside))
    height = min(HEIGHTS[0], max(tallest, lines * LETTERING * PITCH))
    scale, box = picture_size(panel, width=PICTURE, height=height)
    left = box.width + 5 if has_picture else 0.0
    parts: list[Primitive] = []
    head = wrap(f"{step.number}  {step.title}", width - 4, HEADING, bold=True)
    parts += [Rect(layer="SHADE", box=Box(0, -HEADING * (0.4 + 1.5 * len(head)), width, 0))]
    for index, words in enumerate(head):
        at = Point(1.5, -HEADING * (0.95 + 1.5 * index))
        parts.append(Text(layer="TEXT", at=at, size=HEADING, bold=True, text=words))
    y = -HEADING * (0.4 + 1.5 * len(head)) - 3.0
    top = y
    for line in _lines(step, width - left):
        if isinstance(line, Text):
            parts.append(
                Text(layer=line.layer, at=Point(left + line.at.x, y - LETTERING / 2),
                     text=line.text, size=line.size, bold=line.bold)
            )  # fmt: skip
            y -= LETTERING * PITCH
        else:
            parts += placed((line,), at=Point(left, y - LETTERING / 2))
    bottom = y - 1.0
    if has_picture:
        at = Point(0, top - box.height)
        parts += placed(stage_picture(panel, step, stage, scale=scale), at=at)
        bottom = min(bottom, top - box.height)
    parts.append(Line(layer="GRID", start=Point(0, bottom - 1.5), end=Point(width, bottom - 1.5)))
    return Block(primitives=tuple(parts), height=-bottom + 1.5)


def _lines(step: Step, width: Mm) -> Iterator[Text | Polyline]:
    """Yield the words of a step; a caution has a triangle in front of it."""

    def text(words: str, indent: Mm, *, bold: bool = False, layer: str = "TEXT") -> Text:
        return Text(layer=layer, at=Point(indent, 0), text=words, size=LETTERING, bold=bold)

    for caution in step.cautions:
        yield Polyline(
            layer="ARROW", closed=True, points=(Point(0, -1.1), Point(2.6, -1.1), Point(1.3, 1.2))
        )
        for line in wrap(caution, width - 5, LETTERING, bold=True):
            yield text(line, 4.0, bold=True)
    for words in step.does:
        for number, line in enumerate(wrap(words, width - 7, LETTERING)):
            yield text(line if number else f"– {line}", 4.0 if number == 0 else 6.0)
    for words in step.why:
        for line in wrap(f"Now, because {words}.", width - 5, LETTERING):
            yield text(line, 4.0, layer="NOTE")
    yield text(SIGN, 4.0)


def _circle(cycle: tuple[str, ...]) -> tuple[str, ...]:
    """Return what can't be put in order, to stand ahead of everything else."""
    return (
        "Some steps can't be put in order, and are missing below. Each waits for the next:",
        *cycle,
        "Move one of these things, or choose a part that is screwed from outside.",
    )


def _told(paragraphs: tuple[str, ...], width: Mm, *, bold: bool = False) -> Block:
    """Return words without a step of their own."""
    parts: list[Primitive] = []
    y = -LETTERING
    for paragraph in paragraphs:
        for line in wrap(paragraph, width, LETTERING, bold=bold):
            parts.append(Text(layer="TEXT", at=Point(0, y), text=line, size=LETTERING, bold=bold))
            y -= LETTERING * PITCH
    return Block(primitives=tuple(parts), height=-y)
