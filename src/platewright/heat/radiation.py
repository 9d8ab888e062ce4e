"""Radiation between grey faces, and how much of each other they see."""

from __future__ import annotations

import math
from typing import Final

import numpy as np

from platewright.heat.air import F

STEFAN_BOLTZMANN: Final = 5.670374e-8  # W/(m²·K⁴)


def radiation_film(one: F, other: F) -> F:
    """Return σ·(T1² + T2²)·(T1 + T2) in W/(m²·K): times ΔT it is exact. Checked: HEAT-34."""
    return STEFAN_BOLTZMANN * (one * one + other * other) * (one + other)


def black_body(temperature: F) -> F:
    """Return σ·T⁴ in W/m²."""
    square = temperature * temperature
    return STEFAN_BOLTZMANN * square * square


def between_plates(one: float, other: float) -> float:
    """Return 1/(1/ε1 + 1/ε2 − 1), the exchange share of parallel faces. Checked: HEAT-23."""
    return 1 / (1 / one + 1 / other - 1)


def facing_point(width: F, height: F, distance: F) -> F:
    """Return how much of its view a point sees filled by a rectangle centred before it.

    Exact; all lengths in one unit. Source: view-factor catalogue. Checked: HEAT-35, HEAT2-11.
    """
    x, y = width / (2 * distance), height / (2 * distance)
    a, b = np.sqrt(1 + x * x), np.sqrt(1 + y * y)
    share: F = 2 / math.pi * (x / a * np.arctan(y / a) + y / b * np.arctan(x / b))
    return share


def facing_plate(width: F, height: F, distance: F) -> F:
    """Return the view factor between equal parallel rectangles face to face.

    Exact. Source: view-factor catalogue. Checked: HEAT-10, HEAT2-10.
    """
    x, y = width / distance, height / distance
    a, b = 1 + x * x, 1 + y * y
    root_a, root_b = np.sqrt(a), np.sqrt(b)
    angles = (
        x * root_b * np.arctan(x / root_b)
        + y * root_a * np.arctan(y / root_a)
        - x * np.arctan(x)
        - y * np.arctan(y)
    )
    share: F = 2 / (math.pi * x * y) * (0.5 * np.log(a * b / (a + b - 1)) + angles)
    return share
