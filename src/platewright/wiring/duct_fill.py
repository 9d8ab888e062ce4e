"""How full a duct is."""

from __future__ import annotations

import math
from collections.abc import Iterable

from platewright.foundation.units import Mm, Mm2, Ratio


def outer_area(outer_diameter: Mm) -> Mm2:
    """Return the cross-section of a wire with its insulation: π/4 · D²."""
    return math.pi / 4 * outer_diameter**2


def duct_fill(outer_diameters: Iterable[Mm], *, inside: Mm2) -> Ratio:
    """Return the share of the inside cross-section that wires take.

    Σ π/4 · D² / inside, with outside diameters (NFPA 79 13.5.2 counts so). The order of the
    wires does not change the sum.
    """
    return math.fsum(outer_area(diameter) for diameter in outer_diameters) / inside
