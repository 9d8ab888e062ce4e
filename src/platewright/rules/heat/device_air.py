"""No device may stand in warmer air than its data allow at its load."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.heat.panel_heat import heat_of
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.rules.judge import Limit, at_most_banded, told_elsewhere, undecided
from platewright.rules.one_cause import folded
from platewright.rules.registry import rule

SOURCE: Final = Source("parts.csv", "heat_limit_degc", Standing.JOB)
ASSUMED: Final = Source(
    "parts.csv", "heat_limit_degc, by outside air that is assumed", Standing.PRACTICE
)


@rule(
    id="heat.device-air",
    title="Each device's air is within its limit",
    why="Warm air rises and gathers: a device high up or over a hot one meets warmer air than the "
    "mean. Its rating holds up to its limit only; above, it must carry less (derating).",
    source=SOURCE,
)
def check_device_air(panel: Panel) -> Iterator[Reading]:
    """Compare the air at each device's foot with its limit at its load."""
    source = ASSUMED if panel.job.settings.air.outside is None else SOURCE
    heat = heat_of(panel)
    at_cause = {one.tag for one in folded(heat).devices}
    if at_cause:
        yield told_elsewhere(
            "enclosure",
            message=f"{len(at_cause)} devices are told under heat.inside-air, their cause",
        )
    for tag, device in sorted(heat.devices.items()):
        if tag in at_cause:
            continue
        if device.limit is None:
            yield undecided(
                tag,
                missing=f"air at {tag} {device.air.value:.0f} °C; its limit is not stated",
                cure="State heat_limit_degc of its part in parts.csv",
                place=device.box,
            )
            continue
        yield at_most_banded(
            tag,
            what=f"air at the foot of {tag}",
            measured=device.air,
            limit=Limit(value=device.limit, source=source, unit="°C"),
            cure=f"Cool the enclosure, move {tag} lower or away from hot devices below it, lower "
            "its load (load_share in devices.csv), or state its derating_per_k",
            place=device.box,
        )
