"""The cavity with one hot and one cold side, for which published solutions exist.

Unit square or cube, two sides at 1 and 0, the others let no heat pass, Pr 0.71. Published
solution of the square: G. de Vahl Davis, Int. J. Numer. Methods Fluids 3 (1983) 249–264; of the
cube: E. Tric, G. Labrosse, M. Betrouni, Int. J. Heat Mass Transfer 43 (2000) 4043–4056.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from platewright.heat.solvers.flow import Flow
from platewright.heat.solvers.flow_problem import UP, Floats, FlowProblem, Grid, Wall

PRANDTL: Final = 0.71
_LOOK_EVERY: Final = 50  # steps
_LONGEST: Final = 3.0  # in units of L²/diffusivity; every steady case settles well before


@dataclass(frozen=True, slots=True, kw_only=True)
class CavityResult:
    """Settled flow in the square cavity, without dimensions (lengths L, speeds diffusivity/L)."""

    cells: int
    nusselt: float  # hot side, slope of second order
    across: float  # largest horizontal speed on the upright middle line
    upward: float  # largest upward speed on the level middle line
    settled: bool
    steps: int


def square_cavity(rayleigh: float, *, cells: int, rest: float = 1e-3) -> tuple[CavityResult, Flow]:
    """Return the settled flow on ``cells`` by ``cells`` equal cells, started on half as many.

    ``rest``: largest rate of change of a temperature that counts as settled. ``cells`` is even.
    """
    flow = Flow(_problem(rayleigh, cells, 1), _conduction(cells, 1))
    if cells >= 32 and cells % 4 == 0:
        flow.start_from(square_cavity(rayleigh, cells=cells // 2, rest=10 * rest)[1])
    return _settle(flow, rest), flow


def cube_cavity(rayleigh: float, *, cells: int, rest: float = 1e-2) -> CavityResult:
    """Return the settled flow in a cube whose four other sides let no heat pass."""
    return _settle(Flow(_problem(rayleigh, cells, cells), _conduction(cells, cells)), rest)


def _settle(flow: Flow, rest: float) -> CavityResult:
    steps, change = 0, np.inf
    while change > rest and flow.time < _LONGEST:
        before, since = flow.warmth.copy(), flow.time
        for _ in range(_LOOK_EVERY):
            flow.rates()
            flow.march(flow.step_allowed(1.0))
        steps += _LOOK_EVERY
        change = float(np.abs(flow.warmth - before).max()) / (flow.time - since)
    cells, deep, _ = flow.warmth.shape
    return CavityResult(
        cells=cells,
        nusselt=hot_side_nusselt(flow.warmth),
        across=_peak(flow.speed(0)[cells // 2, deep // 2, :]),
        upward=_peak(flow.speed(UP)[:, deep // 2, cells // 2]),
        settled=change <= rest,
        steps=steps,
    )


def hot_side_nusselt(warmth: Floats) -> float:
    """Return the mean slope at the side held at 1, from two cells: second order."""
    cells = warmth.shape[0]
    return float(((8.0 - 9.0 * warmth[0] + warmth[1]) / 3.0).mean() * cells)


def extrapolated(coarse: float, fine: float, ratio: float) -> float:
    """Return the value on endlessly many cells (Richardson, second order)."""
    return fine + (fine - coarse) / (ratio**2 - 1.0)


def _problem(rayleigh: float, cells: int, deep: int) -> FlowProblem:
    grid = Grid(cells=(cells, deep, cells), steps=(1.0 / cells, 1.0 / deep, 1.0 / cells))
    end = Wall(slides=deep == 1)
    return FlowProblem(
        grid=grid,
        air=np.ones(grid.cells, dtype=np.uint8),
        heating=np.zeros(grid.cells),
        walls=(
            (Wall(film=None, warmth=1.0), Wall(film=None, warmth=0.0)),
            (end, end),
            (Wall(), Wall()),
        ),
        viscosity=PRANDTL,
        diffusivity=1.0,
        lift=rayleigh * PRANDTL,
    )


def _conduction(cells: int, deep: int) -> Floats:
    places = (np.arange(cells) + 0.5) / cells
    return np.broadcast_to((1.0 - places)[:, None, None], (cells, deep, cells)).copy()


def _peak(values: Floats) -> float:
    """Return the top of the parabola through the largest value and its neighbours."""
    at = int(values.argmax())
    if at in (0, len(values) - 1):
        return float(values[at])
    low, top, high = values[at - 1 : at + 2]
    bend = low - 2 * top + high
    return float(top - (high - low) ** 2 / (8 * bend)) if bend < 0 else float(top)
