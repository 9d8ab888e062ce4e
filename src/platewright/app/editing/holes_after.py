"""What becomes of the holes when things move, come or go."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from math import hypot

from platewright.app.editing.things import Thing, kept, thing_of, with_things
from platewright.fabricate.hole_tags import tagged
from platewright.fabricate.slots import ON_THE_SPOT
from platewright.fabricate.solvers.place_holes import place_holes
from platewright.foundation.errors import PlatewrightError
from platewright.model.job import Job
from platewright.model.layout import Hole, HoleState, Layout, Placement

Holes = dict[str, Hole]


def holes_after(
    job: Job, layout: Layout, changed: Mapping[str, Thing], *, gone: frozenset[str] = frozenset()
) -> tuple[Layout, tuple[str, ...]]:
    """Return the layout with things changed and its holes brought after, and what to tell.

    A thing that only moved takes its planned holes along. What is new or was cut anew gets the
    planned holes that its place asks for. A sunk hole stays, and holds nothing once what it
    held went elsewhere; a marked one is told, for its mark must be wiped off.
    """
    shift = {tag: _shift(layout, tag, thing) for tag, thing in changed.items()}
    anew = frozenset(tag for tag, by in shift.items() if by is None)
    away = {tag for tag, by in shift.items() if by != (0.0, 0.0)} | gone
    holes: Holes = {}
    notes: list[str] = []
    for tag, hole in layout.holes.items():
        if hole.holds not in away:
            holes[tag] = hole
        elif hole.state is HoleState.PLANNED:
            by = shift.get(hole.holds)
            if by is not None:
                holes[tag] = replace(hole, x=kept(hole.x + by[0]), y=kept(hole.y + by[1]))
        else:
            holes[tag] = replace(hole, holds="")
            notes.append(_told(tag, hole))
            anew |= {hole.holds} - gone
    anew |= _over_idle(holes, away - gone)
    after = replace(with_things(layout, changed), holes=holes)
    return (_with_new_holes(job, after, anew, dict(layout.holes)) if anew else after), tuple(notes)


def _told(tag: str, hole: Hole) -> str:
    if hole.state is HoleState.MARKED:
        return f"{tag} at {hole.x:g}, {hole.y:g} was marked for {hole.holds}: wipe the mark off"
    return f"{tag} at {hole.x:g}, {hole.y:g} was drilled for {hole.holds} and is left over"


def _over_idle(holes: Holes, owners: frozenset[str] | set[str]) -> frozenset[str]:
    """Return the owners of planned holes that came to lie on idle sunk ones: these may serve."""
    idle = [h for h in holes.values() if not h.holds and h.state is not HoleState.PLANNED]
    return frozenset(
        hole.holds
        for hole in holes.values()
        if hole.holds in owners and hole.state is HoleState.PLANNED
        and any(hypot(hole.x - one.x, hole.y - one.y) <= ON_THE_SPOT for one in idle)
    )  # fmt: skip


def _shift(layout: Layout, tag: str, thing: Thing) -> tuple[float, float] | None:
    """Return how far a thing moved; ``None``: it is new, or no longer of the same size."""
    before = thing_of(layout, tag)
    if before is None:
        return None
    if isinstance(before, Placement):
        return thing.x - before.x, thing.y - before.y
    if replace(thing, x=before.x, y=before.y) != before:
        return None
    return thing.x - before.x, thing.y - before.y


def _with_new_holes(job: Job, layout: Layout, owners: frozenset[str], former: Holes) -> Layout:
    """Return the layout with the holes that these owners ask for; all others as they are.

    ``former``: every hole before the step; the tag of one that is gone stands for no other.

    An idle sunk hole on the spot serves again. Where holes can't be planned (a thread that is
    not in the tables) the owners get none, and the checks say so.
    """
    without = {
        tag: hole
        for tag, hole in layout.holes.items()
        if hole.holds not in owners or hole.state is not HoleState.PLANNED
    }
    try:
        wanted = place_holes(job, replace(layout, holes=without)).holes
    except PlatewrightError:
        return replace(layout, holes=without)
    anew = [h for h in wanted.values() if h.holds in owners and h.state is HoleState.PLANNED]
    served = {
        t: h for t, h in wanted.items() if h.holds in owners and h.state is not HoleState.PLANNED
    }
    holes = tagged({**former, **layout.holes}, {**without, **served}, anew)
    return replace(layout, holes=holes)
