"""The room a device needs beyond its envelope, side by side, each with its reason."""

from __future__ import annotations

from dataclasses import dataclass

from platewright.foundation.sources import Source
from platewright.foundation.units import Mm


@dataclass(frozen=True, slots=True)
class Need:
    """Room needed on one side and why. ``stated`` is False where it was derived or assumed."""

    room: Mm
    source: Source
    reason: str
    stated: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ClearSpace:
    """What must stay empty beyond the envelope (covers on), per side."""

    left: Need
    right: Need
    top: Need
    bottom: Need


@dataclass(frozen=True, slots=True, kw_only=True)
class WiringSpace:
    """Room from the body's edge to the wall of the duct it is wired to; ``None``: no wires there.

    Measured from the body (where the terminals are), not from the cover.
    """

    top: Need | None
    bottom: Need | None
