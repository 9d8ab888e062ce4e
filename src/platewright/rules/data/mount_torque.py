"""A screw-mounted device without a mounting torque is tightened as usual for its screw, if at all.

What is said here is what the torque sheet and the traveler print: all ask ``fabricate.torques``.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.fabricate.torques import tightening
from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.layout import HoleKind
from platewright.model.panel import Panel
from platewright.model.part import Mount
from platewright.rules.judge import breaks, holds, undecided
from platewright.rules.placed import place_of
from platewright.rules.registry import rule

SOURCE: Final = Source("parts.csv", "mount_torque", Standing.JOB)
CURE: Final = "Take it from the data sheet and state mount_torque_nm in parts.csv"


@rule(
    id="data.mount-torque",
    title="Mounting torque is stated",
    why="A screw too loose lets the device move, too tight strips a thin plate.",
    source=SOURCE,
)
def check_mount_torque_data(panel: Panel) -> Iterator[Reading]:
    """Look at every device that is screwed on."""
    asked = sorted(
        device.tag
        for device in panel.job.on_plate
        if panel.job.parts[device.part].mount is Mount.SCREWS
    )
    lacking = [tag for tag in asked if panel.job.part_of(tag).mount_torque is None]
    for tag in lacking:
        yield _lack(panel, tag)
    if asked and not lacking:
        yield holds("", message=f"Mounting torque stated for all {len(asked)} devices asked")


def _lack(panel: Panel, tag: str) -> Reading:
    """Return the lack with what the sheets say instead."""
    part, place = panel.job.part_of(tag), place_of(panel, tag)
    words = f"{tag}: mount_torque of part {part.part} not stated"
    screws = [
        hole
        for hole in panel.layout.holes.values()
        if hole.holds == tag and hole.kind is not HoleKind.RIVET
    ]
    if not screws:
        words += "; its screws are not placed yet"
        return undecided(tag, missing=words, cure=CURE, place=place)
    found = tightening(panel.job, panel.layout, screws[0])
    if found.torque is None or found.source is None:
        words += f"; nothing is usual for {screws[0].size}: open on the torque sheet"
        return undecided(tag, missing=words, cure=CURE, place=place)
    words += f"; torque sheet and traveler say {found.torque:.2f} N·m for {screws[0].size}"
    return breaks(tag, message=words, cure=CURE, source=found.source, place=place)
