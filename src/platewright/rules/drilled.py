"""Holes as the checks look at them."""

from __future__ import annotations

from platewright.foundation.units import Mm
from platewright.model.geometry import Box
from platewright.model.layout import Hole, HoleState
from platewright.model.panel import Panel
from platewright.rules.wording import mm


def holes_of(panel: Panel) -> list[tuple[str, Hole]]:
    """Return every hole with its tag, by tag."""
    return sorted(panel.layout.holes.items())


def hole_box(hole: Hole) -> Box:
    """Return the square around the drilled hole."""
    half = hole.drill / 2
    return Box(hole.x - half, hole.y - half, hole.x + half, hole.y + half)


def hole_name(tag: str, hole: Hole) -> str:
    """Return tag, place and what it holds, which is how a builder finds it."""
    held = f", holds {hole.holds}" if hole.holds else ""
    return f"hole {tag} ({hole.x:.1f}, {hole.y:.1f}{held})"


def edge_distance(hole: Hole, plate: Box) -> Mm:
    """Return the distance from the hole's centre to the nearest edge; negative: beyond it."""
    return min(hole.x - plate.left, plate.right - hole.x, hole.y - plate.bottom, plate.top - hole.y)


def moved(hole: Hole, length: Mm, way: str) -> str:
    """Return the cure that moves a hole, or what is left to do where it is drilled already."""
    if hole.state is HoleState.DRILLED:
        held = f"hold {hole.holds} by another hole" if hole.holds else "leave it unused"
        return f"It is drilled and stays: {held}, or ask who answers for the plate"
    return f"Move {hole.holds or 'the hole'} {mm(length)} {way}"
