"""The screws of a device hold its weight, a shock in transport and a pull at its front."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.fabricate.device_hold import device_hold
from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.layout import Hole, HoleKind
from platewright.model.panel import Panel, body_box
from platewright.rules.judge import Limit, at_least, undecided
from platewright.rules.registry import rule
from platewright.tables.device_hold import device_hold_practice
from platewright.tables.reader import source_of

SOURCE: Final = Source("table device_hold", "F ≥ F axial + F across / μ", Standing.PRACTICE)


@rule(
    id="fabrication.device-hold",
    title="Screws hold their device",
    why="A heavy, deep device pulls at its upper screws and slides at all of them. The hole "
    "pattern says how many screws there are; whether they hold at this plate's torque is another "
    "matter, and a panel is carried and shaken before it is ever switched on.",
    source=SOURCE,
)
def check_device_hold(panel: Panel) -> Iterator[Reading]:
    """Compare the clamping force of a device's upper screw with what it must bear."""
    holes: dict[str, list[Hole]] = {}
    for hole in panel.layout.holes.values():
        if hole.holds in panel.layout.devices and hole.kind is not HoleKind.RIVET:
            holes.setdefault(hole.holds, []).append(hole)
    for tag in sorted(holes):
        yield _judge(panel, tag, holes[tag])


def _judge(panel: Panel, tag: str, holes: list[Hole]) -> Reading:
    part = panel.job.part_of(tag)
    place = body_box(part, panel.layout.devices[tag])
    found = device_hold(panel.job, panel.layout, tag, holes)
    if found is None:
        missing = "its mass" if part.mass is None else "the torque of its screws"
        column = "mass_kg" if part.mass is None else "mount_torque_nm"
        return undecided(
            tag,
            missing=f"{tag}: {missing} is not stated",
            cure=f"State {column} of {part.part} in parts.csv",
            place=place,
        )
    usual = device_hold_practice()
    count = f"{len(holes)} screws" if len(holes) > 1 else "1 screw"
    return at_least(
        tag,
        what=f"{tag}, {part.mass:g} kg on {count} {holes[0].size}: clamping force of the upper one",
        measured=found.clamped,
        limit=Limit(value=found.needed, source=source_of(usual), unit="N"),
        cure="Use a bolt and nut at a higher torque, a larger screw, or a bracket under the device",
        place=place,
    )
