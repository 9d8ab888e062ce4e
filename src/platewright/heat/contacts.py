"""Housings side by side: which of their sides are shut, and the heat that goes across.

Across two housings that touch or nearly touch: the walls of both, and between them air that stands
(no housing is flat: ``EVEN_GAP`` where they touch) with radiation beside it.

    1/U = 1/(k_air/(gap + EVEN_GAP) + h_rad) + 2·t/k_wall

A side that air reaches gives its heat to the air; the rest of it goes across. Ducts pass nothing.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from platewright.foundation.units import MM_PER_M, Mm
from platewright.heat.air import SEA_LEVEL, Floats, air_at
from platewright.heat.kernels.beside import beside
from platewright.heat.radiation import STEFAN_BOLTZMANN
from platewright.heat.standing import Standing
from platewright.model.geometry import TOUCH
from platewright.model.layout import Duct
from platewright.tables.heat_practice import taken

OPEN_AT: Final[Mm] = 10.0  # beside it at which a side gives off heat freely
EVEN_GAP: Final[Mm] = 1.0  # air left between two housings that touch: ribs, bows, lettering
AT: Final = 330.0  # K at which the air layer and its radiation are taken


@dataclass(frozen=True, slots=True, kw_only=True)
class Contacts:
    """Share of left and right side that is open (2, n); pairs of housings and W/K across."""

    open_sides: Floats
    ends: NDArray[np.int64]  # (pairs, 2)
    across: Floats  # (pairs,)


def contacts(here: Standing, ducts: dict[str, Duct]) -> Contacts:
    """Return what stands close beside each housing."""
    n = len(here.tags)
    boxes = [(d.box.left, d.box.bottom, d.box.right, d.box.top) for d in ducts.values()]
    edges = np.concatenate((here.edges, np.array(boxes, dtype=np.float64).reshape(-1, 4)))
    depths = np.concatenate(
        (here.sources.depth * MM_PER_M, np.array([d.height for d in ducts.values()]))
    )
    shut, ends, shared = beside(edges, depths, OPEN_AT, TOUCH)
    both = (ends < n).all(axis=1)
    gap, high, deep = shared[both].T
    area = high * deep / MM_PER_M**2 * (1 - gap / OPEN_AT)
    return Contacts(open_sides=1 - shut[:, :n], ends=ends[both], across=area * film_across(gap))


def film_across(gap: Floats) -> Floats:
    """Return U between two housings, W/(m²·K). Checked: against a hand calculation in the tests."""
    emissivity = taken("device emissivity")
    glow = 4 * STEFAN_BOLTZMANN * AT**3 / (2 / emissivity - 1)
    air = air_at(AT, SEA_LEVEL).conductivity / ((gap + EVEN_GAP) / MM_PER_M)
    return np.asarray(1 / (1 / (air + glow) + 2 * taken("housing wall")))
