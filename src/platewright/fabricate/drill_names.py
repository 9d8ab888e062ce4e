"""What a drill and a screw are called where the job is in inches, and where it is in mm."""

from __future__ import annotations

from platewright.fabricate.threads import COMBINED, combined_reason
from platewright.foundation.units import MM_PER_INCH, Mm
from platewright.model.job import DisplayUnit
from platewright.tables.drills import inch_drill
from platewright.tables.threads import Thread, thread


def drill_name(diameter: Mm, unit: DisplayUnit) -> str:
    """Return a drill as it is asked for at the store, diameter included.

    ``⌀4.2 mm``; ``#21 (⌀0.159 in)``. A metric drill stays metric in a job in inches: another
    drill would be another hole.
    """
    name, metric = inch_drill(diameter), f"⌀{_short(diameter)} mm"
    if name is None:
        return metric
    if unit is DisplayUnit.INCH:
        return f"{name} (⌀{diameter / MM_PER_INCH:.3f} in)"
    return f"{metric} ({name})"


def drill_short(diameter: Mm, unit: DisplayUnit) -> str:
    """Return the same as short as can be, to write beside a hole."""
    name = inch_drill(diameter)
    if name is not None and unit is DisplayUnit.INCH:
        return name
    metric = f"⌀{_short(diameter)}"
    return f"{metric} mm" if unit is DisplayUnit.INCH else metric


def combined_words(size: Thread, *, thickness: Mm, unit: DisplayUnit) -> str:
    """Return why a combined drill and tap may be used, in numbers of the job's unit."""
    if unit is DisplayUnit.MM:
        return combined_reason(size, thickness=thickness)
    plate, major = thickness / MM_PER_INCH, size.major / MM_PER_INCH
    return (
        f"plate {plate:.3f} in, at most {COMBINED:g} × {major:.3f} = {COMBINED * major:.3f} in "
        "(shop practice)"
    )


def foreign_words(size: str, unit: DisplayUnit) -> str:
    """Return a word of warning where a screw is not of the system that the job prints in."""
    known = thread(size)
    if known is None:
        return ""
    is_metric = known.name.startswith("M")
    if unit is DisplayUnit.INCH and is_metric:
        return "metric"
    return "inch thread" if unit is DisplayUnit.MM and not is_metric else ""


def _short(value: Mm) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")
