"""How hard a screw in a plate may be tightened: by its own strength, and by what strips the plate."""

from __future__ import annotations

from itertools import pairwise
from math import cbrt, pi, sqrt
from typing import Final

from platewright.foundation.units import MM_PER_INCH, MM_PER_M, UM_PER_MM, Mm, Mm2, Newton, Nm
from platewright.tables.strengths import bolt_class, plate_strength, tightening
from platewright.tables.threads import Thread

SCREW_CLASS: Final = "4.8"  # the weaker of what lies in the box
FLANK: Final = 0.57735  # tan 30°, as the standard prints it


def stress_area(major: Mm, pitch: Mm) -> Mm2:
    """Return the area that carries: π/4 · (d − 0.9382·P)², ISO 898-1."""
    return pi / 4 * (major - 0.9382 * pitch) ** 2


def proof_load(thread: Thread, property_class: str = SCREW_CLASS) -> Newton:
    """Return the load a screw must bear without lasting stretch, ISO 898-1."""
    return bolt_class(property_class).proof_stress * thread.stress_area


def preload(torque: Nm, *, major: Mm, friction: float) -> Newton:
    """Return the force of a tightened screw: F = T / (K·d)."""
    return torque * MM_PER_M / (friction * major)


def torque_for(force: Newton, *, major: Mm, friction: float) -> Nm:
    """Return the torque that gives a force: T = K·d·F."""
    return friction * major * force / MM_PER_M


def least_major(thread: Thread) -> Mm:
    """Return the least major diameter of the screw: ISO 965-1 6g, ASME B1.1 2A (from memory)."""
    p, d = thread.pitch, thread.major
    if is_metric(thread):
        allowance = (15 + 11 * p) / UM_PER_MM
        return d - allowance - (180 * cbrt(p) ** 2 - 3.15 / sqrt(p)) / UM_PER_MM
    inch = p / MM_PER_INCH
    return d - (0.3 * _pitch_tolerance_2a(thread) + 0.060 * cbrt(inch) ** 2) * MM_PER_INCH


def greatest_pitch_diameter(thread: Thread) -> Mm:
    """Return the greatest pitch diameter of the nut: ISO 965-1 6H, ASME B1.1 2B (from memory)."""
    p, d = thread.pitch, thread.major
    basic = d - 0.75 * sqrt(3) / 2 * p
    if is_metric(thread):
        return basic + 1.32 * 90 * float(p**0.4 * _range_middle(d) ** 0.1) / UM_PER_MM
    return basic + 1.3 * _pitch_tolerance_2a(thread) * MM_PER_INCH


def stripped_area(thread: Thread, thickness: Mm) -> Mm2:
    """Return the area in which a plate's thread shears, over its full thickness.

    π·n·Le·Ds·[1/(2n) + 0.57735·(Ds − En)]: n threads a mm, Ds the least major diameter of the
    screw, En the greatest pitch diameter of the plate's thread. Source: FED-STD-H28/2 by way of
    a handbook. Holds for a hole tapped through, without countersink.
    """
    n, ds = 1 / thread.pitch, least_major(thread)
    return pi * n * thickness * ds * (1 / (2 * n) + FLANK * (ds - greatest_pitch_diameter(thread)))


def stripping_load(thread: Thread, *, thickness: Mm, material: str) -> Newton | None:
    """Return the force that strips a tapped plate; ``None``: its strength is not known."""
    sheet = plate_strength(material)
    return None if sheet is None else stripped_area(thread, thickness) * sheet.shear_strength


def engagement_for_full_strength(thread: Thread) -> Mm:
    """Return the length of thread at which the screw fails before an equally strong plate does.

    Le = 2·At / {π·n·Ds·[1/(2n) + 0.57735·(Ds − En)]}: the plate's thread, which shears at half
    of what tears. Source: FED-STD-H28/2 by way of a handbook.
    """
    return 2 * thread.stress_area / stripped_area(thread, 1.0)


def most_torque(thread: Thread, *, thickness: Mm, material: str) -> Nm | None:
    """Return the greatest torque for a screw in a tapped plate; ``None``: strength not known.

    T = K·d·F with the lesser of 0.75 of the screw's proof load and 0.6 of what strips the plate.
    """
    usual = tightening()
    strips = stripping_load(thread, thickness=thickness, material=material)
    if strips is None:
        return None
    force = min(usual.preload * proof_load(thread), usual.strip * strips)
    return torque_for(force, major=thread.major, friction=usual.friction)


def is_metric(thread: Thread) -> bool:
    """Tell whether a thread is of the metric series."""
    return thread.name.startswith("M")


def _pitch_tolerance_2a(thread: Thread) -> float:
    """Return the tolerance of the pitch diameter in inches, engaged over one diameter."""
    d, p = thread.major / MM_PER_INCH, thread.pitch / MM_PER_INCH
    return 0.0015 * cbrt(d) + 0.0015 * sqrt(d) + 0.015 * cbrt(p) ** 2


def _range_middle(major: Mm) -> Mm:
    """Return the middle (geometric) of the range of diameters that ISO 965-1 puts this one in."""
    edges = (1.5, 2.8, 5.6, 11.2, 22.4)
    for low, high in pairwise(edges):
        if low <= major <= high:
            return sqrt(low * high)
    return major
