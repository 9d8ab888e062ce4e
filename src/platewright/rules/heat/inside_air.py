"""The air inside the enclosure must not get warmer than wanted."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.foundation.tag_order import listed
from platewright.foundation.units import DegC
from platewright.heat.conditions import conditions_of
from platewright.heat.level import needs_of
from platewright.heat.measures import ways
from platewright.heat.panel_heat import heat_of
from platewright.model.finding import Reading
from platewright.model.heat import DeviceHeat, Level, PanelHeat
from platewright.model.panel import Panel
from platewright.rules.judge import Limit, at_most_banded, undecided
from platewright.rules.one_cause import Folded, folded
from platewright.rules.registry import rule
from platewright.rules.wording import unit_of_words
from platewright.tables.heat_practice import practice_source

SUBJECT: Final = "enclosure"
SOURCE: Final = Source("job.toml", "air.inside_degc", Standing.JOB)
LIMITS: Final = Source("parts.csv", "heat_limit_degc", Standing.JOB)


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
    followed = folded(heat)
    if followed.lowest is not None:
        yield _cause(panel, heat, followed, followed.lowest)
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


def _cause(panel: Panel, heat: PanelHeat, followed: Folded, lowest: DegC) -> Reading:
    """Judge the air by what it makes too warm wherever it stands, with all of that in one."""
    level = heat.level
    wanted = min(level.wanted, lowest, *(_mean_for(one, level) for one in followed.devices))
    sources = [LIMITS if followed.devices else practice_source("duct limit")]
    if level.wanted_is_stated and level.wanted <= lowest:
        sources = [SOURCE]
    if panel.job.settings.air.outside is None:
        sources = [practice_source("outside air")]
    limit = level.wanted if sources[0] is SOURCE else lowest
    judged = at_most_banded(
        SUBJECT,
        what=f"air inside at {heat.losses.total:.0f} W and {level.outside:g} °C outside",
        measured=level.inside,
        limit=Limit(value=limit, source=sources[0], unit="°C"),
        cure=_cure(panel, heat, wanted),
    )
    return replace(judged, message=f"{judged.message}. {_following(followed)}")


def _mean_for(one: DeviceHeat, level: Level) -> DegC:
    """Return the mean air at which a device keeps its limit: its own air rises in step with it."""
    if one.limit is None or level.rise <= 0:
        return level.wanted
    times = max(1.0, (one.air.value - level.outside) / level.rise)
    return level.outside + (one.limit - level.outside) / times


def _following(followed: Folded) -> str:
    """Return in words what is over its limit because the air is."""
    parts = []
    if followed.devices:
        ordered = sorted(followed.devices, key=lambda one: (one.limit or 0.0, one.tag))
        named = listed([f"{one.tag} ({one.limit:g} °C)" for one in ordered])
        parts.append(f"{_many(len(ordered), 'device')} over their limit because of it: {named}")
    if followed.ducts:
        named = listed([one.other for one in followed.ducts])
        limit = min(one.limit for one in followed.ducts)
        parts.append(f"{_many(len(followed.ducts), 'duct')} over {limit:g} °C: {named}")
    return "; ".join(parts)


def _many(count: int, name: str) -> str:
    return f"{count} {name}{'' if count == 1 else 's'}"


def _cure(panel: Panel, heat: PanelHeat, wanted: DegC | None = None) -> str:
    conditions = conditions_of(panel.job)
    if wanted is not None:
        conditions = replace(conditions, wanted=wanted)
    needs = needs_of(conditions, heat.losses.total)
    text = "Any one of: " + ", ".join(ways(needs, unit_of_words()))
    unstated = [
        name
        for name, value in (
            ("air.outside_degc", panel.job.settings.air.outside),
            ("air.inside_degc", panel.job.settings.air.inside),
        )
        if value is None
    ]
    return text + (f". Not stated yet: {listed(unstated)}" if unstated else "")
