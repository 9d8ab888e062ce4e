"""A device that comes to stand a little beside drilled holes that would serve it is put on them.

The search packs to whole millimetres and knows no holes; a new hole a millimetre beside an old
one cannot be drilled.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from math import hypot
from typing import Final

from platewright.app.gather import panel_of
from platewright.fabricate.slots import FOOT_OFF
from platewright.fabricate.solvers.place_holes import place_holes, same_size
from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import Mm
from platewright.model.finding import Verdict
from platewright.model.job import Job
from platewright.model.layout import Hole, HoleState, Layout, Placement
from platewright.model.panel import hole_offsets
from platewright.rules.registry import run_rules

_NEAR: Final[Mm] = 6.0  # two holes nearer than this hardly leave a web between them
_JUDGED: Final = (
    "space", "fabrication.hole-spacing", "fabrication.hole-hidden", "fabrication.holes-of-device",
)  # fmt: skip


def on_near_holes(job: Job, layout: Layout, former: Mapping[str, Hole]) -> Layout:
    """Return a planned layout, holes placed, with devices put on drilled holes close by.

    ``former``: the holes before the plan, by which tags are given. Only where nothing else gets
    worse by it.
    """
    for tag in sorted(layout.devices, key=tag_order):
        for at in _places(job, layout, tag):
            devices = {**layout.devices, tag: at}
            moved = place_holes(job, replace(layout, devices=devices, holes=former))
            old, new = _faults(job, layout), _faults(job, moved)
            if new[0] <= old[0] and new < old:
                layout = moved
                break
    return layout


def _places(job: Job, layout: Layout, tag: str) -> Iterator[Placement]:
    """Yield places with a foot on an idle drilled hole of its size, the nearest first.

    Its own holes, too, where they lie farther off than the screws go in.
    """
    part, at = job.part_of(tag), layout.devices[tag]
    if part.screw is None or at.locked:
        return
    shifts = {
        ((round(hole.x - at.x - foot.x, 3), round(hole.y - at.y - foot.y, 3)), hole.holds)
        for hole in layout.holes.values()
        if hole.state is HoleState.DRILLED and hole.holds in ("", tag)
        and same_size(hole, part.screw)
        for foot in hole_offsets(part)
    }  # fmt: skip
    near = {
        shift for shift, holds in shifts if (FOOT_OFF if holds else 0.0) < hypot(*shift) <= _NEAR
    }
    for dx, dy in sorted(near, key=lambda shift: (hypot(*shift), shift)):
        yield replace(at, x=at.x + dx, y=at.y + dy)


def _faults(job: Job, layout: Layout) -> tuple[tuple[int, int], int, int]:
    """Return how much is wrong: in space (FAIL, CAUTION), at holes, and holes still to drill."""
    found = run_rules(panel_of(job, layout), _JUDGED)
    space = [one.verdict for one in found if one.rule.id.startswith("space.")]
    fails = sum(one.verdict is Verdict.FAIL for one in found)
    to_drill = sum(hole.is_to_drill for hole in layout.holes.values())
    return (space.count(Verdict.FAIL), space.count(Verdict.CAUTION)), fails, to_drill
