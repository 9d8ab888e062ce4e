"""How warm a device's housing gets: films, radiation, and heat into the plate.

    P = Σ h·A·(Ts − T_air) + ε·σ·A·(Ts⁴ − T_round⁴) + G·(Ts − T_plate) + Σ G_across·(Ts − T_next)

over front, sides, top and bottom; the back faces the plate. Films: laminar vertical law for front
and sides, McAdams for top and underside. A housing is taken as one temperature: hot spots inside
are hotter by what only its maker knows.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from platewright.foundation.units import Pascal
from platewright.heat.air import Floats, kelvin
from platewright.heat.kernels.housing import settle


@dataclass(frozen=True, slots=True, kw_only=True)
class Bodies:
    """Housings: sizes in m, losses in W, heat into the plate in W/K. One entry a device."""

    width: Floats
    height: Floats
    depth: Floats
    loss: Floats
    plate_conduction: Floats
    emissivity: Floats
    open_left: Floats  # share of the side that air and radiation reach
    open_right: Floats
    ends: NDArray[np.int64] = field(default_factory=lambda: np.empty((0, 2), dtype=np.int64))
    across: Floats = field(default_factory=lambda: np.empty(0))  # W/K between each of ``ends``


@dataclass(frozen=True, slots=True, kw_only=True)
class Round:
    """What is round each housing, °C."""

    air: Floats
    walls: Floats
    plate: Floats
    pressure: Pascal


@dataclass(frozen=True, slots=True, kw_only=True)
class Surfaces:
    """Where each housing settles."""

    temperature: Floats  # °C
    convected: Floats  # W to the air
    foot: Floats  # W into the plate
    radiated: Floats  # W


def surfaces(bodies: Bodies, around: Round) -> Surfaces:
    """Return the steady state of every housing. Checked: HEAT-41."""
    table = np.stack(
        (
            bodies.width, bodies.height, bodies.depth, bodies.loss, bodies.plate_conduction,
            bodies.emissivity, bodies.open_left + bodies.open_right,
        ),
        axis=1,
    )  # fmt: skip
    meets = kelvin(np.stack((around.air, around.walls, around.plate), axis=1))
    found = np.asarray(settle(table, meets, around.pressure, bodies.ends, bodies.across))
    return Surfaces(
        temperature=found[:, 0] - kelvin(0.0),
        convected=found[:, 1],
        foot=found[:, 2],
        radiated=found[:, 3],
    )
