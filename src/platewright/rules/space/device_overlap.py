"""No device may stand in another's place, covers on."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import GEOMETRY
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.rules.distances import overlaps_within
from platewright.rules.judge import Limit, at_most, holds
from platewright.rules.placed import Placed, are_partners, placed_devices
from platewright.rules.registry import rule
from platewright.rules.wording import common, way_out

TOUCHING: Final = Limit(value=0.0, source=GEOMETRY)


@rule(
    id="space.device-overlap",
    title="Devices do not overlap",
    why="Covers, handles and plugs reach past the body. What fits on the drawing without them does "
    "not fit on the plate. Linked and plugged partners are made to touch: there the bodies count.",
    source=GEOMETRY,
)
def check_device_overlap(panel: Panel) -> Iterator[Reading]:
    """Measure how far envelopes reach into each other."""
    placed = placed_devices(panel)
    pairs = [
        (placed[i], placed[j])
        for i, j in overlaps_within([one.envelope for one in placed])
        if not are_partners(placed[i].device, placed[j].device)
        or placed[i].body.overlaps(placed[j].body)
    ]
    for one, other in pairs:
        yield _reading(one, other)
    if placed and not pairs:
        yield holds("", message=f"{len(placed)} devices, none reaches into another's place")


def _reading(one: Placed, other: Placed) -> Reading:
    if are_partners(one.device, other.device):
        a, b = one.body, other.body
    else:
        a, b = one.envelope, other.envelope
    return at_most(
        one.tag,
        what=f"{one.tag} reaches into {other.tag} by",
        measured=min(a.overlap(b)),
        limit=TOUCHING,
        cure=f"Move {one.tag} {way_out(a, b)}, or {other.tag} {way_out(b, a)}",
        place=common(a, b),
    )
