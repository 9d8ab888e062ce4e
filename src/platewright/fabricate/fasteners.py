"""Screws, nuts, washers and rivets to pick: how long, how many, how many boxes."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import Final

from platewright.fabricate.end_stops import rail_ends
from platewright.fabricate.torques import kind_of
from platewright.foundation.units import MM_PER_INCH, Mm
from platewright.model.job import Job
from platewright.model.layout import Hole, HoleKind, Layout
from platewright.tables.fasteners import box_of, grip, screw_lengths
from platewright.tables.threads import Thread, thread

BEYOND: Final = 1.0  # pitches that a screw stands out of a tapped plate or a nut
NUT: Final = 0.8  # height of a nut, in diameters (ISO 4032: 4.7 of M5, 5.2 of M6)


@dataclass(frozen=True, slots=True, kw_only=True)
class Fastener:
    """One kind of hardware to pick."""

    what: str  # screw, nut, washer, rivet, end stop
    # size of an end stop: the profile of its rail
    size: str
    length: Mm | None  # under the head; ``None``: it has none, or its thread is not in the tables
    holds: tuple[str, ...]
    count: int
    boxes: int
    in_box: int


def fasteners(job: Job, layout: Layout) -> tuple[Fastener, ...]:
    """Return what is picked from the store for every hole that holds something."""
    counted: dict[tuple[str, str, Mm | None], list[str]] = {}
    for hole in layout.holes.values():
        if not hole.holds:
            continue
        for what, length in _parts(job, layout, hole):
            counted.setdefault((what, hole.size, length), []).append(hole.holds)
    for end in rail_ends(job, layout):
        if end.takes_stop:
            key = ("end stop", layout.rails[end.rail].profile, None)
            counted.setdefault(key, []).append(end.rail)
    order = ("screw", "washer", "nut", "rivet", "end stop")
    found = sorted(counted, key=lambda key: (order.index(key[0]), key[1], key[2] or 0.0))
    return tuple(_fastener(what, size, length, counted[what, size, length])
                 for what, size, length in found)  # fmt: skip


def screw_length(hole: Hole, *, holds: str, thickness: Mm) -> Mm | None:
    """Return the shortest usual screw that clamps, goes through and stands out a little.

    ``None``: the thread is not in the tables, or no usual screw is long enough.
    """
    size = thread(hole.size)
    if size is None:
        return None
    under = grip(holds)
    needed = under.held + under.washer + thickness + BEYOND * size.pitch
    if hole.kind is HoleKind.CLEARANCE:
        needed += under.washer + NUT * size.major
    lengths = screw_lengths(metric=_is_metric(size))
    return next((length for length in lengths if length >= needed - 1e-9), None)


def length_words(length: Mm | None, *, metric: bool) -> str:
    """Return a screw's length as it is sold: mm, or quarters and eighths of an inch."""
    if length is None:
        return "?"
    if metric:
        return f"{length:g} mm"
    eighths = round(length / MM_PER_INCH * 8)
    whole, rest = divmod(eighths, 8)
    fraction = {0: "", 1: "1/8", 2: "1/4", 3: "3/8", 4: "1/2", 5: "5/8", 6: "3/4", 7: "7/8"}[rest]
    return "-".join(part for part in (str(whole) if whole else "", fraction) if part) + " in"


def is_metric(size: str) -> bool:
    """Tell whether a size is of the metric series."""
    found = thread(size)
    return found is None or _is_metric(found)


def _is_metric(size: Thread) -> bool:
    return size.name.startswith("M")


def _parts(job: Job, layout: Layout, hole: Hole) -> list[tuple[str, Mm | None]]:
    if hole.kind is HoleKind.RIVET:
        return [("rivet", None)]
    length = screw_length(
        hole, holds=kind_of(layout, hole.holds), thickness=job.settings.plate.thickness
    )
    parts: list[tuple[str, Mm | None]] = [("screw", length), ("washer", None)]
    if hole.kind is HoleKind.CLEARANCE:
        parts += [("washer", None), ("nut", None)]
    return parts


def _fastener(what: str, size: str, length: Mm | None, holds: list[str]) -> Fastener:
    box = box_of(what)
    wanted = ceil(len(holds) * (1 + box.spare))
    return Fastener(
        what=what,
        size=size,
        length=length,
        holds=tuple(dict.fromkeys(holds)),
        count=len(holds),
        boxes=ceil(wanted / box.in_box),
        in_box=box.in_box,
    )
