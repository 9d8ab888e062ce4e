"""Air at each device: a stratified core, and the wakes of what stands below.

What plumes carry up comes down again along the cool walls; that makes the core warmer upwards.
Over the core stand the wakes of the devices, thinned by each duct they meet. The level comes from
the enclosure's balance; this module gives the shape. Constants are a fit (tables:
``fast_heat_model.csv``), not laws. Metres, kelvin of rise over the outside air.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from platewright.foundation.units import Kelvin, Metre
from platewright.heat.air import HEAT_CAPACITY, Floats
from platewright.heat.gap import W_PER_KW
from platewright.tables.fast_heat_model import fitted

LAYERS: Final = 40
COLUMN: Final[Metre] = 0.2  # width of the columns in which plumes merge
RAMP: Final[Metre] = 0.02  # a wake sets in over this height, so that dragging makes no steps
EDGE: Final[Metre] = 0.01  # added to a wake's half width
ORIGIN: Final = 1.3  # a wake's origin below its top, in roots of its footprint
ENTRAINS: Final = 0.12  # half width of a plume per height
SAMPLES: Final = (-1 / 3, 0.0, 1 / 3)  # of its width, where a device takes its air


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """The air space between plate and door."""

    width: Metre
    height: Metre
    depth: Metre


@dataclass(frozen=True, slots=True, kw_only=True)
class Sources:
    """Devices in the room: middle x, foot y, sizes."""

    x: Floats
    y: Floats
    width: Floats
    height: Floats
    depth: Floats

    @property
    def top(self) -> Floats:
        """Upper edges."""
        return self.y + self.height


@dataclass(frozen=True, slots=True, kw_only=True)
class Bars:
    """Ducts across: each an array."""

    left: Floats
    right: Floats
    bottom: Floats
    top: Floats
    share: Floats  # of the room's depth they fill


@dataclass(frozen=True, slots=True, kw_only=True)
class Constants:
    """The fitted constants, by the names of their table."""

    plume_flow: float
    wake_strength: float
    wake_foot_width: float
    wake_spread: float
    start_height: float
    still_flow: float
    duct_pass: float

    @staticmethod
    def from_table() -> Constants:
        """Return those in use."""
        return Constants(**{name.replace(" ", "_"): value for name, value in fitted().items()})


def core_rise(
    room: Room, sources: Sources, convected: Floats, *, mean: Kelvin, conductance: float,
    constants: Constants,
) -> Floats:  # fmt: skip
    """Return the core's rise at LAYERS + 1 heights from floor to roof.

    M·cp·dT/dy = U·perimeter·T, M the flow of all plumes; scaled so that walls, roof and floor
    together give off what the level says: Σ U·A·T = U·A·mean. ``conductance``: U in W/(m²·K).
    Checked: HEAT-30.
    """
    flow = plume_flow(room, sources, convected, constants)
    around = 2 * (room.width + room.depth)
    step = room.height / LAYERS
    rate = conductance * around / (HEAT_CAPACITY * flow)
    grown = np.concatenate(([0.0], np.cumsum((rate[1:] + rate[:-1]) / 2 * step)))
    shape = np.exp(grown - grown[-1])
    flat = room.width * room.depth
    sides = around * step * (shape[1:] + shape[:-1]).sum() / 2
    weighted = (sides + flat * (shape[0] + shape[-1])) / (around * room.height + 2 * flat)
    return shape * (mean / weighted)


def plume_flow(room: Room, sources: Sources, convected: Floats, constants: Constants) -> Floats:
    """Return the mass flow of all plumes at LAYERS + 1 heights, kg/s, still flow included."""
    columns = max(1, round(room.width / COLUMN))
    width = room.width / columns
    step = room.height / LAYERS
    at = np.clip((sources.x / width).astype(np.intp), 0, columns - 1)
    layer = np.clip((sources.top / step).astype(np.intp), 0, LAYERS - 1)
    heat = np.zeros((LAYERS + 1, columns))
    np.add.at(heat, (layer + 1, at), convected / W_PER_KW)
    root = np.cumsum(heat, axis=0) ** (1 / 3) * constants.plume_flow + 1e-12
    wide = min(width, room.depth) / 2 / ENTRAINS
    start = constants.start_height * width
    flow = np.zeros((LAYERS + 1, columns))
    for i in range(1, LAYERS + 1):
        height = (flow[i - 1] / root[i]) ** 0.6
        height = np.where(flow[i - 1] > 0, height, start)
        risen = np.where(height < wide, height + step, height)
        flow[i] = np.where(
            heat[: i + 1].any(axis=0), np.maximum(flow[i - 1], root[i] * risen ** (5 / 3)), 0.0
        )
    return np.asarray(flow.sum(axis=1) + constants.still_flow)


def wake_matrix(
    sources: Sources, bars: Bars, x: Floats, y: Floats, room: Room, constants: Constants
) -> Floats:
    """Return what each point gets from 1 kW of each device, to the power 3/2: (points, devices).

    Wakes merge as (Σ e^(3/2))^(2/3): exact where two plumes coincide. Checked: HEAT-29.
    """
    rise = y[:, None] - sources.top[None, :]
    over = np.maximum(rise, 0.0)
    half = constants.wake_foot_width * sources.width + EDGE
    half = half[None, :] + constants.wake_spread * over
    off = (x[:, None] - sources.x[None, :]) / half
    origin = ORIGIN * np.sqrt(sources.width * sources.depth)
    high = over + origin[None, :]
    reach = constants.wake_strength**1.5 / (high * high * np.sqrt(high))
    sets_in = np.clip(rise / RAMP, 0.0, 1.0)
    field = reach * np.exp(-1.5 * off * off) * sets_in
    if bars.left.size:
        field = field * _thinned(sources, bars, x, y, constants)
    return np.asarray(field)


def _thinned(sources: Sources, bars: Bars, x: Floats, y: Floats, constants: Constants) -> Floats:
    """Return what is left of each wake (to the power 3/2) beyond the ducts between."""
    under = (sources.x[None, :] > bars.left[:, None]) & (sources.x[None, :] < bars.right[:, None])
    under &= sources.top[None, :] <= bars.bottom[:, None]
    past = (y[:, None] >= bars.top[None, :]).astype(np.float64)
    met = past @ under.astype(np.float64)
    return np.asarray(constants.duct_pass ** (1.5 * met))


def merged(matrix: Floats, convected: Floats) -> Floats:
    """Return the rise of the wakes over the core at each point."""
    return np.asarray((matrix @ (convected / W_PER_KW)) ** (2 / 3))


def inlet_matrix(sources: Sources, bars: Bars, room: Room, constants: Constants) -> Floats:
    """Return the matrices of the points where devices take their air: (samples, n, n)."""
    return np.stack([
        wake_matrix(sources, bars, sources.x + share * sources.width, sources.y, room, constants)
        for share in SAMPLES
    ])  # fmt: skip


def inlet_rise(
    core: Floats, room: Room, sources: Sources, matrix: Floats, convected: Floats
) -> Floats:
    """Return the rise of the air each device takes at its foot; its own wake is not in it."""
    heights = np.linspace(0.0, room.height, LAYERS + 1)
    base = np.interp(sources.y, heights, core)
    wakes = ((matrix @ (convected / W_PER_KW)) ** (2 / 3)).mean(axis=0)
    return np.asarray(base + wakes)
