"""How the wires run, as the wiring stage hands it on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from platewright.foundation.units import Mm, Mm2, Ratio
from platewright.model.geometry import Path


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """A wire's way through one duct, as places along the duct from its lower or left end."""

    duct: str
    start: Mm
    end: Mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Route:
    """One wire's way from terminal to terminal. No stretches and no path: it cannot be routed."""

    wire: str
    path: Path
    stretches: tuple[Stretch, ...]
    run: Mm  # length along the path
    cut: Mm  # length to cut: run, ends, slack, rounded up
    problem: str = ""  # why there is no path

    @property
    def is_routed(self) -> bool:
        """Whether a way was found."""
        return not self.problem

    @property
    def ducts(self) -> tuple[str, ...]:
        """The ducts passed, each once, in the order they are come to."""
        return tuple(dict.fromkeys(stretch.duct for stretch in self.stretches))


@dataclass(frozen=True, slots=True, kw_only=True)
class DuctLoad:
    """The fullest place of one duct."""

    duct: str
    at: Mm  # place along the duct
    wires: int
    area: Mm2  # outer areas of the wires there
    inside: Mm2  # inside cross-section of the duct
    assumed: bool  # whether the inside cross-section was worked out from usual walls

    @property
    def fill(self) -> Ratio:
        """Share of the inside cross-section taken."""
        return self.area / self.inside


@dataclass(frozen=True, slots=True, kw_only=True)
class Routes:
    """All wires and how full the ducts get."""

    wires: Mapping[str, Route]
    loads: Mapping[str, DuctLoad]

    @property
    def total_cut(self) -> Mm:
        """Wire to cut in all."""
        return sum(route.cut for route in self.wires.values())

    @property
    def highest_fill(self) -> Ratio:
        """Fill of the fullest duct, 0 without wires."""
        return max((load.fill for load in self.loads.values()), default=0.0)
