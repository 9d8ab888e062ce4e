"""What follows from a hand's movement, measured again many times a second.

One ``Drag`` lives from the moment a thing is taken until it is let go. Nothing here reads a
file; the layout is changed by ``edit`` alone, once the hand lets go.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from platewright.app.editing.things import body_of, envelope_of, thing_of
from platewright.app.live.space import Clash, Gap, Space
from platewright.app.live.wires import Base, LiveWires, WireFigures
from platewright.foundation.units import Mm
from platewright.model.layout import Placement
from platewright.model.panel import Panel
from platewright.rules.distances import Floats, boxes_array


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """One moment of a drag. ``wires`` is ``None`` while a duct moves, or no routing is at hand."""

    clashes: tuple[Clash, ...]
    gaps: tuple[Gap, ...]
    wires: WireFigures | None


class Drag:
    """Things in the hand: devices (from the plate or the tray), rails and ducts."""

    def __init__(self, panel: Panel, base: Base | None, tags: Sequence[str]) -> None:
        known = [t for t in tags if t in panel.job.devices or thing_of(panel.layout, t)]
        self.tags = tuple(dict.fromkeys(known))
        self.space = Space(panel, extra=self.tags)
        self.moved = np.array([self.space.index[tag] for tag in self.tags], dtype=np.int64)
        self.body, self.envelope = self._from_corner(panel)
        devices = self.space.devices
        self.wires = None
        if base is not None and all(i < devices or i >= self.space.solid for i in self.moved):
            rows = self.space.tags[:devices]
            moved = self.moved[self.moved < devices]
            self.wires = LiveWires(panel, base, rows, self.space.body[:devices], moved)

    def _from_corner(self, panel: Panel) -> tuple[Floats, Floats]:
        """Return body and envelope of each thing, seen from the point that names its place."""
        bodies, envelopes = [], []
        for tag in self.tags:
            thing = thing_of(panel.layout, tag) or Placement(x=0.0, y=0.0)
            body, envelope = body_of(panel.job, tag, thing), envelope_of(panel.job, tag, thing)
            bodies.append(body.grown(thing.x, thing.y, -thing.x, -thing.y))
            envelopes.append(envelope.grown(thing.x, thing.y, -thing.x, -thing.y))
        return boxes_array(bodies), boxes_array(envelopes)

    def frame(self, places: Sequence[tuple[Mm, Mm]]) -> Frame:
        """Return what follows when the things stand at these places, in the order of ``tags``."""
        at = np.array(places, dtype=np.float64).reshape(len(self.tags), 2)
        shift = np.concatenate([at, at], axis=1)
        body, envelope = self.body + shift, self.envelope + shift
        devices = self.moved < self.space.devices
        return Frame(
            clashes=tuple(self.space.clashes(self.moved, body, envelope)),
            gaps=tuple(self.space.gaps(self.moved, envelope)),
            wires=None if self.wires is None else self.wires.figures(body[devices]),
        )


__all__ = ["Base", "Clash", "Drag", "Frame", "Gap", "WireFigures"]
