"""Compare a job's plate with another revision of it: a drawing, a list, words."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

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
from platewright.model.panel import Panel
from platewright.sheets.revision import Change, change_table, changes, revision_pages

NAME = "changes"


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """What differs, and the files that show it."""

    found: tuple[Change, ...]
    files: tuple[Path, ...]
    notes: tuple[str, ...]


def compare_revisions(folder: Path, other: Path, out: Path | None = None) -> Compared:
    """Compare a job with an earlier layout of it: a ``layout.toml``, or a job folder.

    Writes ``changes.pdf``, its pages as SVG and ``changes.csv`` into ``out``.
    """
    now = read_folder(folder)
    after = panel_of(now.job, now.layout)
    before, notes = _other(other, after)
    names = (other.name or other.resolve().name, after.job.settings.job.revision or str(folder))
    pages = revision_pages(before, after, names=names)
    title = after.job.settings.job
    files = {f"{NAME}.pdf": write_pdf(pages, title=f"{title.title}: {NAME}", author=title.owner)}
    for number, page in enumerate(pages, start=1):
        files[f"{NAME}-{number}.svg"] = write_svg(page)
    table, unit = change_table(before, after), after.job.settings.units
    files[f"{NAME}.csv"] = write_csv(file_heads(table, unit), file_rows(table, unit))
    target = out or folder / "out"
    target.mkdir(parents=True, exist_ok=True)
    for name, content in files.items():
        save(target / name, content)
    return Compared(
        found=changes(before, after),
        files=tuple(target / name for name in files),
        notes=(*now.notes, *notes),
    )


def _other(other: Path, after: Panel) -> tuple[Panel, tuple[str, ...]]:
    """Return the other revision: of its own job folder, or of this job with that layout."""
    if other.is_dir():
        read = read_folder(other)
        return panel_of(read.job, read.layout), read.notes
    if not other.is_file():
        raise InputErrors(
            [
                InputError(
                    file=str(other), problem="is neither a layout file nor a job folder",
                    cure=f"Name an earlier {LAYOUT}, or a folder with job.toml",
                )
            ]
        )  # fmt: skip
    read_layout = parse_layout(other.read_bytes(), str(other), after.job)
    return panel_of(after.job, read_layout.layout), read_layout.notes
