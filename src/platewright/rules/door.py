"""How far devices stand out of the plate, and what room the door leaves them."""

from __future__ import annotations

from typing import Final

from platewright.foundation.sources import GEOMETRY, Source, Standing
from platewright.foundation.units import Mm
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.rules.judge import Limit, undecided
from platewright.rules.placed import Placed, carries, rail_size

PLAIN_RAIL: Final = "TH35-7.5"  # the rail that a part's depth counts already (model.part.Part)
DOOR_GAP: Final = Source("job.toml", "limits.door_gap", Standing.JOB)


def front_limit(panel: Panel, room: Mm) -> Limit:
    """Return how far a device may stand out where the door leaves ``room``: less the job's gap."""
    gap = panel.job.settings.limits.door_gap
    return Limit(value=room - gap, source=DOOR_GAP if gap else GEOMETRY)


def front_of(panel: Panel, one: Placed) -> Mm | None:
    """Return how far a device stands out of the plate, covers on, raised by a high rail.

    ``None``: its rail's profile is not in the tables.
    """
    plain = rail_size(PLAIN_RAIL)
    for _, rail in sorted(panel.layout.rails.items()):
        if carries(rail, one):
            size = rail_size(rail.profile)
            return None if size is None or plain is None else one.front + size[1] - plain[1]
    return one.front


def unknown_rail(one: Placed) -> Reading:
    """State that the height of a device's rail is not known."""
    return undecided(
        one.tag,
        missing=f"the rail under {one.tag} has a profile that the tables do not have",
        cure="Name the rail by its profile, e.g. TH35-7.5 or TH35-15",
        place=one.body,
    )
