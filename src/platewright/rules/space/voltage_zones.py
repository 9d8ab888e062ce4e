"""In each row the voltage groups stand block by block, with a gap between two of them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.foundation.units import Mm
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.rules.judge import Limit, at_least, breaks, holds
from platewright.rules.placed import Placed, are_partners, placed_devices
from platewright.rules.registry import rule
from platewright.rules.rows import Row, rows_of
from platewright.rules.wording import mm

SOURCE: Final = Source("job.toml", "groups: kept together and apart from others", Standing.JOB)
GROUP_GAP: Final = Source("job.toml", "limits.group_gap", Standing.JOB)


@rule(
    id="space.voltage-zones",
    title="Voltage groups stand apart",
    why="Mixed groups mix in the ducts too: mains beside signal wires disturbs them, and a hand at "
    "the 24 V terminals meets mains. A device of several groups may stand with any of them, a linked one with its partner.",
    source=SOURCE,
)
def check_voltage_zones(panel: Panel) -> Iterator[Reading]:
    """Search each row for a split into one block per group, and measure its narrowest gap."""
    limit = Limit(value=panel.job.settings.limits.group_gap, source=GROUP_GAP)
    protective = panel.job.settings.protective_groups
    for row in rows_of(placed_devices(panel)):
        grouped = tuple(_with_partners(row.devices, protective))
        if grouped:
            yield _judge(Row(grouped), limit)


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
        cure=f"Move {right.tag} and what stands behind it {mm(limit.value - split.gap)} right",
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
