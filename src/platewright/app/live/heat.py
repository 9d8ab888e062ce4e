"""Heat while a hand moves things: the same model as the checks', asked again for each place.

What does not hang on the place (heat of the wires by their length) stays as last checked; once the
hand lets go, the checks work everything out anew.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TypeVar

from platewright.app.editing.things import thing_of
from platewright.foundation.units import Mm
from platewright.heat.panel_heat import worked_out
from platewright.model.heat import PanelHeat
from platewright.model.layout import Duct, Layout, Placement, Rail
from platewright.model.panel import Panel

Thing = TypeVar("Thing", Placement, Duct, Rail)
Places = Mapping[str, tuple[Mm, Mm]]


class LiveHeat:
    """Things in the hand: devices (from the plate or the tray), rails and ducts."""

    def __init__(self, panel: Panel, tags: Sequence[str]) -> None:
        known = [t for t in tags if t in panel.job.devices or thing_of(panel.layout, t)]
        self.tags = tuple(dict.fromkeys(known))
        self.panel = panel

    def at(self, places: Sequence[tuple[Mm, Mm]]) -> PanelHeat:
        """Return how warm everything gets with the things at these places, in order of ``tags``."""
        moved = dict(zip(self.tags, places, strict=True))
        return worked_out(replace(self.panel, layout=self._layout(moved)))

    def _layout(self, moved: Places) -> Layout:
        layout = self.panel.layout
        new = {
            tag: Placement(x=x, y=y)
            for tag, (x, y) in moved.items()
            if tag in self.panel.job.devices and tag not in layout.devices
        }
        return replace(
            layout,
            devices=_shifted({**layout.devices, **new}, moved),
            ducts=_shifted(layout.ducts, moved),
            rails=_shifted(layout.rails, moved),
        )


def _shifted(things: Mapping[str, Thing], moved: Places) -> Mapping[str, Thing]:
    """Return the things with those that moved at their new places."""
    if things.keys().isdisjoint(moved):
        return things
    return {
        tag: replace(thing, x=moved[tag][0], y=moved[tag][1]) if tag in moved else thing
        for tag, thing in things.items()
    }
