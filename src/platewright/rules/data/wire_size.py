"""A wire whose outside diameter is not known leaves the fill of its ducts open."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.model.wire import Wire
from platewright.rules.judge import holds, undecided
from platewright.rules.registry import rule
from platewright.tables.wires import wire_row, wire_types

SOURCE: Final = Source("wires.csv", "size, type, outer_diameter", Standing.JOB)


@rule(
    id="data.wire-size",
    title="Outside diameters of wires are known",
    why="How full a duct gets is counted with the insulation on. A size and type that the tables "
    "do not have is left out of the sum.",
    source=SOURCE,
)
def check_wire_size(panel: Panel) -> Iterator[Reading]:
    """Name every wire for which neither the list nor the tables give a diameter."""
    lacking = 0
    for wire in panel.job.wires:
        if wire.number in panel.outer_diameters:
            continue
        lacking += 1
        yield undecided(
            wire.number,
            missing=f"wire {wire.number}: no outside diameter known for {wire.size} {wire.type}".rstrip(),
            cure=f"Measure it and state outer_diameter_mm in wires.csv, or {_types_for(wire)}",
        )
    if panel.job.wires and not lacking:
        yield holds("", message=f"outside diameter known for all {len(panel.job.wires)} wires")


def _types_for(wire: Wire) -> str:
    """Return which types to name: those that the tables have in the wire's size, else all."""
    types = [name for name in wire_types() if wire_row(wire.size, name) is not None]
    if types:
        return f"name a type that the tables have in {wire.size}: {', '.join(types)}"
    return f"another size: the tables have no type in {wire.size}, of {', '.join(wire_types())}"
