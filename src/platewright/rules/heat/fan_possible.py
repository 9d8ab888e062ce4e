"""Outside air can only cool what is warmer than it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.heat.conditions import conditions_of
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.rules.judge import breaks, holds
from platewright.rules.registry import rule

SUBJECT: Final = "enclosure"
SOURCE: Final = Source("first principles", "heat flows from warm to cold")


@rule(
    id="heat.fan-possible",
    title="A fan brings air that is cool enough",
    why="Fan, vents and air-to-air exchanger bring the inside no lower than the outside air. "
    "Where that is as warm as the air wanted inside, only a cooling unit helps.",
    source=SOURCE,
)
def check_fan_possible(panel: Panel) -> Iterator[Reading]:
    """Compare outside air with the air wanted inside where a fan, vents or exchanger are stated."""
    air, here = panel.job.settings.air, conditions_of(panel.job)
    if not (air.fan or air.vents or air.exchanger):
        return
    told = f"outside air {here.outside:g} °C, air wanted inside {here.wanted:g} °C"
    if here.outside < here.wanted:
        yield holds(SUBJECT, message=told, source=SOURCE)
        return
    are_stated = air.outside is not None and air.inside is not None
    source = SOURCE if are_stated else Source("usual air", "not stated", Standing.PRACTICE)
    yield breaks(
        SUBJECT,
        message=f"{told}: outside air can't cool it",
        cure="State a cooling unit (air.cooling_w in job.toml) instead, or allow warmer air inside",
        source=source,
    )
