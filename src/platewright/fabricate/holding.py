"""What holds a device, a rail or a duct in this plate: the screw or rivet, and its hole."""

from __future__ import annotations

from dataclasses import dataclass

from platewright.fabricate.threads import (
    HoleChoice,
    hole_choice,
    known_rivet,
    known_thread,
    rivet_choice,
)
from platewright.foundation.units import Mm, Nm
from platewright.model.job import Hold, Job
from platewright.model.layout import HoleKind
from platewright.tables.usual_fasteners import UsualFasteners, usual_fasteners


@dataclass(frozen=True, slots=True, kw_only=True)
class Holding:
    """A screw or rivet: its size, its hole, the radius its head or washer takes, its diameter."""

    size: str
    choice: HoleChoice
    head: Mm
    shank: Mm


def holding_screw(job: Job, screw: str, *, stated: Nm | None = None) -> Holding:
    """Return how a screw holds; ``stated``: the torque that a device's data ask for."""
    plate = job.settings.plate
    choice = hole_choice(screw, thickness=plate.thickness, material=plate.material, torque=stated)
    major = known_thread(screw).major
    return Holding(size=screw, choice=choice, head=major, shank=major)  # a washer: twice the screw


def holding_rail(job: Job) -> Holding:
    """Return how rails are held: by the job's screw, else by the usual one."""
    return holding_screw(job, job.settings.stock.rail_screw or usual_of(job).rail_screw)


def holding_duct(job: Job) -> Holding:
    """Return how ducts are held: by screws, or by rivets where the job says so."""
    stock = job.settings.stock
    if stock.duct_hold is Hold.RIVET:
        name = stock.duct_rivet or usual_of(job).duct_rivet
        wide = known_rivet(name).diameter  # a rivet's head: about two diameters
        return Holding(size=name, choice=rivet_choice(name), head=wide, shank=wide)
    return holding_screw(job, stock.duct_screw or usual_of(job).duct_screw)


def hole_in_base(job: Job) -> Mm:
    """Return how wide the base of a duct without slots is drilled for its screw or rivet."""
    held = holding_duct(job)
    if held.choice.kind is HoleKind.RIVET:
        return held.choice.drill
    return known_thread(held.size).clearance_medium


def usual_of(job: Job) -> UsualFasteners:
    """Return the fasteners that stand in where the job states none, by its practice."""
    return usual_fasteners(job.settings.practice)
