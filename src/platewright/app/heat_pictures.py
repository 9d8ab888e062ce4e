"""The picture of temperature of a job folder, written as one file."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from platewright.app.check import read_folder
from platewright.app.gather import panel_of
from platewright.foundation.errors import InputError, InputErrors
from platewright.heat.panel_heat import heat_of
from platewright.jobfile.atomic import save
from platewright.sheets.heat_picture import heat_files

KINDS: Final = (".svg", ".png")


def write_heat_picture(folder: Path, file: Path) -> tuple[str, ...]:
    """Write the picture as SVG or PNG, by the file's ending; return what reading the job told.

    Raises ``InputErrors`` for another ending, or where no device has a place yet.
    """
    kind = file.suffix.lower()
    if kind not in KINDS:
        raise _refused("--picture", str(file), "is neither .svg nor .png", "Name it heat.svg")
    read = read_folder(folder)
    panel = panel_of(read.job, read.layout)
    made = heat_files(panel, heat_of(panel), only=kind)
    if not made:
        problem = "there is no picture: no device has a place on the plate"
        raise _refused("--picture", str(file), problem, "Lay it out first: platewright plan")
    (content,) = made.values()
    save(file, content)
    return read.notes


def _refused(field: str, value: str, problem: str, cure: str) -> InputErrors:
    return InputErrors([
        InputError(file="command line", field=field, value=value, problem=problem, cure=cure)
    ])  # fmt: skip
