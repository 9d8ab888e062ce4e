"""Mean air inside by both methods, and what would bring it to what is wanted."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, Final

from platewright.foundation.units import DegC, Watt
from platewright.heat.air import dew_point
from platewright.heat.balance import Balance, balance, heat_through
from platewright.heat.conditions import Conditions, carried
from platewright.heat.power_law import PowerLaw, power_law
from platewright.heat.sizing import (
    cooling_needed,
    exchanger_needed,
    fan_needed,
    heater_needed,
    held_inside,
    larger_enclosure,
    rounded_up,
)
from platewright.heat.walls import Box3, effective_area, walls_of
from platewright.model.heat import Banded, Level, Needs, WallHeat
from platewright.tables.heat_practice import taken

LEAST_BAND = 1.0  # K
PAINTED = 0.8  # emissivity from which a sheet counts as painted
CLOSE = 1e-6  # K
SIZES: Final = {"fan": 5.0, "cooling": 5.0, "exchanger": 0.5}  # whole steps: m³/h, W, W/K
MOST_TRIES: Final = 40


def level_of(conditions: Conditions, loss: Watt) -> Level:
    """Return the mean air inside; the hotter of both methods is the one judged."""
    state, cooled = _by_walls(conditions, loss)
    law, why = _by_power_law(conditions, loss)
    middle = None if law is None else conditions.outside + law.middle
    inside = max(state.inside, middle) if middle is not None else state.inside
    band = max(LEAST_BAND, taken("rise band") * abs(inside - conditions.outside))
    return Level(
        outside=conditions.outside,
        wanted=conditions.wanted,
        wanted_is_stated=conditions.wanted_is_stated,
        inside=Banded(inside, band),
        by_walls=state.inside,
        by_power_law=middle,
        no_power_law=why,
        top_by_power_law=None if law is None else conditions.outside + law.top,
        walls=tuple(
            WallHeat(
                name=one.wall.name, area=one.wall.area, is_open=one.is_open,
                temperature=one.temperature, heat=one.heat,
            )
            for one in state.walls
        ),
        carried=state.carried,
        cooled=cooled,
        missing=state.missing,
    )  # fmt: skip


def _by_walls(conditions: Conditions, loss: Watt) -> tuple[Balance, Watt]:
    """Return the balance, and what a cooling unit takes: no more than holds what is wanted."""
    c = conditions
    cooling = c.air.cooling
    if cooling:  # its thermostat stands where the band ends at what is wanted
        held = held_at(c)
        rise = held - c.outside
        through = heat_through(c.walls, c.skin, c.around, held) + carried(c, rise) * rise
        cooling = min(cooling, max(0.0, loss - through))
    return balance(c.walls, c.skin, c.around, loss - cooling, c.flow), cooling


def _by_power_law(conditions: Conditions, loss: Watt) -> tuple[PowerLaw | None, str]:
    """Return the power law's answer, or why it has none."""
    if conditions.is_ventilated:
        return None, "it does not cover fans, vents, exchangers or cooling units as given here"
    if conditions.air.sun:
        return None, "it does not cover sun"
    if conditions.skin.emissivity < PAINTED:
        return None, "it holds for painted sheet"
    area = effective_area(conditions.walls)
    law = power_law(conditions.box, area, loss)
    return law, "" if law else f"its curves are not known to us at {area:.2f} m²"


def held_at(conditions: Conditions) -> DegC:
    """Return the mean inside whose band ends at what is wanted."""
    share = taken("rise band")
    return held_inside(conditions.outside, conditions.wanted, share, LEAST_BAND)


def holds(conditions: Conditions, loss: Watt) -> bool:
    """Tell whether the inside stays as wanted even at the upper end of its band."""
    level = level_of(conditions, loss)
    return level.inside.high <= level.wanted + CLOSE


def needs_of(conditions: Conditions, loss: Watt) -> Needs:
    """Return what would bring the inside to the wanted temperature, each measure by itself.

    Sizes are rounded up and tried: with any one of them the whole band is within what is wanted.
    """
    c = conditions
    bare = replace(c, air=replace(c.air, fan=0.0, vents=0.0, exchanger=0.0, cooling=0.0))
    dew = None if c.air.humidity in (None, 0.0) else dew_point(c.outside, c.air.humidity or 1.0)
    if holds(bare, loss):
        return Needs(
            fan=0.0, cooling=0.0, exchanger=0.0, heater=_heater(c), larger=None, dew_point=dew
        )
    held = held_at(c)
    through = heat_through(c.walls, c.skin, c.around, held)
    rise = held - c.outside
    left = taken("filter share") if c.air.fan_filter else 1.0

    def is_enough(box: Box3) -> bool:
        return holds(replace(bare, box=box, walls=walls_of(box, c.placement)), loss)

    return Needs(
        fan=_tried(bare, loss, "fan", fan_needed(loss, through, rise, bare.around, left)),
        cooling=_tried(bare, loss, "cooling", cooling_needed(loss, through)),
        exchanger=_tried(bare, loss, "exchanger", exchanger_needed(loss, through, rise)),
        heater=_heater(c),
        larger=larger_enclosure(c.box, is_enough) if rise > 0 else None,
        dew_point=dew,
    )


def _tried(bare: Conditions, loss: Watt, measure: str, size: float | None) -> float | None:
    """Return the next whole size with which the inside holds; ``None``: none does."""
    if size is None:
        return None
    step = SIZES[measure]
    tried = rounded_up(size, step)
    for _ in range(MOST_TRIES):
        changed: dict[str, Any] = {measure: tried}
        if holds(replace(bare, air=replace(bare.air, **changed)), loss):
            return tried
        tried += step
    return None


def _heater(conditions: Conditions) -> Watt | None:
    """Return the heater that keeps the inside dry in the coldest air; ``None``: not stated."""
    c = conditions
    if c.air.coldest is None:
        return None
    wanted: DegC = c.air.coldest + taken("dry margin")
    cold = replace(c.around, outside=c.air.coldest, sun=0.0)
    return heater_needed(c.box, c.placement, c.skin, cold, wanted=wanted, standby=c.air.standby)
