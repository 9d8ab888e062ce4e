"""What a screw is tightened to: as stated; else as usual for the screw; else an open item."""

from __future__ import annotations

from dataclasses import dataclass
from math import floor
from typing import Final

from platewright.fabricate.strength import most_torque
from platewright.foundation.sources import Source, Standing
from platewright.foundation.units import Nm
from platewright.model.job import Job
from platewright.model.layout import Hole, HoleKind, Layout
from platewright.tables.reader import source_of
from platewright.tables.strengths import tightening as tightening_practice
from platewright.tables.threads import thread
from platewright.tables.torques import fixing_torque

IN_THE_PLATE: Final = (HoleKind.TAPPED, HoleKind.SELF_TAPPING)
DIAL: Final[Nm] = 0.05  # what a torque screwdriver can be set to, rounded down to
HAIR: Final = 1e-9
STATED = Source("data of the part", standing=Standing.JOB)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tightening:
    """How far a screw is turned. ``torque`` ``None``: nobody says; read it off the device.

    ``reason``: why it is less than usual, or what speaks against what the device's data say.
    """

    torque: Nm | None
    source: Source | None
    reason: str = ""


def tightening(job: Job, layout: Layout, hole: Hole) -> Tightening:
    """Return how far the screw in a hole is tightened; a rivet is not.

    A usual torque gives way to what the plate's thread bears; a stated one is not changed, for
    it is the device's: then the reason warns.
    """
    if hole.kind is HoleKind.RIVET or not hole.holds:
        return Tightening(torque=None, source=None)
    most = plate_bears(job, hole)
    if hole.holds in layout.devices:
        stated = job.part_of(hole.holds).mount_torque
        if stated is not None:
            warning = (
                f"plate bears {most:.2f} at most" if most is not None and stated > most else ""
            )
            return Tightening(torque=stated, source=STATED, reason=warning)
    usual = fixing_torque(kind_of(layout, hole.holds), hole.size)
    if usual is None:
        return Tightening(torque=None, source=None)
    if most is None or usual.torque <= most:
        return Tightening(torque=usual.torque, source=source_of(usual))
    plate = job.settings.plate
    return Tightening(
        torque=floor(most / DIAL + HAIR) * DIAL,
        source=source_of(tightening_practice()),
        reason=f"{plate.thickness:.2f} mm {plate.material} bears {most:.2f}, usual {usual.torque:g}",
    )


def plate_bears(job: Job, hole: Hole) -> Nm | None:
    """Return the greatest torque for a screw that turns in the plate itself; else ``None``."""
    size, plate = thread(hole.size), job.settings.plate
    if size is None or hole.kind not in IN_THE_PLATE:
        return None
    return most_torque(size, thickness=plate.thickness, material=plate.material)


def kind_of(layout: Layout, tag: str) -> str:
    """Return whether a tag is a device, a rail or a duct, as the tables call them."""
    if tag in layout.ducts:
        return "duct"
    return "rail" if tag in layout.rails else "device"
