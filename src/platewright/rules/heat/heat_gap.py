"""A warm device must stand far enough from what it would overheat, where its data do not say."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.heat.facings import REACH
from platewright.heat.panel_heat import heat_of
from platewright.model.finding import Reading
from platewright.model.heat import Facing
from platewright.model.panel import Panel
from platewright.rules.gap_cures import at_once, gap_cure
from platewright.rules.judge import Limit, at_least_banded, breaks, told_elsewhere
from platewright.rules.one_cause import folded
from platewright.rules.registry import rule
from platewright.rules.wording import length_of

SOURCE: Final = Source(
    "heat gap worked out from loss, size and the air at the device", "±25 %", Standing.PRACTICE
)


@rule(
    id="heat.heat-gap",
    title="Warm devices stand clear of ducts and neighbours",
    why="A data sheet's clearance always wins. Where it states none, the gap is worked out that "
    "keeps the wall of a duct, or the side of a neighbour, within its limit in the air that "
    "this layout gives.",
    source=SOURCE,
)
def check_heat_gap(panel: Panel) -> Iterator[Reading]:
    """Compare the distance with the gap needed, on sides whose clear space is not stated."""
    heat = heat_of(panel)
    at_cause = {one.other for one in folded(heat).ducts}
    judged = [
        facing
        for facing in heat.facings
        if getattr(panel.job.part_of(facing.tag), f"clear_{facing.side}") is None
        and facing.needed != 0
    ]
    if any(facing.other in at_cause for facing in judged):
        yield told_elsewhere(
            "enclosure",
            message="ducts too warm anywhere are told under heat.inside-air, their cause",
        )
    yield from at_once(
        (facing.tag, _judged(panel, facing)) for facing in judged if facing.other not in at_cause
    )


def _judged(panel: Panel, facing: Facing) -> Reading:
    what = f"{facing.side} of {facing.tag}, to {facing.other}"
    if facing.needed is None:
        return breaks(
            facing.tag,
            message=f"{what}: no gap up to {length_of(REACH, None)} keeps it at {facing.limit:g} °C",
            cure=_cure(panel, facing),
            source=SOURCE,
            place=facing.place,
        )
    passes = facing.distance >= facing.needed + facing.needed_band
    return at_least_banded(
        facing.tag,
        what=f"{what} ({facing.temperature.value:.0f} °C there):",
        measured=facing.distance,
        band=facing.needed_band,
        limit=Limit(value=facing.needed, source=SOURCE),
        cure="" if passes else _cure(panel, facing),
        place=facing.place,
    )


def _cure(panel: Panel, facing: Facing) -> str:
    return gap_cure(panel, facing.tag) + ". Or state the clear space of its part"
