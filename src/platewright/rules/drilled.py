"""Holes as the checks look at them."""

from __future__ import annotations

import re
from typing import Final

from platewright.foundation.tag_order import in_ranges
from platewright.foundation.units import Mm
from platewright.model.geometry import Box
from platewright.model.layout import Hole, HoleState, Layout
from platewright.model.panel import Panel
from platewright.rules.wording import enough, place_of

_MOVED: Final = (
    r"\b(?:[Mm]ove|[Ss]hift|[Ss]horten|rail|or)"  # goes before what a cure moves or cuts
)
_ON_ITS_HOLES: Final = r"(?! onto its drilled| so that all its holes)"


def holes_of(panel: Panel) -> list[tuple[str, Hole]]:
    """Return every hole with its tag, by tag; a mark that is wiped off becomes none."""
    return sorted((tag, hole) for tag, hole in panel.layout.holes.items() if not hole.is_idle_mark)


def hole_box(hole: Hole) -> Box:
    """Return the square around the drilled hole."""
    half = hole.drill / 2
    return Box(hole.x - half, hole.y - half, hole.x + half, hole.y + half)


def hole_name(tag: str, hole: Hole) -> str:
    """Return tag, place and what it holds, which is how a builder finds it."""
    held = f", holds {hole.holds}" if hole.holds else ""
    return f"hole {tag} ({place_of(hole.x, hole.y)}{held})"


def edge_distance(hole: Hole, plate: Box) -> Mm:
    """Return the distance from the hole's centre to the nearest edge; negative: beyond it."""
    return min(hole.x - plate.left, plate.right - hole.x, hole.y - plate.bottom, plate.top - hole.y)


def told_what_is_drilled(layout: Layout, cure: str) -> str:
    """Return a cure that says what holes a thing it moves is screwed to already.

    Where the move brings the thing onto its holes, or its slots over them, none is left over.
    """
    held: dict[str, list[str]] = {}
    for tag, hole in layout.holes.items():
        if hole.holds and hole.state is HoleState.DRILLED:
            held.setdefault(hole.holds, []).append(tag)
    notes = [
        f"{tag} hangs on drilled holes ({in_ranges(holes)}): moved or cut anew, it may leave them over"
        for tag, holes in held.items()
        if re.search(rf"{_MOVED} {re.escape(tag)}(?![\w-]){_ON_ITS_HOLES}", cure)
    ]
    return ". ".join([cure, *notes])


def moved(hole: Hole, length: Mm, way: str) -> str:
    """Return the cure that moves a hole, or what is left to do where it is drilled already."""
    if hole.state is HoleState.DRILLED:
        held = f"hold {hole.holds} by another hole" if hole.holds else "leave it unused"
        return f"It is drilled and stays: {held}, or ask who answers for the plate"
    return f"Move {hole.holds or 'the hole'} {enough(length)} {way}"
