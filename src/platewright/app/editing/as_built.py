"""Write down the plate as it was built: measured places, holes drilled; say what that changes.

A measured thing is locked where it is: no plan moves it any more. Holes that are drilled stay where
they are and hold what they held, unless they are given up; planned ones go along. One step of the
job's history, so undo takes it back.

How places are typed, and which can't be, is told in ``as_typed``. A thing that stands elsewhere may
have been put there on purpose: that is told, not refused.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import hypot
from pathlib import Path
from typing import Final

from platewright.app.editing.as_typed import (
    FAR,
    fault_of,
    length_said,
    off_plan,
    offset_said,
    shifts_of,
    typed_places,
    unit_taken,
)
from platewright.app.editing.give_up import can_give_up, given_up, why_not
from platewright.app.editing.session import Session
from platewright.app.editing.things import Thing, kept, thing_of, with_things
from platewright.app.gather import panel_of
from platewright.foundation.errors import InputError, InputErrors, nearest
from platewright.foundation.tag_order import in_ranges, tag_order
from platewright.foundation.units import Mm
from platewright.model.finding import Finding, Verdict
from platewright.model.geometry import Point
from platewright.model.job import DisplayUnit, Job
from platewright.model.layout import Hole, HoleState, Layout
from platewright.model.panel import Panel, hole_offsets
from platewright.rules.registry import run_rules

PLAY: Final[Mm] = 0.5  # a hand-marked hole lies this near to where its foot is (shop practice)
ALL: Final = "all"
WRONG: Final = (Verdict.FAIL, Verdict.CAUTION, Verdict.UNDECIDED)


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """What was measured or done at the bench: places by tag, holes by state."""

    places: Mapping[str, Point]
    drilled: tuple[str, ...] = ()
    marked: tuple[str, ...] = ()
    given_up: tuple[str, ...] = ()  # drilled holes that hold nothing from now on, marks wiped off


@dataclass(frozen=True, slots=True, kw_only=True)
class AsBuilt:
    """The plate after it was written down, and what is different now."""

    before: Panel
    panel: Panel
    told: tuple[str, ...]
    worse: tuple[Finding, ...]  # findings that were not there before
    better: tuple[Finding, ...]  # findings that are gone


def as_built(
    folder: Path,
    *,
    places: Sequence[str],
    drilled: str,
    marked: str,
    give_up: str = "",
    far: bool = False,
) -> AsBuilt:
    """Write down what was measured and drilled; nothing is written when anything is wrong.

    ``places``: ``TAG=x,y`` in the unit of the job's sheets where none is behind the number.
    ``drilled`` and ``marked``: tags of holes, ``H1..H12`` or ``all``. ``give_up``: the same, or
    tags of things whose drilled holes are given up; a marked hole's mark is wiped off. ``far``: a hole may lie more than ``FAR`` from
    where it was planned.
    """
    session = Session(folder)
    job, layout = session.job, session.layout
    measured = _read(job, layout, places, drilled=drilled, marked=marked, give_up=give_up, far=far)
    after, told = written_down(job, layout, measured)
    told = (*unit_taken(places, job.settings.units), *told)
    before = panel_of(job, layout)
    panel = panel_of(job, after)
    session.take(after, "as built")
    old, new = _wrong(before), _wrong(panel)
    return AsBuilt(
        before=before,
        panel=panel,
        told=told,
        worse=tuple(new[key] for key in new if key not in old),
        better=tuple(old[key] for key in old if key not in new),
    )


def written_down(job: Job, layout: Layout, measured: Measured) -> tuple[Layout, tuple[str, ...]]:
    """Return the layout as built, and what to tell.

    What is said to be drilled was drilled as planned, unless its own place was measured.
    """
    told: list[str] = []
    things: dict[str, Thing] = {}
    unit = job.settings.units
    shifts = shifts_of(layout, measured.places)
    holes = dict(layout.holes)
    for tags, state in ((measured.marked, HoleState.MARKED), (measured.drilled, HoleState.DRILLED)):
        for tag in tags:
            if holes[tag].state is not HoleState.DRILLED:
                holes[tag] = replace(holes[tag], state=state)
        if tags:
            told.append(f"{len(tags)} holes {state.value}: {in_ranges(tags)}")
    for tag, place in measured.places.items():
        if tag in holes:
            told.append(_moved_hole(tag, layout.holes[tag], place, shifts, unit))
            holes[tag] = replace(holes[tag], x=place.x, y=place.y, state=HoleState.DRILLED)
            continue
        thing = thing_of(layout, tag)
        if thing is None:
            raise _unknown(tag, layout)
        dx, dy = shifts[tag]
        things[tag] = replace(thing, x=place.x, y=place.y, locked=True)
        far = "; that is far: check what was typed" if hypot(dx, dy) > FAR else ""
        told.append(f"{tag}: measured {offset_said(dx, dy, unit)} from the plan; locked there{far}")
        for name, hole in holes.items():
            if hole.holds == tag and hole.state is HoleState.PLANNED:
                holes[name] = replace(hole, x=kept(hole.x + dx), y=kept(hole.y + dy))
    after = replace(with_things(layout, things), holes=holes)
    after, loose = given_up(after, measured.given_up)
    return after, (*told, *_feet_off_their_holes(job, after, things), *loose)


def _moved_hole(
    tag: str, hole: Hole, place: Point, shifts: Mapping[str, tuple[Mm, Mm]], unit: DisplayUnit
) -> str:
    dx, dy = off_plan(hole, place, shifts)
    return f"{tag}: measured {offset_said(dx, dy, unit)} from the plan ({length_said(hypot(dx, dy), unit)} off), drilled"


def _feet_off_their_holes(job: Job, layout: Layout, things: Mapping[str, Thing]) -> Iterator[str]:
    """Yield devices whose feet, by what was measured, do not lie on the holes drilled for them."""
    unit = job.settings.units
    for tag in sorted(things, key=tag_order):
        if tag not in layout.devices:
            continue
        at, part = layout.devices[tag], job.part_of(tag)
        play = PLAY + (part.slot_length or 0.0) / 2
        feet = [Point(at.x + foot.x, at.y + foot.y) for foot in hole_offsets(part)]
        for name, hole in layout.holes.items():
            if hole.holds != tag or hole.state is not HoleState.DRILLED or not feet:
                continue
            off = min(hypot(foot.x - hole.x, foot.y - hole.y) for foot in feet)
            if off > play:
                yield (
                    f"{tag}: its foot lies {length_said(off, unit)} from {name}, which is drilled for it: "
                    "one of the two was measured wrong, or the part is not as its data sheet says"
                )


def _read(
    job: Job,
    layout: Layout,
    places: Sequence[str],
    *,
    drilled: str,
    marked: str,
    give_up: str,
    far: bool,
) -> Measured:
    """Read what was typed; every fault is told at once."""
    faults: list[InputError] = []
    found = typed_places(job, layout, places, faults, far=far)
    tags = {}
    for name, words in (("drilled", drilled), ("marked", marked)):
        tags[name] = _tags(layout, name, words, faults)
    loose = _given_up(layout, give_up, {*tags["drilled"], *found}, faults)
    if faults:
        raise InputErrors(faults)
    return Measured(
        places=found, drilled=tags["drilled"], marked=tags["marked"], given_up=tuple(loose)
    )


def _given_up(
    layout: Layout, words: str, drilled_now: set[str], faults: list[InputError]
) -> dict[str, None]:
    """Return the holes to give up, in order: named one by one, or by what they hold."""
    found: dict[str, None] = {}
    if words.strip() == ALL:
        found = dict.fromkeys(can_give_up(layout))
        if not found:
            faults.append(fault_of("give-up", ALL, "no drilled hole holds anything",
                                 "Leave it out: plan may move everything already"))  # fmt: skip
        return found
    things = {*layout.devices, *layout.ducts, *layout.rails}
    for word in words.replace(",", " ").split():
        if word in things and word not in layout.holes:
            own = can_give_up(layout, word)
            if not own:
                faults.append(fault_of("give-up", word, f"no drilled hole holds {word}",
                                     "Leave it out: no hole keeps it where it is"))  # fmt: skip
            found |= dict.fromkeys(own)
            continue
        for tag in _tags(layout, "give-up", word, faults):
            wrong = why_not(layout, tag, drilled_now)
            if wrong:
                faults.append(fault_of("give-up", word, *wrong))
            else:
                found[tag] = None
    return found


def _tags(layout: Layout, name: str, words: str, faults: list[InputError]) -> tuple[str, ...]:
    """Return the holes named by a list of tags and ranges, in tag order."""
    ordered = sorted(layout.holes, key=tag_order)
    # no sheet has a mark to wipe off drilled: who drilled there all the same names it by itself
    idle = {t for t in ordered if layout.holes[t].is_idle_mark} if name != "give-up" else set()
    if words.strip() == ALL:
        return tuple(tag for tag in ordered if tag not in idle)
    found: set[str] = set()
    for word in words.replace(",", " ").split():
        first, dots, last = word.partition("..")
        if dots and not (first and last):
            faults.append(fault_of(name, word, "is half a range",
                                 "Name its first and its last hole, e.g. H1..H12"))  # fmt: skip
            continue
        ends = (first, last) if dots else (first, first)
        missing = [tag for tag in ends if tag not in layout.holes]
        if missing:
            faults.append(fault_of(name, word, f"no hole is called {missing[0]}",
                                 _holes_there(ordered)))  # fmt: skip
            continue
        low, high = sorted(ends, key=tag_order)
        run = set(ordered[ordered.index(low) : ordered.index(high) + 1])
        found |= run - idle if dots else run
    return tuple(tag for tag in ordered if tag in found)


def _holes_there(ordered: list[str]) -> str:
    """Return which tags there are; a number of no hole is mostly read from an older sheet."""
    if not ordered:
        return "The plate has no holes yet: run plan"
    return f"Holes of the newest plan: {in_ranges(ordered)}. An older sheet's numbers are void"


def _unknown(tag: str, layout: Layout) -> InputErrors:
    known = {*layout.devices, *layout.ducts, *layout.rails, *layout.holes}
    return InputErrors(
        [fault_of("set", tag, "nothing on the plate has this tag", nearest(tag, known))]
    )


def _wrong(panel: Panel) -> dict[tuple[str, str, str], Finding]:
    return {
        (one.rule.id, one.subject, str(one.verdict)): one
        for one in run_rules(panel)
        if one.verdict in WRONG
    }
