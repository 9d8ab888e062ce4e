"""The air inside the enclosure must not get warmer than wanted."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.heat.conditions import conditions_of
from platewright.heat.level import needs_of
from platewright.heat.measures import ways
from platewright.heat.panel_heat import heat_of
from platewright.model.finding import Reading
from platewright.model.heat import PanelHeat
from platewright.model.panel import Panel
from platewright.rules.judge import Limit, at_most_banded, undecided
from platewright.rules.registry import rule
from platewright.rules.wording import listed
from platewright.tables.heat_practice import practice_source

SUBJECT: Final = "enclosure"
SOURCE: Final = Source("job.toml", "air.inside_degc", Standing.JOB)


@rule(
    id="heat.inside-air",
    title="Air inside stays as cool as wanted",
    why="Every device is rated for some air temperature; the mean air inside follows from all "
    "losses, the walls and what carries heat out. Two methods are worked out, the hotter is "
    "judged. An estimate, not a type test.",
    source=SOURCE,
    place=0,
)
def check_inside_air(panel: Panel) -> Iterator[Reading]:
    """Compare the hotter of wall balance and power law with the air wanted inside."""
    if not panel.job.devices:
        return
    heat = heat_of(panel)
    level = heat.level
    if heat.losses.unknown and level.inside.low <= level.wanted:
        yield undecided(
            SUBJECT,
            missing=f"air inside {level.inside.value:.0f} °C without the heat of "
            f"{listed(heat.losses.unknown)}, which is not stated",
            cure="State heat_w of their parts in parts.csv (0: none)",
        )
        return
    is_stated = level.wanted_is_stated and panel.job.settings.air.outside is not None
    source = SOURCE if is_stated else practice_source("inside air")
    yield at_most_banded(
        SUBJECT,
        what=f"air inside at {heat.losses.total:.0f} W and {level.outside:g} °C outside",
        measured=level.inside,
        limit=Limit(value=level.wanted, source=source, unit="°C"),
        cure=_cure(panel, heat) if level.inside.high > level.wanted else "",
    )


def _cure(panel: Panel, heat: PanelHeat) -> str:
    needs = needs_of(conditions_of(panel.job), heat.losses.total)
    text = "Any one of: " + ", ".join(ways(needs))
    unstated = [
        name
        for name, value in (
            ("air.outside_degc", panel.job.settings.air.outside),
            ("air.inside_degc", panel.job.settings.air.inside),
        )
        if value is None
    ]
    return text + (f". Not stated yet: {listed(unstated)}" if unstated else "")
