"""How heat spreads in the mounting plate.

    k·t·∇²T − h·(T − T_air) + q = 0, insulated edges, air on both faces.

Solved exactly on a grid of cells by a cosine transform: films are equal everywhere, so each wave
of the plate is on its own.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
from scipy.fft import dctn, idctn

from platewright.foundation.units import MM_PER_M, Metre, Mm, WattPerM2K, WattPerMK
from platewright.heat.air import Floats

BOTH_FACES: Final[WattPerM2K] = 10.0  # films and radiation of front and back together


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A plate: size in m, k·t in W/K, film in W/(m²·K)."""

    width: Metre
    height: Metre
    spread: float
    film: WattPerM2K = BOTH_FACES

    @staticmethod
    def of(width: Mm, height: Mm, thickness: Mm, conductivity: WattPerMK) -> Sheet:
        """Return the sheet of a plate in mm."""
        return Sheet(
            width=width / MM_PER_M,
            height=height / MM_PER_M,
            spread=conductivity * thickness / MM_PER_M,
        )


def plate_temperature(sheet: Sheet, air: Floats, heat: Floats) -> Floats:
    """Return cell temperatures for the air and the heat flux (W/m²) at each cell.

    Arrays of (rows from below, columns). Σ film·(T − T_air)·A = Σ heat·A to rounding.
    Checked: HEAT-27, HEAT-28.
    """
    rows, columns = heat.shape
    waves = _waves(sheet, rows, columns)
    source = sheet.film * air + heat
    return np.asarray(idctn(dctn(source, type=2) / waves, type=2), dtype=np.float64)


@lru_cache(maxsize=32)
def _waves(sheet: Sheet, rows: int, columns: int) -> Floats:
    """Return what each wave of the plate gives off per kelvin and area."""

    def second(count: int, length: Metre) -> Floats:
        cell = length / count
        return (2 - 2 * np.cos(np.pi * np.arange(count) / count)) / cell**2

    across = second(columns, sheet.width)
    up = second(rows, sheet.height)
    return sheet.film + sheet.spread * (up[:, None] + across[None, :])
