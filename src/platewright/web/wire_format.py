"""Records -> what goes over the wire to the page. Spelled out here and, for heat, in wire_heat.

Lengths are mm in plate coordinates (origin lower left, y up), as everywhere.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict
from typing import Any, Final, TypeAlias

from platewright.app.beside.comparing import Compared
from platewright.app.beside.planning import Candidate, Progress, differences
from platewright.app.editing.session import Session, Snapshot
from platewright.app.live.checked import Checked
from platewright.app.live.drag import Frame
from platewright.app.plans.worth import known_measures, text_of, value_of, words_of
from platewright.app.report import counts, finding_record, totals
from platewright.foundation.errors import InputError
from platewright.foundation.units import MM_PER_INCH
from platewright.model.finding import Finding, Verdict
from platewright.model.geometry import Box
from platewright.model.job import DisplayUnit, Job
from platewright.model.layout import Layout, Rail
from platewright.model.panel import Panel, hole_offsets
from platewright.rules.placed import carries, placed_devices, rail_box, rail_size
from platewright.rules.rows import rows_of
from platewright.tables.presets import presets

Json: TypeAlias = dict[str, Any]
TOLD: Final = (Verdict.FAIL, Verdict.CAUTION, Verdict.UNDECIDED)


def box_list(box: Box) -> list[float]:
    """Return left, bottom, right, top."""
    return [box.left, box.bottom, box.right, box.top]


def job_record(job: Job) -> Json:
    """Return what does not change while things are moved."""
    settings = job.settings
    plate, enclosure = settings.plate, settings.enclosure
    inch = settings.units is DisplayUnit.INCH
    return {
        "title": asdict(settings.job),
        "unit": {
            "name": "in" if inch else "mm",
            "per_mm": 1 / MM_PER_INCH if inch else 1.0,
            "decimals": 3 if inch else 1,
        },
        "plate": {
            "width": plate.width,
            "height": plate.height,
            "thickness": plate.thickness,
            "material": plate.material,
            "margin": plate.edge_margin,
            "fixings": [[h.x, h.y, h.keep_out] for h in plate.fixing_holes],
            "keep_outs": [[*box_list(k.box), k.reason] for k in plate.keep_outs],
        },
        "door": enclosure.door_inside,
        "groups": [{"name": g.name, "title": g.title} for g in settings.groups],
        "stock": [{"name": s.name, "width": s.width, "height": s.height, "cover": s.cover_height}
                  for s in settings.stock.ducts],
        "presets": [[p.name, p.title] for p in presets()],
        "preset": settings.preset,
        "devices": {tag: device_record(job, tag) for tag in job.devices},
    }  # fmt: skip


def device_record(job: Job, tag: str) -> Json:
    """Return size, covers and words of a device."""
    device, part = job.devices[tag], job.part_of(tag)
    return {
        "part": part.part,
        "kind": part.kind,
        "what": device.function or part.description or part.part,
        "group": list(device.group),
        "place": device.place.value,
        "at_door": None if device.door_x is None else [device.door_x, device.door_y],
        "width": part.width,
        "height": part.height,
        "depth": part.depth,
        "reach": part.depth + (part.cover_front or 0.0),
        "covers": [part.cover_left or 0.0, part.cover_bottom or 0.0,
                   part.cover_right or 0.0, part.cover_top or 0.0],
        "axis": part.rail_center if part.mount.value == "rail" else None,
        "holes": [[p.x, p.y] for p in hole_offsets(part)],
        "heat": part.heat,
        "mass": part.mass,
    }  # fmt: skip


def layout_record(layout: Layout) -> Json:
    """Return where everything stands."""
    return {
        "devices": {t: {"x": a.x, "y": a.y, "locked": a.locked} for t, a in layout.devices.items()},
        "ducts": {t: {**asdict(d), "box": box_list(d.box)} for t, d in layout.ducts.items()},
        "rails": {t: _rail(r) for t, r in layout.rails.items()},
        "holes": {t: asdict(h) for t, h in layout.holes.items()},
    }


def _rail(rail: Rail) -> Json:
    size = rail_size(rail.profile)
    return {
        **asdict(rail),
        "box": box_list(rail_box(rail)),
        "rise": size[1] if size else 0.0,
    }


def clear_record(panel: Panel) -> Json:
    """Return the clear space per device: left, bottom, right, top, and whether all is stated."""
    return {
        tag: [*(n.room for n in needs), all(n.stated for n in needs)]
        for tag, room in panel.clear.items()
        for needs in [(room.left, room.bottom, room.right, room.top)]
    }


def rows_record(panel: Panel) -> list[Json]:
    """Return the rows from the top down: their devices and the rails under them."""
    rows = []
    for row in rows_of(placed_devices(panel)):
        rails = [
            tag
            for tag, rail in panel.layout.rails.items()
            if any(carries(rail, one) for one in row.devices)
        ]
        rows.append({"name": row.name, "tags": [*(one.tag for one in row.devices), *rails]})
    return rows


def checked_record(done: Checked) -> Json:
    """Return what follows from the layout: findings worst first, totals, fill."""
    panel = done.panel
    return {
        "revision": done.revision,
        "findings": findings_record(done.findings, TOLD),
        "rules": {f.rule.id: [f.rule.title, f.rule.why] for f in done.findings},
        "counts": counts(done.findings),
        "totals": totals(panel),
        "fill": {tag: load.fill for tag, load in panel.routes.loads.items()},
        "clear": clear_record(panel),
        "rows": rows_record(panel),
    }


def findings_record(findings: Iterable[Finding], verdicts: tuple[Verdict, ...]) -> list[Json]:
    """Return findings by number."""
    told = [f for f in findings if f.verdict in verdicts]
    return [
        {"number": number, "headline": f.headline, **finding_record(f)}
        for number, f in enumerate(told, start=1)
    ]


def state_record(session: Session, now: Snapshot) -> Json:
    """Return what an edit changes at once."""
    return {
        "revision": now.revision,
        "layout": layout_record(now.layout),
        "undo": session.undo_label,
        "redo": session.redo_label,
        "faults": [fault_record(fault) for fault in session.faults],
        "notices": list(session.notices),
    }


def fault_record(fault: InputError) -> Json:
    """Return one fault of a file in the one shape of all errors, with its place."""
    return {
        "problem": fault.problem,
        "where": str(fault).split(": ", 1)[0],
        "cure": fault.cure,
        "file": fault.file,
        "row": fault.row,
        "field": fault.field,
        "value": fault.value,
    }


def frame_record(frame: Frame) -> Json:
    """Return one moment of a drag."""
    wires = frame.wires
    return {
        "clashes": [asdict(clash) for clash in frame.clashes],
        "gaps": [asdict(gap) for gap in frame.gaps],
        "wires": None if wires is None else {
            "cut": wires.cut, "unrouted": wires.unrouted, "fill": dict(wires.fill)
        },
    }  # fmt: skip


def wires_record(panel: Panel) -> list[Json]:
    """Return every wire with its way."""
    return [
        {
            "number": wire.number,
            "from": str(wire.start),
            "to": str(wire.end),
            "size": str(wire.size),
            "colour": wire.colour,
            "group": wire.group,
            "cut": route.cut,
            "problem": route.problem,
            "path": [[p.x, p.y] for p in route.path],
        }
        for wire in panel.job.wires
        for route in [panel.routes.wires[wire.number]]
    ]


def candidate_record(candidate: Candidate | None) -> Json | None:
    """Return a plate beside others."""
    if candidate is None:
        return None
    return {"counts": dict(candidate.counts), "totals": dict(candidate.totals)}


def worth_rows(before: Candidate, best: Candidate, unit: DisplayUnit) -> list[Json]:
    """Return what two plates are worth, a line a measure; ``better``: the second has less."""
    if before.worth is None or best.worth is None:
        return []
    rows = []
    for measure in known_measures((before.worth, best.worth)):
        old, new = value_of(before.worth, measure), value_of(best.worth, measure)
        texts = [text_of(worth, measure, unit) for worth in (before.worth, best.worth)]
        known = measure.is_aim and old is not None and new is not None and texts[0] != texts[1]
        better = None if not known or old is None or new is None else new < old
        rows.append({"words": words_of(measure, unit), "values": texts, "better": better})
    return rows


def compared_record(compared: Compared) -> Json:
    """Return how far a comparison is, and its plates."""
    return {
        "share": compared.share,
        "text": compared.text,
        "ended": compared.ended,
        "problem": compared.problem,
        "plates": [
            {"name": p.name, "title": p.title, "remarks": list(p.remarks), "fails": p.fails,
             "layout": layout_record(p.layout)}
            for p in compared.plates
        ],
        "lines": [asdict(line) for line in compared.lines],
        "failed": dict(compared.failed or {}),
    }  # fmt: skip


def progress_record(
    progress: Progress, *, with_layout: bool, unit: DisplayUnit = DisplayUnit.MM
) -> Json:
    """Return how far a plan is."""
    best, before = progress.best, progress.before
    return {
        "how": progress.how.value,
        "share": progress.share,
        "text": progress.text,
        "before": candidate_record(before),
        "best": candidate_record(best),
        "layout": layout_record(best.layout) if best and with_layout else None,
        "trying": layout_record(progress.trying) if progress.trying else None,
        "worth": worth_rows(before, best, unit) if best else [],
        "differences": dict(differences(before.layout, best.layout)) if best else {},
        "ended": progress.ended,
        "problem": progress.problem,
        "cures": list(progress.cures),
    }
