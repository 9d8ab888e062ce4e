"""Threads: the hole to tap, the hole to pass, the hole to form, the area that carries."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.foundation.units import Mm, Mm2
from platewright.tables.reader import read_table, source_of

USUAL_PLATE: Final[Mm] = 2.0  # ``Thread.forming_pilot`` is the pilot in a plate this thick


@dataclass(frozen=True, slots=True, kw_only=True)
class ThreadRow:
    """One row of ``threads.csv``."""

    name: str
    major: Mm
    pitch: Mm
    tap_drill: Mm
    stress_area: Mm2
    source: str
    standing: Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class ClearanceRow:
    """One row of ``clearance_holes.csv``. Unified: close, free, and no coarse hole."""

    name: str
    fine: Mm
    medium: Mm
    coarse: Mm | None
    source: str
    standing: Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class FormingPilot:
    """One row of ``forming_pilots.csv``: the hole for a thread-forming screw or tap."""

    name: str
    thickness_from: Mm
    thickness_to: Mm
    pilot: Mm
    source: str
    standing: Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class Thread:
    """A thread with its holes. ``source`` stands for pitch, tap drill and stress area."""

    name: str
    major: Mm
    pitch: Mm
    tap_drill: Mm
    stress_area: Mm2
    clearance_fine: Mm
    clearance_medium: Mm
    clearance_coarse: Mm | None
    forming_pilots: tuple[FormingPilot, ...]
    source: Source
    clearance_source: Source

    @property
    def forming_pilot(self) -> Mm | None:
        """Pilot for a thread-forming screw in a plate of about 2 mm."""
        pilot = self.forming_pilot_in(USUAL_PLATE)
        return None if pilot is None else pilot.pilot

    def forming_pilot_in(self, thickness: Mm) -> FormingPilot | None:
        """Return the pilot row for a plate of this thickness; ``None``: no value known."""
        for row in self.forming_pilots:
            if row.thickness_from <= thickness <= row.thickness_to:
                return row
        return None


def thread(name: str) -> Thread | None:
    """Return a thread by name: ``M5``, ``10-32``, ``#10-32``, ``1/4-20``; ``None``: not known."""
    return _threads().get(_key(name))


def thread_names() -> tuple[str, ...]:
    """Return the names of the threads known, in the order of the table."""
    return tuple(_threads())


def _key(name: str) -> str:
    return name.strip().removeprefix("#").replace(" ", "").replace("¼", "1/4").upper()


@cache
def _threads() -> dict[str, Thread]:
    clearances = {row.name: row for row in read_table("clearance_holes", ClearanceRow)}
    pilots = read_table("forming_pilots", FormingPilot)
    return {
        row.name: Thread(
            name=row.name,
            major=row.major,
            pitch=row.pitch,
            tap_drill=row.tap_drill,
            stress_area=row.stress_area,
            clearance_fine=clearances[row.name].fine,
            clearance_medium=clearances[row.name].medium,
            clearance_coarse=clearances[row.name].coarse,
            forming_pilots=tuple(pilot for pilot in pilots if pilot.name == row.name),
            source=source_of(row),
            clearance_source=source_of(clearances[row.name]),
        )
        for row in read_table("threads", ThreadRow)
    }
