"""A wire without a voltage group cannot be kept apart from others."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.rules.judge import holds, undecided
from platewright.rules.registry import rule

SOURCE: Final = Source("wires.csv", "group", Standing.JOB)


@rule(
    id="data.wire-group",
    title="Wires name their voltage group",
    why="The job has voltage groups. Whether a wire may lie beside the others in a duct depends on "
    "its group.",
    source=SOURCE,
)
def check_wire_group(panel: Panel) -> Iterator[Reading]:
    """Name every wire with a blank group, where the job has groups."""
    if not panel.job.settings.groups:
        return
    wires = panel.job.wires
    blank = [wire for wire in wires if not wire.group]
    known = ", ".join(group.name for group in panel.job.settings.groups)
    for wire in blank:
        yield undecided(
            wire.number,
            missing=f"wire {wire.number} ({wire.start} to {wire.end}) names no voltage group",
            cure=f"State group in wires.csv: {known}",
        )
    if wires and not blank:
        yield holds("", message=f"voltage group stated for all {len(wires)} wires")
