"""Air that rises where it is warm, in a box cut into equal cells: what is given.

Axes of the arrays: across, out of the plate, up. SI units (m, s, K) throughout, since the laws of
flow are written in them; drivers convert at their edge. Temperatures count from any fixed level.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Flags = NDArray[np.uint8]
Three = tuple[float, float, float]

UP: Final = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """Cells along each axis and their sizes in m."""

    cells: tuple[int, int, int]
    steps: Three

    @property
    def volume(self) -> float:
        """Volume of one cell, m³."""
        return self.steps[0] * self.steps[1] * self.steps[2]

    def face(self, axis: int) -> float:
        """Return the area of a cell's face across an axis, m²."""
        return self.volume / self.steps[axis]


@dataclass(frozen=True, slots=True, kw_only=True)
class Wall:
    """One outer wall: heat it takes per area and kelvin over ρ·c (m/s), its temperature, its grip.

    ``film`` None: the wall's surface itself has the temperature. 0: no heat passes.
    """

    film: float | None = 0.0
    warmth: float = 0.0
    slides: bool = False


WallPair = tuple[Wall, Wall]  # at the low end and at the high end of an axis


@dataclass(frozen=True, slots=True, kw_only=True)
class FlowProblem:
    """A box of air with solid cells, sources and walls."""

    grid: Grid
    air: Flags  # 1 air, 0 solid
    heating: Floats  # K/s in each cell
    walls: tuple[WallPair, WallPair, WallPair]
    viscosity: float  # m²/s
    diffusivity: float  # m²/s
    lift: float  # g·β, m/(s²·K)
    eddy: float = 0.0  # Smagorinsky's constant; 0: no eddies below the grid
    eddy_prandtl: float = 0.85

    def films(self, axis: int) -> Floats:
        """Return (film, temperature) of the low and the high wall; a film of 0 closes it."""
        numbers = []
        for wall in self.walls[axis]:
            film = 2 * self.diffusivity / self.grid.steps[axis] if wall.film is None else wall.film
            numbers += [film, wall.warmth]
        return np.array(numbers)
