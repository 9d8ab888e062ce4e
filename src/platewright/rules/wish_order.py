"""Whether wishes for rows and order can be obeyed together, from their logic alone.

A *column* is a device with what hangs under it. Wishes to stand beside each other join columns
to *chains*; a chain stands in one row without a gap, one way round or the other. Devices of one
row make a *class*. Any number of rows is allowed, so that only what follows from the wishes, from
what plugs together and from the plate's width is told: nothing here looks at a layout.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Final

from platewright.foundation.units import Mm
from platewright.model.device import Edge
from platewright.model.job import Job
from platewright.rules.wording import length_of

TOP: Final = "\0top"  # the top row and the bottom row, beside the classes of devices
BOTTOM: Final = "\0bottom"


class Kind(StrEnum):
    """What is asked. The last three are facts, which no wish may change."""

    BESIDE = "beside"
    SAME_ROW = "in the row of"
    BEFORE = "before"
    NOT_BESIDE = "not beside"
    AT_TOP = "in the top row"
    AT_BOTTOM = "in the bottom row"
    PLUGGED = "plugs into"
    ROW_WIDTH = "width of a row"
    MORE_ROWS = "more than one row"


@dataclass(frozen=True, slots=True)
class Asked:
    """One wish, or one fact."""

    kind: Kind
    device: str = ""
    other: str = ""

    def __str__(self) -> str:
        return f"{self.device} {self.kind} {self.other}".strip()


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """What stays the same whatever is wished: columns, their widths, the width of a row."""

    column: Mapping[str, str]  # device -> the device at the head of its column
    width: Mapping[str, Mm]  # by head
    row: Mm

    @property
    def total(self) -> Mm:
        """Width of all columns side by side."""
        return sum(self.width.values())


def ground_of(job: Job) -> Ground:
    """Return columns and widths of the plate's devices."""
    devices = {d.tag: d for d in job.on_plate}
    column: dict[str, str] = {}
    for tag in devices:
        head, seen = tag, {tag}
        while (upper := devices[head].hangs_under) in devices and upper not in seen:
            assert upper is not None  # noqa: S101  (it is a key of devices)
            head = upper
            seen.add(head)
        column[tag] = head
    width: dict[str, Mm] = {}
    for tag, head in column.items():
        width[head] = max(width.get(head, 0.0), job.part_of(tag).width)
    plate = job.settings.plate
    return Ground(column=column, width=width, row=plate.width - 2 * plate.edge_margin)


def wishes_of(job: Job) -> tuple[Asked, ...]:
    """Return the wishes between devices of the plate, in list order."""
    tags = {d.tag for d in job.on_plate}
    found: list[Asked] = []
    for device in job.on_plate:
        for kind, other in (
            (Kind.BESIDE, device.beside),
            (Kind.SAME_ROW, device.same_row),
            (Kind.BEFORE, device.before),
            (Kind.NOT_BESIDE, device.not_beside),
        ):
            if other is not None and other in tags:
                found.append(Asked(kind, device.tag, other))
        if device.at is not None:
            kind = Kind.AT_TOP if device.at is Edge.TOP else Kind.AT_BOTTOM
            found.append(Asked(kind, device.tag))
    return tuple(found)


def facts_of(job: Job, ground: Ground) -> tuple[Asked, ...]:
    """Return what plugs together, and what the plate's width says."""
    tags = {d.tag for d in job.on_plate}
    facts = [Asked(Kind.ROW_WIDTH)]
    if ground.total > ground.row:
        facts.append(Asked(Kind.MORE_ROWS))
    plugged = [
        Asked(Kind.PLUGGED, device.tag, device.plugs_into)
        for device in job.on_plate
        if device.plugs_into is not None and device.plugs_into in tags
    ]
    return (*facts, *plugged)


def clash(asked: Iterable[Asked], ground: Ground) -> str:
    """Return why not all of this can be had together; blank: it can."""
    sorted_out = _Sorted(ground)
    for one in asked:
        sorted_out.take(one)
    return next(sorted_out.clashes(), "")


@dataclass(slots=True)
class _Sorted:
    """What is asked, by what it means for columns, chains, classes and rows."""

    ground: Ground
    beside: dict[str, set[str]] = field(default_factory=dict)
    left_of: list[tuple[str, str]] = field(default_factory=list)  # at once left of
    apart: list[tuple[str, str]] = field(default_factory=list)
    before: list[tuple[str, str]] = field(default_factory=list)
    at: list[tuple[str, str]] = field(default_factory=list)  # column, TOP or BOTTOM
    parent: dict[str, str] = field(default_factory=dict)  # classes, as a forest
    has_width: bool = False
    has_rows: bool = False

    def take(self, one: Asked) -> None:
        """Add one wish or fact."""
        match one.kind:
            case Kind.ROW_WIDTH:
                self.has_width = True
                return
            case Kind.MORE_ROWS:
                self.has_rows = True
                return
        here = self.ground.column[one.device]
        self._class(here)
        if one.kind in (Kind.AT_TOP, Kind.AT_BOTTOM):
            self.at.append((here, TOP if one.kind is Kind.AT_TOP else BOTTOM))
            return
        there = self.ground.column[one.other]
        self._class(there)
        match one.kind:
            case Kind.BEFORE:
                self.before.append((here, there))
            case Kind.NOT_BESIDE:
                self.apart.append((here, there))
            case _:
                self.parent[self._class(here)] = self._class(there)
                if one.kind is not Kind.SAME_ROW and here != there:
                    self.beside.setdefault(here, set()).add(there)
                    self.beside.setdefault(there, set()).add(here)
                if one.kind is Kind.PLUGGED:
                    self.left_of.append((there, here))

    def _class(self, column: str) -> str:
        head = self.parent.setdefault(column, column)
        while self.parent[head] != head:
            head = self.parent[head]
        self.parent[column] = head
        return head

    def clashes(self) -> Iterator[str]:
        """Yield every reason found, the plainest kind first."""
        for column, others in self.beside.items():
            if len(others) > 2:
                yield f"{column} has two sides, and {len(others)} are to stand beside it"
                return
        for one, other in self.apart:
            if one == other:
                yield f"{one} and what hangs under it always stand together"
            elif other in self.beside.get(one, ()):
                yield f"{one} and {other} are to stand beside each other and not to"
        chains, ring = self._chains()
        if ring:
            yield f"{', '.join(ring)} would stand in a ring"
            return
        yield from self._rows(chains)

    def _chains(self) -> tuple[list[tuple[str, ...]], tuple[str, ...]]:
        """Return the columns as chains, or the first ring."""
        found: list[tuple[str, ...]] = []
        seen: set[str] = set()
        ends = [c for c in self.parent if len(self.beside.get(c, ())) < 2]
        for start in ends:
            if start in seen:
                continue
            chain = [start]
            seen.add(start)
            for column in chain:  # grows while it is walked
                ahead = [c for c in sorted(self.beside.get(column, ())) if c not in seen]
                seen.update(ahead)
                chain += ahead
            found.append(tuple(chain))
        return found, tuple(c for c in self.parent if c not in seen)

    def _rows(self, chains: list[tuple[str, ...]]) -> Iterator[str]:
        """Yield what goes wrong row by row; classes that may not lie apart share a row."""
        row_of = self._shared_rows()
        if self.has_rows and TOP in row_of and row_of[TOP] == row_of.get(BOTTOM):
            yield "top row and bottom row would be one, and the devices are too wide for one row"
        by_row: dict[str, list[tuple[str, ...]]] = {}
        for chain in chains:
            by_row.setdefault(row_of[self._class(chain[0])], []).append(chain)
        for here in by_row.values():
            yield from self._in_row(here)

    def _in_row(self, chains: list[tuple[str, ...]]) -> Iterator[str]:
        columns = [c for chain in chains for c in chain]
        width = sum(self.ground.width[c] for c in columns)
        if self.has_width and len(columns) > 1 and width > self.ground.row:
            room = length_of(self.ground.row, None)
            yield f"side by side they take {length_of(width, None)}, and a row offers {room}"
        chain_of = {c: number for number, chain in enumerate(chains) for c in chain}
        order = [(a, b) for a, b in self.before if a in chain_of and b in chain_of]
        for number, chain in enumerate(chains):
            inside = [(a, b) for a, b in order if chain_of[a] == chain_of[b] == number]
            pairs = [(a, b) for a, b in self.left_of if chain_of.get(a) == number]
            if not any(_runs(way, inside, pairs) for way in (chain, chain[::-1])):
                yield f"in the order of {', '.join(chain)} no way round will do"
        between = {(chain_of[a], chain_of[b]) for a, b in order if chain_of[a] != chain_of[b]}
        ring = _ring(range(len(chains)), between)
        if ring:
            names = ", ".join(c for number in ring for c in chains[number])
            yield f"each of {names} would stand before the next, round in a ring"

    def _shared_rows(self) -> dict[str, str]:
        """Return a name for the row of each class: those in a ring of "not lower than" share it."""
        nodes = sorted({self._class(c) for c in self.parent})
        edges = [(self._class(a), self._class(b)) for a, b in self.before]
        ends = {edge for _, edge in self.at}
        for edge in sorted(ends):
            edges += [(edge, c) if edge == TOP else (c, edge) for c in nodes]
        edges += [
            (self._class(c), TOP) if edge == TOP else (BOTTOM, self._class(c))
            for c, edge in self.at
        ]
        if ends == {TOP, BOTTOM}:
            edges.append((TOP, BOTTOM))
        return _strongly_joined([*nodes, *sorted(ends)], edges)


def _runs(
    way: Sequence[str], before: Sequence[tuple[str, str]], joined: Sequence[tuple[str, str]]
) -> bool:
    """Tell whether a chain read this way has all in order, and what plugs on its right side."""
    at = {column: place for place, column in enumerate(way)}
    return all(at[a] < at[b] for a, b in before) and all(at[a] + 1 == at[b] for a, b in joined)


def _ring(nodes: Iterable[int], edges: set[tuple[int, int]]) -> tuple[int, ...]:
    """Return the nodes that are left when all without a predecessor are taken away in turn."""
    left = set(nodes)
    while True:
        free = {n for n in left if not any(b == n and a in left for a, b in edges)}
        if not free:
            break
        left -= free
    while True:  # and those that only hang behind the ring
        loose = {n for n in left if not any(a == n and b in left for a, b in edges)}
        if not loose:
            return tuple(sorted(left))
        left -= loose


def _strongly_joined(nodes: Sequence[str], edges: Iterable[tuple[str, str]]) -> dict[str, str]:
    """Return for each node the name of its ring: Kosaraju's two walks, without recursion."""
    ahead: dict[str, list[str]] = {n: [] for n in nodes}
    back: dict[str, list[str]] = {n: [] for n in nodes}
    for a, b in edges:
        ahead[a].append(b)
        back[b].append(a)
    finished: list[str] = []
    seen: set[str] = set()
    for start in nodes:
        stack = [(start, iter(ahead[start]))] if start not in seen else []
        seen.add(start)
        while stack:
            node, rest = stack[-1]
            following = next((n for n in rest if n not in seen), None)
            if following is None:
                finished.append(node)
                stack.pop()
            else:
                seen.add(following)
                stack.append((following, iter(ahead[following])))
    name: dict[str, str] = {}
    for start in reversed(finished):
        if start in name:
            continue
        name[start] = start
        walk = [start]
        for node in walk:  # grows while it is walked
            for n in back[node]:
                if n not in name:
                    name[n] = start
                    walk.append(n)
    return name
