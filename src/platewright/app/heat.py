"""Heat of a job folder: the whole panel, or the gaps of one device."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from platewright.app.check import read_folder
from platewright.app.gather import panel_of
from platewright.foundation.errors import InputError, InputErrors, nearest
from platewright.heat.conditions import conditions_of
from platewright.heat.gap_table import GapTable, gap_table
from platewright.heat.level import needs_of
from platewright.heat.panel_heat import heat_of
from platewright.model.heat import Needs, PanelHeat
from platewright.model.job import DisplayUnit


@dataclass(frozen=True, slots=True)
class HeatOfFolder:
    """What is told of a folder's heat; ``table`` for the device asked for."""

    panel: PanelHeat
    needs: Needs
    table: GapTable | None
    notes: tuple[str, ...]
    unit: DisplayUnit


def heat_folder(folder: Path, device: str) -> HeatOfFolder:
    """Return the heat of a job folder, and the gap table of ``device`` unless it is blank.

    Raises ``InputErrors`` for a device that is not in the job or whose heat is not stated.
    """
    read = read_folder(folder)
    table = None
    if device:
        if device not in read.job.devices:
            fault = InputError(
                file="command line", field="--device", value=device,
                problem="is no device of devices.csv", cure=nearest(device, read.job.devices),
            )  # fmt: skip
            raise InputErrors([fault])
        try:
            table = gap_table(read.job, device)
        except ValueError as problem:
            fault = InputError(
                file="parts.csv", field="heat_w", value="", problem=f"{device}: {problem}",
                cure="State the heat at rated load in parts.csv",
            )  # fmt: skip
            raise InputErrors([fault]) from None
    panel = heat_of(panel_of(read.job, read.layout))
    needs = needs_of(conditions_of(read.job), panel.losses.total)
    return HeatOfFolder(panel, needs, table, read.notes, read.job.settings.units)
