"""Check a job folder: read it, work out what follows, judge it."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from platewright.app.gather import panel_of
from platewright.jobfile.folder import read_job_with_notes
from platewright.jobfile.layout_file import read_layout_with_notes
from platewright.model.finding import Finding
from platewright.model.job import Job
from platewright.model.layout import Layout
from platewright.model.panel import Panel
from platewright.rules.registry import run_rules


@dataclass(frozen=True, slots=True)
class JobAsRead:
    """A job folder as read, and what the user should be told about reading it."""

    job: Job
    layout: Layout
    notes: tuple[str, ...]
    dropped: Layout = field(default_factory=Layout)  # of the layout, unknown to the lists


@dataclass(frozen=True, slots=True)
class Checked:
    """A panel and everything the rules find."""

    panel: Panel
    findings: tuple[Finding, ...]
    notes: tuple[str, ...]


def read_folder(folder: Path) -> JobAsRead:
    """Return job and layout of a folder. Raises ``InputErrors`` when it can't be used."""
    job = read_job_with_notes(folder)
    layout = read_layout_with_notes(folder, job.job)
    return JobAsRead(job.job, layout.layout, job.notes + layout.notes, layout.dropped)


def check_folder(folder: Path) -> Checked:
    """Return the panel of a job folder and everything the rules find."""
    read = read_folder(folder)
    panel = panel_of(read.job, read.layout)
    return Checked(panel, run_rules(panel), read.notes)
