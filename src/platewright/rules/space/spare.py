"""Each row keeps the share of its width that the job asks for later devices."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.foundation.units import ALIASES, Mm
from platewright.model.finding import Reading
from platewright.model.geometry import TOUCH, Box
from platewright.model.layout import Run
from platewright.model.panel import Panel
from platewright.rules.judge import Limit, at_least
from platewright.rules.placed import placed_devices
from platewright.rules.registry import rule
from platewright.rules.rows import Row, rows_of
from platewright.rules.wording import mm

SOURCE: Final = Source("job.toml", "limits.spare, a wish", Standing.PRACTICE)
PERCENT: Final = ALIASES["share"]["%"].factor


@rule(
    id="space.spare",
    title="Room for later",
    why="The plate lives for decades and gets more devices. A full row means a second enclosure.",
    source=SOURCE,
)
def check_spare(panel: Panel) -> Iterator[Reading]:
    """Measure the free share of each row between its upright ducts or the plate's margins."""
    wanted = panel.job.settings.limits.spare
    if wanted <= 0:
        return
    for row in rows_of(placed_devices(panel)):
        left, right = _bounds(panel, row)
        width = right - left
        free = width - _taken(row)
        yield at_least(
            row.devices[0].tag,
            what=f"row {row.name}: free {free:.0f} of {width:.0f} mm,",
            measured=free / width / PERCENT,
            limit=Limit(value=wanted / PERCENT, source=SOURCE, unit="%"),
            cure=f"Move devices {mm(wanted * width - free)} wide in all to another row, or take "
            "a wider plate",
            place=Box(left, row.box.bottom, right, row.box.top),
        )


def _bounds(panel: Panel, row: Row) -> tuple[Mm, Mm]:
    plate, box = panel.job.settings.plate, row.box
    left, right = plate.edge_margin, plate.width - plate.edge_margin
    for duct in panel.layout.ducts.values():
        side = duct.box
        if duct.run is not Run.UPRIGHT or side.overlap(box)[1] <= TOUCH:
            continue
        if side.right <= box.left + TOUCH:
            left = max(left, side.right)
        elif side.left >= box.right - TOUCH:
            right = min(right, side.left)
    return min(left, box.left), max(right, box.right)


def _taken(row: Row) -> Mm:
    """Return the width that the row's envelopes cover, stacked ones counted once."""
    taken, reached = 0.0, row.box.left
    for box in sorted((one.envelope for one in row.devices), key=lambda box: box.left):
        taken += max(box.right - max(box.left, reached), 0.0)
        reached = max(reached, box.right)
    return taken
