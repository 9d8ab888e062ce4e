"""Air at each device: a stratified core, and the wakes of what stands below.

What plumes carry up comes down again along the cool walls; that makes the core warmer upwards, and
cold below the lowest source. Over the core stand the wakes of the devices, thinned by each duct
they meet. The level comes from the enclosure's balance; this module gives the shape. Constants are
a fit to a flow solution (tables: ``fast_heat_model.csv``), not laws. Metres, kelvin of rise over
the outside air.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from platewright.foundation.units import Metre, Watt
from platewright.heat.air import HEAT_CAPACITY, Floats
from platewright.heat.gap import W_PER_KW
from platewright.heat.kernels.wakes import inlet_wakes, left_of_wakes, wake_strengths
from platewright.tables.fast_heat_model import fitted

LAYERS: Final = 60
COLUMN: Final[Metre] = 0.2  # width of the columns in which plumes merge
RAMP: Final[Metre] = 0.02  # a wake sets in over this height, so that dragging makes no steps
SAMPLES: Final = (-1 / 3, 0.0, 1 / 3)  # of its width, where a device takes its air


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """The air space between plate and door; losses per kelvin of the air at each height."""

    width: Metre
    height: Metre
    depth: Metre
    upright: float  # W/(m·K): walls, door and plate, per metre of height
    floor: float  # W/K
    roof: float  # W/K
    sides: float  # W/(m·K): what of ``upright`` the left and right walls give off

    @property
    def heights(self) -> Floats:
        """Heights at which the core is worked out."""
        return np.linspace(0.0, self.height, LAYERS + 1)


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Constants:
    """The fitted constants, by the names of their table."""

    core_share: float
    core_lean: float
    core_sag: Metre
    plume_flow: float
    plume_start: Metre
    plume_most: Metre
    floor_share: float
    source_drop: Metre
    still_flow: float
    wake_strength: float
    wake_foot_width: float
    wake_edge: Metre
    wake_spread: float
    wake_origin: float
    wake_origin_least: Metre
    source_height: float
    duct_pass: float
    wake_drag: float

    @staticmethod
    def from_table() -> Constants:
        """Return those in use."""
        return Constants(**{name.replace(" ", "_"): value for name, value in fitted().items()})


def plume_flow(room: Room, sources: Sources, convected: Floats, constants: Constants) -> Floats:
    """Return the mass flow of all plumes at the core's heights, kg/s, still flow included.

    Per column of about 0.2 m: C·Q^⅓·z^(5/3) of the heat given off below, z from the middle of
    that heat and a start, up to where the plume fills its column.
    """
    y = room.heights[:, None]
    foot = sources.y - constants.source_drop
    below = np.clip((y - foot) / (sources.top - foot), 0.0, 1.0) * (convected / W_PER_KW)
    middle = (foot + np.minimum(y, sources.top)) / 2
    columns = max(1, round(room.width / COLUMN))
    at = np.clip((sources.x / room.width * columns).astype(np.intp), 0, columns - 1)
    belongs = (at[:, None] == np.arange(columns)).astype(np.float64)
    heat = below @ belongs
    centre = np.where(heat > 0, (below * middle) @ belongs / np.maximum(heat, 1e-12), y)
    risen = np.minimum(y - centre + constants.plume_start, constants.plume_most)
    flow = (np.cbrt(heat) * np.cbrt(risen) ** 5).sum(axis=1)
    return np.asarray(constants.plume_flow * flow + constants.still_flow * room.width)


def core_shape(room: Room, flow: Floats) -> Floats:
    """Return exp(∫ U·perimeter/(M·cp) dy), 1 at the roof. Checked: HEAT-30."""
    rate = room.upright / (HEAT_CAPACITY * flow)
    step = room.height / LAYERS
    grown = np.concatenate(([0.0], np.cumsum((rate[1:] + rate[:-1]) / 2 * step)))
    return np.asarray(np.exp(grown - grown[-1]))


def wall_loss(room: Room, rise: Floats) -> Watt:
    """Return what walls, floor and roof give off for rises at the core's heights."""
    step = room.height / LAYERS
    sides = room.upright * step * float((rise[1:] + rise[:-1]).sum()) / 2
    return sides + room.floor * float(rise[0]) + room.roof * float(rise[-1])


def core_rise(
    room: Room, sources: Sources, convected: Floats, *, loss: Watt, constants: Constants
) -> Floats:
    """Return the core's rise at its heights from floor to roof.

    M·cp·dT/dy = U·perimeter·T, M the flow of all plumes; scaled so that walls, floor and roof
    would give off ``loss``, then by a fitted factor: the air beside the walls is cooler than the
    core, the more so the lower the heat is given off. ``floor_share``: what mixing leaves of the
    roof's rise at the floor. ``core_sag``: what is cooled at door and plate falls in front of the
    devices and mixes; only air cooled at the sides gathers below. So warm air reaches lower, the
    less of the heat leaves by the sides.
    """
    shape = core_shape(room, plume_flow(room, sources, convected, constants))
    sag = constants.core_sag * (1.0 - room.sides / room.upright)
    shape = np.interp(room.heights + sag, room.heights, shape) + constants.floor_share
    total = float(convected.sum())
    middle = (sources.y + sources.height / 2) / room.height
    high = float((convected * middle).sum()) / total if total > 0 else 0.5
    factor = constants.core_share + constants.core_lean * (0.5 - high)
    return np.asarray(shape * (factor * loss / wall_loss(room, shape)))


def wake_origin(sources: Sources, constants: Constants) -> Floats:
    """Return how far below its source a wake begins."""
    root = np.sqrt(sources.width * sources.depth)
    return constants.wake_origin * root + constants.wake_origin_least


def wake_start(sources: Sources, constants: Constants) -> Floats:
    """Return the height at which a device's wake counts as given off."""
    return sources.y + constants.source_height * sources.height


def wake_heights(sources: Sources, bars: Bars, y: Floats, constants: Constants) -> Floats:
    """Return what 1 kW of each device leaves in the middle of its wake, K: (heights, devices).

    C·z^(−5/3), set in over 20 mm, times the pass of each duct between.
    """
    strength = wake_strengths(
        y, wake_start(sources, constants), wake_origin(sources, constants),
        constants.wake_strength, RAMP,
    )  # fmt: skip
    if bars.left.size and constants.duct_pass < 1:
        strength *= constants.duct_pass ** ducts_met(sources, bars, y)
    return np.asarray(strength)


@dataclass(frozen=True, slots=True, kw_only=True)
class Climb:
    """The core's rise at some heights, and where each wake begins."""

    here: Floats
    start: Floats


def wakes_left(strength: Floats, convected: Floats, climb: Climb, constants: Constants) -> Floats:
    """Return each wake's excess over the core, to the power 3/2: (heights, devices).

    A wake that climbs into warmer air loses a share of what that air is warmer, down to none.
    Wakes merge as (Σ e^(3/2))^(2/3): exact where two plumes coincide. Checked: HEAT-29.
    """
    power = np.cbrt(convected / W_PER_KW) ** 2
    return np.asarray(left_of_wakes(strength, power, climb.here, climb.start, constants.wake_drag))


def ducts_met(sources: Sources, bars: Bars, y: Floats) -> Floats:
    """Return how many ducts lie over each device and below each height: (heights, devices)."""
    under = (sources.x > bars.left[:, None]) & (sources.x < bars.right[:, None])
    under &= sources.top <= bars.bottom[:, None] + 1e-6
    past = (y[:, None] >= bars.top - 1e-6).astype(np.float64)
    return np.asarray(past @ under.astype(np.float64))


def wake_halves(sources: Sources, y: Floats, constants: Constants) -> Floats:
    """Return half widths of the wakes at heights: (heights, devices)."""
    rise = np.maximum(y[:, None] - wake_start(sources, constants)[None, :], 0.0)
    foot = constants.wake_foot_width * sources.width + constants.wake_edge
    return np.asarray(foot + constants.wake_spread * rise)


@dataclass(frozen=True, slots=True, kw_only=True)
class Inlets:
    """What the wakes at the inlets depend on beside heat: worked out once for a layout."""

    strength: Floats  # (inlets, devices)
    reach: Floats


def inlets_of(sources: Sources, bars: Bars, constants: Constants) -> Inlets:
    """Return the geometry of the wakes at every device's foot."""
    return Inlets(
        strength=wake_heights(sources, bars, sources.y, constants),
        reach=np.sqrt(1.5) / wake_halves(sources, sources.y, constants),
    )


def inlet_rise(
    core: Floats, room: Room, sources: Sources, inlets: Inlets, convected: Floats,
    constants: Constants,
) -> Floats:  # fmt: skip
    """Return the rise of the air each device takes at its foot, a mean over its width."""
    base = np.interp(sources.y, room.heights, core)
    climb = Climb(here=base, start=core_at_start(core, room, sources, constants))
    left = wakes_left(inlets.strength, convected, climb, constants)
    wakes = inlet_wakes(left, inlets.reach, sources.x, sources.width, np.array(SAMPLES))
    return np.asarray(base + wakes)


def core_at_start(core: Floats, room: Room, sources: Sources, constants: Constants) -> Floats:
    """Return the core's rise where each wake begins."""
    return np.interp(wake_start(sources, constants), room.heights, core)
