"""A device that would be screwed close beside drilled holes is put a little aside of them.

The search packs to whole millimetres and knows no holes: where the old ones do not serve a device,
a new hole a few millimetres beside one leaves hardly a web between them.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import islice, product
from math import hypot
from typing import Final

from platewright.app.gather import panel_of
from platewright.fabricate.solvers.place_holes import place_holes
from platewright.foundation.tag_order import tag_order
from platewright.model.finding import Verdict
from platewright.model.job import Job
from platewright.model.layout import Hole, HoleState, Layout, Placement
from platewright.model.panel import body_box, envelope_box, hole_offsets
from platewright.rules.registry import run_rules
from platewright.tables.hole_spacing import hole_spacing

_FAR: Final = 16  # mm: farther aside another place would rather be looked for
_TRIED: Final = 6  # places judged by all rules, the nearest first: each takes its time
_SPACING: Final = "fabrication.hole-spacing"


def off_old_holes(job: Job, layout: Layout, former: Mapping[str, Hole]) -> Layout:
    """Return a planned layout, holes placed, with devices moved aside of drilled holes.

    ``former``: the holes before the plan, by which tags are given. Only where the new holes then
    keep apart better and nothing else gets worse.
    """
    now: Counter[str] | None = None
    for tag in sorted(layout.devices, key=tag_order):
        for at in list(islice(_places(job, layout, tag), _TRIED)):
            now = now or _faults(job, layout)
            devices = {**layout.devices, tag: at}
            moved = place_holes(job, replace(layout, devices=devices, holes=former))
            then = _faults(job, moved)
            if then[_SPACING] < now[_SPACING] and all(then[what] <= now[what] for what in then):
                layout, now = moved, then
                break
    return layout


def _faults(job: Job, layout: Layout) -> Counter[str]:
    """Return how many findings there are of each verdict that is no pass, and of hole spacing."""
    found = run_rules(panel_of(job, layout))
    bad = [one for one in found if one.verdict not in {Verdict.PASS, Verdict.NOT_APPLICABLE}]
    counted = Counter(str(one.verdict) for one in bad)
    counted[_SPACING] = sum(one.rule.id == _SPACING for one in bad)
    counted["to drill"] = sum(hole.is_to_drill for hole in layout.holes.values())
    return counted


def _places(job: Job, layout: Layout, tag: str) -> Iterator[Placement]:
    """Yield places aside at which every foot is far enough from all holes, the nearest first.

    None where a hole is drilled for the device, or where its feet are far enough as it stands.
    """
    part, at = job.part_of(tag), layout.devices[tag]
    own = [hole for hole in layout.holes.values() if hole.holds == tag]
    drilled = [hole for hole in layout.holes.values() if hole.state is HoleState.DRILLED]
    if at.locked or not own or not drilled or any(h.state is HoleState.DRILLED for h in own):
        return
    others = [hole for hole in layout.holes.values() if hole.holds != tag]
    feet, drill = hole_offsets(part), max(hole.drill for hole in own)
    thick, spacing = job.settings.plate.thickness, hole_spacing()

    def is_near(at: Placement, holes: list[Hole]) -> bool:
        return any(
            hypot(hole.x - at.x - foot.x, hole.y - at.y - foot.y)
            <= spacing.apart(drill, hole.drill, thick)
            for foot in feet
            for hole in holes
        )

    if not is_near(at, drilled):
        return
    steps = range(-_FAR, _FAR + 1)
    for dx, dy in sorted(product(steps, steps), key=lambda by: (hypot(*by), by)):
        aside = replace(at, x=round(at.x + dx, 3), y=round(at.y + dy, 3))
        if hypot(dx, dy) <= _FAR and not is_near(aside, others) and _is_free(
            job, layout, tag, aside
        ):  # fmt: skip
            yield aside


def _is_free(job: Job, layout: Layout, tag: str, at: Placement) -> bool:
    """Tell whether a device overlaps no other there and no duct: the cheap part of the rules."""
    part = job.part_of(tag)
    box, body = envelope_box(part, at), body_box(part, at)
    return not any(
        box.overlaps(envelope_box(job.part_of(other), place))
        for other, place in layout.devices.items()
        if other != tag
    ) and not any(body.overlaps(duct.box) for duct in layout.ducts.values())
