"""Inside cross-section of a wire duct."""

from __future__ import annotations

from platewright.foundation.errors import CannotPlan
from platewright.foundation.units import Mm, Mm2
from platewright.tables.ducts import duct_practice


def duct_inside(*, width: Mm, height: Mm, stated: Mm2 | None) -> tuple[Mm2, bool]:
    """Return the inside cross-section with the cover on, and whether it is assumed.

    Not stated: (width − 2 · side wall) · (height − base − cover lip), with usual walls
    (shop practice). Raises ``CannotPlan`` for a duct smaller than its usual walls.
    """
    if stated is not None:
        return stated, False
    walls = duct_practice()
    across = width - 2 * walls.side_wall
    upright = height - walls.base - walls.cover_lip
    if across <= 0 or upright <= 0:
        raise CannotPlan(
            f"a duct {width:g} wide and {height:g} high leaves no room between usual walls",
            ("Check the duct's width and height", "State the duct's inside area"),
        )
    return across * upright, True
