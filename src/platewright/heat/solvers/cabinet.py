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
Span = tuple[int, int]
Spans = tuple[Span, Span, Span]


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


def grid_of(cabinet: FlowCabinet, cell: Mm) -> Grid:
    """Return cells of about the given size that fill the space exactly."""
    if cell <= 0:
        raise ValueError(f"cells of {cell} mm: must be above 0")
    lengths = (cabinet.inside.width, cabinet.depth, cabinet.inside.height)
    cells = tuple(max(2, round(length / cell)) for length in lengths)
    steps = tuple(length / n / MM_PER_M for length, n in zip(lengths, cells, strict=True))
    return Grid(cells=(cells[0], cells[1], cells[2]), steps=(steps[0], steps[1], steps[2]))


def problem_of(cabinet: FlowCabinet, cell: Mm) -> FlowProblem:
    """Return the flow problem of a cabinet; temperatures count from ambient."""
    grid = grid_of(cabinet, cell)
    spans = [spans_of(block, cabinet, grid) for block in cabinet.blocks]
    air = _air(spans, grid)
    per_volume = cabinet.air.heat_per_volume
    w = cabinet.walls

    def wall(transmittance: WattPerM2K) -> Wall:
        return Wall(film=transmittance / per_volume)

    return FlowProblem(
        grid=grid,
        air=air,
        heating=_heating(cabinet, spans, air, grid.volume * per_volume),
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


def spans_of(block: FlowBlock, cabinet: FlowCabinet, grid: Grid) -> Spans:
    """Return the cells a block fills along each axis: at least one, the nearest ones."""
    inside = cabinet.inside
    return (
        _span(block.box.left - inside.left, block.box.right - inside.left, 0, grid),
        _span(0.0, block.depth, 1, grid),
        _span(block.box.bottom - inside.bottom, block.box.top - inside.bottom, 2, grid),
    )


def _span(low: Mm, high: Mm, axis: int, grid: Grid) -> Span:
    cells, step = grid.cells[axis], grid.steps[axis] * MM_PER_M
    first, last = round(low / step), round(high / step)
    if last <= first:
        first = int((low + high) / 2 // step)
        last = first + 1
    first = min(max(first, 0), cells - 1)
    return first, min(max(last, first + 1), cells)


def _slices(spans: Spans) -> tuple[slice, slice, slice]:
    return slice(*spans[0]), slice(*spans[1]), slice(*spans[2])


def _air(spans: list[Spans], grid: Grid) -> Flags:
    """Return where air is; pockets shut off from the rest count as solid."""
    air = np.ones(grid.cells, dtype=np.uint8)
    for each in spans:
        air[_slices(each)] = 0
    if not air.any():
        raise ValueError("the blocks fill the whole cabinet: no air is left to flow")
    rooms, count = ndimage.label(air)
    if count > 1:
        sizes = np.bincount(rooms.ravel())[1:]
        air = (rooms == 1 + int(sizes.argmax())).astype(np.uint8)
    return air


def _heating(cabinet: FlowCabinet, spans: list[Spans], air: Flags, capacity: float) -> Floats:
    """Return K/s per cell: each block's heat in the air that touches front, sides and top."""
    heating = np.zeros(air.shape)
    rises = air.copy()
    rises[:, :, :-1] &= air[:, :, 1:]
    for block, each in zip(cabinet.blocks, spans, strict=True):
        if block.heat:
            touching = _touching(each, air, rises)
            heating += touching * (block.heat / capacity / float(touching.sum()))
    return heating


def _touching(spans: Spans, air: Flags, rises: Flags) -> Floats:
    """Return how many faces of a block each air cell touches; failing any, the nearest air.

    Beside and above the block only air that can rise counts: cells of this size do not move the
    air in a slot one cell high, and heat put there would only pile up.
    """
    x, z, y = _slices(spans)
    (x0, x1), (_, z1), (_, y1) = spans
    faces = np.zeros(air.shape)
    if x0 > 0:
        faces[x0 - 1, z, y] += rises[x0 - 1, z, y]
    if x1 < air.shape[0]:
        faces[x1, z, y] += rises[x1, z, y]
    if y1 < air.shape[2]:
        faces[x, z, y1] += rises[x, z, y1]
    if z1 < air.shape[1]:
        faces[x, z1, y] += air[x, z1, y]
    if not faces.any():
        block = np.ones(air.shape, dtype=np.uint8)
        block[x, z, y] = 0
        far = np.where(air, ndimage.distance_transform_edt(block), np.inf)
        faces[far == far.min()] = 1.0
    return faces
