"""Covers that are not stated count as none: the envelope may be larger than drawn."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.foundation.tag_order import listed
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.model.part import Part
from platewright.rules.registry import rule
from platewright.rules.stated import Datum, told_by_device

SOURCE: Final = Source("assumption", "a cover not stated counts as none", Standing.PRACTICE)
SIDES: Final = ("left", "right", "top", "bottom", "front")
COVERS: Final = Datum(
    "Reach of covers",
    "counted as none",
    "Measure the device with covers, handles and plugs on and state cover_… in parts.csv "
    "(0: none there)",
    SOURCE,
)


@rule(
    id="data.covers",
    title="Covers are stated",
    why="Drawings of devices leave covers, handles and plugs out. Blank is not zero: what is not "
    "stated was counted as none, and the real envelope may reach further.",
    source=SOURCE,
)
def check_covers(panel: Panel) -> Iterator[Reading]:
    """Name the sides whose cover is blank, device by device."""
    yield from told_by_device(panel, panel.job.devices.values(), COVERS, _blank)


def _blank(part: Part) -> str:
    blank = [side for side in SIDES if getattr(part, f"cover_{side}") is None]
    return f"cover {listed(blank)}" if blank else ""
