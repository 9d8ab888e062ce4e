"""Tightening torques that stand in where a device states none."""

from __future__ import annotations

from dataclasses import dataclass

from platewright.foundation.sources import Standing
from platewright.foundation.units import Nm
from platewright.tables.reader import read_table
from platewright.tables.threads import thread


@dataclass(frozen=True, slots=True, kw_only=True)
class FixingTorque:
    """One row of ``fixing_torques.csv``: a screw that holds a duct, a rail or a device."""

    holds: str
    screw: str
    torque: Nm
    source: str
    standing: Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class ClampTorque:
    """One row of ``clamp_torques.csv``: a clamping screw turned with a screwdriver."""

    screw: str
    torque: Nm
    source: str
    standing: Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class WireTorque:
    """One row of ``wire_torques.csv``: slotted screws of No. 10 and larger, by wire size.

    Narrow: a slot at most 1.2 mm wide and 6.4 mm long.
    """

    sizes: str  # AWG, divided by spaces
    narrow_slot: Nm
    wide_slot: Nm
    source: str
    standing: Standing


def fixing_torque(holds: str, screw: str) -> FixingTorque | None:
    """Return the usual torque of a screw that holds a duct, rail or device; ``None``: not known."""
    wanted = thread(screw)
    for row in read_table("fixing_torques", FixingTorque):
        if row.holds == holds and wanted is not None and thread(row.screw) == wanted:
            return row
    return None


def clamp_torques() -> tuple[ClampTorque, ...]:
    """Return the torques of clamping screws, smallest screw first."""
    return read_table("clamp_torques", ClampTorque)


def wire_torque(awg: str) -> WireTorque | None:
    """Return the torque for a wire of this AWG size; ``None``: the table has no such size."""
    rows = read_table("wire_torques", WireTorque)
    return next((row for row in rows if awg in row.sizes.split()), None)
