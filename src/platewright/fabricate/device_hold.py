"""Whether the screws of a device hold it: by its weight, how far it stands out, and a pull on it.

The foot is held by friction, and nothing may open the joint: a screw's clamping force must bear
what pulls at it and still grip what slides (a bolted joint of any handbook of machine elements:
F ≥ F_axial + F_across / μ). The weight hangs half the depth in front of the plate and tips the
device about its lower edge, so the upper screws are pulled.
"""

from __future__ import annotations

from dataclasses import dataclass

from platewright.fabricate.strength import preload
from platewright.fabricate.torques import tightening
from platewright.foundation.units import STANDARD_GRAVITY, Kg, Mm, Newton
from platewright.model.job import Job
from platewright.model.layout import Hole, Layout
from platewright.model.panel import hole_offsets
from platewright.model.part import Part
from platewright.tables.device_hold import device_hold_practice
from platewright.tables.strengths import tightening as tightening_practice
from platewright.tables.threads import thread

LEVEL: Mm = 0.5  # screws this near in height pull together
LEAST_LEVER: Mm = 1.0
MOST_TRIED = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class DeviceHold:
    """The upper screw of a device, the one that bears most. ``fewest``: as many would do.

    ``fewest`` ``None``: none of the usual numbers.
    """

    needed: Newton
    clamped: Newton
    fewest: int | None

    @property
    def holds(self) -> bool:
        """Whether the clamping force is enough."""
        return self.clamped >= self.needed


def needed_clamp(mass: Kg, *, depth: Mm, lever: Mm, screws: int, upper: int) -> Newton:
    """Return the clamping force that the upper screws of a device need each.

    ``lever``: of the upper screws above the body's lower edge; ``upper``: how many they are.
    """
    usual = device_hold_practice()
    weight = usual.shock * mass * STANDARD_GRAVITY
    tips = weight * depth / 2 / max(lever, LEAST_LEVER) / upper
    return tips + usual.pull / screws + weight / screws / usual.grip


def device_hold(job: Job, layout: Layout, tag: str, holes: list[Hole]) -> DeviceHold | None:
    """Return whether a device is held; ``None``: mass, torque or thread is not stated."""
    part = job.part_of(tag)
    size = thread(holes[0].size) if holes else None
    found = tightening(job, layout, holes[0]) if holes else None
    if size is None or found is None or found.torque is None or part.mass is None:
        return None
    lever, upper = _upper(part, layout.devices[tag].y, holes)
    friction = tightening_practice().friction
    clamped = preload(found.torque, major=size.major, friction=friction)
    mass, depth = part.mass, part.depth

    def needed(screws: int) -> Newton:
        share = max(1, round(upper * screws / len(holes)))
        return needed_clamp(mass, depth=depth, lever=lever, screws=screws, upper=share)

    fewest = next((n for n in range(2, MOST_TRIED + 1) if needed(n) <= clamped), None)
    return DeviceHold(needed=needed(len(holes)), clamped=clamped, fewest=fewest)


def _upper(part: Part, foot: Mm, holes: list[Hole]) -> tuple[Mm, int]:
    """Return the height of the upper screws above the lower edge, and how many they are.

    By the holes as they are in the plate; a device without a stated pattern has them too.
    """
    heights = [hole.y - foot for hole in holes] or [p.y for p in hole_offsets(part)]
    top = max(heights)
    return top, sum(top - height <= LEVEL for height in heights)
