"""Plan a job folder: read it, plan it, write ``layout.toml``, judge what came out."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from platewright.app.check import read_folder
from platewright.app.plan import Budget, Planned, Progress, plan
from platewright.jobfile.layout_file import write_layout
from platewright.model.finding import Finding
from platewright.model.panel import Panel
from platewright.rules.registry import run_rules


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedFolder:
    """A planned folder: the plan, the panel that was written, and what the checks say of it."""

    planned: Planned
    panel: Panel
    findings: tuple[Finding, ...]
    baseline_findings: tuple[Finding, ...]
    notes: tuple[str, ...]


def plan_folder(
    folder: Path, *, seed: int, budget: Budget, baseline: bool, progress: Progress
) -> PlannedFolder:
    """Plan a job folder and write its layout: the plan, or with ``baseline`` the list-order one.

    Raises ``InputErrors`` when the folder can't be used and ``CannotPlan`` when nothing fits; then
    nothing is written.
    """
    read = read_folder(folder)
    planned = plan(read.job, read.layout, seed=seed, budget=budget, progress=progress)
    panel = planned.baseline if baseline else planned.panel
    findings = run_rules(planned.panel)
    baseline_findings = run_rules(planned.baseline)
    write_layout(folder, panel.layout)
    return PlannedFolder(
        planned=planned, panel=panel,
        findings=baseline_findings if baseline else findings,
        baseline_findings=baseline_findings,
        notes=read.notes,
    )  # fmt: skip
