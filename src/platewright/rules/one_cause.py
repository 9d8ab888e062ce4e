"""What is too warm because all the air inside is: told once, at its cause."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from platewright.foundation.units import DegC
from platewright.model.heat import DeviceHeat, Facing, PanelHeat

FEWEST: Final = 3  # things too warm of one cause; fewer are told one by one, each with its own cure


@dataclass(frozen=True, slots=True, kw_only=True)
class Folded:
    """Devices and ducts whose limit lies below the mean air inside, however it is estimated."""

    devices: tuple[DeviceHeat, ...]
    ducts: tuple[Facing, ...]

    @property
    def lowest(self) -> DegC | None:
        """Lowest limit among them; ``None``: there are none."""
        limits = [one.limit for one in self.devices if one.limit is not None]
        return min([*limits, *(one.limit for one in self.ducts)], default=None)


NOTHING: Final = Folded(devices=(), ducts=())


def folded(heat: PanelHeat) -> Folded:
    """Return what no other place could cure: it is too warm wherever it stands."""
    low = heat.level.inside.low
    found = Folded(
        devices=tuple(
            one
            for _, one in sorted(heat.devices.items())
            if one.limit is not None and one.limit < low and one.air.high > one.limit
        ),
        ducts=tuple(one for _, one in sorted(heat.ducts.items()) if one.limit < low),
    )
    return found if len(found.devices) + len(found.ducts) >= FEWEST else NOTHING
