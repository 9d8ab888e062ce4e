"""Which warm device faces what, how warm that gets, and how far it would have to stand."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from platewright.foundation.units import MM_PER_M, DegC, Mm, Pascal
from platewright.heat.air import Floats, kelvin
from platewright.heat.gap import Other, Warm, above, below
from platewright.heat.gap_need import usual_wall, wall_band
from platewright.heat.kernels.channel import walls_beside
from platewright.heat.kernels.nearest import nearest_sides
from platewright.heat.radiation import facing_plate, facing_point
from platewright.heat.standing import Standing
from platewright.heat.surface import Surfaces
from platewright.model.geometry import TOUCH
from platewright.model.heat import Banded, Facing
from platewright.model.layout import Duct
from platewright.tables.heat_practice import taken

SIDES: Final = ("left", "right", "top", "bottom")
REACH: Final[Mm] = 300.0  # farther than this nothing is looked at
CLOSE: Final = 10.0  # K: a side this far below the other's limit is looked at no further
OWN: Final = 10.0  # K over its own warmth that a neighbour of unknown limit is taken to bear
SHARE: Final = 0.8  # of a passive wall's rise that a neighbour which is warm itself takes on
STEPS: Final = 10
KIND: Final = np.array([0, 0, 1, 2])  # which curve serves each side


@dataclass(frozen=True, slots=True, kw_only=True)
class Nearest:
    """What stands nearest on each side of each device: (4, devices). Infinite: nothing."""

    distance: Floats  # mm
    other: NDArray[np.intp]  # devices first, then ducts


def nearest(edges: Floats, others: Floats) -> Nearest:
    """Return the nearest box that faces each side of each box, itself left out."""
    distance, other = nearest_sides(edges, others, TOUCH)
    return Nearest(distance=distance, other=other)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pairs:
    """Index of the warm device, its side, index of the nearest other (ducts after devices)."""

    device: NDArray[np.intp]
    side: NDArray[np.intp]
    other: NDArray[np.intp]
    distance: Floats  # mm


def others_of(standing: Standing, ducts: dict[str, Duct]) -> Floats:
    """Return the boxes of all devices, then all ducts: (m, 4)."""
    boxes = [(d.box.left, d.box.bottom, d.box.right, d.box.top) for d in ducts.values()]
    table = np.array(boxes, dtype=np.float64).reshape(-1, 4)
    return np.concatenate((standing.edges, table))


def _pairs(near: Nearest, warm: NDArray[np.bool_]) -> Pairs:
    side, device = np.nonzero((near.distance <= REACH) & warm[None, :])
    return Pairs(
        device=device, side=side, other=near.other[side, device],
        distance=near.distance[side, device],
    )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """What facings are worked out from."""

    standing: Standing
    ducts: dict[str, Duct]
    air: Floats  # °C at each device's foot
    air_band: Floats  # K
    surfaces: Surfaces
    pressure: Pascal
    duct_limit: DegC
    duct_limit_is_stated: bool


def facings_of(scene: Scene, near: Nearest) -> tuple[Facing, ...]:
    """Return the pairs of a warm device and the nearest thing on each of its sides.

    Left out: pairs in which the other stays far below its limit even close by.
    """
    hot = scene.surfaces.temperature
    lowest = min(scene.duct_limit, taken("surface limit"))
    warm = (scene.standing.loss > 0) & (hot > lowest - CLOSE)
    pairs = _pairs(near, warm)
    if not pairs.device.size:
        return ()
    limits, stated, alone = _limits(scene, pairs)
    steps = np.geomspace(taken("least gap"), REACH, STEPS)
    passive = _curves(scene, warm, steps)[KIND[pairs.side], pairs.device]
    air = scene.air[pairs.device]
    is_duct = np.isnan(alone)
    shared = alone[:, None] + SHARE * (passive - air[:, None])
    felt = np.where(is_duct[:, None], passive, shared)
    here = _at(felt, steps, np.maximum(pairs.distance, steps[0]))
    needed = _needed(felt, steps, limits)
    needed = np.where(
        (hot[pairs.device] <= limits) | (~is_duct & (needed <= steps[0])), 0.0, needed
    )
    warmer = is_duct | (hot[pairs.device] > np.nan_to_num(alone))  # only the cooler one is heated
    told = warmer & (is_duct | (needed != 0) | (here > limits - CLOSE))
    chosen = Pairs(
        device=pairs.device[told], side=pairs.side[told], other=pairs.other[told],
        distance=pairs.distance[told],
    )  # fmt: skip
    return _facings(
        scene, chosen, (here[told], air[told], needed[told], limits[told], stated[told])
    )


def _limits(scene: Scene, pairs: Pairs) -> tuple[Floats, NDArray[np.bool_], Floats]:
    """Return limit, whether it is stated, and own warmth (NaN: a duct) of each other."""
    n = len(scene.standing.tags)
    own = scene.surfaces.temperature
    told = np.array([
        np.nan if p.surface_limit is None else p.surface_limit for p in scene.standing.parts
    ])  # fmt: skip
    usual = np.maximum(taken("surface limit"), own + OWN)
    device_limits = np.where(np.isnan(told), usual, told)
    is_duct = pairs.other >= n
    at = np.where(is_duct, 0, pairs.other)
    limits = np.where(is_duct, scene.duct_limit, device_limits[at])
    stated = np.where(is_duct, scene.duct_limit_is_stated, ~np.isnan(told)[at])
    alone = np.where(is_duct, np.nan, own[at])
    return limits, stated, alone


def _curves(scene: Scene, warm: NDArray[np.bool_], steps: Floats) -> Floats:
    """Return the hottest point of a passive wall beside, above, below: (3, devices, gaps), °C."""
    s, gaps = scene.standing, steps[None, :] / MM_PER_M
    at = np.flatnonzero(warm)
    body = Warm(
        width=s.sources.width[at][:, None], height=s.sources.height[at][:, None],
        depth=s.sources.depth[at][:, None], loss=s.loss[at][:, None],
        plate_conduction=s.plate_conduction[at][:, None],
        emissivity=taken("device emissivity"), air=scene.air[at][:, None],
    )  # fmt: skip
    other = usual_wall()
    found = np.full((3, len(s.tags), steps.size), np.nan)
    found[0, at] = _beside(body, other, gaps[0], scene.pressure)
    found[1, at] = above(body, other, gaps, scene.pressure)
    found[2, at] = below(body, other, gaps, scene.pressure)
    return found


def _beside(body: Warm, other: Other, gaps: Floats, pressure: Pascal) -> Floats:
    """Return ``gap.beside`` for many devices and gaps, by the compiled loop."""
    air = kelvin(np.asarray(body.air)[:, 0])
    size = [np.asarray(each)[:, 0] for each in (body.width, body.height, body.depth, body.loss)]
    foot = np.asarray(body.plate_conduction)[:, 0]
    table = np.stack((*size, foot, np.full_like(air, body.emissivity), air), axis=1)
    height, depth = np.asarray(body.height), np.asarray(body.depth)
    views = np.stack((facing_point(height, depth, gaps), facing_plate(height, depth, gaps)))
    wall = np.array([other.emissivity, other.inside_film, other.free_film, pressure])
    return np.asarray(walls_beside(table, gaps, wall, views)) - kelvin(0.0)


def _at(felt: Floats, steps: Floats, distance: Floats) -> Floats:
    """Return each curve at its own distance, between its steps."""
    logs = np.log(steps)
    place = np.clip((np.log(distance) - logs[0]) / (logs[1] - logs[0]), 0, steps.size - 1 - 1e-9)
    low = place.astype(np.intp)
    rows = np.arange(len(felt))
    return np.asarray(felt[rows, low] + (place - low) * (felt[rows, low + 1] - felt[rows, low]))


def _needed(felt: Floats, steps: Floats, limits: Floats) -> Floats:
    """Return the smallest gap at which each limit is kept (NaN: none), between the steps."""
    over = felt - limits[:, None]
    index = np.argmax(over <= 0, axis=1)
    low, rows = np.maximum(index - 1, 0), np.arange(len(limits))
    span = np.maximum(over[rows, low] - over[rows, index], 1e-9)
    logs = np.log(steps)
    gap = np.exp(logs[low] + np.clip(over[rows, low] / span, 0, 1) * (logs[index] - logs[low]))
    return np.where(over[:, -1] > 0, np.nan, np.where(index == 0, steps[0], gap))


def _facings(
    scene: Scene, pairs: Pairs, judged: tuple[Floats, Floats, Floats, Floats, NDArray[np.bool_]]
) -> tuple[Facing, ...]:
    s, band = scene.standing, taken("gap band")
    here, air, needed, limits, stated = judged
    names = (*s.tags, *scene.ducts)
    bands = wall_band(here, air, scene.air_band[pairs.device])
    columns = (pairs.device, pairs.side, pairs.other, pairs.distance, here, bands, needed, limits)
    return tuple(
        Facing(
            tag=s.tags[device], side=SIDES[side], other=names[other],
            other_is_duct=other >= len(s.tags), distance=distance,
            needed=None if gap != gap else gap,  # noqa: PLR0124  (NaN: no gap is enough)
            needed_band=0.0 if gap != gap else band * gap,  # noqa: PLR0124
            temperature=Banded(felt, spread), limit=limit, limit_is_stated=told,
            place=s.boxes[device],
        )
        for device, side, other, distance, felt, spread, gap, limit, told in zip(
            *(column.tolist() for column in columns), stated.tolist(), strict=True
        )
    )  # fmt: skip
