"""What the screws of a device must bear."""

from __future__ import annotations

from dataclasses import dataclass

from platewright.foundation.sources import Standing
from platewright.foundation.units import Newton, Ratio
from platewright.tables.reader import read_table


@dataclass(frozen=True, slots=True, kw_only=True)
class DeviceHoldPractice:
    """The one row of ``device_hold.csv``. ``shock``: of the weight; ``grip``: of the clamping."""

    pull: Newton
    shock: Ratio
    grip: Ratio
    source: str
    standing: Standing


def device_hold_practice() -> DeviceHoldPractice:
    """Return pull, shock and friction."""
    (row,) = read_table("device_hold", DeviceHoldPractice)
    return row
