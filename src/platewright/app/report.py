"""Totals and findings in the form that programs read."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from platewright.foundation.units import MM_PER_M
from platewright.model.finding import Finding, Verdict
from platewright.model.geometry import Box
from platewright.model.panel import Panel, body_box


def used_box(panel: Panel) -> Box | None:
    """Return the box round all that stands on the plate; ``None`` when nothing does."""
    boxes = [d.box for d in panel.layout.ducts.values()]
    boxes += [body_box(panel.job.part_of(t), at) for t, at in panel.layout.devices.items()]
    if not boxes:
        return None
    around = boxes[0]
    for box in boxes[1:]:
        around = around.union(box)
    return around


def totals(panel: Panel) -> dict[str, Any]:
    """Return the panel's totals: wire, duct and rail in metres, shares, counts."""
    layout, plate = panel.layout, panel.job.settings.plate
    used = used_box(panel)
    area = used.width * used.height / (plate.width * plate.height) if used else 0.0
    return {
        "devices": len(panel.job.on_plate),
        "placed": len(layout.devices),
        "wires": len(panel.job.wires),
        "wire_m": round(panel.routes.total_cut / MM_PER_M, 2),
        "plate_used": round(area, 4),
        "duct_m": round(sum(d.length for d in layout.ducts.values()) / MM_PER_M, 3),
        "rail_m": round(sum(r.length for r in layout.rails.values()) / MM_PER_M, 3),
        "holes": sum(not hole.is_idle_mark for hole in layout.holes.values()),
        "highest_fill": round(panel.routes.highest_fill, 4),
        "bars": len(panel.cuts.new_bars),
        "offcuts": len(panel.cuts.bars) - len(panel.cuts.new_bars),
        "bars_proven": panel.cuts.is_proven,
    }


def counts(findings: Iterable[Finding]) -> dict[str, int]:
    """Return how many findings there are of each verdict."""
    found = {verdict.value: 0 for verdict in Verdict}
    for finding in findings:
        found[finding.verdict.value] += 1
    return found


def finding_record(finding: Finding) -> dict[str, Any]:
    """Return a finding as plain values; ``place`` is [left, bottom, right, top] in mm."""
    p = finding.place
    return {
        "rule": finding.rule.id,
        "verdict": finding.verdict.value,
        "subject": finding.subject,
        "measured": finding.measured,
        "limit": finding.limit,
        "unit": finding.unit,
        "source": str(finding.source),
        "message": finding.message,
        "cure": finding.cure,
        "place": None if p is None else [p.left, p.bottom, p.right, p.top],
    }


def fail_words(number: int) -> str:
    """Return that so many findings FAIL."""
    return "1 finding FAILs" if number == 1 else f"{number} findings FAIL"


def any_failed(findings: Iterable[Finding]) -> bool:
    """Tell whether any finding is a FAIL."""
    return any(f.verdict is Verdict.FAIL for f in findings)
