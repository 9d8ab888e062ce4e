"""What the search is told of warmth: the warmest devices, and who warms the air of whom.

``app`` fills it from the heat model; here it is only turned into arrays. Rises are over the
outside air, heights over the plate's lower edge.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from platewright.arrange.arrays import Floats
from platewright.arrange.blocks import Block
from platewright.foundation.units import Kelvin, Mm, Ratio


@dataclass(frozen=True, slots=True, kw_only=True)
class Warm:
    """One device that gets warm or warms others."""

    own: Kelvin  # its housing over its air, standing free
    shut: Kelvin  # what a side adds that something stands against
    wake: float  # K·mm^(5/3): the middle of its wake is this over (height + origin)^(5/3) warmer
    origin: Mm  # how far below its start the wake begins
    start: Mm  # of its wake, above its foot
    half: Mm  # half width of its wake there
    share: Ratio  # of all heat
    is_judged: bool  # whether it may be the warmest


@dataclass(frozen=True, slots=True, kw_only=True)
class Warmth:
    """Air of the enclosure, and its warm devices by tag."""

    devices: Mapping[str, Warm]
    low: Kelvin  # the air's rise at the plate's lower edge, heat given off half way up
    slope: float  # K/mm: how much warmer the air is higher up
    lean: float  # 1/mm: share by which all air is warmer for heat given off lower
    middle: Mm  # half way up the enclosure
    spread: Ratio  # by which a wake widens as it rises
    drag: Ratio  # share of the air's own warming that a wake loses


def warmth_arrays(
    warmth: Warmth | None, blocks: tuple[Block, ...], half_widths: Mapping[str, Mm]
) -> tuple[Floats, Floats]:
    """Return (devices, air) as arrays; devices that may be the warmest come first."""
    if warmth is None:
        return np.zeros((0, 11)), np.zeros(7)
    rows = []
    for number, block in enumerate(blocks):
        for m in block.members:
            one = warmth.devices.get(m.tag)
            if one is None:
                continue
            first = 0.0 if one.is_judged else 1.0
            middle = m.dx + half_widths[m.tag]
            rows.append([first, number, middle, m.dy, one.own, one.wake, one.origin, one.start,
                         one.half, one.share, one.shut, half_widths[m.tag]])  # fmt: skip
    rows.sort(key=lambda row: row[0])
    judged = float(sum(row[0] == 0.0 for row in rows))
    table = np.array(rows, dtype=np.float64).reshape(-1, 12)[:, 1:].copy()
    air = (warmth.low, warmth.slope, warmth.lean, warmth.middle, warmth.spread, warmth.drag)
    return table, np.array([*air, judged])
