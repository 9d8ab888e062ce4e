"""Start a job folder from foreign lists."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Final

from platewright.foundation.errors import InputError, InputErrors
from platewright.foundation.units import ALIASES, Mm
from platewright.jobfile.import_lists import ImportReport, NewJob, import_lists
from platewright.jobfile.quantities import Unreadable, read_number
from platewright.jobfile.settings import read_columns
from platewright.model.job import ColumnMap, DisplayUnit, Practice
from platewright.model.lengths import unit_name

_LONGEST: Final[Mm] = 10_000.0  # no plate or enclosure is longer


def _size(text: str, *, parts: int, option: str, unit: DisplayUnit) -> tuple[Mm, ...]:
    """Read ``750x1150x2.5`` or ``29-1/2x45-1/4in``; a unit on the last number counts for all.

    Bare numbers are in the job's unit, as those of the lists are.
    """
    words = re.split(r"\s*[x×]\s*", text.strip(), flags=re.IGNORECASE)
    typed = re.search(r'(in|inch|mm|cm|m|")\s*$', words[-1])
    tail = typed.group(1) if typed else ""
    try:
        bare = ALIASES["mm"][unit.value]
        spelt = [w if w.endswith(tail) else w + tail for w in words]
        numbers = [read_number(w, "mm", heading=bare) for w in spelt]
    except Unreadable:
        numbers = []
    if len(numbers) != parts or any(not 0 < n < _LONGEST for n in numbers):
        fault = InputError(
            file="command line",
            field=option,
            value=text,
            problem=f"is not a size of {parts} number{'s' if parts > 1 else ''} joined by x, "
            f"read in {unit_name(unit)} where no unit is written",
            cure="Write it like 750x1150x2.5mm or 29-1/2x45-1/4x0.1in",
        )
        raise InputErrors([fault])
    return tuple(numbers)


def new_job(
    folder: Path,
    *,
    devices: Path,
    wires: Path | None,
    title: str,
    practice: str,
    units: str | None,
    plate: str | None,
    enclosure: str | None,
    door_inside: str | None,
    like: Path | None = None,
) -> ImportReport:
    """Make a job folder from lists; what is left out of ``job.toml`` is marked to be filled in."""
    body = Practice(practice)
    lengths = DisplayUnit(units or "mm")
    box = _size(enclosure, parts=3, option="--enclosure", unit=lengths) if enclosure else None
    sheet = _size(plate, parts=3, option="--plate", unit=lengths) if plate else None
    inner = (
        _size(door_inside, parts=1, option="--door-inside", unit=lengths) if door_inside else None
    )
    said = NewJob(
        title=title or folder.resolve().name,
        practice=body,
        units=lengths,
        enclosure=(box[0], box[1], box[2]) if box else None,
        door_inside=inner[0] if inner else None,
        plate=(sheet[0], sheet[1], sheet[2]) if sheet else None,
        lengths_in=lengths,
        columns=read_columns(like) if like else ColumnMap(),
    )
    return import_lists(folder, devices=devices, wires=wires, job=said)
