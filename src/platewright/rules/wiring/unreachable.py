"""Every wire must find a way from terminal to terminal."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.model.device import Place
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.model.wire import End, Wire
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
    wires = panel.job.wires
    if wires and not panel.layout.devices:
        yield undecided("", missing="no device has a place yet", cure="Run plan")
        return
    told = [reading for wire in wires if (reading := _judge(panel, wire)) is not None]
    yield from told
    if wires and not told:
        yield holds("", message=f"all {len(wires)} wires have a way")


def _judge(panel: Panel, wire: Wire) -> Reading | None:
    route = panel.routes.wires.get(wire.number)
    if route is not None and route.is_routed:
        return None
    name = f"wire {wire.number} ({wire.start} to {wire.end})"
    place = place_of(panel, wire.start.device) or place_of(panel, wire.end.device)
    waits = [end.device for end in (wire.start, wire.end) if _waits_for_a_place(panel, end)]
    if route is None or waits:
        missing = (
            f"the place of {' and '.join(waits)} is open" if waits else "no route was worked out"
        )
        return undecided(
            wire.number,
            missing=f"{name} has no way yet: {missing}",
            cure=_cure(panel, waits),
            place=place,
        )
    return breaks(
        wire.number,
        message=f"{name} cannot be routed: {route.problem}",
        cure="Put a duct along both its devices and join it to the others",
        source=SOURCE,
        place=place,
    )


def _cure(panel: Panel, waits: list[str]) -> str:
    in_door = [tag for tag in waits if panel.job.is_open_on_door(tag)]
    if not in_door:
        return "Give both its devices a place, or run plan"
    return f"State door_x_mm and door_y_mm of {' and '.join(in_door)} in devices.csv"


def _waits_for_a_place(panel: Panel, end: End) -> bool:
    if panel.job.is_open_on_door(end.device):
        return True
    device = panel.job.devices.get(end.device)
    is_on_plate = device is not None and device.place is Place.PLATE
    return is_on_plate and end.device not in panel.layout.devices
