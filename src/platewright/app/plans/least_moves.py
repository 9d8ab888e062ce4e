"""Which devices of a drilled plate make room for a change: fewest new holes, then fewest moved.

A builder has what stands in mind, wired or labelled. First it is asked how few new holes there
can be with everything free to move; then which are the fewest devices whose moving does with as
few. Sets of devices are tried from the smallest on, as far as the tries reach; before that, row by
row, so that something is found on a large plate, too. Each try is a short search. Of plates alike
in both, one with all devices between ducts comes before one that opens a row on bare plate.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import combinations
from typing import Final, TypeAlias

from platewright.app.gather import clear_spaces, wiring_spaces
from platewright.app.plans.no_room import proofs_of
from platewright.app.plans.open_rows import started, tightened, ways
from platewright.app.plans.seats import idle_holes
from platewright.app.plans.short_rails import shortened
from platewright.arrange.arranger import Arrangement, improve
from platewright.arrange.solvers.search import HOT
from platewright.arrange.task import Standing, task_for
from platewright.fabricate.solvers.place_holes import place_holes, same_size
from platewright.foundation.units import Mm
from platewright.model.geometry import TOUCH
from platewright.model.job import Job
from platewright.model.layout import Layout, Placement
from platewright.model.need import ClearSpace, WiringSpace
from platewright.model.panel import hole_offsets
from platewright.model.part import Mount

Unit: TypeAlias = frozenset[str]  # devices that plug into or hang under each other move as one

_MOVES: Final = 6_000  # of one try, at most
_EACH: Final = 600  # of one try for each device that is placed
_BY_ROWS: Final = 8e6  # moves times devices spent row by row: some seconds on any plate
_SMALLEST: Final = 8e6  # spent from the smallest set on
_HOPELESS: Final = 2e6  # spent so where nothing was found row by row
SCREWS: Final = 2  # a rail is held by no fewer
_OFF: Final[Mm] = 0.5  # a device off its rail by no more hangs on it
_ROWS: Final = 3  # most rows let go before all are


@dataclass(frozen=True, slots=True, kw_only=True)
class _Outcome:
    """What came of letting some devices go."""

    holes: float  # new ones; inf: no plate was found
    way: int  # 0: all on rails that stay; 1: all between ducts; else rows were opened
    found: Arrangement | None

    @property
    def worth(self) -> tuple[float, int]:
        """Fewer new holes first, then rows between ducts."""
        return self.holes, self.way


@dataclass(slots=True)
class Tries:
    """Tries whether a job fits with some devices let go. Lives inside one call."""

    job: Job
    layout: Layout
    must: Standing
    kept: Mapping[str, Placement]
    clear: Mapping[str, ClearSpace]
    wiring: Mapping[str, WiringSpace]
    done: dict[Unit, _Outcome] = field(default_factory=dict)
    spent: float = 0.0  # moves times devices
    least: int = 0  # new holes that are needed whatever moves

    def outcome(self, units: Sequence[Unit]) -> _Outcome:
        """Return the best plate that is soon found when these units are let go."""
        freed: Unit = frozenset().union(*units)
        if freed not in self.done:
            self.done[freed] = self._best(freed)
        return self.done[freed]

    def standing(self, units: Sequence[Unit]) -> Standing | None:
        """Return what stands when these units are let go; ``None``: no plate was found."""
        found = self.outcome(units).found
        return None if found is None else tightened(found, self.must)

    def widest(self, units: Sequence[Unit]) -> Standing:
        """Return what stands when these are let go, with every row opened that may be of use."""
        closed = self._closed(frozenset().union(*units))
        task = task_for(self.job, clear=self.clear, wiring=self.wiring, standing=closed)
        return (closed, *ways(task))[-1]

    @property
    def fewest(self) -> float:
        """The fewest new holes of all tries."""
        return min((one.holes for one in self.done.values()), default=math.inf)

    def _closed(self, freed: Unit) -> Standing:
        kept = {tag: at for tag, at in self.kept.items() if tag not in freed}
        return replace(self.must, devices=kept)

    def _best(self, freed: Unit) -> _Outcome:
        closed = self._closed(freed)
        task = task_for(self.job, clear=self.clear, wiring=self.wiring, standing=closed)
        best = _Outcome(holes=math.inf, way=0, found=None)
        on_rails = replace(closed, on_rails=True)
        for number, standing in enumerate((on_rails, closed, *ways(task))):
            found = self._found(standing)
            holes = math.inf if found is None else self._holes(found)
            if standing.on_rails and found and set(found.layout.rails) > set(self.must.rails):
                continue  # a rail of its own would be too short
            best = min(best, _Outcome(holes=holes, way=number, found=found), key=lambda o: o.worth)
            if best.holes <= self.least:
                break
        return best

    def _found(self, standing: Standing) -> Arrangement | None:
        task = task_for(self.job, clear=self.clear, wiring=self.wiring, standing=standing)
        start = None if proofs_of(task) else started(task, self.layout)
        if start is None:
            return None
        moves = min(_MOVES, _EACH * (task.arrays.free + 1))
        self.spent += moves * len(task.blocks)
        found = improve(start, moves=moves, hot=HOT, seed=1, report=lambda _done, _told: True)
        return found if found.is_legal else None

    def _holes(self, found: Arrangement) -> float:
        """Return how many new holes a plate asks for; inf: a device hangs on no rail."""
        stand = found.layout
        if not all_carried(self.job, stand):
            return math.inf
        if set(stand.rails) <= set(self.must.rails) and not self._screwed(found):
            return 0
        stand = shortened(self.job, self.layout, stand)
        after = place_holes(self.job, replace(stand, holes=self.layout.holes))
        return sum(tag not in self.layout.holes for tag in after.holes)

    def _screwed(self, found: Arrangement) -> list[str]:
        """Return the screw-mounted devices that do not stand where they stood."""
        return [
            tag
            for tag in found.layout.devices
            if tag not in found.task.standing.devices
            and self.job.part_of(tag).mount is Mount.SCREWS
        ]


def all_carried(job: Job, layout: Layout) -> bool:
    """Tell whether every rail device lies whole on one rail, none across the end of one."""
    for tag, at in layout.devices.items():
        part = job.part_of(tag)
        axis, right = at.y + (part.rail_center or 0.0), at.x + part.width
        if part.mount is Mount.RAIL and not any(
            abs(q.y - axis) <= _OFF and q.x - _OFF <= at.x and right <= q.x + q.length + _OFF
            for q in layout.rails.values()
        ):
            return False
    return True


def tries_for(job: Job, layout: Layout, must: Standing, kept: Mapping[str, Placement]) -> Tries:
    """Return the tries of a job. ``must``: what has to stay; ``kept``: what had better stay too."""
    tries = Tries(job, layout, must, kept, clear_spaces(job), wiring_spaces(job))
    tries.least = _least_holes(tries)
    return tries


def least_of_all(ways_to_begin: Sequence[Tries]) -> Standing | None:
    """Return the best of what several ways to begin come to, the first where they are alike.

    What stands on each is judged by new holes, then by how many devices do not stand as before.
    """
    found: list[tuple[tuple[float, int], int, Standing]] = []
    for number, tries in enumerate(ways_to_begin):
        standing = least_of(tries)
        if standing is None:
            continue
        before = tries.layout.devices
        stays = sum(before.get(tag) == at for tag, at in standing.devices.items())
        found.append(((tries.fewest, -stays), number, standing))
    return min(found, key=lambda one: one[:2])[2] if found else None


def least_of(tries: Tries) -> Standing | None:
    """Return what stands where fewest holes are new and, of those plates, fewest devices move.

    Trying ends where no fewer new holes are possible and no fewer devices are left to try.
    """
    units = _units(tries.job, [tag for tag in tries.kept if tag not in tries.must.devices])
    least = tries.least
    if tries.outcome(()).holes <= least or not units:
        return tries.standing(())
    tries.outcome(units)
    for some in _by_rows(units, tries):
        if tries.fewest <= least or tries.spent >= _BY_ROWS:
            break
        tries.outcome(some)
    most = tries.spent + (_SMALLEST if tries.fewest < math.inf else _HOPELESS)
    chosen = _reduced(tries, units, most)
    for some in _from_the_smallest(units, chosen):
        if tries.spent >= most:
            break
        holes = tries.outcome(some).holes
        if holes < tries.outcome(chosen).holes or (
            holes == tries.outcome(chosen).holes and _count(some) < _count(chosen)
        ):
            chosen = some
        if holes <= least:
            break  # those before it were smaller or as small
    return tries.standing(chosen)


def _reduced(tries: Tries, units: tuple[Unit, ...], most: float) -> tuple[Unit, ...]:
    """Return the units of the best try so far, those left out that need not be let go."""
    target = tries.fewest
    freed = min(
        (f for f, one in tries.done.items() if one.holes <= target),
        key=lambda f: (len(f), sorted(f)),
    )

    def does(some: Sequence[Unit]) -> bool:
        is_known: bool = frozenset().union(*some) in tries.done
        return (is_known or tries.spent < most) and tries.outcome(some).holes <= target

    return _fewest(tuple(unit for unit in units if unit <= freed), does)


def _least_holes(tries: Tries) -> int:
    """Return a number of new holes below which no plate can have, whatever moves.

    A rail more is needed where those that stay are shorter together than all that hangs is wide;
    a screw-mounted device without a place needs its own, but for idle holes of its size.
    """
    job = tries.job
    parts = {device.tag: job.part_of(device.tag) for device in job.on_plate}
    wide = sum(part.width for part in parts.values() if part.mount is Mount.RAIL)
    long = sum(rail.length for rail in tries.must.rails.values())
    idle = idle_holes(tries.layout, tries.must.devices)
    own = 0
    for tag, part in parts.items():
        if tag not in tries.kept and part.screw is not None:
            fit = sum(same_size(hole, part.screw) for hole in idle)
            own += max(0, len(hole_offsets(part)) - fit)
    return own + (0 if wide <= long + TOUCH else SCREWS)


def _count(units: Sequence[Unit]) -> int:
    return sum(map(len, units))


def _from_the_smallest(units: Sequence[Unit], than: tuple[Unit, ...]) -> Iterator[tuple[Unit, ...]]:
    """Yield sets of devices, the smallest first, units of the set given first."""
    ordered = sorted(units, key=lambda unit: (unit not in than, sorted(unit)))
    for devices in range(1, _count(units)):
        for number in range(1, devices + 1):
            yield from (c for c in combinations(ordered, number) if _count(c) == devices)


def _units(job: Job, movable: Sequence[str]) -> tuple[Unit, ...]:
    """Return devices that move as one; those with a partner that has to stay are left out."""
    partner = {d.tag: d.plugs_into or d.hangs_under for d in job.on_plate}

    def head(tag: str) -> str:
        seen = {tag}
        while (up := partner.get(tag)) in partner and up not in seen:
            tag = str(up)
            seen.add(tag)
        return tag

    groups: dict[str, set[str]] = {}
    for tag in partner:
        groups.setdefault(head(tag), set()).add(tag)
    free = set(movable)
    return tuple(frozenset(g) for g in groups.values() if g <= free)


def _by_rows(units: Sequence[Unit], tries: Tries) -> Iterator[tuple[Unit, ...]]:
    """Yield units row by row, then rows in twos and threes, then all; fewest devices first."""
    rows: dict[int, list[Unit]] = {}
    for unit in units:
        at = tries.layout.devices[min(unit)]
        rows.setdefault(sum(duct.y > at.y for duct in tries.must.across), []).append(unit)
    sets = [
        tuple(unit for row in chosen for unit in rows[row])
        for count in range(1, _ROWS + 1)
        for chosen in combinations(sorted(rows), count)
    ]
    yield from sorted(sets, key=_count)
    yield tuple(units)


def _fewest(units: tuple[Unit, ...], fits: Callable[[Sequence[Unit]], bool]) -> tuple[Unit, ...]:
    """Return as few of the units as were found to do: halves put back first, then single ones."""
    size = math.ceil(len(units) / 2)
    while size >= 1:
        for start in reversed(range(0, len(units), size)):
            rest = units[:start] + units[start + size :]
            if fits(rest):
                units = rest
        if size == 1:
            break
        size = math.ceil(size / 2)
    return units
