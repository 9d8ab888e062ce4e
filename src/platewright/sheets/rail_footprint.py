"""How much of the plate a rail covers."""

from __future__ import annotations

import re
from typing import Final

from platewright.foundation.units import Mm
from platewright.model.geometry import Box
from platewright.model.layout import Rail, Run

USUAL_RAIL: Final[Mm] = 35.0


def rail_box(rail: Rail) -> Box:
    """Return the footprint of a rail; its profile's name begins with its width (TH35-7.5)."""
    found = re.search(r"\d+(\.\d+)?", rail.profile)
    half = (float(found[0]) if found else USUAL_RAIL) / 2
    if rail.run is Run.ACROSS:
        return Box(rail.x, rail.y - half, rail.x + rail.length, rail.y + half)
    return Box(rail.x - half, rail.y, rail.x + half, rail.y + rail.length)
