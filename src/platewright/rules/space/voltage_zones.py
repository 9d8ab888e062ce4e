"""Voltage groups stand in zones: in each row block by block with a gap, and over all rows once.

Over the rows, a zone goes on in the next row from either end of it: the ducts at the plate's sides
join the rows at both ends, and the duct between two rows serves both. So each row is read in the
direction that breaks fewer zones.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import groupby, pairwise
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.foundation.units import Mm
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.rules.judge import Limit, at_least, breaks, holds
from platewright.rules.placed import Placed, are_partners, placed_devices
from platewright.rules.registry import rule
from platewright.rules.rows import Row, rows_of
from platewright.rules.wording import enough

SOURCE: Final = Source("job.toml", "groups: kept together and apart from others", Standing.JOB)
ONE_ZONE: Final = Source(
    "shop practice", "a voltage group stands in one zone of the plate", Standing.PRACTICE
)
GROUP_GAP: Final = Source("job.toml", "limits.group_gap", Standing.JOB)


@rule(
    id="space.voltage-zones",
    title="Voltage groups stand apart",
    why="Mixed groups mix in the ducts too: mains beside signal wires disturbs them, and a hand at "
    "the 24 V terminals meets mains. A device of several groups may stand with any of them, a linked one with its partner.",
    source=SOURCE,
)
def check_voltage_zones(panel: Panel) -> Iterator[Reading]:
    """Search each row for a split into one block per group, and measure its narrowest gap.

    Then go through all rows from the top down, and look for groups that come back.
    """
    limit = Limit(value=panel.job.settings.limits.group_gap, source=GROUP_GAP)
    protective = panel.job.settings.protective_groups
    grouped = [
        Row(devices)
        for row in rows_of(placed_devices(panel))
        if (devices := tuple(_with_partners(row.devices, protective)))
    ]
    for row in grouped:
        yield _judge(row, limit)
    if len(grouped) > 1:
        yield from _judge_path(grouped)


def _with_partners(devices: tuple[Placed, ...], protective: frozenset[str]) -> Iterator[Placed]:
    """Yield the devices that have a group; a linked one may also stand with its partner's.

    Protective earth is left out: it may stand with any.
    """
    by_tag = {one.tag: one for one in devices}
    for one in devices:
        groups = one.device.group
        head = by_tag.get(one.device.hangs_under or one.device.plugs_into or "")
        if groups and head is not None and not set(groups) & set(head.device.group):
            groups += head.device.group
        if groups and not protective.intersection(groups):
            yield replace(one, device=replace(one.device, group=groups))


def _judge(row: Row, limit: Limit) -> Reading:
    split, stuck = split_row(row.devices)
    if split is None:
        between = row.devices[row.devices.index(stuck) - 1]
        return breaks(
            stuck.tag,
            message=f"in row {row.name} the groups mix: {between.tag} "
            f"({' '.join(between.device.group)}) stands between {stuck.tag} "
            f"({' '.join(stuck.device.group)}) and the rest of its group",
            cure=f"Move {stuck.tag} or {between.tag} to the other devices of its group",
            source=SOURCE,
            place=stuck.body,
        )
    if split.pair is None or not math.isfinite(split.gap):
        return holds(
            row.devices[0].tag,
            message=f"row {row.name}: no two groups stand side by side",
            place=row.box,
        )
    left, right = split.pair
    return at_least(
        right.tag,
        what=f"between groups, from {left.tag} to {right.tag} in row {row.name}",
        measured=split.gap,
        limit=limit,
        cure=f"Move {right.tag} and what stands behind it {enough(limit.value - split.gap)} right",
        place=left.envelope.union(right.envelope),
    )


@dataclass(frozen=True, slots=True)
class Split:
    """The best way found to give each device one of its groups: its narrowest gap, and where."""

    gap: Mm = math.inf
    pair: tuple[Placed, Placed] | None = None


def split_row(devices: tuple[Placed, ...]) -> tuple[Split | None, Placed]:
    """Return the split into blocks with the widest narrowest gap, exact over all choices.

    State after each device: the open group and the set of groups begun. ``None`` with the first
    device for which no choice is left, when the groups interleave.
    """
    states: dict[tuple[str, frozenset[str]], Split] = {
        (group, frozenset((group,))): Split() for group in devices[0].device.group
    }
    for last, one in pairwise(devices):
        reached: dict[tuple[str, frozenset[str]], Split] = {}
        for (group, begun), split in states.items():
            for choice in one.device.group:
                if choice != group and choice in begun:
                    continue
                after = split if choice == group else _narrowed(split, last, one)
                key = (choice, begun | {choice})
                if key not in reached or after.gap > reached[key].gap:
                    reached[key] = after
        if not reached:
            return None, one
        states = reached
    return max(states.values(), key=lambda split: split.gap), devices[-1]


def _narrowed(split: Split, last: Placed, one: Placed) -> Split:
    in_x, in_y = last.envelope.overlap(one.envelope)
    gap = math.inf if are_partners(last.device, one.device) else max(-in_x, -in_y)
    return Split(gap, (last, one)) if gap < split.gap else split


@dataclass(frozen=True, slots=True)
class Zone:
    """Devices side by side in one row, taken for one group; ``row`` counts from the top, from 0."""

    group: str
    row: int
    devices: tuple[Placed, ...]


@dataclass(frozen=True, slots=True)
class _Way:
    """A way through the rows so far: zones in order, and how often a group came back."""

    again: int = 0
    zone: Zone | None = None
    before: _Way | None = None


_State = tuple[str, frozenset[str]]  # the open group, and all groups met


def path_of(rows: Iterable[Row]) -> tuple[Zone, ...]:
    """Return the zones on the way through the rows in which the fewest groups come back.

    Exact over the directions in which the rows are read and the groups that devices stand for.
    """
    states: dict[_State, _Way] = {("", frozenset()): _Way()}
    for number, row in enumerate(rows):
        runs = [tuple(run) for _, run in groupby(row.devices, key=lambda d: set(d.device.group))]
        right = _through(states, number, runs)
        left = _through(states, number, [run[::-1] for run in reversed(runs)])
        states = right
        for key, way in left.items():
            if key not in states or way.again < states[key].again:
                states[key] = way
    found: list[Zone] = []
    at: _Way | None = min(states.values(), key=lambda way: way.again)
    while at is not None and at.zone is not None:
        found.append(at.zone)
        at = at.before
    return tuple(found[::-1])


def _through(
    states: dict[_State, _Way], row: int, runs: list[tuple[Placed, ...]]
) -> dict[_State, _Way]:
    """Go on through one row, in every way that none of the same outcome beats."""
    for run in runs:
        reached: dict[_State, _Way] = {}
        for (group, met), way in states.items():
            for choice in run[0].device.group:
                is_back = choice != group and choice in met
                after = _Way(way.again + is_back, Zone(choice, row, run), way)
                key = (choice, met | {choice})
                if key not in reached or after.again < reached[key].again:
                    reached[key] = after
        states = reached
    return states


def _judge_path(rows: list[Row]) -> Iterator[Reading]:
    """Report every group that comes back in a later row; what comes back in one is told there."""
    last: dict[str, int] = {}  # group -> the row it stood in last
    open_group, is_whole = "", True
    for zone in path_of(rows):
        earlier = last.get(zone.group, zone.row)
        if zone.group != open_group and earlier != zone.row:
            is_whole = False
            yield _comes_back(zone, rows[earlier], rows[zone.row])
        open_group, last[zone.group] = zone.group, zone.row
    if is_whole:
        yield holds(
            "", message="over all rows, each voltage group stands in one zone", source=ONE_ZONE
        )


def _comes_back(zone: Zone, earlier: Row, here: Row) -> Reading:
    tags = sorted(one.tag for one in zone.devices)
    place = zone.devices[0].envelope
    for one in zone.devices[1:]:
        place = place.union(one.envelope)
    named = tags[0] if len(tags) == 1 else f"{tags[0]} and {len(tags) - 1} beside it"
    return breaks(
        tags[0],
        message=f"group {zone.group} stands in row {earlier.name} and comes back in row "
        f"{here.name} with {named}; other groups stand between",
        cure=f"Move {named} to the other devices of group {zone.group}, or plan again",
        source=ONE_ZONE,
        place=place,
    )
