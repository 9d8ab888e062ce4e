"""A wire whose ends lie in different voltage groups is more likely a slip in the list."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.model.wire import Wire
from platewright.rules.judge import breaks, holds
from platewright.rules.registry import rule

SOURCE: Final = Source("wires.csv", "group against devices.csv", Standing.PRACTICE)


@rule(
    id="data.wire-ends",
    title="Both ends of a wire are in its group",
    why="A wire joins terminals of one potential. Where its ends, or it and an end, have no group "
    "in common, a terminal or a group is wrong in one of the lists.",
    source=SOURCE,
)
def check_wire_ends(panel: Panel) -> Iterator[Reading]:
    """Compare each wire's group with the groups of the devices at its ends."""
    looked_at, odd = 0, 0
    protective = panel.job.settings.protective_groups
    for wire in panel.job.wires:
        if wire.group in protective:
            continue  # earth ends at devices of every group
        ends = _end_groups(panel, wire)
        if len(ends) < 2:
            continue
        looked_at += 1
        problem = _problem(wire, ends)
        if problem:
            odd += 1
            yield breaks(
                wire.number,
                message=f"wire {wire.number} ({wire.start} to {wire.end}): {problem}",
                cure="Correct the terminal or the group of the wire in wires.csv, or add the group "
                "to the device in devices.csv",
                source=SOURCE,
            )
    if looked_at and not odd:
        yield holds("", message=f"{looked_at} wires, each in a group of both its devices")


def _end_groups(panel: Panel, wire: Wire) -> list[tuple[str, frozenset[str]]]:
    """Return both ends with the groups of their devices, where both state some."""
    ends = []
    for end in (wire.start, wire.end):
        device = panel.job.devices.get(end.device)
        if device is not None and device.group:
            ends.append((str(end), frozenset(device.group)))
    return ends


def _problem(wire: Wire, ends: list[tuple[str, frozenset[str]]]) -> str:
    (start, one), (end, other) = ends
    if not wire.group:
        if one & other:
            return ""
        return f"{start} is in group {' '.join(sorted(one))}, {end} in {' '.join(sorted(other))}"
    strangers = [name for name, groups in ends if wire.group not in groups]
    return f"its group {wire.group} is not one of {' or '.join(strangers)}" if strangers else ""
