"""What a builder might try to cure a finding: moves of one or several things, swaps, other sizes.

Nothing here is sure to cure: ``cure_search`` tries each on the plate and lets the checks judge.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import chain
from math import hypot
from typing import Final, TypeAlias

from platewright.app.editing.edits import Edit, Move, PlaceHoles, Put, Restock, Stretch, Swap
from platewright.app.editing.things import envelope_of, thing_of
from platewright.app.live.drag import Drag
from platewright.foundation.units import ALIASES, Mm
from platewright.model.finding import Finding
from platewright.model.layout import Duct, Layout, Placement, Rail, Run
from platewright.model.panel import Panel
from platewright.rules.placed import are_partners, carries, placed_devices
from platewright.rules.rows import rows_of

Tags: TypeAlias = tuple[str, ...]
Steps: TypeAlias = tuple[Edit, ...]
WAYS: Final = {"left": (-1, 0), "right": (1, 0), "up": (0, 1), "down": (0, -1)}
FARTHEST_SWAPS: Final = 8  # devices tried as partners of a swap, the nearest first
FREE_PLACES: Final = 6  # free places tried for a device that may stand elsewhere
_TO_CUT: Final = re.compile(r"\b(shorten|longer|shorter|cut)\b", re.IGNORECASE)
_AMOUNT: Final = re.compile(r"(\d+(?:\.\d+)?) (mm|in)\b")


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """Steps that may cure, and what they ask of the builder: less is tried first."""

    steps: Steps
    worse: int  # limits missed at what moves, more than before; found without routing or heat
    things: int
    far: Mm

    @property
    def rank(self) -> tuple[float, ...]:
        """Lower is tried first."""
        return (self.worse, self.things, self.far)


def candidates(panel: Panel, finding: Finding) -> list[Candidate]:
    """Return what may cure a finding, the most promising first; nothing locked is touched."""
    layout = panel.layout
    things = named(layout, finding)
    found = chain(
        _moves(panel, things, finding),
        _swaps(panel, things),
        _elsewhere(panel, things),
        _sizes(panel, things, finding),
    )
    free = [one for one in found if not _touches_locked(layout, one.steps)]
    if finding.rule.id.startswith("fabrication."):
        free.append(Candidate(steps=(PlaceHoles(),), worse=0, things=0, far=0.0))
    return sorted(free, key=lambda one: one.rank)


def named(layout: Layout, finding: Finding) -> Tags:
    """Return what stands on the plate and is named by a finding, its subject first."""
    words = re.findall(r"[-\w.+/]+", f"{finding.subject} {finding.cure} {finding.message}")
    words = [word.rstrip(".") for word in words]
    return tuple(dict.fromkeys(w for w in words if thing_of(layout, w) is not None))[:4]


def _amounts(finding: Finding) -> set[Mm]:
    """Return the lengths a cure names, and by how much the limit is missed."""
    found = {float(n) * ALIASES["mm"][unit].factor for n, unit in _AMOUNT.findall(finding.cure)}
    if finding.measured is not None and finding.limit is not None and finding.unit == "mm":
        found.add(abs(finding.limit - finding.measured))
    return found


def _moves(panel: Panel, things: Tags, finding: Finding) -> Iterator[Candidate]:
    amounts = _amounts(finding)
    amounts = {round(a + 0.0, 3) for a in amounts if 0 < a <= 1000}
    for tags in _sets(panel, things):
        drag = Drag(panel, None, tags)
        places = [_place(panel.layout, tag) for tag in drag.tags]
        before = len(drag.frame(places).clashes)
        for x, y in WAYS.values():
            for by in amounts:
                at = [(px + x * by, py + y * by) for px, py in places]
                worse = max(0, len(drag.frame(at).clashes) - before)
                yield Candidate(
                    steps=(Move(tags=drag.tags, dx=x * by, dy=y * by),), worse=worse,
                    things=len(tags), far=by,
                )  # fmt: skip


def _place(layout: Layout, tag: str) -> tuple[Mm, Mm]:
    thing = thing_of(layout, tag)
    return (0.0, 0.0) if thing is None else (thing.x, thing.y)


def _sets(panel: Panel, things: Tags) -> Iterator[Tags]:
    """Yield what may be moved together: alone, with partners, the row, all on one side of it."""
    layout = panel.layout
    seen: set[frozenset[str]] = set()
    rows = _rows(panel)
    for tag in things:
        sets: list[Tags] = [(tag,)]
        if tag in layout.devices:
            partners = tuple(t for t in layout.devices if _hang_together(panel, tag, t))
            sets.append((tag, *partners))
            for row in rows:
                if tag in row:
                    sets += [row, *_ends_of(panel, row, tag)]
        sets += _beyond(panel, tag)
        for one in sets:
            if frozenset(one) not in seen and one:
                seen.add(frozenset(one))
                yield one


def _hang_together(panel: Panel, one: str, other: str) -> bool:
    devices = panel.job.devices
    return one != other and are_partners(devices[one], devices[other])


def _rows(panel: Panel) -> list[Tags]:
    """Return each row with the rails under it."""
    found = []
    for row in rows_of(placed_devices(panel)):
        rails = [
            t for t, r in panel.layout.rails.items() if any(carries(r, d) for d in row.devices)
        ]
        found.append((*(one.tag for one in row.devices), *rails))
    return found


def _ends_of(panel: Panel, row: Tags, tag: str) -> Iterator[Tags]:
    """Yield the part of a row that stands right, and left, of a device, with it."""
    x = panel.layout.devices[tag].x
    inside = [t for t in row if t in panel.layout.devices]
    yield tuple(t for t in inside if panel.layout.devices[t].x >= x)
    yield tuple(t for t in inside if panel.layout.devices[t].x <= x)


def _beyond(panel: Panel, tag: str) -> Iterator[Tags]:
    """Yield all that stands above, and below, a thing, with it; upright ducts stay."""
    layout = panel.layout
    thing = thing_of(layout, tag)
    if thing is None or (isinstance(thing, Duct) and thing.run is Run.UPRIGHT):
        return
    middle = _middle(panel, tag)
    upright = {t for t, d in layout.ducts.items() if d.run is Run.UPRIGHT}
    upright |= {t for t, r in layout.rails.items() if r.run is Run.UPRIGHT}
    every = [t for t in (*layout.devices, *layout.ducts, *layout.rails) if t not in upright]
    yield tuple(t for t in every if t == tag or _middle(panel, t) >= middle)
    yield tuple(t for t in every if t == tag or _middle(panel, t) <= middle)


def _middle(panel: Panel, tag: str) -> Mm:
    thing = thing_of(panel.layout, tag)
    return 0.0 if thing is None else envelope_of(panel.job, tag, thing).centre.y


def _swaps(panel: Panel, things: Tags) -> Iterator[Candidate]:
    layout = panel.layout
    for tag in things[:2]:
        at = layout.devices.get(tag)
        if at is None:
            continue
        far = {t: hypot(p.x - at.x, p.y - at.y) for t, p in layout.devices.items() if t != tag}
        for other in sorted(far, key=lambda t: (far[t], t))[:FARTHEST_SWAPS]:
            yield Candidate(steps=(Swap(one=tag, other=other),), worse=1, things=2, far=far[other])


def _elsewhere(panel: Panel, things: Tags) -> Iterator[Candidate]:
    """Yield free places on the rails for the first device named, the nearest first."""
    layout, job = panel.layout, panel.job
    tag = next((t for t in things if t in layout.devices), None)
    if tag is None or any(_hang_together(panel, tag, t) for t in layout.devices):
        return
    own, part = layout.devices[tag], job.part_of(tag)
    if part.rail_center is not None:
        heights = {r.y - part.rail_center for r in layout.rails.values() if r.run is Run.ACROSS}
    else:
        heights = {p.y for p in layout.devices.values()} | {own.y}
    drag = Drag(panel, None, (tag,))
    before = len(drag.frame([(own.x, own.y)]).clashes)
    left, right = part.cover_left or 0.0, part.cover_right or 0.0
    room = panel.clear.get(tag)
    ask = (room.left.room, room.right.room) if room else (0.0, 0.0)
    spots = []
    for x in sorted(_sides(panel, tag, left + ask[0], part.width + right + ask[1])):
        for y in sorted(heights):
            far = hypot(x - own.x, y - own.y)
            clashes = len(drag.frame([(x, y)]).clashes)
            if far > 1.0 and clashes <= before:
                spots.append(Candidate(
                    steps=(Put(tag=tag, x=x, y=y),), worse=clashes, things=2, far=far
                ))  # fmt: skip
    yield from sorted(spots, key=lambda one: one.rank)[:FREE_PLACES]


def _sides(panel: Panel, tag: str, before: Mm, behind: Mm) -> set[Mm]:
    """Return where a device's left edge would be, right or left of everything else."""
    found = set()
    for other in (*panel.layout.devices, *panel.layout.ducts):
        thing = thing_of(panel.layout, other)
        if other == tag or thing is None:
            continue
        box = envelope_of(panel.job, other, thing)
        clear = panel.clear.get(other) if isinstance(thing, Placement) else None
        right = clear.right.room if clear else 0.0
        left = clear.left.room if clear else 0.0
        found |= {box.right + max(before, right), box.left - max(behind, left)}
    return {round(x, 3) for x in found}


def _sizes(panel: Panel, things: Tags, finding: Finding) -> Iterator[Candidate]:
    """Yield ducts of other sizes, and rails and ducts cut shorter or longer at one end."""
    layout = panel.layout
    amounts = _amounts(finding)
    is_to_cut = _TO_CUT.search(finding.cure) is not None
    for tag in things:
        piece = layout.ducts.get(tag) or layout.rails.get(tag)
        if piece is None:
            continue
        low = piece.x if piece.run is Run.ACROSS else piece.y
        high = low + piece.length
        if not is_to_cut:
            amounts = set()
        ends: Iterable[tuple[Mm, Mm]] = chain.from_iterable(
            (
                (low + a, high),
                (low, high - a),
                (low + a, high - a),
                (low - a, high),
                (low, high + a),
            )
            for a in sorted(amounts)
        )
        cut_back = _clear_of(piece, low, high, finding) if is_to_cut else ()
        for start, end in chain(ends, cut_back):
            if end - start >= 20.0:
                yield Candidate(
                    steps=(Stretch(tag=tag, start=round(start, 3), end=round(end, 3)),), worse=0,
                    things=1, far=abs(start - low) + abs(end - high),
                )  # fmt: skip
        if isinstance(piece, Duct):
            for stock in sorted(panel.job.settings.stock.ducts, key=lambda s: s.width * s.height):
                if stock.name != piece.stock:
                    yield Candidate(
                        steps=(Restock(tag=tag, stock=stock.name),), worse=0, things=1,
                        far=abs(stock.width - piece.width),
                    )  # fmt: skip


def _clear_of(piece: Duct | Rail, low: Mm, high: Mm, finding: Finding) -> Iterator[tuple[Mm, Mm]]:
    """Yield the piece cut so that it ends where the finding's place begins."""
    place = finding.place
    if place is None:
        return
    across = piece.run is Run.ACROSS
    first, last = (place.left, place.right) if across else (place.bottom, place.top)
    if first < high and last > low:
        yield last, high
        yield low, first


def _touches_locked(layout: Layout, steps: Steps) -> bool:
    tags: set[str] = set()
    for step in steps:
        match step:
            case Move(tags=moved):
                tags |= set(moved)
            case Swap(one=one, other=other):
                tags |= {one, other}
            case Put(tag=tag) | Restock(tag=tag) | Stretch(tag=tag):
                tags.add(tag)
    things = [thing_of(layout, tag) for tag in tags]
    return any(thing is not None and thing.locked for thing in things)
