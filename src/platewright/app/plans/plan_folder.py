"""Plan a job folder: read it, plan it, write ``layout.toml``, judge what came out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

from platewright.app.check import JobAsRead, read_folder
from platewright.app.gather import panel_of
from platewright.app.plans.bench_changes import bench_changes
from platewright.app.plans.must_come_off import NewHole, new_holes
from platewright.app.plans.plan import Budget, Planned, Progress
from platewright.app.plans.plan_or_explain import plan_or_explain
from platewright.app.plans.size import DEFAULT_MOVES, shop_list, size
from platewright.app.plans.stays import is_drilled
from platewright.app.plans.weighing import weighed_by
from platewright.app.plans.worth import Worth, worth_of
from platewright.foundation.errors import CannotPlan
from platewright.jobfile.enclosures import read_enclosures
from platewright.jobfile.layout_file import write_layout
from platewright.model.finding import Finding
from platewright.model.job import Job
from platewright.model.layout import Layout
from platewright.model.panel import Panel
from platewright.rules.registry import run_rules

LIST_ORDER: Final = "list order"
AS_IT_WAS: Final = "as it was"
NOW: Final = "now"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedFolder:
    """A planned folder: the plan, the panel that was written, and what the checks say of it."""

    planned: Planned
    panel: Panel
    findings: tuple[Finding, ...]
    baseline_findings: tuple[Finding, ...]
    notes: tuple[str, ...]
    changes: tuple[str, ...]  # what the bench must do anew, once holes are drilled
    new_holes: tuple[NewHole, ...]  # once holes are drilled, with what must come off for each
    worths: Mapping[str, Worth]  # list order, as it was (where all devices stood), now


def plan_folder(
    folder: Path, *, seed: int, budget: Budget, baseline: bool, progress: Progress,
    by_preset: str = "",
) -> PlannedFolder:  # fmt: skip
    """Plan a job folder and write its layout: the plan, or with ``baseline`` the list-order one.

    ``by_preset``: plan by the weights of this preset, whatever ``job.toml`` says.

    Raises ``InputErrors`` when the folder can't be used and ``CannotPlan`` when nothing fits; then
    nothing is written.
    """
    read = read_folder(folder)
    if by_preset:
        read = replace(read, job=weighed_by(read.job, by_preset))
    # planned holes of devices that are gone: no other hole may come by their tags
    former = replace(read.layout, holes={**read.dropped.holes, **read.layout.holes})
    try:
        planned = plan_or_explain(read.job, former, seed=seed, budget=budget, progress=progress)
    except CannotPlan as cannot:
        raise _with_next_size(cannot, folder, read.job, read.layout, seed) from cannot
    panel = planned.baseline if baseline else planned.panel
    findings = run_rules(planned.panel)
    baseline_findings = run_rules(planned.baseline)
    write_layout(folder, panel.layout)
    return PlannedFolder(
        planned=planned, panel=panel,
        findings=baseline_findings if baseline else findings,
        baseline_findings=baseline_findings,
        notes=read.notes,
        changes=tuple(bench_changes(read.job, read.layout, read.dropped, panel.layout)),
        new_holes=new_holes(read.job, read.layout, panel.layout),
        worths=worths_of(read, planned, panel),
    )  # fmt: skip


def _with_next_size(
    cannot: CannotPlan, folder: Path, job: Job, layout: Layout, seed: int
) -> CannotPlan:
    """Return the refusal with the smallest enclosure of the shop's list that was found to do."""
    path = shop_list(folder, job)
    if path is None or is_drilled(layout):  # a larger plate would be drilled anew, from the start
        return cannot
    sized = size(
        job, read_enclosures(path), seed=seed, moves=DEFAULT_MOVES, every=False,
        progress=lambda _share, _text: True,
    )  # fmt: skip
    if sized.smallest is None:
        return CannotPlan(f"{cannot.problem}. Nor in any enclosure of {path.name}", cannot.cures)
    one = sized.smallest
    cure = f"enclosure {one.name} (plate {one.plate_width:g} × {one.plate_height:g} mm), planned"
    return CannotPlan(cannot.problem, (*cannot.cures, cure))


def worths_of(read: JobAsRead, planned: Planned, now: Panel) -> Mapping[str, Worth]:
    """Return what the plate is worth now, beside the baseline and the plate that was there."""
    found = {LIST_ORDER: worth_of(planned.baseline)}
    if all(device.tag in read.layout.devices for device in read.job.on_plate):
        found[AS_IT_WAS] = worth_of(panel_of(read.job, read.layout))
    return {**found, NOW: worth_of(now)}
