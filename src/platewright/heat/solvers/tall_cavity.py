"""The measured tall cavity of Betts and Bokhari: the flow solver against an experiment.

P. L. Betts, I. H. Bokhari, Int. J. Heat Fluid Flow 21 (2000) 675–683; 2.18 m high, 0.076 m wide,
0.52 m deep, sides at 34.7 and 15.1 °C, Ra 0.86e6 on the width: turbulent core. Floor and roof
are taken as letting no heat pass.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np

from platewright.foundation.units import DegC
from platewright.heat.air import GRAVITY, SEA_LEVEL, air_at, kelvin
from platewright.heat.solvers.flow import Flow
from platewright.heat.solvers.flow_problem import Floats, FlowProblem, Grid, Wall

WIDTH: Final = 0.076  # m
HEIGHT: Final = 2.18
COLD: Final[DegC] = 15.1
HOT: Final[DegC] = 34.7


@dataclass(frozen=True, slots=True, kw_only=True)
class TallCavityResult:
    """Time-mean temperatures in the cavity, mean over the depth, °C."""

    cells: tuple[int, int, int]
    profile: Floats  # (across from the cold side, up)
    nusselt: float  # mean of both sides, heat over that of still air
    local_nusselt: float  # cold side at half height

    def at(self, across: float, up: float) -> DegC:
        """Return the temperature at a place (m from the cold side; share of the height)."""
        nx, ny = self.profile.shape
        columns = np.array([np.interp(up * ny - 0.5, np.arange(ny), line) for line in self.profile])
        return float(np.interp(across / WIDTH * nx - 0.5, np.arange(nx), columns))


def tall_cavity(
    cells: tuple[int, int, int],
    *,
    depth: float,
    seconds: float,
    averaged: float,
    eddy: float = 0.0,
    look: Callable[[Flow], None] = lambda _: None,
) -> TallCavityResult:
    """March the cavity (a slice ``depth`` m deep that slides at its ends); average the end."""
    flow = Flow(_problem(cells, depth, eddy), _start(cells))
    total, time = np.zeros(cells), 0.0
    while flow.time < seconds:
        flow.rates()
        step = flow.step_allowed(0.05)
        if flow.time >= seconds - averaged:
            total += step * flow.warmth
            time += step
        flow.march(step)
        look(flow)
    mean = (total / time).mean(axis=1) + COLD
    slope = (9.0 * mean[0] - mean[1] - 8.0 * COLD) / 3.0 * cells[0]  # per width
    hot = (8.0 * HOT - 9.0 * mean[-1] + mean[-2]) / 3.0 * cells[0]
    span = HOT - COLD
    middle = slice(cells[2] // 2 - 1, cells[2] // 2 + 1)
    return TallCavityResult(
        cells=cells,
        profile=mean,
        nusselt=float(slope.mean() + hot.mean()) / 2 / span,
        local_nusselt=float(slope[middle].mean()) / span,
    )


def _problem(cells: tuple[int, int, int], depth: float, eddy: float) -> FlowProblem:
    air = air_at(kelvin((HOT + COLD) / 2), SEA_LEVEL)
    sizes = (WIDTH, depth, HEIGHT)
    steps = tuple(size / n for size, n in zip(sizes, cells, strict=True))
    slide = Wall(slides=True)
    return FlowProblem(
        grid=Grid(cells=cells, steps=(steps[0], steps[1], steps[2])),
        air=np.ones(cells, dtype=np.uint8),
        heating=np.zeros(cells),
        walls=(
            (Wall(film=None, warmth=0.0), Wall(film=None, warmth=HOT - COLD)),
            (slide, slide),
            (Wall(), Wall()),
        ),
        viscosity=air.kinematic,
        diffusivity=air.conductivity / air.heat_per_volume,
        lift=GRAVITY / air.temperature,
        eddy=eddy,
    )


def _start(cells: tuple[int, int, int]) -> Floats:
    """Return still air, warmer towards the hot side, with ripples that wake the eddies."""
    x, z, y = np.meshgrid(*(np.arange(n) + 0.5 for n in cells), indexing="ij")
    ripple = np.sin(1.7 * x + 0.9 * z) * np.sin(2.3 * z + 1.1 * y)
    warmth: Floats = (HOT - COLD) * (x / cells[0] + 0.02 * ripple)
    return warmth
