"""The wall of a duct must stay below what its plastic bears."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.heat.panel_heat import heat_of
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.rules.judge import Limit, at_most_banded
from platewright.rules.registry import rule
from platewright.rules.wording import mm
from platewright.tables.heat_practice import practice_source

JOB: Final = Source("job.toml", "limits.duct_temperature_degc", Standing.JOB)
SOURCE: Final = practice_source("duct limit")
AWAY: Final = {"left": "right", "right": "left", "top": "down", "bottom": "up"}


@rule(
    id="heat.duct-temperature",
    title="Duct walls stay cool enough",
    why="Rigid PVC is rated for 60 °C and softens soon above; the wires in it are rated for "
    "70 °C. Beyond the hot layer of about 12 mm, radiation of the device warms the duct.",
    source=SOURCE,
)
def check_duct_temperature(panel: Panel) -> Iterator[Reading]:
    """Compare the hottest point of each duct that a warm device faces with its limit."""
    is_assumed = panel.job.settings.air.outside is None
    for tag, facing in sorted(heat_of(panel).ducts.items()):
        source = JOB if facing.limit_is_stated else SOURCE
        if is_assumed:
            source = Source(source.document, "by outside air that is assumed", Standing.PRACTICE)
        more = "cool the enclosure or shield it"
        if facing.needed is not None and facing.needed > facing.distance:
            short = mm(facing.needed - facing.distance)
            more = f"move {facing.tag} {short} {AWAY[facing.side]}, shield it, or cool the air"
        yield at_most_banded(
            tag,
            what=f"hottest point of {tag}, {mm(facing.distance)} {facing.side} of {facing.tag}:",
            measured=facing.temperature,
            limit=Limit(value=facing.limit, source=source, unit="°C"),
            cure=more[0].upper() + more[1:],
            place=panel.layout.ducts[tag].box,
        )
