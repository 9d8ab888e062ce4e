"""Compare a job's plate with another revision of it: a drawing, a list, words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Final

from platewright.app.check import read_folder
from platewright.app.gather import panel_of
from platewright.drawing.pdf import write_pdf
from platewright.drawing.spreadsheet import write_csv
from platewright.drawing.svg import write_svg
from platewright.drawing.table import file_heads, file_rows
from platewright.foundation.errors import InputError, InputErrors
from platewright.jobfile.atomic import save
from platewright.jobfile.layout_file import FILE as LAYOUT
from platewright.jobfile.layout_file import parse_layout
from platewright.model.device import Device, Place
from platewright.model.finding import Verdict
from platewright.model.job import Job
from platewright.model.layout import Placement
from platewright.model.panel import Panel
from platewright.rules.registry import run_rules
from platewright.sheets.changed_lists import Change
from platewright.sheets.revision import change_table, changes, revision_pages

NAME = "changes"
ONLY_A_LAYOUT: Final = (
    "the earlier plate is known by its layout alone: wires and door are not compared. Name a copy "
    "of its whole job folder for these"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """What differs, and the files that show it."""

    found: tuple[Change, ...]
    fails: int  # findings of the newer plate that FAIL
    files: tuple[Path, ...]
    notes: tuple[str, ...]


def compare_revisions(folder: Path, other: Path, out: Path | None = None) -> Compared:
    """Compare a job with an earlier layout of it: a ``layout.toml``, or a job folder.

    Writes ``changes.pdf``, its pages as SVG and ``changes.csv`` into ``out``.
    """
    now = read_folder(folder)
    after = panel_of(now.job, now.layout)
    earlier = _other(other, after)
    names = (other.name or other.resolve().name, after.job.settings.job.revision or str(folder))
    found = changes(earlier.panel, after, lost=earlier.lost)
    findings = run_rules(after)
    pages = revision_pages(earlier.panel, after, names=names, found=found, findings=findings)
    title = after.job.settings.job
    files = {f"{NAME}.pdf": write_pdf(pages, title=f"{title.title}: {NAME}", author=title.owner)}
    for number, page in enumerate(pages, start=1):
        files[f"{NAME}-{number}.svg"] = write_svg(page)
    table, unit = change_table(found), after.job.settings.units
    files[f"{NAME}.csv"] = write_csv(file_heads(table, unit), file_rows(table, unit))
    target = out or folder / "out"
    target.mkdir(parents=True, exist_ok=True)
    for name, content in files.items():
        save(target / name, content)
    return Compared(
        found=found,
        fails=sum(finding.verdict is Verdict.FAIL for finding in findings),
        files=tuple(target / name for name in files),
        notes=(*now.notes, *earlier.notes),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Earlier:
    """The other revision, and its devices of which nothing tells any more what they were."""

    panel: Panel
    notes: tuple[str, ...]
    lost: Mapping[str, Placement] = field(default_factory=dict)


def _other(other: Path, after: Panel) -> _Earlier:
    """Return the other revision: of its own job folder, or of this job with that layout."""
    if other.is_dir():
        read = read_folder(other)
        return _Earlier(
            panel=panel_of(read.job, read.layout), notes=read.notes, lost=read.dropped.devices
        )
    if not other.is_file():
        raise InputErrors(
            [
                InputError(
                    file=str(other), problem="is neither a layout file nor a job folder",
                    cure=f"Name an earlier {LAYOUT}, or a folder with job.toml",
                )
            ]
        )  # fmt: skip
    content = other.read_bytes()
    now = parse_layout(content, str(other), after.job)
    job = _as_it_was(after.job, {**now.layout.devices, **now.dropped.devices})
    then = parse_layout(content, str(other), job)
    bare = panel_of(replace(job, wires=()), then.layout)  # today's wires don't fit former parts
    return _Earlier(panel=replace(bare, job=job), notes=(ONLY_A_LAYOUT,), lost=then.dropped.devices)


def _as_it_was(job: Job, stood: Mapping[str, Placement]) -> Job:
    """Return the job with the plate's devices as a layout tells them: those that stood, as parts.

    A part that is not in ``parts.csv`` any more can't be told; then the device is as it is today.
    """
    told = {tag: at.part for tag, at in stood.items() if at.part in job.parts}
    devices = {
        tag: replace(device, part=told.get(tag, device.part)) for tag, device in job.devices.items()
    }
    gone = {tag: Device(tag=tag, part=part) for tag, part in told.items() if tag not in devices}
    # a door device of today that stood on the plate then
    back = {tag: replace(devices[tag], place=Place.PLATE) for tag in told if tag in job.devices}
    return replace(job, devices={**devices, **gone, **back})
