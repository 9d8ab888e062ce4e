"""Gap against temperature for one device, and what moves it most."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from platewright.foundation.units import DegC, Mm, Watt, WattPerK
from platewright.heat.conditions import conditions_of
from platewright.heat.gap_need import (
    Body,
    Sensitivity,
    gap_needed,
    housing,
    sensitivities,
    usual_wall,
    wall_at,
)
from platewright.heat.measures import stated_words
from platewright.model.job import Job
from platewright.tables.heat_practice import taken

GAPS: Final[tuple[Mm, ...]] = (8, 10, 15, 20, 30, 40, 50, 60, 80, 100, 125, 150)
AROUND: Final = (-10.0, -5.0, 0.0, 5.0, 10.0)  # K round the air wanted inside
SIDES: Final = ("left", "top", "bottom")  # left and right are alike


@dataclass(frozen=True, slots=True, kw_only=True)
class GapRow:
    """Hottest point of a duct beside the device at one gap, in each air."""

    gap: Mm
    walls: tuple[DegC, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class NeedRow:
    """Smallest gap on one side in one air. ``None``: none up to 300 mm."""

    side: str
    air: DegC
    duct: Mm | None
    neighbour: Mm | None


@dataclass(frozen=True, slots=True, kw_only=True)
class GapTable:
    """All that is told of one device's gaps; every gap ± 25 %."""

    tag: str
    loss: Watt
    plate_conduction: WattPerK
    duct_limit: DegC
    neighbour_limit: DegC
    airs: tuple[DegC, ...]
    housings: tuple[DegC, ...]  # free-standing, in each air
    rows: tuple[GapRow, ...]
    needs: tuple[NeedRow, ...]
    sensitivities: tuple[Sensitivity, ...]
    notes: tuple[str, ...]


def gap_table(job: Job, tag: str) -> GapTable:
    """Return gap against temperature for a device. Raises ValueError where its heat is unknown."""
    part, device = job.part_of(tag), job.devices[tag]
    if part.heat is None:
        raise ValueError(
            f"the heat of {tag} is not stated: state heat_w of part {part.part} in parts.csv"
        )
    conditions = conditions_of(job)
    body = Body.of(part, part.heat * device.load)
    limit, other = conditions.duct_limit, taken("surface limit")
    airs = tuple(conditions.wanted + step for step in AROUND)
    gaps = np.array(GAPS, dtype=np.float64)
    walls = [wall_at(body, "left", gaps, air, usual_wall()).tolist() for air in airs]
    notes = []
    if part.plate_conduction is None:
        notes.append(f"heat into the plate assumed: {body.plate_conduction:g} W/K by its mounting")
    stated = {s: getattr(part, f"clear_{s}") for s in ("left", "right", "top", "bottom")}
    unit = job.settings.units
    kept = ", ".join(
        f"{side} {stated_words(room, unit)}" for side, room in stated.items() if room is not None
    )
    if kept:
        notes.append(f"its data sheet states {kept}: that always wins over this table")
    notes.append("an estimate: air inside, true loss and heat into the plate move it most")
    return GapTable(
        tag=tag,
        loss=body.loss,
        plate_conduction=body.plate_conduction,
        duct_limit=limit,
        neighbour_limit=other,
        airs=airs,
        housings=tuple(housing(body, air) for air in airs),
        rows=tuple(
            GapRow(gap=gap, walls=tuple(column[i] for column in walls))
            for i, gap in enumerate(GAPS)
        ),
        needs=tuple(
            NeedRow(
                side=side,
                air=air,
                duct=gap_needed(body, side, air=air, limit=limit),
                neighbour=gap_needed(body, side, air=air, limit=other),
            )
            for side in SIDES
            for air in airs
        ),
        sensitivities=sensitivities(body, air=conditions.wanted, limit=limit),
        notes=tuple(notes),
    )
