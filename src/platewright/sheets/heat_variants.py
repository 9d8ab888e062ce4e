"""What would change the heat answer most: one thing changed at a time, the whole worked out again."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

from platewright.foundation.units import DegC, Kelvin
from platewright.heat.conditions import Conditions, conditions_of
from platewright.heat.level import level_of, needs_of
from platewright.heat.panel_heat import worked_out
from platewright.model.heat import DeviceHeat, PanelHeat
from platewright.model.job import Air, Enclosure, Job
from platewright.model.lengths import whole_length
from platewright.model.panel import Panel
from platewright.tables.heat_practice import heat_practice
from platewright.tables.placements import Exposure, placement_row

LOSSES: Final = (0.7, 1.3)  # what a loss from a catalogue is usually good for (practice)
OUTSIDE: Final[Kelvin] = 5.0
DEEPER: Final = 100.0  # mm
FAN_STEP: Final = 10.0  # m³/h to which a fan is rounded up
WARMEST: Final = 2  # devices that are thought out of the enclosure


@dataclass(frozen=True, slots=True, kw_only=True)
class Variant:
    """The answer with one thing changed. ``margin``: least one to a limit; ``None``: none known."""

    what: str
    inside: DegC
    change: Kelvin
    margin: Kelvin | None


def least_margin(heat: PanelHeat) -> tuple[Kelvin, DeviceHeat] | None:
    """Return the least margin of a device's air to its limit, and the device."""
    margins = [(one.limit - one.air.value, one) for one in heat.devices.values() if one.limit]
    return min(margins, key=lambda pair: (pair[0], pair[1].tag)) if margins else None


def variants(panel: Panel, heat: PanelHeat) -> tuple[Variant, ...]:
    """Return the changed answers, the largest change of the air inside first."""
    before = heat.level.inside.value
    found = [_again(panel, what, job, before) for what, job in _changes(panel.job, heat)]
    found += _by_constants(panel.job, heat)
    return tuple(sorted(found, key=lambda one: (-abs(round(one.change, 1)), one.what)))


def _again(panel: Panel, what: str, job: Job, before: DegC) -> Variant:
    after = worked_out(replace(panel, job=job))
    least = least_margin(after)
    inside = after.level.inside.value
    return Variant(
        what=what, inside=inside, change=inside - before, margin=None if least is None else least[0]
    )


def _changes(job: Job, heat: PanelHeat) -> Iterator[tuple[str, Job]]:
    """Yield what is changed and the job with it."""
    level, enclosure = heat.level, job.settings.enclosure
    for step in (-OUTSIDE, OUTSIDE):
        outside = level.outside + step
        yield (
            f"air outside {outside:g} °C",
            _with_air(job, replace(job.settings.air, outside=outside)),
        )
    for share in LOSSES:
        parts = {
            name: replace(part, heat=part.heat * share) if part.heat else part
            for name, part in job.parts.items()
        }
        word = "less" if share < 1 else "more"
        yield f"true losses {100 * abs(1 - share):.0f} % {word}", replace(job, parts=parts)
    row = placement_row(enclosure.placement)
    if row is None or Exposure.COVERED in (row.back, row.left, row.right, row.top, row.floor):
        yield "enclosure free on all sides", _with_box(job, replace(enclosure, placement="free"))
    deeper = replace(
        enclosure, depth=enclosure.depth + DEEPER, door_inside=enclosure.door_inside + DEEPER
    )
    yield f"enclosure {whole_length(DEEPER, job.settings.units)} deeper", _with_box(job, deeper)
    fan = needs_of(conditions_of(job), heat.losses.total).fan
    if fan and not job.settings.air.fan:
        size = FAN_STEP * -(-fan // FAN_STEP)
        blown = replace(job.settings.air, fan=size)
        yield f"a filter fan of {size:g} m³/h", _with_air(job, blown)
    warm = sorted(heat.devices.values(), key=lambda one: (-one.loss, one.tag))
    for one in [one for one in warm if one.loss > 0][:WARMEST]:
        devices = {**job.devices, one.tag: replace(job.devices[one.tag], load=0.0)}
        yield f"the {one.loss:g} W of {one.tag} outside", replace(job, devices=devices)


def _with_air(job: Job, air: Air) -> Job:
    return replace(job, settings=replace(job.settings, air=air))


def _with_box(job: Job, enclosure: Enclosure) -> Job:
    return replace(job, settings=replace(job.settings, enclosure=enclosure))


def _by_constants(job: Job, heat: PanelHeat) -> Iterator[Variant]:
    """Yield the answers at both ends of what the method itself takes."""
    now = conditions_of(job)
    kept, sheet = heat_practice("inner radiation"), now.finish
    for value in (kept.low, kept.high):
        yield _level(
            f"{value:g} of black radiation to the walls",
            replace(now, skin=replace(now.skin, inner_radiation=value)), heat,
        )  # fmt: skip
    for value in (sheet.emissivity_low, sheet.emissivity_high):
        yield _level(
            f"walls' emissivity {value:g}",
            replace(now, skin=replace(now.skin, emissivity=value)), heat,
        )  # fmt: skip


def _level(what: str, conditions: Conditions, heat: PanelHeat) -> Variant:
    """Return the mean air alone; the single devices are not worked out again."""
    inside = level_of(conditions, heat.losses.total).inside.value
    change = inside - heat.level.inside.value
    return Variant(what=what, inside=inside, change=change, margin=None)
