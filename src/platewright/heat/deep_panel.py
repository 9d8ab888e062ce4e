"""The deep check of a user's own panel: its air space as the flow solver takes it, and the answer.

What the fast model and the flow solver share is put in alike: the heat each device gives to the
air, what each wall lets through per kelvin, and the heat that warms the inside evenly (radiated to
the walls). So a difference is one of the air's way, which is what the solver can judge.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from platewright.foundation.units import MM2_PER_M2, DegC, Kelvin, Mm, Ratio
from platewright.heat.air import air_at, kelvin
from platewright.heat.panel_heat import (
    LEAST_RISE,
    Settled,
    air_band,
    air_limit,
    level_loss,
    settled,
)
from platewright.heat.solvers.cabinet import FlowBlock, FlowCabinet, FlowWalls
from platewright.heat.solvers.deep_check import FlowField, Progress, deep_check
from platewright.model.geometry import Box
from platewright.model.heat import Banded, Level
from platewright.model.panel import Panel

CELL: Final[Mm] = 20.0
SECONDS: Final = 75.0  # of flow; 60 settles usual cabinets, tall ones need longer
PUT_IN: Final = (
    "The heat that walls let through, and the share of each loss that goes to the air, are put in: "
    "the deep check judges where the air is warm, not how warm the whole cabinet is"
)
FAR: Final[Kelvin] = 6.0  # fast and deep further apart than this: undecided


@dataclass(frozen=True, slots=True, kw_only=True)
class DeepRow:
    """Air at one device by both ways."""

    tag: str
    fast: Banded
    deep: DegC
    limit: DegC | None

    @property
    def difference(self) -> Kelvin:
        """By how much the deep check is warmer."""
        return self.deep - self.fast.value

    @property
    def verdict(self) -> str:
        """What both together say of the limit; a device on which they differ widely is open."""
        if self.limit is None:
            return "no limit stated"
        if abs(self.difference) > FAR:
            return "undecided: the two differ"
        low = min(self.deep, self.fast.value) - self.fast.band
        high = max(self.deep, self.fast.value) + self.fast.band
        return "within" if high <= self.limit else "over" if low > self.limit else "undecided"


@dataclass(frozen=True, slots=True, kw_only=True)
class DeepAnswer:
    """What the deep check says of a panel."""

    rows: tuple[DeepRow, ...]  # the warmest first
    field: FlowField
    evenly: Kelvin  # rise that radiated heat gives everywhere, added to the field
    cautions: tuple[str, ...]

    @property
    def mean(self) -> DegC:
        """Mean air inside."""
        return self.field.mean_air + self.evenly


def deep_heat(
    panel: Panel, *, cell: Mm = CELL, seconds: float = SECONDS, report: Progress
) -> DeepAnswer:
    """Return the air at every device by the flow solver beside the fast model's.

    Stopped early (``report`` says no), the field so far is told; ``field.finished`` says so.
    Raises ValueError where nothing stands on the plate or no device gives heat to the air.
    """
    state = settled(panel)
    cabinet = cabinet_of(panel, state)
    if cabinet.heat <= 0:
        raise ValueError("no device on the plate has heat to give to the air")
    field = deep_check(cabinet, cell=cell, seconds=seconds, report=report)
    evenly = (1 - state.inside.layered) * state.level.rise
    outside, limits = state.level.outside, _limits(panel, state)
    bands = air_band(state.inside.air, outside).tolist()
    rows = [
        DeepRow(tag=tag, fast=Banded(air, band), deep=field.inlet[tag] + evenly, limit=limits[tag])
        for tag, air, band in zip(state.here.tags, state.inside.air.tolist(), bands, strict=True)
    ]
    return DeepAnswer(
        rows=tuple(sorted(rows, key=lambda row: (-row.deep, row.tag))),
        field=field,
        evenly=evenly,
        cautions=_cautions(panel),
    )


def cabinet_of(panel: Panel, state: Settled) -> FlowCabinet:
    """Return the air space between plate and door with all that stands in it."""
    here, level = state.here, state.level
    given = max(level_loss(level), float(here.loss.sum()))
    through = sum(wall.heat for wall in level.walls) / given if given > 0 else 0.0
    enclosure = panel.job.settings.enclosure
    left, bottom = -here.shift[0], -here.shift[1]
    devices = [
        FlowBlock(tag=tag, box=box, depth=part.depth, heat=max(0.0, heat * through))
        for tag, box, part, heat in zip(
            here.tags, here.boxes, here.parts, state.inside.convected.tolist(), strict=True
        )
    ]
    ducts = [
        FlowBlock(tag=tag, box=duct.box, depth=duct.height, is_device=False)
        for tag, duct in sorted(panel.layout.ducts.items())
    ]
    return FlowCabinet(
        inside=Box(left, bottom, left + enclosure.width, bottom + enclosure.height),
        depth=enclosure.door_inside,
        ambient=level.outside,
        walls=_walls(level, (enclosure.width, enclosure.height, enclosure.door_inside)),
        air=air_at(kelvin(level.inside.value), state.conditions.pressure),
        blocks=(*devices, *ducts),
    )


def _walls(level: Level, size: tuple[Mm, Mm, Mm]) -> FlowWalls:
    """Return what each wall lets through in the balance, over its face towards the air space."""
    width, height, depth = size
    rise = max(LEAST_RISE, level.rise)
    areas = {
        "left": height * depth, "right": height * depth, "floor": width * depth,
        "top": width * depth, "front": width * height, "back": width * height,
    }  # fmt: skip
    each = {
        wall.name: max(0.0, wall.heat) / rise * MM2_PER_M2 / areas[wall.name]
        for wall in level.walls
    }
    return FlowWalls(
        left=each["left"], right=each["right"], floor=each["floor"], roof=each["top"],
        door=each["front"], plate=each["back"],
    )  # fmt: skip


def _limits(panel: Panel, state: Settled) -> dict[str, DegC | None]:
    return {
        tag: air_limit(part.heat_limit, part.derating, panel.job.devices[tag].load)[0]
        for tag, part in zip(state.here.tags, state.here.parts, strict=True)
    }


def _cautions(panel: Panel) -> tuple[str, ...]:
    air = panel.job.settings.air
    said = [PUT_IN]
    if max(air.fan, air.vents, air.exchanger, air.cooling) > 0:
        said.append(
            "Jets of fans, vents and units are not in it: only what the walls carry is looked at"
        )
    return tuple(said)


def rows_apart(answer: DeepAnswer) -> tuple[Kelvin, Kelvin, Ratio]:
    """Return rms and mean of deep less fast, and the share of devices the fast told 5 K too cool."""
    apart = [row.difference for row in answer.rows]
    count = max(1, len(apart))
    rms = (sum(x * x for x in apart) / count) ** 0.5
    return rms, sum(apart) / count, sum(x > 5.0 for x in apart) / count
