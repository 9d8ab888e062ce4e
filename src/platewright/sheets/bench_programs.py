"""Programs for a machine: mark, drill, tap, each with a dry run beside it."""

from __future__ import annotations

from math import ceil
from typing import Final

from platewright.drawing.rs274 import Heights, Run, write_program
from platewright.fabricate.cutting import cut_of
from platewright.fabricate.solvers.bench_work import passes_of
from platewright.fabricate.step_words import pass_name
from platewright.foundation.units import Mm
from platewright.model.finding import Verdict
from platewright.model.panel import Panel
from platewright.model.steps import Pass, Work
from platewright.sheets.registry import Findings
from platewright.tables.threads import thread
from platewright.tables.tools import tool

NAMES: Final = {Work.MARK: "mark", Work.DRILL: "drill", Work.TAP: "tap"}


def programs(panel: Panel, findings: Findings) -> dict[str, bytes]:
    """Return file names and programs.

    Every one is always made, if with no hole in it: an old one left in the folder would be run.
    """
    passes = passes_of(panel.job, panel.layout)
    heights = Heights(safe=tool("safe height"), retract=tool("retract"), dry=tool("dry height"))
    fails = sum(finding.verdict is Verdict.FAIL for finding in findings)
    warnings = (f"NOT TO BUILD: {fails} FINDINGS FAIL",) if fails else ()
    files = {}
    for work, name in NAMES.items():
        chosen = [one for one in passes if one.work is work]
        runs = [_run(panel, one) for one in chosen]
        title = f"{panel.job.settings.job.number} {panel.job.settings.job.title}: {name}".strip()
        notes = (*warnings, *_notes(panel, runs))
        for dry in (False, True):
            files[f"{name}{'-dry-run' if dry else ''}.ngc"] = write_program(
                runs, title=title, heights=heights, notes=notes, dry=dry
            )
    return files


def _run(panel: Panel, one: Pass) -> Run:
    cut = cut_of(one, panel.job.settings.plate)
    size = thread(one.size) if one.work is Work.TAP else None
    return Run(
        title=pass_name(one, panel.job.settings.units),
        spindle=cut.spindle,
        feed=cut.feed,
        depth=cut.depth,
        holes=tuple((tag, panel.layout.holes[tag].centre) for tag in one.holes),
        pitch=size.pitch if size else None,
    )


def _notes(panel: Panel, runs: list[Run]) -> tuple[str, ...]:
    plate = panel.job.settings.plate
    if not runs:
        return ("NOTHING TO DO: NO HOLE IS LEFT FOR THIS PROGRAM",)
    deepest = max(run.depth for run in runs)
    return (
        f"REVISION {panel.job.settings.job.revision or '-'}",
        f"PLATE {plate.width:g} x {plate.height:g} x {plate.thickness:g} MM {plate.material}",
        "X0 Y0: LOWER LEFT CORNER, SEEN FROM THE FRONT. Z0: FACE OF THE PLATE",
        f"BARE PLATE, CLAMPED FLAT, {_below(deepest - plate.thickness)}",
        f"CLAMPS LOWER THAN {tool('dry height'):g} MM AND CLEAR OF EVERY HOLE",
        "RUN THE DRY RUN FIRST. SPEEDS FOR HIGH-SPEED STEEL: LOWER THEM FOR A LIGHT MACHINE",
        "CONTROLS DIFFER: READ THE PROGRAM BEFORE IT RUNS. NOT PROVEN ON YOUR MACHINE",
    )


def _below(through: Mm) -> str:
    """Return the room a program needs behind the plate: rounded up, a tool runs through so far."""
    if through <= 0:
        return "NO ROOM NEEDED BELOW: NOTHING GOES THROUGH"
    room = ceil(round(through * 10, 6)) / 10
    return f"{room:.1f} MM FREE BELOW ITS BACK UNDER EVERY HOLE"
