"""Films: how air takes heat from a face, as Nusselt numbers."""

from __future__ import annotations

import math
from typing import Final

from platewright.heat.air import F

_TURN: Final = 1e7  # Rayleigh number where the two laws of the hot face up meet


def vertical(ra: F, prandtl: F) -> F:
    """Return Nu of a vertical face over its height, any flow: Churchill and Chu (1975).

    [0.825 + 0.387·Ra^(1/6) / (1 + (0.492/Pr)^(9/16))^(8/27)]², Ra to 1e12. Checked: HEAT-1, `ht`.
    """
    shape = (1 + (0.492 / prandtl) ** (9 / 16)) ** (8 / 27)
    number: F = (0.825 + 0.387 * ra ** (1 / 6) / shape) ** 2
    return number


def vertical_laminar(ra: F, prandtl: F) -> F:
    """Return Nu of a vertical face over its height, laminar: Churchill and Chu (1975).

    0.68 + 0.670·Ra^¼ / (1 + (0.492/Pr)^(9/16))^(4/9), Ra to 1e9. Checked: `ht`.
    """
    shape = (1 + (0.492 / prandtl) ** (9 / 16)) ** (4 / 9)
    number: F = 0.68 + 0.670 * ra**0.25 / shape
    return number


def vertical_turbulent(ra: float) -> float:
    """Return Nu = 0.13·Ra^⅓ of a high vertical face (Som ex. 5.7). Checked: HEAT-7."""
    return float(0.13 * ra ** (1 / 3))


def facing_up(ra: float) -> float:
    """Return Nu of a hot face up or a cold face down, over area/perimeter: McAdams.

    0.54·Ra^¼ to 1e7, 0.15·Ra^⅓ above; blended over a decade round 1e7, where they are 6 % apart,
    so that nothing jumps. Checked: HEAT2-3, `ht`.
    """
    laminar, turbulent = 0.54 * ra**0.25, 0.15 * ra ** (1 / 3)
    share = min(1.0, max(0.0, math.log10(ra / _TURN) + 0.5))
    return float(laminar + share * (turbulent - laminar))


def facing_up_laminar(ra: F) -> F:
    """Return Nu = 0.54·Ra^¼ of a small hot face up, Ra to 1e7: McAdams."""
    number: F = 0.54 * ra**0.25
    return number


def facing_down(ra: F) -> F:
    """Return Nu = 0.27·Ra^¼ of a hot face down or a cold face up: McAdams. Checked: HEAT2-4."""
    number: F = 0.27 * ra**0.25
    return number


def rod(ra: float, prandtl: float) -> float:
    """Return Nu of a level rod over its diameter: Churchill and Chu (1975). Checked: HEAT2-5."""
    shape = (1 + (0.559 / prandtl) ** (9 / 16)) ** (8 / 27)
    return float((0.60 + 0.387 * ra ** (1 / 6) / shape) ** 2)


def sealed_gap(ra: float, prandtl: float, slenderness: float) -> float:
    """Return Nu over the width of a tall closed gap, slenderness = height/width.

    0.42·Ra^¼·Pr^0.012·(H/w)^(−¼), Ra 1e4 to 1e7: VDI Heat Atlas. Never below 1. Checked: `ht`.
    """
    return max(1.0, float(0.42 * ra**0.25 * prandtl**0.012 * slenderness**-0.25))


def sealed_gap_textbook(ra: float, slenderness: float) -> float:
    """Return Nu = 0.197·Ra^¼·(H/w)^(−1/9), Ra 6e3 to 2e5 (Holman ex. 7.8). Checked: HEAT-4."""
    return max(1.0, float(0.197 * ra**0.25 * slenderness ** (-1 / 9)))


def forced_laminar(reynolds: float, prandtl: float) -> float:
    """Return mean Nu = 0.664·Re^½·Pr^⅓ of a plate in a stream, Re below 5e5. Checked: `ht`."""
    return 0.664 * math.sqrt(reynolds) * float(prandtl ** (1 / 3))


def mixed(forced: float, free: float, *, against: bool = False) -> float:
    """Return Nu of a stream with or against buoyancy: the cubes add or subtract."""
    cubes = forced**3 - free**3 if against else forced**3 + free**3
    return float(abs(cubes) ** (1 / 3))
