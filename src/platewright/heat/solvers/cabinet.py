"""The cabinet as the flow solver takes it: blocks, sources and walls laid on cells.

Lengths in mm in plate coordinates (across, up, out of the plate). Blocks stand on the plate's
face; the space is what lies between that face and the inside of the door.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from scipy import ndimage

from platewright.foundation.units import MM_PER_M, DegC, Mm, Watt, WattPerM2K
from platewright.heat.air import GRAVITY, Air
from platewright.heat.solvers.flow_problem import Flags, Floats, FlowProblem, Grid, Wall
from platewright.model.geometry import Box

EDDY: Final = 0.17  # Smagorinsky's constant for isotropic turbulence (Lilly 1967), from memory
HALF: Final = 0.5 - 1e-9  # of a cell: from there on it counts as solid
Reach = tuple[tuple[Mm, Mm], tuple[Mm, Mm], tuple[Mm, Mm]]  # across, out of the plate, up


@dataclass(frozen=True, slots=True, kw_only=True)
class FlowBlock:
    """Something solid on the plate: a device with its convective heat, or a duct with none."""

    tag: str
    box: Box
    depth: Mm
    heat: Watt = 0.0  # the part given to the air; radiation is not in it
    is_device: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class FlowWalls:
    """Heat each wall lets through per area and kelvin, air inside to air outside; 0: none."""

    left: WattPerM2K
    right: WattPerM2K
    floor: WattPerM2K
    roof: WattPerM2K
    door: WattPerM2K
    plate: WattPerM2K = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class FlowCabinet:
    """The air space between plate and door, and all that stands in it."""

    inside: Box
    depth: Mm
    ambient: DegC
    walls: FlowWalls
    air: Air[float]  # at about the mean temperature inside
    blocks: tuple[FlowBlock, ...]

    @property
    def heat(self) -> Watt:
        """Convective heat of all blocks."""
        return sum(block.heat for block in self.blocks)

    @property
    def conductance(self) -> float:
        """Heat that leaves per kelvin of mean rise if all air were at one temperature, W/K."""
        w, h, d = (
            length / MM_PER_M for length in (self.inside.width, self.inside.height, self.depth)
        )
        walls = self.walls
        return (
            (walls.left + walls.right) * h * d
            + (walls.floor + walls.roof) * w * d
            + (walls.door + walls.plate) * w * h
        )


def grid_of(cabinet: FlowCabinet, cell: Mm, across: Mm | None = None) -> Grid:
    """Return cells of about the given size that fill the space exactly; ``across``: their width."""
    wide = cell if across is None else across
    if min(cell, wide) <= 0:
        raise ValueError(f"cells of {min(cell, wide)} mm: must be above 0")
    lengths = (cabinet.inside.width, cabinet.depth, cabinet.inside.height)
    cells = tuple(
        max(2, round(length / size))
        for length, size in zip(lengths, (wide, cell, cell), strict=True)
    )
    steps = tuple(length / n / MM_PER_M for length, n in zip(lengths, cells, strict=True))
    return Grid(cells=(cells[0], cells[1], cells[2]), steps=(steps[0], steps[1], steps[2]))


def problem_of(cabinet: FlowCabinet, cell: Mm, across: Mm | None = None) -> FlowProblem:
    """Return the flow problem of a cabinet; temperatures count from ambient."""
    grid = grid_of(cabinet, cell, across)
    air = _air(cabinet, grid)
    per_volume = cabinet.air.heat_per_volume
    w = cabinet.walls

    def wall(transmittance: WattPerM2K) -> Wall:
        return Wall(film=transmittance / per_volume)

    return FlowProblem(
        grid=grid,
        air=air,
        heating=_heating(cabinet, grid, air),
        walls=(
            (wall(w.left), wall(w.right)),
            (wall(w.plate), wall(w.door)),
            (wall(w.floor), wall(w.roof)),
        ),
        viscosity=cabinet.air.kinematic,
        diffusivity=cabinet.air.conductivity / per_volume,
        lift=GRAVITY / cabinet.air.temperature,
        eddy=EDDY,
    )


def shares(low: Mm, high: Mm, axis: int, grid: Grid) -> Floats:
    """Return which share of each cell along an axis lies between two places (mm from inside)."""
    step = grid.steps[axis] * MM_PER_M
    edges = np.arange(grid.cells[axis] + 1) * step
    shared: Floats = np.minimum(edges[1:], high) - np.maximum(edges[:-1], low)
    return np.maximum(shared, 0.0) / step


def _reach(block: FlowBlock, cabinet: FlowCabinet) -> Reach:
    """Return from where to where a block reaches: across, out of the plate, up."""
    box, inside = block.box, cabinet.inside
    return (
        (box.left - inside.left, box.right - inside.left),
        (0.0, block.depth),
        (box.bottom - inside.bottom, box.top - inside.bottom),
    )


def _add(cells: Floats, reach: Reach, grid: Grid) -> None:
    """Add to each cell the share of it that lies within a box."""
    parts = [shares(low, high, axis, grid) for axis, (low, high) in enumerate(reach)]
    some = [np.flatnonzero(part) for part in parts]
    if all(at.size for at in some):
        x, z, y = (part[at] for part, at in zip(parts, some, strict=True))
        cells[np.ix_(*some)] += x[:, None, None] * z[None, :, None] * y[None, None, :]


def _air(cabinet: FlowCabinet, grid: Grid) -> Flags:
    """Return where air is: cells less than half filled. Pockets shut off count as solid.

    So what stands on the plate keeps its volume on the whole, whatever the cells; what is thinner
    than half a cell and stands alone is no obstacle, but still gives off its heat.
    """
    filled = np.zeros(grid.cells)
    for block in cabinet.blocks:
        _add(filled, _reach(block, cabinet), grid)
    air = (filled < HALF).astype(np.uint8)
    if not air.any():
        raise ValueError("the blocks fill the whole cabinet: no air is left to flow")
    rooms, count = ndimage.label(air)
    if count > 1:
        sizes = np.bincount(rooms.ravel())[1:]
        air = (rooms == 1 + int(sizes.argmax())).astype(np.uint8)
    return air


def _heating(cabinet: FlowCabinet, grid: Grid, air: Flags) -> Floats:
    """Return K/s per cell: each block's heat in the air that touches front, sides and top."""
    heating = np.zeros(air.shape)
    rises = air.copy()
    rises[:, :, :-1] &= air[:, :, 1:]
    capacity = grid.volume * cabinet.air.heat_per_volume
    for block in cabinet.blocks:
        if block.heat:
            touching = _touching(_reach(block, cabinet), grid, air, rises)
            heating += touching * (block.heat / capacity / float(touching.sum()))
    return heating


def _touching(reach: Reach, grid: Grid, air: Flags, rises: Flags) -> Floats:
    """Return how much of a block's surface each air cell has; failing any, the nearest air.

    Beside and above the block only air that can rise counts: cells of this size do not move the
    air in a slot one cell high, and heat put there would only pile up.
    """
    dx, dz, dy = (step * MM_PER_M for step in grid.steps)
    x, z, y = reach
    front, round_it = np.zeros(air.shape), np.zeros(air.shape)
    _add(front, (x, (z[1], z[1] + dz), y), grid)
    for layer in (((x[0] - dx, x[0]), z, y), ((x[1], x[1] + dx), z, y)):
        beside = np.zeros(air.shape)
        _add(beside, layer, grid)
        round_it += beside * (dx / dz)
    over = np.zeros(air.shape)
    _add(over, (x, z, (y[1], y[1] + dy)), grid)
    round_it += over * (dy / dz)
    faces: Floats = front * air + round_it * rises
    if faces.sum() <= 0.0:
        far = np.where(air, ndimage.distance_transform_edt(_all_but(reach, grid)), np.inf)
        faces = (far == far.min()).astype(np.float64)
    return faces


def _all_but(reach: Reach, grid: Grid) -> Flags:
    """Return 1 everywhere but in the cell that holds a block's middle."""
    marks = np.ones(grid.cells, dtype=np.uint8)
    middle = tuple(
        min(max(int((low + high) / 2 / (step * MM_PER_M)), 0), n - 1)
        for (low, high), step, n in zip(reach, grid.steps, grid.cells, strict=True)
    )
    marks[middle] = 0
    return marks
