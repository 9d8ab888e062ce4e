"""Write the sheets of a job into its ``out`` folder."""

from __future__ import annotations

from pathlib import Path

from platewright.app.check import Checked, check_folder
from platewright.foundation.errors import CannotPlan
from platewright.jobfile.atomic import save
from platewright.sheets.documents import documents


def publish(folder: Path, out: Path | None = None) -> tuple[tuple[Path, ...], Checked]:
    """Write every sheet and list of a job; return the files and what was checked.

    Every file is made before the first is written, so a fault leaves ``out`` as it was.
    """
    checked = check_folder(folder)
    if not checked.panel.layout.devices:
        raise CannotPlan(
            f"nothing stands on the plate of {folder} yet, so there is nothing to print",
            [f"platewright plan {folder}"],
        )
    made = documents(checked.panel, checked.findings)
    target = out or folder / "out"
    target.mkdir(parents=True, exist_ok=True)
    for name, content in made.items():
        save(target / name, content)
    return tuple(target / name for name in made), checked
