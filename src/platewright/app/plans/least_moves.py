"""Which devices of a drilled plate must make room for a change: as few as are found.

A builder has what stands in mind, wired or labelled. So devices are let go row by row until what
is new fits, then put back one after the other while it still does. Each try is a short search.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import combinations
from typing import Final, TypeAlias

from platewright.app.gather import clear_spaces, wiring_spaces
from platewright.app.plans.no_room import proofs_of
from platewright.arrange.arranger import from_layout, improve
from platewright.arrange.solvers.search import HOT
from platewright.arrange.task import Standing, task_for
from platewright.model.job import Job
from platewright.model.layout import Layout, Placement
from platewright.model.need import ClearSpace, WiringSpace

Unit: TypeAlias = frozenset[str]  # devices that plug into or hang under each other move as one

_MOVES: Final = 6_000  # of one try
_TRIES: Final = 48  # in all
_ROWS: Final = 3  # most rows let go before all are


@dataclass(slots=True)
class _Tries:
    """Tries whether a job fits with some devices let go. Lives inside one call."""

    job: Job
    layout: Layout
    must: Standing
    kept: Mapping[str, Placement]
    clear: Mapping[str, ClearSpace]
    wiring: Mapping[str, WiringSpace]
    done: dict[frozenset[str], bool] = field(default_factory=dict)

    def fits(self, units: Sequence[Unit]) -> bool:
        """Tell whether a plate is soon found when these units are let go; False: tries are used up."""
        freed = frozenset().union(*units)
        if freed not in self.done:
            if len(self.done) >= _TRIES:
                return False
            self.done[freed] = self._fits(freed)
        return self.done[freed]

    def _fits(self, freed: frozenset[str]) -> bool:
        standing = self.without(freed)
        task = task_for(self.job, clear=self.clear, wiring=self.wiring, standing=standing)
        if proofs_of(task):
            return False
        start = from_layout(task, self.layout)
        if start is None or start.is_legal:
            return start is not None
        found = improve(start, moves=_MOVES, hot=HOT, seed=1, report=lambda _done, _told: True)
        return found.is_legal

    def without(self, freed: frozenset[str]) -> Standing:
        """Return what stands when some devices are let go."""
        kept = {tag: at for tag, at in self.kept.items() if tag not in freed}
        return Standing(devices=kept, ducts=self.must.ducts, rails=self.must.rails)


def least_moves(
    job: Job, layout: Layout, must: Standing, kept: Mapping[str, Placement]
) -> Standing | None:
    """Return what may stay standing so that the rest fits; ``None``: nothing was found.

    ``must``: what has to stay, its ducts make the rows. ``kept``: what had better stay too.
    """
    tries = _Tries(job, layout, must, kept, clear_spaces(job), wiring_spaces(job))
    if tries.fits(()):
        return tries.without(frozenset())
    units = _units(job, [tag for tag in kept if tag not in must.devices])
    for chosen in _by_rows(units, layout, must):
        if tries.fits(chosen):
            return tries.without(frozenset().union(*_fewest(chosen, tries.fits)))
    return None


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


def _by_rows(units: Sequence[Unit], layout: Layout, must: Standing) -> Iterator[tuple[Unit, ...]]:
    """Yield units row by row, then rows in twos and threes, then all; fewest devices first."""
    rows: dict[int, list[Unit]] = {}
    for unit in units:
        at = layout.devices[min(unit)]
        rows.setdefault(sum(duct.y > at.y for duct in must.across), []).append(unit)
    sets = [
        tuple(unit for row in chosen for unit in rows[row])
        for count in range(1, _ROWS + 1)
        for chosen in combinations(sorted(rows), count)
    ]
    yield from sorted(sets, key=lambda chosen: sum(map(len, chosen)))
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
