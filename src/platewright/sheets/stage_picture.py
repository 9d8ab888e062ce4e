"""The plate at one stage of the build, small: what is on it, what this step adds or drills."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from platewright.drawing.extent import text_box
from platewright.drawing.picture import Circle, Line, Polyline, Primitive, Rect, placed
from platewright.fabricate.access import footprint
from platewright.fabricate.build_tasks import hung_on
from platewright.fabricate.stands_already import can_stand, idle_marks, left_over, stood_before
from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import Mm
from platewright.model.geometry import Box, Point
from platewright.model.layout import HoleState
from platewright.model.panel import Panel
from platewright.model.steps import Step, Work
from platewright.sheets.lettering_rules import fitted

DOT: Final[Mm] = 0.7  # radius of a hole in the picture, on paper
LETTERING: Final[Mm] = 2.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """What has been done before and with a step."""

    on_plate: frozenset[str]
    drilled: frozenset[str]
    covered: bool = False


def stages(panel: Panel, steps: tuple[Step, ...]) -> tuple[Stage, ...]:
    """Return the stage that each step begins with."""
    layout = panel.layout
    on_plate: frozenset[str] = frozenset()
    drilled = frozenset(t for t, h in layout.holes.items() if h.state is HoleState.DRILLED)
    known = frozenset({*layout.devices, *layout.rails, *layout.ducts})
    if any(step.work is Work.TAKE_OFF for step in steps):
        on_plate = can_stand(panel.job, layout, dict(hung_on(panel.job, layout)))
    found = []
    for step in steps:
        found.append(Stage(on_plate=on_plate, drilled=drilled))
        on_plate = (on_plate - frozenset(step.takes_off)) | (frozenset(step.fits) & known)
        if step.work is Work.CLEAN:
            on_plate -= known - _kept(steps)
        if step.drills and step.work is Work.DRILL and not step.drills.pilot:
            drilled |= frozenset(step.drills.holes)
    return tuple(found)


def _kept(steps: tuple[Step, ...]) -> frozenset[str]:
    """Return what may have stayed on the plate while it was drilled: all that was not taken off."""
    off = {tag for step in steps for tag in step.takes_off}
    fitted_again = {tag for step in steps for tag in step.fits}
    return frozenset(fitted_again - off) if off else frozenset()


def stage_picture(panel: Panel, step: Step, stage: Stage, *, scale: Mm) -> tuple[Primitive, ...]:
    """Return the picture, 1 mm of plate ``scale`` mm on paper, its lower left corner at (0, 0)."""
    return placed(tuple(_parts(panel, step, stage, 1 / scale)), at=Point(0, 0), scale=scale)


def _parts(panel: Panel, step: Step, stage: Stage, grown: float) -> Iterator[Primitive]:
    plate, layout = panel.job.settings.plate, panel.layout
    yield Rect(layer="PLATE", box=plate.box)
    for fixing in plate.fixing_holes:
        yield Circle(layer="GHOST", centre=fixing.centre, radius=DOT * grown)
    added = frozenset(step.fits)
    covers = step.work is Work.COVER
    for table in (layout.rails, layout.ducts, layout.devices):
        for tag in sorted(table, key=tag_order):
            if tag not in stage.on_plate | added:
                continue
            box = footprint(layout, panel.job, tag)
            off = tag in step.takes_off
            new = tag in added or (covers and tag in layout.ducts)
            yield Rect(layer="WASTE" if new else "GHOST", box=box)
            if off:
                yield from _crossed(box)
            if new or off:
                yield from _named(tag, box, grown, over_lines=off)
    if step.work is Work.TAKE_OFF:
        yield from _stood_before(panel, grown)
    if step.work is Work.WIPE_OFF:
        for mark in idle_marks(layout):
            yield from _crossed(_about(layout.holes[mark].centre, 2 * DOT * grown))
    yield from _holes(panel, step, stage, grown)


def _named(tag: str, box: Box, grown: float, *, over_lines: bool) -> Iterator[Primitive]:
    """Yield a tag in a box with room for it; lines that cross the box stop at the tag."""
    words = fitted(tag, box, LETTERING * grown)
    if words is None:
        return
    if over_lines:
        yield Rect(layer="INTERRUPT", box=text_box(words))
    yield words


def _crossed(box: Box) -> Iterator[Line]:
    corners = (Point(box.left, box.bottom), Point(box.right, box.top))
    others = (Point(box.left, box.top), Point(box.right, box.bottom))
    for start, end in (corners, others):
        yield Line(layer="RULER", start=start, end=end)


def _stood_before(panel: Panel, grown: float) -> Iterator[Primitive]:
    """Yield crossed out what may hang on left-over holes: a device where it stood, else the hole."""
    layout, reach = panel.layout, 2 * DOT * grown
    moved = stood_before(panel.job, layout)
    for tag, one in moved.items():
        yield Rect(layer="GHOST", box=one.box)
        yield from _crossed(one.box)
        yield from _named(tag, one.box, grown, over_lines=True)
    told = {hole for one in moved.values() for hole in one.holes}
    for hole in left_over(layout):
        if hole not in told:
            yield from _crossed(_about(layout.holes[hole].centre, reach))


def _about(at: Point, reach: Mm) -> Box:
    return Box(at.x - reach, at.y - reach, at.x + reach, at.y + reach)


def _holes(panel: Panel, step: Step, stage: Stage, grown: float) -> Iterator[Primitive]:
    """Yield holes made so far as rings, those of this step as dots on their way."""
    layout = panel.layout
    todo = step.drills.holes if step.drills else step.screws + step.starts
    now = frozenset(todo)
    shows_all = step.work in (Work.MARK, Work.DRILL, Work.TAP, Work.DEBURR, Work.CLEAN)
    for tag in sorted(stage.drilled - now, key=tag_order):
        if shows_all:
            yield Circle(layer="GHOST", centre=layout.holes[tag].centre, radius=DOT * grown)
    if step.drills and len(todo) > 1:
        way = tuple(layout.holes[tag].centre for tag in todo)
        yield Polyline(layer="GRID", points=way)
    for index, tag in enumerate(todo):
        centre = layout.holes[tag].centre
        yield Circle(layer="DATUM", centre=centre, radius=DOT * grown)
        if index == 0 and step.drills:
            yield Circle(layer="BALLOON-OPEN", centre=centre, radius=2.6 * DOT * grown)


def picture_size(panel: Panel, *, width: Mm, height: Mm) -> tuple[Mm, Box]:
    """Return the scale at which the plate fits, and its box on paper."""
    plate = panel.job.settings.plate
    scale = min(width / plate.width, height / plate.height)
    return scale, Box(0, 0, plate.width * scale, plate.height * scale)
