"""Check a job folder: read it, work out what follows, judge it."""

from __future__ import annotations

from pathlib import Path

from platewright.app.gather import panel_of
from platewright.jobfile.folder import read_job
from platewright.jobfile.layout_file import read_layout
from platewright.model.finding import Finding
from platewright.model.panel import Panel
from platewright.rules.registry import run_rules


def read_panel(folder: Path) -> Panel:
    """Return the panel of a job folder. Raises ``InputErrors`` when it can't be used."""
    job = read_job(folder)
    return panel_of(job, read_layout(folder, job))


def check_folder(folder: Path) -> tuple[Panel, tuple[Finding, ...]]:
    """Return the panel of a job folder and everything the rules find."""
    panel = read_panel(folder)
    return panel, run_rules(panel)
