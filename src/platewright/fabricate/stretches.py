"""Where a rail or duct that is longer than its bar is joined."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, floor
from typing import Final

from platewright.fabricate.joints import Meetings, meetings
from platewright.fabricate.slots import usable_bar
from platewright.fabricate.stock_names import bar_of
from platewright.foundation.units import Mm
from platewright.model.job import Job
from platewright.model.layout import Duct, Layout, Rail, Run
from platewright.model.part import Mount
from platewright.tables.ducts import duct_practice

HAIR: Final[Mm] = 1e-6
RASTER: Final[Mm] = 5.0  # joints of a duct stand at multiples of this from its end
FROM_NOTCH: Final[Mm] = 60.0  # a joint keeps this far off an opening: the wall stays whole
SHORTEST: Final[Mm] = 120.0  # a piece this long takes two fixings near its ends
ON_AXIS: Final[Mm] = 0.25

Interval = tuple[Mm, Mm]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """One piece of a rail or duct: where it starts and ends along it, which one of how many."""

    start: Mm
    end: Mm
    number: int
    of: int

    @property
    def length(self) -> Mm:
        """Length along the rail or duct."""
        return self.end - self.start


def stretches(
    tag: str, job: Job, layout: Layout, met: Meetings | None = None
) -> tuple[Stretch, ...]:
    """Return the pieces of a rail or duct, from its left or lower end.

    One, unless it is longer than what a bar gives. Joints lie as evenly as can be, off the
    openings of a duct and between the devices of a rail. ``met``: what a duct meets, if known.
    """
    stock = job.settings.stock
    piece = layout.rails.get(tag) or layout.ducts[tag]
    given = usable_bar(piece, stock)
    usable = piece.length if given is None else given
    if piece.length <= usable + HAIR or usable < SHORTEST:
        return (Stretch(start=0.0, end=piece.length, number=1, of=1),)
    if isinstance(piece, Rail):
        taken, raster = tuple(_bodies(piece, job, layout)), stock.rail.slot_pitch
    else:
        met = met or meetings(layout)[tag]
        taken = tuple((n.start - FROM_NOTCH, n.end + FROM_NOTCH) for n in met.notches)
        raster = RASTER
    return _cut_at(_joints(piece.length, usable, taken, raster), piece.length)


def cover_stretches(duct: Duct, job: Job, bases: Sequence[Stretch]) -> tuple[Stretch, ...]:
    """Return the pieces of a duct's cover: its joints stand off those of the base.

    So that each bridges the other. One piece more than the base has, where its bars ask for it;
    where even that does not do, the cover is cut as the base is.
    """
    if len(bases) == 1:
        return tuple(bases)
    bar = bar_of(duct, job.settings.stock)
    usable = duct.length if bar is None else bar - job.settings.stock.end_trim
    off = duct_practice().stagger
    taken = tuple((base.end - off, base.end + off) for base in bases[:-1])
    for count in (len(bases), len(bases) + 1):
        longest = min(usable, duct.length / (count - 1) - RASTER)
        places = _joints(duct.length, longest if count > len(bases) else usable, taken, RASTER)
        if not any(low < at < high for at in places for low, high in taken):
            return _cut_at(places, duct.length)
    return tuple(bases)


def _cut_at(places: Sequence[Mm], length: Mm) -> tuple[Stretch, ...]:
    ends = [0.0, *places, length]
    return tuple(
        Stretch(start=ends[n], end=ends[n + 1], number=n + 1, of=len(ends) - 1)
        for n in range(len(ends) - 1)
    )


def _joints(length: Mm, usable: Mm, taken: Sequence[Interval], raster: Mm) -> list[Mm]:
    """Return where to join: each joint as near as can be to an even share of what is left."""
    places: list[Mm] = []
    start = 0.0
    while length - start > usable + HAIR:
        pieces = ceil((length - start) / usable - HAIR)
        even = start + (length - start) / pieces
        # what follows must still do with as many pieces, and no piece be too short
        least = max(start + SHORTEST, length - (pieces - 1) * usable)
        most = min(start + usable, length - SHORTEST)
        places.append(_nearest(even, (least, most), taken, raster))
        start = places[-1]
    return places


def _nearest(even: Mm, span: Interval, taken: Sequence[Interval], raster: Mm) -> Mm:
    """Return the free place on the raster nearest to ``even``; else one that is not free."""
    least, most = span
    spots = [
        n * raster for n in range(ceil(least / raster - HAIR), floor(most / raster + HAIR) + 1)
    ]
    free = [at for at in spots if not any(low < at < high for low, high in taken)]
    return min(free or spots or [most], key=lambda at: (abs(at - even), at))


def _bodies(rail: Rail, job: Job, layout: Layout) -> Iterator[Interval]:
    """Yield what devices cover of a rail across, as places along it."""
    for tag in sorted(layout.devices):
        part, at = job.part_of(tag), layout.devices[tag]
        if rail.run is not Run.ACROSS or part.mount is not Mount.RAIL or part.rail_center is None:
            continue
        if abs(at.y + part.rail_center - rail.y) <= ON_AXIS:
            yield at.x - rail.x, at.x + part.width - rail.x
