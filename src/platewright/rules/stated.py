"""One reading a device where a datum is missing, one for all where nothing is."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from platewright.foundation.sources import Source
from platewright.model.device import Device
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.model.part import Part
from platewright.rules.judge import breaks, holds, undecided
from platewright.rules.placed import place_of


@dataclass(frozen=True, slots=True)
class Datum:
    """What is looked for: in words, what its lack means, and how it is stated.

    ``assumed``: the source of what is counted instead; ``None``: nothing is, so that a lack
    leaves the matter undecided.
    """

    name: str
    lack: str
    cure: str
    assumed: Source | None = None


def told_by_device(
    panel: Panel,
    devices: Iterable[Device],
    datum: Datum,
    missing: Callable[[Part], str],
) -> Iterator[Reading]:
    """Yield one reading for each device whose part lacks the datum (``missing`` names what)."""
    looked_at, lacking = 0, 0
    for device in sorted(devices, key=lambda device: device.tag):
        looked_at += 1
        lack = missing(panel.job.parts[device.part])
        if lack:
            lacking += 1
            yield _lack(panel, device, datum, lack)
    if looked_at and not lacking:
        yield holds("", message=f"{datum.name} stated for all {looked_at} devices asked")


def _lack(panel: Panel, device: Device, datum: Datum, lack: str) -> Reading:
    message = f"{device.tag}: {lack} of part {device.part} not stated; {datum.lack}"
    place = place_of(panel, device.tag)
    if datum.assumed is None:
        return undecided(device.tag, missing=message, cure=datum.cure, place=place)
    return breaks(device.tag, message=message, cure=datum.cure, source=datum.assumed, place=place)
