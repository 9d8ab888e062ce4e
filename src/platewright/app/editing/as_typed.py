"""Read measured places as they are typed: ``TAG=x,y``, each number with a unit or without.

A bare number is in the unit in which the job's sheets are printed, for it is read off these sheets.
What can't be, a place off the plate, is a fault; a hole far from its plan is one unless that is
said outright, because a drilled hole never moves again.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from math import hypot
from typing import Final

from platewright.app.editing.things import body_of, kept, thing_of
from platewright.drawing.table import length_text
from platewright.foundation.errors import InputError, nearest, or_else
from platewright.foundation.units import ALIASES, MM_PER_INCH, Mm
from platewright.jobfile.quantities import plain_characters, read_number
from platewright.model.geometry import Point
from platewright.model.job import DisplayUnit, Job
from platewright.model.layout import Hole, HoleState, Layout
from platewright.model.lengths import unit_name

WHERE: Final = "as-built"
FAR: Final[Mm] = 25.0  # no drill runs off its mark so far: it was mistyped, or is another hole
_UNIT: Final = re.compile(r"[^\d\s.,/+-]\D*$")  # behind a number


def typed_places(
    job: Job, layout: Layout, places: Sequence[str], faults: list[InputError], *, far: bool
) -> dict[str, Point]:
    """Return the measured places by tag; ``faults`` takes what is wrong with them."""
    found: dict[str, Point] = {}
    typed: dict[str, str] = {}
    known = {*layout.devices, *layout.ducts, *layout.rails, *layout.holes}
    for words in places:
        tag = words.rpartition("=")[0].strip()
        place = _place(words, job.settings.units)
        if tag not in known:
            faults.append(fault_of("set", words, "nothing on the plate has this tag",
                                   nearest(tag, known)))  # fmt: skip
        elif place is None:
            faults.append(
                fault_of("set", words, "is no place", "Write it as TAG=x,y, e.g. -T1=120,45.5")
            )
        elif tag in typed:
            faults.append(fault_of("set", words, f"{tag} is given a place already: {typed[tag]}",
                                   "Leave one of the two out"))  # fmt: skip
        else:
            typed[tag] = words
            found[tag] = place
    shifts = shifts_of(layout, found)
    for tag, place in found.items():
        faults += _unlikely(job, layout, tag, place, typed[tag], shifts, far=far)
    return found


def _unlikely(
    job: Job,
    layout: Layout,
    tag: str,
    place: Point,
    words: str,
    shifts: Mapping[str, tuple[Mm, Mm]],
    *,
    far: bool,
) -> Iterator[InputError]:
    """Yield the one fault of a place that is off the plate, or too far off to be believed."""
    unit, plate, hole = job.settings.units, job.settings.plate, layout.holes.get(tag)
    thing = thing_of(layout, tag)
    middle = place
    if hole is None and thing is not None:  # a thing may reach over the edge; its middle can't
        middle = body_of(job, tag, replace(thing, x=place.x, y=place.y)).centre
    is_off = not (0 < middle.x < plate.width and 0 < middle.y < plate.height)
    off = 0.0 if hole is None else hypot(*off_plan(hole, place, shifts))
    if not is_off and (far or off <= FAR):
        return
    cure = _other_unit(layout, tag, words, unit, shifts)
    if is_off:
        size = f"{length_text(plate.width, unit)} × {length_text(plate.height, unit)} {unit.value}"
        what = "lies" if hole is not None else "would have its middle"
        yield fault_of("set", words, f"{what} off the plate, which is {size}", cure)
    else:
        yield fault_of("set", words, f"lies {length_said(off, unit)} from where {tag} was planned",
                       or_else(cure, "If it was drilled there all the same, add --far"))  # fmt: skip


def _other_unit(
    layout: Layout, tag: str, words: str, unit: DisplayUnit, shifts: Mapping[str, tuple[Mm, Mm]]
) -> str:
    """Return the cure of an unlikely place: the other unit, where that makes it a likely one."""
    numbers = _numbers(words)
    if any(map(_has_unit, numbers)):
        return "Correct the numbers or their unit"
    other = DisplayUnit.MM if unit is DisplayUnit.INCH else DisplayUnit.INCH
    at, was = _place(words, other), layout.holes.get(tag) or thing_of(layout, tag)
    if at is not None and was is not None:
        dx, dy = at.x - was.x, at.y - was.y
        off = hypot(*off_plan(was, at, shifts)) if isinstance(was, Hole) else hypot(dx, dy)
        if off <= FAR:
            spelt = ",".join(f"{number.strip()}{other.value}" for number in numbers)
            return f"Bare numbers are {unit_name(unit)} here. Did you mean {tag}={spelt}?"
    return f"Correct the numbers (bare ones are {unit_name(unit)} here), or write their unit behind"


def unit_taken(places: Sequence[str], unit: DisplayUnit) -> Iterator[str]:
    """Yield which unit bare numbers were taken in, where there were any."""
    bare = [words for words in places if not any(map(_has_unit, _numbers(words)))]
    if bare:
        yield f"Read in {unit_name(unit)}, the unit of this job's sheets: {', '.join(bare)}"


def shifts_of(layout: Layout, places: Mapping[str, Point]) -> dict[str, tuple[Mm, Mm]]:
    """Return by how much each measured device, duct and rail stands off its plan, x and y."""
    return {
        tag: (place.x - thing.x, place.y - thing.y)
        for tag, place in places.items()
        if tag not in layout.holes and (thing := thing_of(layout, tag)) is not None
    }


def off_plan(hole: Hole, place: Point, shifts: Mapping[str, tuple[Mm, Mm]]) -> tuple[Mm, Mm]:
    """Return how far a hole was drilled from its plan, x and y; planned ones go along."""
    along = shifts.get(hole.holds, (0.0, 0.0)) if hole.state is HoleState.PLANNED else (0.0, 0.0)
    return place.x - hole.x - along[0], place.y - hole.y - along[1]


def offset_said(dx: Mm, dy: Mm, unit: DisplayUnit) -> str:
    """Return how far off a place was measured, as fine as ``length_said``."""
    if unit is DisplayUnit.MM:
        return f"{dx:+.1f}, {dy:+.1f} mm"
    return f"{dx / MM_PER_INCH:+.3f}, {dy / MM_PER_INCH:+.3f} in"


def length_said(value: Mm, unit: DisplayUnit) -> str:
    """Return a small length, finer than sheets print it: a drill is measured with a caliper."""
    return f"{value:.1f} mm" if unit is DisplayUnit.MM else f"{value / MM_PER_INCH:.3f} in"


def _numbers(words: str) -> tuple[str, ...]:
    return tuple(words.rpartition("=")[2].split(","))


def _has_unit(number: str) -> bool:
    return _UNIT.search(plain_characters(number)) is not None


def _place(words: str, unit: DisplayUnit) -> Point | None:
    """Return what ``TAG=x,y`` says, mm; a unit behind one of the two holds for both."""
    numbers = _numbers(words)
    if len(numbers) != 2:
        return None
    units = [found[0] for number in numbers if (found := _UNIT.search(plain_characters(number)))]
    bare = ALIASES["mm"][unit.value]
    try:
        x, y = (
            read_number(
                n + units[0] if len(units) == 1 and not _has_unit(n) else n, "mm", heading=bare
            )
            for n in numbers
        )
    except ValueError:
        return None
    return Point(kept(x), kept(y))


def fault_of(field: str, value: str, problem: str, cure: str) -> InputError:
    """Return a fault of what was typed behind ``--field``."""
    return InputError(file=WHERE, field=field, value=value, problem=problem, cure=cure)
