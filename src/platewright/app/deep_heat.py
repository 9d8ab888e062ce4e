"""The deep check of a job folder's plate, on demand."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from platewright.app.check import read_folder
from platewright.app.gather import panel_of
from platewright.foundation.errors import InputError, InputErrors
from platewright.foundation.units import Mm
from platewright.heat.deep_panel import DeepAnswer, deep_heat
from platewright.heat.solvers.deep_check import Progress
from platewright.tables.deep_validation import ValidationRow, validation


@dataclass(frozen=True, slots=True)
class DeepOfFolder:
    """What the deep check tells of a folder, and how far the solver itself can be trusted."""

    answer: DeepAnswer
    validation: tuple[ValidationRow, ...]
    notes: tuple[str, ...]


def deep_folder(folder: Path, *, cell: Mm, progress: Progress) -> DeepOfFolder:
    """Return the deep check of a job folder; ``progress`` saying no keeps the best so far.

    Raises ``InputErrors`` where no device that stands on the plate gives off heat.
    """
    read = read_folder(folder)
    try:
        answer = deep_heat(panel_of(read.job, read.layout), cell=cell, report=progress)
    except ValueError as problem:
        fault = InputError(
            file="parts.csv", field="heat_w", value="", problem=str(problem),
            cure="Place the devices (platewright plan) and state heat_w of their parts",
        )  # fmt: skip
        raise InputErrors([fault]) from None
    return DeepOfFolder(answer, validation(), read.notes)
