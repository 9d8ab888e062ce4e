"""Every wire must find a way from terminal to terminal."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.rules.judge import breaks, holds, undecided
from platewright.rules.placed import place_of
from platewright.rules.registry import rule

SOURCE: Final = Source("geometry", "a wire needs a way through the ducts", Standing.GEOMETRY)


@rule(
    id="wiring.unreachable",
    title="Every wire has a way",
    why="A wire without a way has no length on the wire list, is missing in the fill, and is found "
    "by the wireman.",
    source=SOURCE,
)
def check_unreachable(panel: Panel) -> Iterator[Reading]:
    """Name every wire whose route has a problem, and every one without a route."""
    wires, odd = panel.job.wires, 0
    for wire in wires:
        route = panel.routes.wires.get(wire.number)
        if route is not None and route.is_routed:
            continue
        odd += 1
        place = place_of(panel, wire.start.device) or place_of(panel, wire.end.device)
        name = f"wire {wire.number} ({wire.start} to {wire.end})"
        if route is None:
            yield undecided(
                wire.number,
                missing=f"{name} has no route yet",
                cure="Give both its devices a place, or run plan",
                place=place,
            )
            continue
        yield breaks(
            wire.number,
            message=f"{name} cannot be routed: {route.problem}",
            cure="Put a duct along both its devices and join it to the others",
            source=SOURCE,
            place=place,
        )
    if wires and not odd:
        yield holds("", message=f"all {len(wires)} wires have a way")
