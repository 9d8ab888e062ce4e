"""The holes of the plate: what each holds, where it lies, how it is made.

A hole that is marked or drilled never moves, never vanishes and keeps its tag. It serves where
a hole of its size is needed; else it is left over and holds nothing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from math import hypot

from platewright.fabricate.around import around_of
from platewright.fabricate.holding import holding_screw
from platewright.fabricate.hole_tags import tagged
from platewright.fabricate.joints import meetings
from platewright.fabricate.slots import FOOT_OFF, OWN_OFF
from platewright.fabricate.solvers.fixings import Strip, duct_strip, fixing_points, rail_strip
from platewright.fabricate.stretches import stretches
from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import Mm
from platewright.model.job import Job
from platewright.model.layout import Hole, HoleState, Layout
from platewright.model.panel import hole_offsets
from platewright.tables.threads import thread


def place_holes(job: Job, layout: Layout) -> Layout:
    """Return the layout with every hole that its devices, rails and ducts need.

    A hole keeps its tag while it lies where it lay for the same thing (``hole_tags``); new ones
    are numbered in the order devices, rails, ducts, each by tag, then from left to right. A device whose screw or hole pattern is not stated gets no holes (the data checks
    say so). Raises InputErrors when a screw's thread is not in the tables.
    """
    ledger = _Ledger(layout)
    for wanted in device_holes(job, layout):
        ledger.provide(wanted)
    strips = list(strips_of(job, layout))
    for strip in strips:
        ledger.claim(strip)
    for strip in strips:
        places = fixing_points(
            strip,
            job.settings.plate,
            edge=job.settings.limits.hole_edge,
            holes=ledger.holes,
            sunk=ledger.may_serve(strip),
            around=around_of(
                job, layout, strip.tag, head=strip.by.head, drill=strip.by.choice.drill
            ),
        )
        for place in places:
            if isinstance(place, str):
                ledger.serving[place] = strip.tag
            else:
                ledger.new.append(
                    Hole(
                        x=place.x,
                        y=place.y,
                        kind=strip.by.choice.kind,
                        size=strip.by.size,
                        drill=strip.by.choice.drill,
                        holds=strip.tag,
                    )
                )
    return replace(layout, holes=ledger.tagged())


def device_holes(job: Job, layout: Layout) -> Iterator[Hole]:
    """Yield the holes that screw-mounted devices need; slotted feet: at the slot's centre."""
    for tag in sorted(layout.devices, key=tag_order):
        part, at = job.part_of(tag), layout.devices[tag]
        if part.screw is None:
            continue
        choice = holding_screw(job, part.screw, stated=part.mount_torque).choice
        for offset in sorted(hole_offsets(part), key=lambda point: (point.x, point.y)):
            yield Hole(
                x=at.x + offset.x,
                y=at.y + offset.y,
                kind=choice.kind,
                size=part.screw,
                drill=choice.drill,
                holds=tag,
            )


def strips_of(job: Job, layout: Layout) -> Iterator[Strip]:
    """Yield rails, then ducts, in tag order; of a joined one each piece."""
    for tag in sorted(layout.rails, key=tag_order):
        for part in stretches(tag, job, layout):
            yield rail_strip(tag, layout.rails[tag], job, layout, part)
    met = meetings(layout)
    for tag in sorted(layout.ducts, key=tag_order):
        for part in stretches(tag, job, layout, met[tag]):
            yield duct_strip(tag, layout.ducts[tag], job, part)


@dataclass(slots=True)
class _Ledger:
    """Holes already sunk, what they come to serve, and new ones. Lives inside one call."""

    layout: Layout
    sunk: dict[str, Hole] = field(default_factory=dict)  # marked or drilled
    serving: dict[str, str] = field(default_factory=dict)  # sunk hole -> what it holds
    claims: dict[str, str] = field(default_factory=dict)  # sunk hole -> the strip it was made for
    new: list[Hole] = field(default_factory=list)

    def __post_init__(self) -> None:
        for tag in sorted(self.layout.holes, key=tag_order):
            if self.layout.holes[tag].state is not HoleState.PLANNED:
                self.sunk[tag] = self.layout.holes[tag]

    @property
    def holes(self) -> list[Hole]:
        """All holes that are or will be in the plate."""
        return [*self.sunk.values(), *self.new]

    def provide(self, wanted: Hole) -> None:
        """Let a sunk hole serve, its own before a stranger's; else note a new one."""
        near = [
            (hole.holds != wanted.holds, distance, tag)
            for tag, hole in self.sunk.items()
            if tag not in self.serving
            and (distance := hypot(hole.x - wanted.x, hole.y - wanted.y))
            <= _reach(hole, wanted.holds)
            and same_size(hole, wanted.size)
        ]
        if near:
            self.serving[min(near)[2]] = wanted.holds
        else:
            self.new.append(wanted)

    def claim(self, strip: Strip) -> None:
        """Keep for a strip the sunk holes that were made for it and still lie on its axis."""
        for tag, hole in self.sunk.items():
            made_for_it = hole.holds == strip.tag and strip.along(hole.centre, OWN_OFF) is not None
            if made_for_it and tag not in self.serving:
                self.claims[tag] = strip.tag

    def may_serve(self, strip: Strip) -> dict[str, Hole]:
        """Return sunk holes that may hold a strip: its own, and drilled ones that lie idle."""
        found = {}
        for tag, hole in self.sunk.items():
            claimed = self.claims.get(tag)
            idle = claimed is None and hole.state is HoleState.DRILLED
            free = tag not in self.serving and (claimed == strip.tag or idle)
            if free and same_size(hole, strip.by.size):
                found[tag] = replace(hole, holds=claimed or "")
        return found

    def tagged(self) -> dict[str, Hole]:
        """Return all holes by tag."""
        sunk = {
            tag: replace(hole, holds=self.serving.get(tag, "")) for tag, hole in self.sunk.items()
        }
        return tagged(self.layout.holes, sunk, self.new)


def _reach(hole: Hole, holder: str) -> Mm:
    """Return how far off a sunk hole may lie and still serve: a new one beside it can't be drilled.

    One drilled for the very thing serves farther off than a check lets pass, so that it is told.
    """
    is_own = hole.holds == holder and hole.state is HoleState.DRILLED
    return OWN_OFF if is_own else FOOT_OFF


def same_size(hole: Hole, screw: str) -> bool:
    """Tell whether a hole was made for this screw, however its thread is written."""
    made_for = thread(hole.size)  # None: a rivet or a size that is no thread
    return hole.size == screw or (made_for is not None and made_for == thread(screw))
