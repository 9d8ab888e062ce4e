"""How tightly a wire may bend."""

from __future__ import annotations

from platewright.foundation.units import Mm
from platewright.tables.wire_practice import bend_factor


def bend_radius(outer_diameter: Mm) -> Mm:
    """Return the smallest radius of the inner edge of a fixed PVC single core: factor · D.

    The factor grows with the diameter (EN 50565-1, ``bend_factors.csv``).
    """
    return bend_factor(outer_diameter).factor * outer_diameter
