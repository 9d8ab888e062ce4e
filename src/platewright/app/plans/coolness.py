"""What the search is told of warmth, from the heat model: who gets warm, and who warms whom.

Worked out once for a job, before anything has a place: own rises as if every housing stood in the
mean air inside, free or shut in, the air as if the heat were given off evenly over the plate.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np

from platewright.app.gather import panel_of
from platewright.arrange.warmth import Warm, Warmth
from platewright.foundation.units import MM_PER_M, Ratio, Watt
from platewright.heat.air import Floats
from platewright.heat.conditions import conditions_of
from platewright.heat.gap import W_PER_KW
from platewright.heat.level import level_of
from platewright.heat.local_air import (
    LAYERS,
    Constants,
    Room,
    Sources,
    core_rise,
    wake_origin,
    wake_start,
    wall_loss,
)
from platewright.heat.losses import losses_of
from platewright.heat.panel_heat import room_of
from platewright.heat.standing import conduction_of, plate_corner
from platewright.heat.surface import Bodies, Round, Surfaces, surfaces
from platewright.model.job import Job
from platewright.model.layout import Layout
from platewright.tables.heat_practice import taken

NEAR: Final = 40.0  # K: a housing this much cooler of its own will not be the warmest
MOST_JUDGED: Final = 10
MOST_SOURCES: Final = 20
_EVEN: Final = 6  # heights over the plate at which heat is taken to be given off
_POWER: Final = 5.0 / 3.0

# what a side keeps of its heat when a housing shuts it: most goes on to that. By rank against the
# model's own figures on random plates (0.1 to 0.3 do alike), not by physics
_KEPT: Final = 0.15


def warmth_of(job: Job) -> Warmth | None:
    """Return what steers a plan to a cool plate; None where no device on the plate is warm."""
    panel = panel_of(job, Layout())
    losses = losses_of(job, panel.routes)
    watts = {one.tag: one.watts for one in losses.devices}
    tags = [d.tag for d in job.on_plate if watts.get(d.tag, 0.0) > 0.0]
    if not tags:
        return None
    constants, conditions = Constants.from_table(), conditions_of(job)
    level = level_of(conditions, losses.total)
    room = room_of(panel, level)
    sources = _at_the_foot(job, tags)
    loss = np.array([watts[tag] for tag in tags])
    around = (level.inside.value, conditions.pressure)
    state = _alone(job, tags, sources, loss, around, opened=1.0)
    own = state.temperature - level.inside.value
    closed = _alone(job, tags, sources, loss, around, opened=0.0)
    shut = _KEPT * (closed.temperature - state.temperature) / 2
    convected = np.maximum(0.0, state.convected)
    share = float(convected.sum()) / max(losses.total, 1e-9)
    rise = max(0.0, level.rise)
    lost = wall_loss(room, np.full(LAYERS + 1, rise)) * share
    low, slope = _air(job, room, lost, float(convected.sum()), constants)
    wake = constants.wake_strength * np.cbrt(convected / W_PER_KW) ** 2 * MM_PER_M**_POWER
    return Warmth(
        devices=_told(tags, {
            "own": own, "shut": shut, "wake": wake, "origin": wake_origin(sources, constants) * MM_PER_M,
            "start": wake_start(sources, constants) * MM_PER_M,
            "half": (constants.wake_foot_width * sources.width + constants.wake_edge) * MM_PER_M,
            "share": loss / loss.sum(),
        }),
        low=low + (1 - share) * rise, slope=slope,
        lean=constants.core_lean / constants.core_share / (room.height * MM_PER_M),
        middle=room.height * MM_PER_M / 2 - plate_corner(job.settings)[1],
        spread=constants.wake_spread, drag=constants.wake_drag,
    )  # fmt: skip


def _at_the_foot(job: Job, tags: list[str]) -> Sources:
    """Return the devices as sources, all with their feet at height 0."""
    parts = [job.part_of(tag) for tag in tags]
    none = np.zeros(len(tags))
    width, height, depth = (
        np.array([getattr(part, name) for part in parts]) / MM_PER_M
        for name in ("width", "height", "depth")
    )
    return Sources(x=none, y=none, width=width, height=height, depth=depth)


def _alone(
    job: Job, tags: list[str], sources: Sources, loss: Floats, around: tuple[float, float],
    *, opened: Ratio,
) -> Surfaces:  # fmt: skip
    """Return the housings in air of one temperature (``around``: it, pressure)."""
    air, every = np.full(len(tags), around[0]), np.ones(len(tags))
    bodies = Bodies(
        width=sources.width, height=sources.height, depth=sources.depth, loss=loss,
        plate_conduction=np.array([conduction_of(job.part_of(tag)) for tag in tags]),
        emissivity=taken("device emissivity") * every,
        open_left=opened * every, open_right=opened * every,
    )  # fmt: skip
    return surfaces(bodies, Round(air=air, walls=air, plate=air, pressure=around[1]))


def _air(
    job: Job, room: Room, lost: Watt, convected: Watt, constants: Constants
) -> tuple[float, float]:
    """Return the core's rise at the plate's lower edge, and how much it grows per mm."""
    plate, corner = job.settings.plate, plate_corner(job.settings)[1] / MM_PER_M
    high = plate.height / MM_PER_M
    y = corner + high * (np.arange(_EVEN) + 0.5) / _EVEN
    every = np.ones(_EVEN)
    sources = Sources(
        x=room.width / 2 * every, y=y, width=0.1 * every, height=0.1 * every, depth=0.1 * every
    )
    core = core_rise(room, sources, convected / _EVEN * every, loss=lost, constants=constants)
    ends = np.interp([corner, corner + high], room.heights, core)
    return float(ends[0]), float(ends[1] - ends[0]) / plate.height


def _told(tags: list[str], columns: Mapping[str, Floats]) -> dict[str, Warm]:
    """Return those devices that may be the warmest, and those that warm others most."""
    own, wake = columns["own"] + 2 * columns["shut"], columns["wake"]
    by_own = sorted(range(len(tags)), key=lambda k: (-own[k], tags[k]))
    judged = {k for k in by_own[:MOST_JUDGED] if own[k] > own[by_own[0]] - NEAR}
    by_wake = sorted(range(len(tags)), key=lambda k: (-wake[k], tags[k]))
    return {
        tags[k]: Warm(
            is_judged=k in judged, **{name: float(values[k]) for name, values in columns.items()}
        )
        for k in sorted(judged | set(by_wake[:MOST_SOURCES]))
    }
