"""What gives off heat: devices by their load, wires by their current."""

from __future__ import annotations

from typing import Final

from platewright.foundation.units import M_PER_KM, MM_PER_M, Ampere, DegC, Mm, OhmPerKm, Watt
from platewright.model.device import Place
from platewright.model.heat import DeviceLoss, Losses
from platewright.model.job import Job
from platewright.model.routes import Routes
from platewright.model.wire import Wire
from platewright.tables.wires import conductor_row

CONDUCTOR: Final[DegC] = 70.0  # copper of a loaded PVC wire at its limit (safe)
COPPER_ALPHA: Final = 0.00393  # per K at 20 °C; IEC 60028
COPPER_REFERENCE: Final[DegC] = 20.0


def losses_of(job: Job, routes: Routes) -> Losses:
    """Return the heat of every device and of the wires whose current is stated.

    A device whose heat is not stated counts as none and is named; door devices count too.
    """
    devices, unknown = [], []
    for tag, device in sorted(job.devices.items()):
        part = job.part_of(tag)
        note = ""
        if part.heat is None:
            unknown.append(tag)
            note = "not stated, counted as none"
        elif part.source.startswith("typical"):
            note = "typical value, not this part's data sheet"
        watts = (part.heat or 0.0) * device.load
        devices.append(DeviceLoss(tag=tag, watts=watts, load=device.load, note=note))
    known = sorted(
        (wire for wire in job.wires if wire.current is not None), key=lambda wire: wire.number
    )
    return Losses(
        devices=tuple(devices),
        wires=sum(_wire_heat(wire, routes) for wire in known),
        wires_known=len(known),
        wires_all=len(job.wires),
        unknown=tuple(unknown),
        in_door=sum(one.watts for one in devices if job.devices[one.tag].place is Place.DOOR),
        wires_unrouted=sum(wire.number not in routes.wires for wire in known),
    )


def conductor_heat(current: Ampere, resistance: OhmPerKm, length: Mm) -> Watt:
    """Return I²·R of a conductor. Checked: HEAT-WIRE."""
    return current**2 * resistance * length / MM_PER_M / M_PER_KM


def _wire_heat(wire: Wire, routes: Routes) -> Watt:
    route, row = routes.wires.get(wire.number), conductor_row(wire.size)
    if route is None or row is None or wire.current is None:
        return 0.0
    warmth = 1 + COPPER_ALPHA * (CONDUCTOR - COPPER_REFERENCE)
    known = 1 + COPPER_ALPHA * (row.temperature - COPPER_REFERENCE)
    return conductor_heat(wire.current, row.resistance * warmth / known, route.cut)
