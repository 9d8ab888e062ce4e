"""The inner corner of a door device swings past its own edge when the door opens."""

from __future__ import annotations

import math
from collections.abc import Iterator

from platewright.foundation.sources import GEOMETRY
from platewright.foundation.units import Mm
from platewright.model.finding import Reading
from platewright.model.geometry import TOUCH, Box
from platewright.model.job import JobSettings, Side
from platewright.model.panel import Panel
from platewright.rules.door import front_limit, front_of, unknown_rail
from platewright.rules.judge import at_most, holds
from platewright.rules.placed import Placed, door_devices, placed_devices
from platewright.rules.registry import rule
from platewright.rules.wording import enough


@rule(
    id="space.door-swing",
    title="The door opens past the devices",
    why="A deep device in the door turns about the hinge. Its inner corner farthest from the "
    "hinge moves outward on a circle before it comes free, and strikes a tall device beside it.",
    source=GEOMETRY,
)
def check_door_swing(panel: Panel) -> Iterator[Reading]:
    """Compare each plate device in the swept strip with the circle of the corner.

    With the hinge axis in the plane of the door's inner face, a corner at u from the hinge and D
    behind the door runs on R = √(u² + D²); at x between u and R it reaches √(R² − x²) in.
    """
    placed = placed_devices(panel)
    for door in door_devices(panel):
        told = [reading for one in placed if (reading := _reading(panel, one, door)) is not None]
        yield from told
        if not told:
            yield holds(door.tag, message="swings past no device", place=door.envelope)


def hinge_axis(settings: JobSettings) -> Mm:
    """Return x of the hinge: as stated, else half the enclosure's overhang outside the plate."""
    enclosure, plate = settings.enclosure, settings.plate
    if enclosure.hinge_x is not None:
        return enclosure.hinge_x
    overhang = (enclosure.width - plate.width) / 2
    return -overhang if enclosure.hinge is Side.LEFT else plate.width + overhang


def _reading(panel: Panel, one: Placed, door: Placed) -> Reading | None:
    settings = panel.job.settings
    near, far = _from_hinge(settings, one.envelope)
    _, edge = _from_hinge(settings, door.envelope)
    radius = math.hypot(edge, door.front)
    in_y = one.envelope.overlap(door.envelope)[1]
    reach_at = max(near, edge)
    if edge <= 0 or in_y <= TOUCH or far <= edge + TOUCH or near >= radius - TOUCH:
        return None
    room = settings.enclosure.door_inside - math.sqrt(max(radius**2 - reach_at**2, 0.0))
    front = front_of(panel, one)
    if front is None:
        return unknown_rail(one)
    return at_most(
        one.tag,
        what=f"{one.tag} stands out of the plate where {door.tag} swings past",
        measured=front,
        limit=front_limit(panel, room),
        cure=f"Move {one.tag} {enough(radius - near)} away from the hinge, or {door.tag} as much "
        "towards it",
        place=_swept(settings, door.envelope, radius - edge),
    )


def _from_hinge(settings: JobSettings, box: Box) -> tuple[Mm, Mm]:
    """Return the near and the far edge of a box as distances from the hinge."""
    axis = hinge_axis(settings)
    if settings.enclosure.hinge is Side.LEFT:
        return box.left - axis, box.right - axis
    return axis - box.right, axis - box.left


def _swept(settings: JobSettings, box: Box, strip: Mm) -> Box:
    if settings.enclosure.hinge is Side.LEFT:
        return Box(box.right, box.bottom, box.right + strip, box.top)
    return Box(box.left - strip, box.bottom, box.left, box.top)
