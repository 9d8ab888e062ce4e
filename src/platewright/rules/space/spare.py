"""Each row, and each voltage group, keeps the share of width that the job asks for later."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.foundation.units import ALIASES, Mm, Ratio
from platewright.model.finding import Reading
from platewright.model.geometry import TOUCH, Box
from platewright.model.job import Group
from platewright.model.layout import Run
from platewright.model.panel import Panel
from platewright.rules.judge import Limit, at_least
from platewright.rules.placed import Placed, placed_devices
from platewright.rules.registry import rule
from platewright.rules.rows import Row, rows_of
from platewright.rules.wording import bare, enough, length_of

SOURCE: Final = Source("job.toml", "limits.spare_share, a wish", Standing.PRACTICE)
GROUP_SOURCE: Final = Source("job.toml", "groups.spare_share, a wish", Standing.PRACTICE)
PERCENT: Final = ALIASES["share"]["%"].factor


@rule(
    id="space.spare",
    title="Room for later",
    why="The plate lives for decades and gets more devices. A full row means a second enclosure. A "
    "group's later devices need room in the group's own rows.",
    source=SOURCE,
)
def check_spare(panel: Panel) -> Iterator[Reading]:
    """Measure the free share of each row between its upright ducts or the plate's margins.

    What is free in a row of several groups counts for each by the width it takes there.
    """
    rows = rows_of(placed_devices(panel))
    wanted = panel.job.settings.limits.spare
    if wanted > 0:
        yield from (_judge_row(panel, row, wanted) for row in rows)
    for group in panel.job.settings.groups:
        if group.spare > 0:
            yield from _judge_group(panel, rows, group)


def _judge_row(panel: Panel, row: Row, wanted: Ratio) -> Reading:
    left, right = _bounds(panel, row)
    width = right - left
    free = width - _taken(row.devices)
    return at_least(
        row.devices[0].tag,
        what=f"row {row.name}: free {bare(free, 0)} of {length_of(width, 0)},",
        measured=free / width / PERCENT,
        limit=Limit(value=wanted / PERCENT, source=SOURCE, unit="%"),
        cure=f"Move devices {enough(wanted * width - free)} wide in all to another row, or take "
        "a wider plate",
        place=Box(left, row.box.bottom, right, row.box.top),
    )


def _judge_group(panel: Panel, rows: tuple[Row, ...], group: Group) -> Iterator[Reading]:
    """Judge what is free for one group; a device of several groups counts for its first."""
    taken = free = 0.0
    place: Box | None = None
    for row in rows:
        own = _taken([one for one in row.devices if one.device.group[:1] == (group.name,)])
        if own <= 0:
            continue
        left, right = _bounds(panel, row)
        all_taken = _taken(row.devices)
        taken += own
        free += max(0.0, right - left - all_taken) * own / all_taken
        here = Box(left, row.box.bottom, right, row.box.top)
        place = here if place is None else place.union(here)
    if taken <= 0:
        return
    lacking = group.spare * taken / (1 - group.spare) - free
    yield at_least(
        group.name,
        what=f"group {group.name}: its devices take {length_of(taken, 0)} and have {length_of(free, 0)} free,",
        measured=free / (free + taken) / PERCENT,
        limit=Limit(value=group.spare / PERCENT, source=GROUP_SOURCE, unit="%"),
        cure=f"Free {enough(lacking)} in the rows of group {group.name}: move devices of other groups "
        "away, or take a wider plate",
        place=place,
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


def _taken(devices: Sequence[Placed]) -> Mm:
    """Return the width that the envelopes cover, stacked ones counted once."""
    taken, reached = 0.0, -math.inf
    for box in sorted((one.envelope for one in devices), key=lambda box: box.left):
        taken += max(box.right - max(box.left, reached), 0.0)
        reached = max(reached, box.right)
    return taken
