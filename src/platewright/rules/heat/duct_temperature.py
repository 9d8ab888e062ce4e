"""The wall of a duct must stay below what its plastic bears."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.heat.panel_heat import heat_of
from platewright.model.finding import Reading
from platewright.model.heat import Facing
from platewright.model.panel import Panel
from platewright.rules.gap_cures import at_once, gap_cure
from platewright.rules.judge import Limit, at_most_banded, told_elsewhere
from platewright.rules.one_cause import folded
from platewright.rules.registry import rule
from platewright.rules.wording import enough
from platewright.tables.heat_practice import practice_source

JOB: Final = Source("job.toml", "limits.duct_temperature_degc", Standing.JOB)
SOURCE: Final = practice_source("duct limit")
SAID: Final = {"left": "left of", "right": "right of", "top": "above", "bottom": "below"}


@rule(
    id="heat.duct-temperature",
    title="Duct walls stay cool enough",
    why="Rigid PVC is rated for 60 °C and softens soon above; the wires in it are rated for "
    "70 °C. Beyond the hot layer of about 12 mm, radiation of the device warms the duct.",
    source=SOURCE,
)
def check_duct_temperature(panel: Panel) -> Iterator[Reading]:
    """Compare the hottest point of each duct that a warm device faces with its limit."""
    heat = heat_of(panel)
    at_cause = {one.other for one in folded(heat).ducts}
    if at_cause:
        yield told_elsewhere(
            "enclosure",
            message=f"{len(at_cause)} ducts are told under heat.inside-air, their cause",
        )
    yield from at_once(
        (facing.tag, _judged(panel, tag, facing))
        for tag, facing in sorted(heat.ducts.items())
        if tag not in at_cause
    )


def _judged(panel: Panel, tag: str, facing: Facing) -> Reading:
    is_assumed = panel.job.settings.air.outside is None
    source = JOB if facing.limit_is_stated else SOURCE
    if is_assumed:
        source = Source(source.document, "by outside air that is assumed", Standing.PRACTICE)
    passes = facing.temperature.high <= facing.limit
    return at_most_banded(
        tag,
        what=f"hottest point of {tag}, {enough(facing.distance)} {SAID[facing.side]} {facing.tag}:",
        measured=facing.temperature,
        limit=Limit(value=facing.limit, source=source, unit="°C"),
        cure="" if passes else gap_cure(panel, facing.tag),
        place=panel.layout.ducts[tag].box,
    )
