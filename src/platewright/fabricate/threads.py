"""Whether a plate is thick enough to be tapped, and which drill makes the hole."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, pi
from typing import Final

from platewright.foundation.errors import InputError, InputErrors, nearest
from platewright.foundation.sources import Source, Standing
from platewright.foundation.units import Mm, Ratio, Turns
from platewright.model.layout import HoleKind
from platewright.tables.threads import Thread, thread, thread_names

FEWEST_THREADS: Final[Turns] = 2.0
THINNEST_TAPPED: Final[Mm] = 1.27
TAPPED_SOURCE: Final = Source("UL 98", "6.7.2.5")  # written for terminal plates, borrowed here
FEWEST_IN_SOFT: Final[Turns] = 3.0  # aluminium: 1.5 times what steel needs
SOFT_SOURCE: Final = Source("shop practice", "threads in aluminium", Standing.PRACTICE)
SOFT: Final = "aluminium"
DRAWN: Final = 1e-9  # threads: far below what a gauge tells; a plate on the limit passes


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleChoice:
    """How a screw is held, the drill for it, and why."""

    kind: HoleKind
    drill: Mm
    reason: str
    source: Source


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


def hole_choice(screw: str, *, thickness: Mm, material: str) -> HoleChoice:
    """Return a tapped hole where the plate holds enough threads, else a through hole.

    Raises InputErrors when the thread is not known.
    """
    size = known_thread(screw)
    held = engaged_threads(size, thickness)
    needed, source = fewest_threads(material)
    counted = f"{size.name} in {thickness:g} mm {material}: {held:.2f} threads, {needed:g} needed"
    if held < needed - DRAWN:
        kind, reason = HoleKind.CLEARANCE, f"{counted}; bolt and nut"
    elif thickness < THINNEST_TAPPED:
        kind, source = HoleKind.CLEARANCE, TAPPED_SOURCE
        reason = (
            f"{size.name} in {thickness:g} mm {material}: thinner than {THINNEST_TAPPED:g} mm, "
            "the thinnest that is tapped; bolt and nut"
        )
    else:
        kind, reason = HoleKind.TAPPED, counted
    drill = size.tap_drill if kind is HoleKind.TAPPED else size.clearance_medium
    return HoleChoice(kind=kind, drill=drill, reason=reason, source=source)
