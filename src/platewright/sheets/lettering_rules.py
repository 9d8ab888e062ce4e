"""Heights and rooms of lettering on the plate drawing."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.drawing.lettering import text_width, wrap
from platewright.drawing.picture import Anchor, Primitive, Rect, Text
from platewright.foundation.units import Mm
from platewright.model.geometry import Box, Point
from platewright.model.layout import Run
from platewright.model.panel import Panel

ROOM: Final = 0.45  # left free at each end of a tag, in heights of its lettering
AIR: Final = 0.8  # between words side by side, in heights of their lettering
PITCH: Final = 1.35  # of lines of lettering beside each other
SAME: Final[Mm] = 0.05  # two edges nearer than this are one


def fitted(words: str, box: Box, size: Mm, *, layer: str = "TAG") -> Text | None:
    """Return lettering in the middle of a box, level or upright; ``None``: it does not fit."""
    long, high = text_width(words, size) + 2 * ROOM * size, size * (1 + ROOM)
    for rotation, across, up in ((0.0, box.width, box.height), (90.0, box.height, box.width)):
        if long <= across and high <= up:
            return Text(
                layer=layer,
                at=box.centre,
                text=words,
                size=size,
                anchor=Anchor.CENTRE,
                rotation=rotation,
            )
    return None


def fitted_lines(words: str, box: Box, size: Mm, *, layer: str = "TAG") -> tuple[Text, ...]:
    """Return lettering in a box on as many lines as it takes; none: it does not fit."""
    one = fitted(words, box, size, layer=layer)
    if one is not None:
        return (one,)
    room = box.width - 2 * ROOM * size
    lines = wrap(words, room, size)
    whole = set(words.split()) >= {word for line in lines for word in line.split()}
    if not whole or len(lines) * PITCH * size > box.height:
        return ()
    top = box.centre.y + (len(lines) - 1) * PITCH * size / 2
    return tuple(
        Text(
            layer=layer,
            at=Point(box.centre.x, top - index * PITCH * size),
            text=line,
            size=size,
            anchor=Anchor.CENTRE,
        )
        for index, line in enumerate(lines)
    )


def interruption(panel: Panel, words: Box, air: Mm) -> Iterator[Primitive]:
    """Yield a blank where an edge of a duct or a rail's leader would cross lettering (ISO 129-1)."""
    levels = [
        edge
        for duct in panel.layout.ducts.values()
        if duct.run is Run.ACROSS and duct.box.overlaps(words)
        for edge in (duct.box.bottom, duct.box.top)
    ]
    levels += [rail.y for rail in panel.layout.rails.values() if rail.run is Run.ACROSS]
    if any(words.bottom + SAME < level < words.top - SAME for level in levels):
        yield Rect(layer="INTERRUPT", box=words.grown(air, air, air, air))
