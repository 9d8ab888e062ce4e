"""Deep check: the flow of air in a cabinet marched until it is settled, then averaged.

Judges the pattern of the air's temperature; its level follows from the wall losses and the
convective share that are put in. Cells of 12 to 20 mm do not resolve the layers along the walls:
see ``docs/heat-validation.md`` for what that costs.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

import numpy as np
from scipy import ndimage

from platewright.foundation.units import MM_PER_M, DegC, Mm, Ratio, Watt
from platewright.heat.solvers.cabinet import FlowBlock, FlowCabinet, problem_of, shares
from platewright.heat.solvers.flow import Flow
from platewright.heat.solvers.flow_problem import Floats, FlowProblem, Grid

Progress = Callable[[float, str], bool]  # (share done, what is going on) -> go on?

AVERAGED: Final = 0.4  # share of the time, at its end, that the answer is the mean of
LONGEST_STEP: Final = 0.05  # s
SHORTEST_STEP: Final = 1e-6
COARSER: Final = 2.0  # size of the first cells over the asked ones
LONGER: Final = 3.0  # time marched on them over the asked one
FIRST: Final[Ratio] = 0.2  # share of the whole work that takes
REPORT_EVERY: Final = 5  # steps
FOOT_ROOM: Final[Mm] = 25.0  # height of the air under a device's foot that counts as its inlet


@dataclass(frozen=True, slots=True, kw_only=True)
class FlowField:
    """Time-mean temperatures of the air, and how well the heat adds up."""

    cell: tuple[Mm, Mm, Mm]  # across, out of the plate, up
    temperature: Floats  # °C, (across, out, up); solid cells hold NaN
    inlet: Mapping[str, DegC]  # tag of a device -> air under its foot
    mean_air: DegC
    heat: Watt  # put in
    wall_heat: Watt  # taken by the walls, mean over the averaged time
    stored: Watt  # still warming the air (or cooling, below 0), mean over the same time
    seconds: float  # of flow marched
    averaged: float  # seconds the answer is the mean of; 0: stopped early, the last moment alone
    finished: bool
    leak: float  # flow through solids left by the pressure solve: largest net outflow, 1/s

    @property
    def residual(self) -> Ratio:
        """Share of the heat put in that is neither taken by the walls nor stored."""
        if self.heat == 0:
            return 0.0
        return abs(self.heat - self.wall_heat - self.stored) / self.heat

    def front(self) -> Floats:
        """Return the mean over the depth, (across, up); NaN where no air is."""
        return _mean(self.temperature, axis=1)

    def side(self) -> Floats:
        """Return the mean over the width, (out, up); NaN where no air is."""
        return _mean(self.temperature, axis=0)


def deep_check(
    cabinet: FlowCabinet, *, cell: Mm, across: Mm | None = None, seconds: float, report: Progress
) -> FlowField:
    """Return the settled field of a cabinet, or the best so far when ``report`` says stop.

    ``cell``: size of the cells, ``across``: their width where other; ``seconds``: time of flow to march on them (60 settles usual
    cabinets), the last two fifths of it averaged. The layers of warm air need longer to settle
    than the flow, so they are first brought near their end on cells twice as large, which cost
    little. The same cabinet gives the same field, bit for bit.
    """
    coarse = problem_of(cabinet, COARSER * cell, None if across is None else COARSER * across)
    level = cabinet.heat / cabinet.conductance if cabinet.conductance else 0.0
    first = Flow(coarse, np.full(coarse.grid.cells, level))
    going = _march(first, LONGER * seconds, None, _part(report, 0.0, FIRST))
    if not going:
        return _Mean(first).field(cabinet, finished=False)
    fine = problem_of(cabinet, cell, across)
    flow = Flow(fine, _spread_over(first.warmth, coarse, fine.grid))
    mean = _Mean(flow)
    going = _march(flow, seconds, mean, _part(report, FIRST, 1.0))
    return mean.field(cabinet, finished=going)


def _march(flow: Flow, seconds: float, mean: _Mean | None, report: Progress) -> bool:
    """March the flow; tell whether it went to the end."""
    steps = 0
    while flow.time < seconds:
        flow.rates()
        step = min(flow.step_allowed(LONGEST_STEP), max(seconds - flow.time, SHORTEST_STEP))
        if mean is not None and flow.time >= (1 - AVERAGED) * seconds:
            mean.add(step)
        flow.march(step)
        steps += 1
        told = f"air flow, {flow.time:.0f} of {seconds:.0f} s"
        if steps % REPORT_EVERY == 0 and not report(flow.time / seconds, told):
            return False
    return True


def _part(report: Progress, low: Ratio, high: Ratio) -> Progress:
    """Return a report that speaks for one part of the whole work."""
    return lambda share, words: report(low + (high - low) * min(share, 1.0), words)


def _spread_over(warmth: Floats, coarse: FlowProblem, grid: Grid) -> Floats:
    """Return temperatures on other cells: solids take the nearest air, then between cells."""
    nearest = ndimage.distance_transform_edt(
        coarse.air == 0, return_distances=False, return_indices=True
    )
    filled = warmth[tuple(nearest)]
    places = [
        (np.arange(n) + 0.5) * m / n - 0.5 for n, m in zip(grid.cells, filled.shape, strict=True)
    ]
    at = np.meshgrid(*places, indexing="ij")
    spread: Floats = ndimage.map_coordinates(filled, at, order=1, mode="nearest")
    return spread


class _Mean:
    """Running mean of the temperatures, and of the heat since it was begun."""

    def __init__(self, flow: Flow) -> None:
        self.flow = flow
        self.total = np.zeros_like(flow.warmth)
        self.time = 0.0
        self.stored_at = self.out_at = 0.0

    def add(self, step: float) -> None:
        """Count the temperatures of now for so many seconds."""
        if self.time == 0:
            self.stored_at, self.out_at = self._stored(), self.flow.heat_out
        self.total += step * self.flow.warmth
        self.time += step

    def field(self, cabinet: FlowCabinet, *, finished: bool) -> FlowField:
        """Return the answer."""
        flow, problem, per_volume = self.flow, self.flow.problem, cabinet.air.heat_per_volume
        rise = self.total / self.time if self.time else flow.warmth
        if self.time:
            out = (flow.heat_out - self.out_at) / self.time * per_volume
            stored = (self._stored() - self.stored_at) / self.time * per_volume
        else:
            out = flow.wall_heat() * per_volume
            stored = cabinet.heat - out  # by the scheme's own balance at one moment
        warm = np.where(problem.air == 1, rise + cabinet.ambient, np.nan)
        return FlowField(
            cell=_cell(problem.grid),
            temperature=warm,
            inlet=inlets(cabinet, problem, warm),
            mean_air=float(np.nanmean(warm)),
            heat=cabinet.heat,
            wall_heat=out,
            stored=stored,
            seconds=flow.time,
            averaged=self.time,
            finished=finished,
            leak=flow.leak,
        )

    def _stored(self) -> float:
        problem = self.flow.problem
        return float((self.flow.warmth * problem.air).sum()) * problem.grid.volume


def inlets(cabinet: FlowCabinet, problem: FlowProblem, warm: Floats) -> Mapping[str, DegC]:
    """Return the mean air under each device's foot.

    Where no air is there (a duct close below): the air before that place; failing that too, the
    air at that height.
    """
    found = {}
    for block in cabinet.blocks:
        if block.is_device:
            found[block.tag] = _inlet(block, cabinet, problem, warm)
    return MappingProxyType(found)


def _inlet(block: FlowBlock, cabinet: FlowCabinet, problem: FlowProblem, warm: Floats) -> DegC:
    inside, grid, air = cabinet.inside, problem.grid, problem.air
    across = shares(block.box.left - inside.left, block.box.right - inside.left, 0, grid)
    foot = block.box.bottom - inside.bottom
    under = shares(max(foot - FOOT_ROOM, 0.0), max(foot, FOOT_ROOM), 2, grid)
    behind = shares(0.0, block.depth, 1, grid)
    before = shares(block.depth, min(block.depth + FOOT_ROOM, cabinet.depth), 1, grid)
    everywhere = np.ones(grid.cells[0]), np.ones(grid.cells[1])
    for x, z in ((across, behind), (across, before), everywhere):
        weight = x[:, None, None] * z[None, :, None] * under[None, None, :] * air
        if weight.sum() > 0:
            return float(np.average(np.where(air == 1, warm, 0.0), weights=weight))
    return float(np.nanmean(warm))


def _cell(grid: Grid) -> tuple[Mm, Mm, Mm]:
    across, out, up = (step * MM_PER_M for step in grid.steps)
    return across, out, up


def _mean(values: Floats, *, axis: int) -> Floats:
    count = (~np.isnan(values)).sum(axis=axis)
    total = np.nansum(values, axis=axis)
    mean: Floats = np.where(count > 0, total / np.maximum(count, 1), np.nan)
    return mean
