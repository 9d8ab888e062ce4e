"""The sizing answers in words: what would hold the air wanted inside, each measure by itself."""

from __future__ import annotations

from typing import Final

from platewright.foundation.units import MM_PER_INCH, Mm
from platewright.model.heat import Needs
from platewright.model.job import DisplayUnit

UNNEEDED: Final = "not needed"
IN_VAIN: Final = "none can: outside air is too warm"
TOO_LARGE: Final = "none up to 2.5 times its width and height"


def ways(needs: Needs, unit: DisplayUnit) -> list[str]:
    """Return the measures that would do, as words of a sentence."""
    found = []
    if needs.fan:
        found.append(f"a filter fan of {needs.fan:.0f} m³/h (blowing freely)")
    if needs.exchanger:
        found.append(f"an air-to-air exchanger of {needs.exchanger:.1f} W/K")
    if needs.cooling:
        found.append(f"a cooling unit of {needs.cooling:.0f} W")
    if needs.larger:
        found.append(f"an enclosure of {_size(needs.larger, unit)}")
    return [*found, "less loss"]


def measures(needs: Needs, unit: DisplayUnit) -> list[tuple[str, str]]:
    """Return each measure with its size, or why there is none."""
    is_cool = needs.cooling == 0.0
    larger = _size(needs.larger, unit) if needs.larger else UNNEEDED if is_cool else TOO_LARGE
    return [
        ("Filter fan, blowing freely", _told(needs.fan, "{:.0f} m³/h", IN_VAIN)),
        ("Air-to-air exchanger", _told(needs.exchanger, "{:.1f} W/K", IN_VAIN)),
        ("Cooling unit, useful power", _told(needs.cooling, "{:.0f} W", "none of ours")),
        ("Or this enclosure without any", larger),
        (
            "Heater against condensation",
            "not looked at: air.coldest_degc is not stated"
            if needs.heater is None
            else _told(needs.heater, "{:.0f} W", ""),
        ),
    ]


def stated_words(room: Mm, unit: DisplayUnit) -> str:
    """Return a room as the job states it, in its unit: inches to 0.01."""
    shown = round(room / MM_PER_INCH, 2) if unit is DisplayUnit.INCH else room
    return f"{shown:g} {unit.value}"


def _told(size: float | None, words: str, none: str) -> str:
    return none if size is None else words.format(size) if size else UNNEEDED


def _size(size: tuple[Mm, Mm, Mm], unit: DisplayUnit) -> str:
    """Return a size in the job's unit: whole mm, or inches to 0.1."""
    if unit is DisplayUnit.INCH:
        return " × ".join(f"{side / MM_PER_INCH:.1f}" for side in size) + f" {unit.value}"
    return " × ".join(f"{side:.0f}" for side in size) + f" {unit.value}"
