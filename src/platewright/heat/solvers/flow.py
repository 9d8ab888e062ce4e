"""March the flow of ``FlowProblem`` on in time.

Staggered grid; carrying by a third-order upwind-biased rule (bounded for temperature), steps of
Adams and Bashforth; spreading explicit; pressure by one direct cosine transform per step. Inside
solids the transform knows no wall, so a trace of flow would leak in: it is cut off each step and
the pressure carried over, which drives the leak towards nothing as the flow settles. ``leak``
says what is left. Nothing here draws random numbers: the same problem gives the same bytes.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, Final

import numpy as np
from scipy.fft import dctn, idctn

from platewright.heat.kernels.field import advance, eddies, fastest, lift, outflow, push
from platewright.heat.kernels.sweep import sweep_across, sweep_along, sweep_warmth
from platewright.heat.solvers.flow_problem import UP, Flags, Floats, FlowProblem

_CROSSING: Final = 0.65  # share of a cell crossed in a step; 0.8 was still stable, 1.0 was not
_SPREADING: Final = 0.5  # of the longest step spreading alone allows; 0.8 was not stable
_PASSES: Final = 2  # pressure solves per step when there are solids


@dataclass(slots=True)
class _Field:
    """A marched quantity with its rates."""

    value: Floats
    is_open: Flags
    carry: Floats = field(init=False)
    before: Floats = field(init=False)
    spread: Floats = field(init=False)

    def __post_init__(self) -> None:
        self.carry, self.before, self.spread = (np.zeros_like(self.value) for _ in range(3))


class Flow:
    """The moving air: temperatures in cells, speeds on faces, and the time they stand at."""

    def __init__(self, problem: FlowProblem, warmth: Floats) -> None:
        cells = problem.grid.cells
        self.problem = problem
        self.time = 0.0
        self.leak = 0.0
        self.heat_out = 0.0  # K·m³ taken by the walls since the start
        self._steps = np.array(problem.grid.steps)
        self._warmth = _Field(warmth.astype(np.float64).copy(), problem.air)
        self._speeds = tuple(
            _Field(np.zeros(is_open.shape), is_open) for is_open in _open_faces(problem.air)
        )
        self._pressure = np.zeros(cells)
        self._viscosity = np.full(cells, problem.viscosity)
        self._diffusivity = np.full(cells, problem.diffusivity)
        self._films = tuple(problem.films(axis) for axis in range(3))
        self._sweeps = [self._views_along(axis) for axis in range(3)]
        self._across = [
            self._views_across(axis, other)
            for axis in range(3)
            for other in range(3)
            if other != axis and not _is_flat(problem, other)
        ]
        self._waves = _waves(problem)
        self._out = np.empty(cells)
        self._has_solids = not problem.air.all()
        self._last = 0.0
        self._air = problem.air.astype(np.float64)

    @property
    def warmth(self) -> Floats:
        """Temperatures in the cells (solids: as at the start)."""
        return self._warmth.value

    def speed(self, axis: int) -> Floats:
        """Speeds along an axis on the faces across it, m/s."""
        return self._speeds[axis].value

    def start_from(self, coarse: Flow) -> None:
        """Take over the state of the same flow on cells twice as large (flat axes as they are)."""
        ratio = [n // m for n, m in zip(self.warmth.shape, coarse.warmth.shape, strict=True)]
        self.warmth[:] = _repeated(coarse.warmth, ratio)
        for axis, one in enumerate(self._speeds):
            along = ratio[axis]
            others = [1 if a == axis else r for a, r in enumerate(ratio)]
            held = np.moveaxis(_repeated(coarse.speed(axis), others), axis, 0)
            fine = np.moveaxis(one.value, axis, 0)
            for part in range(along):
                share = part / along
                fine[part:-1:along] = (1 - share) * held[:-1] + share * held[1:]
            fine[-1] = held[-1]

    def _xyz(self) -> tuple[Floats, Floats, Floats]:
        return self.speed(0), self.speed(1), self.speed(2)

    def rates(self) -> None:
        """Work out how fast everything changes now."""
        problem = self.problem
        if problem.eddy > 0:
            self._stir()
        for warmth, along, _ in self._sweeps:
            sweep_warmth(*warmth)
            sweep_along(*along)
        for across in self._across:
            sweep_across(*across)
        self._warmth.spread += problem.heating
        lift(self._speeds[UP].spread, self.warmth, problem.air, problem.lift)

    def _views_along(self, axis: int) -> tuple[list[Any], list[Any], list[Any]]:
        one, warmth, step = self._speeds[axis], self._warmth, self.problem.grid.steps[axis]
        return (
            [
                *_views(axis, warmth.value, warmth.is_open, one.value, self._diffusivity),
                self._films[axis],
                *_views(axis, warmth.carry, warmth.spread),
                step,
            ],
            [*_views(axis, one.value, self._viscosity, one.carry, one.spread), step],
            _views(axis, one.value, one.is_open),
        )

    def _views_across(self, axis: int, other: int) -> tuple[Any, ...]:
        one, walls = self._speeds[axis], self.problem.walls[other]
        return (
            *_views(other, one.value, one.is_open, self._speeds[other].value, self._viscosity),
            *_views(other, one.carry, one.spread),
            self.problem.grid.steps[other],
            axis + 1 if axis < other else axis,  # place of the own axis once ``other`` leads
            1.0 if walls[0].slides else -1.0,
        )

    def _stir(self) -> None:
        problem = self.problem
        length = problem.eddy * problem.grid.volume ** (1 / 3)
        x, y, z = self._xyz()
        eddies(x, y, z, self._steps, self._viscosity, problem.viscosity, length)
        extra = self._viscosity - problem.viscosity
        np.multiply(extra, 1.0 / problem.eddy_prandtl, out=self._diffusivity)
        self._diffusivity += problem.diffusivity

    def step_allowed(self, longest: float) -> float:
        """Return the longest time step that stays stable, s."""
        x, y, z = self._xyz()
        crossing = fastest(x, y, z, self._steps)
        most = max(float(self._viscosity.max()), float(self._diffusivity.max()))
        used = [s for s, n in zip(self._steps, self.problem.grid.cells, strict=True) if n > 1]
        spreading = _SPREADING / (2 * most * sum(1 / s**2 for s in used))
        return float(min(longest, spreading, _CROSSING / max(crossing, 1e-12)))

    def march(self, step: float) -> None:
        """Go on by one step of time (s) with the rates last worked out."""
        ahead = 0.5 * step / self._last if self._last > 0 else 0.0
        self._last = step
        self.heat_out += step * self.wall_heat()
        for one in (self._warmth, *self._speeds):
            advance(one.value, one.is_open, one.carry, one.before, one.spread, step, ahead)
        self._push(self._pressure, step)
        self._project(step)
        self.time += step

    def _push(self, pressure: Floats, strength: float) -> None:
        for axis, (_, _, speed) in enumerate(self._sweeps):
            if self.problem.grid.cells[axis] > 1:
                slope = np.moveaxis(pressure, axis, 0)
                value, is_open = speed
                push(value, is_open, slope, strength / self.problem.grid.steps[axis])

    def _project(self, step: float) -> None:
        out, (x, y, z) = self._out, self._xyz()
        for _ in range(_PASSES if self._has_solids else 1):
            outflow(x, y, z, self._steps, out)
            change = idctn(dctn(out, type=2) / self._waves, type=2)
            self._pressure += change / step
            self._push(change, 1.0)
        if self._has_solids:
            self.leak = outflow(x, y, z, self._steps, out)

    def wall_heat(self) -> float:
        """Return what the walls take now over ρ·c, K·m³/s."""
        total = 0.0
        for axis in range(3):
            film = self._films[axis]
            for place, low in ((0, 0), (-1, 2)):
                cells = np.take(self.warmth, place, axis=axis)
                air = np.take(self._air, place, axis=axis)
                taken = film[low] * float(((cells - film[low + 1]) * air).sum())
                total += taken * self.problem.grid.face(axis)
        return total


def _repeated(values: Floats, times: list[int]) -> Floats:
    for axis, n in enumerate(times):
        values = np.repeat(values, n, axis=axis)
    return values


def _is_flat(problem: FlowProblem, axis: int) -> bool:
    """Tell whether nothing can differ along an axis."""
    return problem.grid.cells[axis] == 1 and problem.walls[axis][0].slides


def _views(axis: int, *arrays: Floats | Flags) -> list[Any]:
    """Return the arrays with an axis brought to the front."""
    return [np.moveaxis(np.asarray(array), axis, 0) for array in arrays]


def _open_faces(air: Flags) -> list[Flags]:
    """Return per axis which faces lie between two air cells."""
    faces = []
    for axis in range(3):
        shape = list(air.shape)
        shape[axis] += 1
        is_open = np.zeros(shape, dtype=np.uint8)
        moved, cells = np.moveaxis(is_open, axis, 0), np.moveaxis(air, axis, 0)
        moved[1:-1] = cells[1:] & cells[:-1]
        faces.append(is_open)
    return faces


def _waves(problem: FlowProblem) -> Floats:
    """Return the Laplacian of each cosine wave on the grid (the even one never needs a push)."""
    total = np.zeros(problem.grid.cells)
    for axis, (cells, step) in enumerate(zip(problem.grid.cells, problem.grid.steps, strict=True)):
        line = -4.0 / step**2 * np.sin(np.pi * np.arange(cells) / (2 * cells)) ** 2
        shape = [1, 1, 1]
        shape[axis] = cells
        total = total + line.reshape(shape)
    total[0, 0, 0] = np.inf
    return total
