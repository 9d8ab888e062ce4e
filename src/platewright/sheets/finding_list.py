"""The findings: what is wrong, how much, by which source, and what cures it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import Final

from platewright.drawing.extent import text_box
from platewright.drawing.picture import Anchor, Circle, Line, Primitive, Rect, Text, placed
from platewright.drawing.table import Column, Quantity, Table
from platewright.drawing.table_print import PrintRow, PrintTable
from platewright.foundation.units import Mm
from platewright.model.finding import Finding, Verdict
from platewright.model.geometry import Box, Point
from platewright.model.job import DisplayUnit
from platewright.model.panel import Panel, body_box
from platewright.sheets.finding_groups import (
    WORST_FIRST,
    Groups,
    group_words,
    in_job_unit,
    in_order,
    measured_words,
    numbered,
)
from platewright.sheets.lettering_rules import fitted
from platewright.sheets.page import Leaf, list_paper
from platewright.sheets.pager import Pager
from platewright.sheets.plate_picture import ghost, plate_body
from platewright.sheets.registry import Findings, listing, sheet

LETTERING: Final[Mm] = 2.5
NEAR: Final[Mm] = 5.0
PICTURE_HEIGHT: Final[Mm] = 110.0


@listing(id="findings", title="Findings")
def finding_table(panel: Panel, findings: Findings) -> Table:
    """Return every finding, the passed ones too: they are the evidence.

    The number is that of the printed sheet and of the balloon; what passed has none.
    """
    unit = panel.job.settings.units
    numbers = {
        id(finding): number
        for number, group in enumerate(numbered(findings), start=1)
        for finding in group
    }
    return Table(
        title="Findings",
        columns=(
            Column(name="number", head="No.", quantity=Quantity.COUNT),
            Column(name="verdict", head="Verdict"),
            Column(name="rule", head="Rule"),
            Column(name="subject", head="Subject"),
            Column(name="message", head="What", wraps=True),
            Column(name="measured", head="Measured", quantity=Quantity.NUMBER),
            Column(name="limit", head="Limit", quantity=Quantity.NUMBER),
            Column(name="unit", head="Unit"),
            Column(name="source", head="Source"),
            Column(name="cure", head="Cure", wraps=True),
        ),
        rows=tuple(
            (
                numbers.get(id(finding)),
                finding.verdict.value,
                finding.rule.id,
                finding.subject,
                finding.message,
                in_job_unit(finding.measured, finding.unit, unit)[0],
                in_job_unit(finding.limit, finding.unit, unit)[0],
                in_job_unit(None, finding.unit, unit)[1],
                str(finding.source),
                finding.cure,
            )
            for finding in in_order(findings)
        ),
    )


@sheet(id="findings", title="Findings", place=60)
def finding_sheet(panel: Panel, findings: Findings) -> tuple[Leaf, ...]:
    """Return where and what: a small plate with numbered balloons, then the list."""
    pager = Pager(list_paper(panel.job.settings))
    ordered = in_order(findings)
    told = numbered(findings)
    counts = Counter(finding.verdict for finding in findings)
    pager.paragraph(
        ", ".join(f"{counts[verdict]} {_words(verdict)}" for verdict in WORST_FIRST), bold=True
    )
    if not findings:
        pager.paragraph("Nothing was checked.", bold=True)
        return pager.leaves()
    if any(finding.place for group in told for finding in group):
        pager.picture(_plate_with_balloons(panel, told, pager.space.width))
    if told:
        pager.table(_printed(told, panel.job.settings.units))
    passed = _passed(ordered)
    if passed.rows:
        pager.heading("What was checked and found in order")
        pager.table(passed)
    return pager.leaves()


def _words(verdict: Verdict) -> str:
    return {
        Verdict.FAIL: "FAIL",
        Verdict.CAUTION: "CAUTION",
        Verdict.UNDECIDED: "UNDECIDED",
        Verdict.PASS: "passed",
        Verdict.NOT_APPLICABLE: "had nothing to look at",
    }[verdict]


def _printed(told: Groups, unit: DisplayUnit) -> PrintTable:
    rows = []
    for number, group in enumerate(told, start=1):
        first = group[0]
        measured, limit = measured_words(group, unit)
        rows.append(
            PrintRow(
                cells=(
                    str(number),
                    first.verdict.value,
                    first.subject if len(group) == 1 else f"{len(group)} of them",
                    "\n".join(group_words(group)),
                    measured,
                    limit,
                )
            )
        )
    return PrintTable(
        heads=("No.", "Verdict", "Subject", "What, and what cures it", "Measured", "Limit"),
        to_right=(True, False, False, False, True, True),
        wraps=(False, False, False, True, False, False),
        rows=tuple(rows),
    )


def _passed(ordered: tuple[Finding, ...]) -> PrintTable:
    """Return how often each rule passed, and which found nothing to look at."""
    titles = {finding.rule.id: finding.rule.title for finding in ordered}
    passed = Counter(f.rule.id for f in ordered if f.verdict is Verdict.PASS)
    idle = {f.rule.id for f in ordered if f.verdict is Verdict.NOT_APPLICABLE}
    rows = [
        PrintRow(cells=(rule, titles[rule], str(passed[rule]) if passed[rule] else "none there"))
        for rule in sorted(titles)
        if passed[rule] or rule in idle
    ]
    return PrintTable(
        heads=("Rule", "What it asks", "Passed"),
        to_right=(False, False, True),
        wraps=(False, True, False),
        rows=tuple(rows),
    )


def _plate_with_balloons(panel: Panel, told: Groups, width: Mm) -> tuple[Primitive, ...]:
    """Return the plate in outline with a numbered balloon at each finding's place."""
    plate = panel.job.settings.plate
    scale = min((width - 20) / plate.width, PICTURE_HEIGHT / plate.height)
    lettering = LETTERING / scale
    body = tuple(plate_body(panel, lettering=lettering))
    parts: list[Primitive] = [part for part in body if part.layer == "PLATE"]
    parts += ghost(part for part in body if part.layer != "PLATE")
    balloons = tuple(_balloons(told, lettering))
    hidden = [
        Box(
            p.centre.x - p.radius,
            p.centre.y - p.radius,
            p.centre.x + p.radius,
            p.centre.y + p.radius,
        )
        for p in balloons
        if isinstance(p, Circle)
    ]
    for tag, at in panel.layout.devices.items():
        outline = body_box(panel.job.part_of(tag), at)
        text = fitted(tag, outline, lettering, layer="GHOST-TAG")
        if text is not None and not any(text_box(text).overlaps(box) for box in hidden):
            parts.append(text)
    parts += balloons
    return placed(parts, at=Point(0, 0), scale=scale)


def _balloons(told: Groups, lettering: Mm) -> Iterator[Primitive]:
    """Yield the places, then leaders, then balloons, so that nothing hides a number."""
    radius = (1.0 if len(told) < 10 else 1.25) * lettering  # two figures fit
    boxes = [
        (number, box)
        for number, group in enumerate(told, start=1)
        for box in _joined([finding.place for finding in group if finding.place is not None])
    ]
    for _, box in boxes:
        yield Rect(layer="COVER", box=box)
    balloons: list[tuple[int, Point]] = []
    for number, box in boxes:
        centre = _free_centre(box, [point for _, point in balloons], 2.1 * radius)
        balloons.append((number, centre))
        if not box.contains(centre):
            yield Line(layer="TAG", start=box.centre, end=centre)
            yield Circle(layer="DATUM", centre=box.centre, radius=0.16 * lettering)
    for number, centre in balloons:
        fails = told[number - 1][0].verdict is Verdict.FAIL
        yield Circle(layer="BALLOON-FAIL" if fails else "BALLOON", centre=centre, radius=radius)
        yield Text(
            layer="BALLOON-LIGHT" if fails else "TAG",
            at=centre,
            text=str(number),
            size=lettering,
            anchor=Anchor.CENTRE,
            bold=fails,
        )


def _joined(boxes: list[Box]) -> list[Box]:
    """Return places with those that touch or nearly touch made one: they share a balloon."""
    joined: list[Box] = []
    for box in sorted(boxes, key=lambda box: (box.bottom, box.left)):
        for index, other in enumerate(joined):
            if min(other.overlap(box)) > -NEAR:
                joined[index] = other.union(box)
                break
        else:
            joined.append(box)
    return joined


def _free_centre(place: Box, taken: list[Point], apart: Mm) -> Point:
    """Return a centre near the place that is clear of the balloons before it."""
    start = place.centre
    ring = 0
    while True:
        for dx in range(-ring, ring + 1):
            for dy in range(-ring, ring + 1):
                if max(abs(dx), abs(dy)) != ring:
                    continue
                point = Point(start.x + dx * apart, start.y + dy * apart)
                if all(
                    (point.x - other.x) ** 2 + (point.y - other.y) ** 2 >= (0.99 * apart) ** 2
                    for other in taken
                ):
                    return point
        ring += 1
