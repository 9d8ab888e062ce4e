"""Named weighings of the plan's aims."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from platewright.foundation.sources import Standing
from platewright.tables.reader import read_table

WEIGHTS: Final = ("wire", "height", "heavy_low", "hot_high", "rail_piece", "cut_length", "cool")


@dataclass(frozen=True, slots=True, kw_only=True)
class Preset:
    """One row of ``presets.csv``: weights in metres of wire, as those of ``[aims]``."""

    name: str
    title: str
    wire: float
    height: float
    heavy_low: float
    hot_high: float
    rail_piece: float
    cut_length: float
    cool: float
    source: str
    standing: Standing

    @property
    def weights(self) -> Mapping[str, float]:
        """The weights by the names they have in ``[aims]``."""
        return {name: getattr(self, name) for name in WEIGHTS}


def presets() -> tuple[Preset, ...]:
    """Return every preset in the table's order."""
    return read_table("presets", Preset)


def preset_names() -> tuple[str, ...]:
    """Return the names of the presets."""
    return tuple(row.name for row in presets())


def preset(name: str) -> Preset | None:
    """Return the preset of this name; ``None``: the table has none."""
    return next((row for row in presets() if row.name == name), None)
