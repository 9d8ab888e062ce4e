"""Devices must not touch the closed door."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import GEOMETRY, Source, Standing
from platewright.foundation.units import Mm
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.rules.judge import Limit, at_most, undecided
from platewright.rules.placed import PLAIN_RAIL, Placed, carries, placed_devices, rail_size
from platewright.rules.registry import rule
from platewright.rules.space.on_rail import OFF_AXIS
from platewright.rules.wording import mm

DOOR_GAP: Final = Source("job.toml", "limits.door_gap", Standing.JOB)


@rule(
    id="space.depth",
    title="Devices stand clear of the door",
    why="Depth is a third dimension: covers, plugs and a high rail add to the body. A door that "
    "does not close is found last.",
    source=GEOMETRY,
)
def check_depth(panel: Panel) -> Iterator[Reading]:
    """Measure from the plate's face to each front, covers on, and compare with the door."""
    door, gap = panel.job.settings.enclosure.door_inside, panel.job.settings.limits.door_gap
    limit = Limit(value=door - gap, source=DOOR_GAP if gap else GEOMETRY)
    for one in placed_devices(panel):
        raised = rail_raise(panel, one)
        if raised is None:
            yield undecided(
                one.tag,
                missing="the height of its rail is not known: no such profile in the tables",
                cure="Name the rail by its profile, e.g. TH35-7.5 or TH35-15",
                place=one.body,
            )
            continue
        front = one.front + raised
        yield at_most(
            one.tag,
            what=f"{one.tag} stands out of the plate, covers on,",
            measured=front,
            limit=limit,
            cure=f"Choose a part {mm(front - limit.value)} flatter, a flatter rail, or move it to "
            "a deeper enclosure or the door",
            place=one.envelope,
        )


def rail_raise(panel: Panel, one: Placed) -> Mm | None:
    """Return what its rail adds beyond the plain rail that the part's depth counts already."""
    plain = rail_size(PLAIN_RAIL)
    for _, rail in sorted(panel.layout.rails.items()):
        if carries(rail, one, OFF_AXIS):
            size = rail_size(rail.profile)
            return None if size is None or plain is None else size[1] - plain[1]
    return 0.0
