"""How a screw is held in this plate: tapped, thread-forming, or bolt and nut; and the drill for it."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, cos, pi
from typing import Final

from platewright.fabricate.strength import most_torque
from platewright.foundation.errors import InputError, InputErrors, nearest
from platewright.foundation.sources import Source, Standing
from platewright.foundation.units import MM_PER_M, MetrePerMin, Mm, Nm, Ratio, Rpm, Turns
from platewright.model.layout import HoleKind
from platewright.tables.reader import source_of
from platewright.tables.strengths import Rivet, rivet, rivet_names
from platewright.tables.strengths import tightening as usual_tightening
from platewright.tables.threads import FormingPilot, Thread, thread, thread_names

FEWEST_THREADS: Final[Turns] = 2.0
THINNEST_TAPPED: Final[Mm] = 1.27
TAPPED_SOURCE: Final = Source("UL 98", "6.7.2.5")  # written for terminal plates, borrowed here
FEWEST_IN_SOFT: Final[Turns] = 3.0  # aluminium: 1.5 times what steel needs
SOFT_SOURCE: Final = Source("shop practice", "threads in aluminium", Standing.PRACTICE)
SOFT: Final = "aluminium"
HARD: Final = "stainless"  # tapped through a larger hole, never with a combined bit
HARD_THREAD: Final[Ratio] = 0.6  # of the full thread: strength hardly rises above
FORMED_IN: Final = "steel"  # thread-rolling bulletins speak of cold-rolled steel
FEWEST_FORMED: Final[Turns] = 1.0  # un-extruded metal of at least one pitch
EVERY_THICKNESS: Final[Mm] = 25.0  # a pilot for all plates comes from a formula, not a test
COMBINED: Final[Ratio] = 0.8  # thickest plate for a combined drill and tap, in screw diameters
DRILL_STEP: Final[Mm] = 0.1  # drills come in tenths
DRAWN: Final = 1e-9  # threads: far below what a gauge tells; a plate on the limit passes


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleChoice:
    """How a screw is held, the drill for it, and why. ``combined``: one bit drills and taps."""

    kind: HoleKind
    drill: Mm
    reason: str
    source: Source
    combined: bool = False
    most_torque: Nm | None = None  # above it the plate's thread strips or the screw stretches


def engaged_threads(thread: Thread, thickness: Mm) -> Turns:
    """Return the full threads that a plain tapped plate holds: thickness over pitch.

    Holds for a hole tapped through, without countersink. Checked: UL 98 6.7.2.5 as worked in
    the reference values (M6 in 2.0 mm: 2.00).
    """
    return thickness / thread.pitch


def percent_thread(major: Mm, *, drill: Mm, pitch: Mm) -> Ratio:
    """Return how much of the full thread's height a drilled hole leaves, as a share.

    (D - d) / (1.299 · P), where 1.299 · P is twice three quarters of the sharp
    height H = P · cos 30°, the measure of the drill and tap charts.
    """
    return (major - drill) / (2 * 0.75 * cos(pi / 6) * pitch)


def drill_for(major: Mm, *, share: Ratio, pitch: Mm) -> Mm:
    """Return the thinnest drill, in tenths, that leaves at most this share of the thread."""
    exact = major - share * 2 * 0.75 * cos(pi / 6) * pitch
    return round(ceil(exact / DRILL_STEP - DRAWN) * DRILL_STEP, 1)


def tap_drill(size: Thread, material: str) -> Mm:
    """Return the drill before the tap: the chart's; in stainless the one for 50 to 60 % thread."""
    if material == HARD:
        return drill_for(size.major, share=HARD_THREAD, pitch=size.pitch)
    return size.tap_drill


def spindle_speed(speed: MetrePerMin, diameter: Mm) -> Rpm:
    """Return the turns a minute: n = 1000·v / (π·d)."""
    return speed * MM_PER_M / (pi * diameter)


def takes_combined(size: Thread, *, thickness: Mm, material: str) -> bool:
    """Tell whether a combined drill and tap may be used.

    It must break through before the first thread bites: plate at most 0.8 screw diameters
    thick, and never in stainless (shop practice).
    """
    return material != HARD and thickness <= COMBINED * size.major + DRAWN


def combined_reason(size: Thread, *, thickness: Mm) -> str:
    """Return why a combined drill and tap may be used, in numbers."""
    most = COMBINED * size.major
    return (
        f"plate {thickness:.2f} mm, at most {COMBINED:g} × {size.major:.2f} = {most:.2f} mm "
        "(shop practice)"
    )


def fewest_threads(material: str) -> tuple[Turns, Source]:
    """Return the threads that a tapped hole in this plate must hold, and who says so."""
    if material == SOFT:
        return FEWEST_IN_SOFT, SOFT_SOURCE
    return FEWEST_THREADS, TAPPED_SOURCE


def known_thread(screw: str) -> Thread:
    """Return the thread of a screw. Raises InputErrors when the tables don't have it."""
    found = thread(screw)
    if found is None:
        raise InputErrors(
            [
                InputError(
                    file="parts.csv or job.toml",
                    field="screw",
                    value=screw,
                    problem="is a thread that the tables do not have",
                    cure=nearest(screw, thread_names()),
                )
            ]
        )
    return found


def known_rivet(name: str) -> Rivet:
    """Return a blind rivet. Raises InputErrors when the tables don't have it."""
    found = rivet(name)
    if found is None:
        raise InputErrors(
            [
                InputError(
                    file="job.toml",
                    field="stock.duct_rivet",
                    value=name,
                    problem="is a rivet that the tables do not have",
                    cure=nearest(name, rivet_names()),
                )
            ]
        )
    return found


def rivet_choice(name: str) -> HoleChoice:
    """Return the hole of a blind rivet. Raises InputErrors when the rivet is not known."""
    row = known_rivet(name)
    return HoleChoice(
        kind=HoleKind.RIVET,
        drill=row.hole,
        reason=f"blind rivet {row.name}: the job holds ducts so; drilled out, never unscrewed",
        source=source_of(row),
    )


def hole_choice(
    screw: str, *, thickness: Mm, material: str, torque: Nm | None = None
) -> HoleChoice:
    """Return a tapped hole where the plate holds threads and torque, else what holds instead.

    In turn: tapped, thread-forming screw, bolt and nut. ``torque``: what the device's data say
    it is tightened to; a usual torque gives way to the plate (``most_torque``) instead. Raises InputErrors when the thread is not known.
    """
    size = known_thread(screw)
    held = engaged_threads(size, thickness)
    needed, source = fewest_threads(material)
    counted = f"{size.name} in {thickness:g} mm {material}: {held:.2f} threads, {needed:g} needed"
    most = most_torque(size, thickness=thickness, material=material)
    strips = torque is not None and most is not None and torque > most
    if strips:
        why = f"; {torque:.3g} N·m, and the plate strips above {most:.3g}"
        return _through(size, counted + why, source_of(usual_tightening()))
    if thickness < THINNEST_TAPPED:
        counted = (
            f"{size.name} in {thickness:g} mm {material}: thinner than {THINNEST_TAPPED:g} mm, "
            "the thinnest that is tapped"
        )
        source = TAPPED_SOURCE
    elif held >= needed - DRAWN:
        combined = takes_combined(size, thickness=thickness, material=material)
        return HoleChoice(
            kind=HoleKind.TAPPED,
            drill=tap_drill(size, material),
            reason=counted + ("; combined drill and tap will do" if combined else ""),
            source=source,
            combined=combined,
            most_torque=most,
        )
    pilot = _tested_pilot(size, thickness, material)
    if pilot is not None and held >= FEWEST_FORMED - DRAWN:
        return HoleChoice(
            kind=HoleKind.SELF_TAPPING,
            drill=pilot.pilot,
            reason=f"{counted}; thread-forming screw",
            source=source_of(pilot),
            most_torque=most,
        )
    return _through(size, counted, source)


def _through(size: Thread, why: str, source: Source) -> HoleChoice:
    return HoleChoice(
        kind=HoleKind.CLEARANCE,
        drill=size.clearance_medium,
        reason=f"{why}; bolt and nut",
        source=source,
    )


def _tested_pilot(size: Thread, thickness: Mm, material: str) -> FormingPilot | None:
    """Return the pilot of a thread-forming screw given for plates as thick as this one."""
    row = size.forming_pilot_in(thickness) if material == FORMED_IN else None
    return None if row is None or row.thickness_to >= EVERY_THICKNESS else row
