"""The devices on the plate as arrays, in metres from the enclosure's lower left inside corner."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from platewright.foundation.units import MM_PER_M, Mm
from platewright.heat.air import Floats
from platewright.heat.local_air import Bars, Sources
from platewright.model.geometry import Box
from platewright.model.job import JobSettings
from platewright.model.layout import Duct, Run
from platewright.model.panel import Panel, body_box
from platewright.model.part import Mount, Part
from platewright.tables.heat_practice import taken


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """All placed devices, by tag, and the ducts."""

    tags: tuple[str, ...]
    parts: tuple[Part, ...]
    boxes: tuple[Box, ...]  # plate coordinates, mm
    edges: Floats  # (n, 4): left, bottom, right, top, plate coordinates, mm
    sources: Sources
    loss: Floats  # W
    plate_conduction: Floats  # W/K
    bars: Bars
    shift: tuple[Mm, Mm]  # plate's corner in the enclosure


def standing(panel: Panel, watts: dict[str, float]) -> Standing:
    """Return the devices that have a place on the plate."""
    job, settings = panel.job, panel.job.settings
    tags = tuple(sorted(d.tag for d in job.on_plate if d.tag in panel.layout.devices))
    parts = tuple(job.part_of(tag) for tag in tags)
    boxes = tuple(
        body_box(part, panel.layout.devices[tag]) for tag, part in zip(tags, parts, strict=True)
    )
    edges = np.array([(b.left, b.bottom, b.right, b.top) for b in boxes]).reshape(-1, 4)
    shift = plate_corner(settings)
    left, bottom, right, top = (edges[:, i] for i in range(4))
    return Standing(
        tags=tags,
        parts=parts,
        boxes=boxes,
        edges=edges,
        sources=Sources(
            x=((left + right) / 2 + shift[0]) / MM_PER_M,
            y=(bottom + shift[1]) / MM_PER_M,
            width=(right - left) / MM_PER_M,
            height=(top - bottom) / MM_PER_M,
            depth=np.array([part.depth for part in parts]) / MM_PER_M,
        ),
        loss=np.array([watts.get(tag, 0.0) for tag in tags]),
        plate_conduction=np.array(_per_part(parts)),
        bars=_bars([duct for _, duct in sorted(panel.layout.ducts.items())], shift),
        shift=shift,
    )


def plate_corner(settings: JobSettings) -> tuple[Mm, Mm]:
    """Return where the plate's corner lies in the enclosure: it is taken to hang in the middle."""
    enclosure, plate = settings.enclosure, settings.plate
    return (enclosure.width - plate.width) / 2, (enclosure.height - plate.height) / 2


def conduction_of(part: Part) -> float:
    """Return the heat a part gives into the plate per kelvin, stated or by its mounting."""
    if part.plate_conduction is not None:
        return part.plate_conduction
    name = "plate conduction screws" if part.mount is Mount.SCREWS else "plate conduction rail"
    return taken(name)


def _per_part(parts: tuple[Part, ...]) -> list[float]:
    """Return the conduction of each part, worked out once a type."""
    known = {id(part): part for part in parts}
    values = {key: conduction_of(part) for key, part in known.items()}
    return [values[id(part)] for part in parts]


def _bars(ducts: Iterable[Duct], shift: tuple[Mm, Mm]) -> Bars:
    rows = [
        (d.box.left, d.box.right, d.box.bottom, d.box.top) for d in ducts if d.run is Run.ACROSS
    ]
    table = np.array(rows, dtype=np.float64).reshape(-1, 4)
    return Bars(
        left=(table[:, 0] + shift[0]) / MM_PER_M,
        right=(table[:, 1] + shift[0]) / MM_PER_M,
        bottom=(table[:, 2] + shift[1]) / MM_PER_M,
        top=(table[:, 3] + shift[1]) / MM_PER_M,
    )
