"""What a screw is tightened to: as stated; else as usual for the screw; else an open item."""

from __future__ import annotations

from dataclasses import dataclass

from platewright.foundation.sources import Source, Standing
from platewright.foundation.units import Nm
from platewright.model.job import Job
from platewright.model.layout import Hole, HoleKind, Layout
from platewright.tables.reader import source_of
from platewright.tables.torques import fixing_torque

STATED = Source("data of the part", standing=Standing.JOB)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tightening:
    """How far a screw is turned. ``torque`` ``None``: nobody says; read it off the device."""

    torque: Nm | None
    source: Source | None


def tightening(job: Job, layout: Layout, hole: Hole) -> Tightening:
    """Return how far the screw in a hole is tightened; a rivet is not."""
    if hole.kind is HoleKind.RIVET or not hole.holds:
        return Tightening(torque=None, source=None)
    if hole.holds in layout.devices:
        stated = job.part_of(hole.holds).mount_torque
        if stated is not None:
            return Tightening(torque=stated, source=STATED)
    usual = fixing_torque(kind_of(layout, hole.holds), hole.size)
    if usual is None:
        return Tightening(torque=None, source=None)
    return Tightening(torque=usual.torque, source=source_of(usual))


def kind_of(layout: Layout, tag: str) -> str:
    """Return whether a tag is a device, a rail or a duct, as the tables call them."""
    if tag in layout.ducts:
        return "duct"
    return "rail" if tag in layout.rails else "device"
