"""Which warm device faces what, how warm that gets, and how far it would have to stand."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from platewright.foundation.units import MM_PER_M, DegC, Mm, Pascal
from platewright.heat.air import Floats
from platewright.heat.gap import Other, Warm, above, below, beside
from platewright.heat.standing import Standing
from platewright.heat.surface import Surfaces
from platewright.model.heat import Banded, Facing
from platewright.model.layout import Duct
from platewright.tables.heat_practice import taken

SIDES: Final = ("left", "right", "top", "bottom")
REACH: Final[Mm] = 300.0  # farther than this nothing is looked at
CLOSE: Final = 10.0  # K: a side this far below the other's limit is looked at no further
OWN: Final = 10.0  # K over its own warmth that a neighbour of unknown limit is taken to bear
SHARE: Final = 0.8  # of a passive wall's rise that a neighbour which is warm itself takes on
STEPS: Final = 14



@dataclass(frozen=True, slots=True, kw_only=True)
class Pairs:
    """Index of the warm device, its side, index of the nearest other (ducts after devices)."""

    device: NDArray[np.intp]
    side: NDArray[np.intp]
    other: NDArray[np.intp]
    distance: Floats  # mm


def free_sides(edges: Floats, others: Floats) -> Floats:
    """Return the distance from each box to each other, per side: (4, n, m); infinite where none."""
    in_x = np.minimum(edges[:, None, 2], others[None, :, 2]) - np.maximum(
        edges[:, None, 0], others[None, :, 0]
    )
    in_y = np.minimum(edges[:, None, 3], others[None, :, 3]) - np.maximum(
        edges[:, None, 1], others[None, :, 1]
    )
    gaps = np.stack((
        edges[:, None, 0] - others[None, :, 2],
        others[None, :, 0] - edges[:, None, 2],
        others[None, :, 1] - edges[:, None, 3],
        edges[:, None, 1] - others[None, :, 3],
    ))  # fmt: skip
    faces = np.stack((in_y > 0, in_y > 0, in_x > 0, in_x > 0)) & (gaps > -1e-6)
    return np.where(faces, gaps, np.inf)


def others_of(standing: Standing, ducts: dict[str, Duct]) -> Floats:
    """Return the boxes of all devices, then all ducts: (m, 4)."""
    boxes = [(d.box.left, d.box.bottom, d.box.right, d.box.top) for d in ducts.values()]
    table = np.array(boxes, dtype=np.float64).reshape(-1, 4)
    return np.concatenate((standing.edges, table))


def nearest(free: Floats, warm: NDArray[np.bool_]) -> Pairs:
    """Return the nearest thing on each side of each warm device, within reach."""
    which = free.argmin(axis=2)
    distance = np.take_along_axis(free, which[:, :, None], axis=2)[:, :, 0]
    side, device = np.nonzero((distance <= REACH) & warm[None, :])
    return Pairs(
        device=device, side=side, other=which[side, device], distance=distance[side, device]
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """What facings are worked out from."""

    standing: Standing
    ducts: dict[str, Duct]
    air: Floats  # °C at each device's foot
    surfaces: Surfaces
    pressure: Pascal
    duct_limit: DegC
    duct_limit_is_stated: bool


def facings_of(scene: Scene, free: Floats) -> tuple[Facing, ...]:
    """Return every pair of a warm device and the nearest thing on each of its sides."""
    hot = scene.surfaces.temperature
    lowest = min(scene.duct_limit, taken("surface limit"))
    pairs = nearest(free, (scene.standing.loss > 0) & (hot > lowest - CLOSE))
    if not pairs.device.size:
        return ()
    limits, stated, alone = _limits(scene, pairs)
    steps = np.geomspace(taken("least gap"), REACH, STEPS)
    gaps = np.concatenate(
        (np.maximum(pairs.distance, taken("least gap"))[:, None], np.tile(steps, (len(limits), 1))),
        axis=1,
    )
    warm = _walls(scene, pairs, gaps)
    air = scene.air[pairs.device][:, None]
    felt = np.where(np.isnan(alone)[:, None], warm, alone[:, None] + SHARE * (warm - air))
    needed = _needed(felt[:, 1:], steps, limits)
    cold = (hot[pairs.device] <= limits) & np.isnan(alone)
    needed = np.where(cold, 0.0, needed)
    band = taken("gap band")
    return tuple(
        _facing(scene, pairs, i, (felt[i, 0], needed[i], limits[i], bool(stated[i])), band)
        for i in range(len(limits))
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


def _walls(scene: Scene, pairs: Pairs, gaps: Floats) -> Floats:
    """Return the hottest point of a passive wall at each gap: (pairs, gaps), °C."""
    s, found = scene.standing, np.empty_like(gaps)
    other = Other(
        emissivity=taken("duct emissivity"), inside_film=taken("duct inside film"),
        top_film=taken("top film"),
    )  # fmt: skip
    for law, sides in ((_beside, (0, 1)), (above, (2,)), (below, (3,))):
        chosen = np.isin(pairs.side, sides)
        if not chosen.any():
            continue
        at = pairs.device[chosen]
        warm = Warm(
            width=s.sources.width[at][:, None], height=s.sources.height[at][:, None],
            depth=s.sources.depth[at][:, None], loss=s.loss[at][:, None],
            plate_conduction=s.plate_conduction[at][:, None],
            emissivity=taken("device emissivity"), air=scene.air[at][:, None],
        )  # fmt: skip
        found[chosen] = law(warm, other, gaps[chosen] / MM_PER_M, scene.pressure)
    return found


def _beside(warm: Warm, other: Other, gap: Floats, pressure: Pascal) -> Floats:
    return beside(warm, other, gap, pressure)[1]


def _needed(felt: Floats, steps: Floats, limits: Floats) -> Floats:
    """Return the smallest gap at which each limit is kept (NaN: none), on the curve's own steps."""
    over = felt - limits[:, None]
    last = over[:, -1] > 0
    index = np.argmax(over <= 0, axis=1)
    low = np.maximum(index - 1, 0)
    rows = np.arange(len(limits))
    high_over, low_over = over[rows, index], over[rows, low]
    span = np.where(low_over == high_over, 1.0, low_over - high_over)
    share = np.clip(low_over / span, 0.0, 1.0)
    logs = np.log(steps)
    gap = np.exp(logs[low] + share * (logs[index] - logs[low]))
    return np.where(last, np.nan, np.where(index == 0, steps[0], gap))


def _facing(
    scene: Scene, pairs: Pairs, i: int, judged: tuple[float, float, float, bool], band: float
) -> Facing:
    s = scene.standing
    device, side, other = int(pairs.device[i]), int(pairs.side[i]), int(pairs.other[i])
    is_duct = other >= len(s.tags)
    felt, needed, limit, stated = judged
    air = float(scene.air[device])
    return Facing(
        tag=s.tags[device],
        side=SIDES[side],
        other=tuple(scene.ducts)[other - len(s.tags)] if is_duct else s.tags[other],
        other_is_duct=is_duct,
        distance=float(pairs.distance[i]),
        needed=None if np.isnan(needed) else float(needed),
        needed_band=0.0 if np.isnan(needed) else float(band * needed),
        temperature=Banded(float(felt), float(band * max(0.0, felt - air))),
        limit=float(limit),
        limit_is_stated=stated,
        place=s.boxes[device],
    )


