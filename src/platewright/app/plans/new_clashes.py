"""A plan for a drilled plate must not put things into each other that were apart before."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from platewright.app.gather import panel_of
from platewright.app.plans.stays import is_drilled
from platewright.foundation.errors import CannotPlan
from platewright.model.finding import Finding, Verdict
from platewright.model.layout import Layout
from platewright.model.panel import Panel
from platewright.rules.registry import run_rules

_CLASHES: Final = (
    "space.rail-clash", "space.duct-overlap", "space.device-overlap", "space.on-rail",
    "space.fixing-hole", "space.keep-out", "fabrication.hole-hidden",
)  # fmt: skip


def refuse_new_clashes(panel: Panel, layout: Layout) -> None:
    """Raise ``CannotPlan`` where a plan for a drilled plate puts things into each other anew."""
    if not is_drilled(layout):
        return
    plate = {device.tag for device in panel.job.on_plate}
    stood = {tag: at for tag, at in layout.devices.items() if tag in plate}
    known = {*stood, *layout.rails, *layout.ducts}
    holes = {tag: hole for tag, hole in layout.holes.items() if hole.holds in known}
    was = panel_of(panel.job, replace(layout, devices=stood, holes=holes))
    before = {one.subject for one in _clashes(was)}
    new = [one for one in _clashes(panel) if one.subject not in before]
    if new:
        raise CannotPlan(
            f"no plate was found that fits round what is drilled: {new[0].message}",
            tuple(dict.fromkeys(one.cure for one in new)),
        )


def _clashes(panel: Panel) -> tuple[Finding, ...]:
    return tuple(f for f in run_rules(panel, _CLASHES) if f.verdict is Verdict.FAIL)
