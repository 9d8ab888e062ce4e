"""Mean air inside by both methods, and what would bring it to what is wanted."""

from __future__ import annotations

from dataclasses import replace

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
    larger_enclosure,
)
from platewright.heat.walls import effective_area
from platewright.model.heat import Banded, Level, Needs, WallHeat
from platewright.tables.heat_practice import taken

LEAST_BAND = 1.0  # K
PAINTED = 0.8  # emissivity from which a sheet counts as painted


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
    if cooling:
        rise = c.wanted - c.outside
        held = heat_through(c.walls, c.skin, c.around, c.wanted) + carried(c, rise) * rise
        cooling = min(cooling, max(0.0, loss - held))
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


def needs_of(conditions: Conditions, loss: Watt) -> Needs:
    """Return what would bring the inside to the wanted temperature, each measure by itself."""
    c = conditions
    bare = replace(c, air=replace(c.air, fan=0.0, vents=0.0, exchanger=0.0, cooling=0.0))
    through = heat_through(c.walls, c.skin, c.around, c.wanted)
    rise = c.wanted - c.outside
    larger = None
    if rise > 0 and loss > through:
        larger = larger_enclosure(c.box, c.placement, c.skin, c.around, wanted=c.wanted, loss=loss)
    dew = None if c.air.humidity in (None, 0.0) else dew_point(c.outside, c.air.humidity or 1.0)
    return Needs(
        fan=fan_needed(loss, through, rise, bare.around, taken("filter share")),
        cooling=cooling_needed(loss, through),
        exchanger=exchanger_needed(loss, through, rise),
        heater=_heater(c),
        larger=larger,
        dew_point=dew,
    )


def _heater(conditions: Conditions) -> Watt | None:
    """Return the heater that keeps the inside dry in the coldest air; ``None``: not stated."""
    c = conditions
    if c.air.coldest is None:
        return None
    wanted: DegC = c.air.coldest + taken("dry margin")
    cold = replace(c.around, outside=c.air.coldest, sun=0.0)
    return heater_needed(c.box, c.placement, c.skin, cold, wanted=wanted, standby=c.air.standby)
