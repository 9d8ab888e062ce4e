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
from platewright.rules.judge import Limit, at_least_banded, breaks
from platewright.rules.registry import rule
from platewright.rules.wording import mm

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
    for facing in heat_of(panel).facings:
        part = panel.job.part_of(facing.tag)
        if getattr(part, f"clear_{facing.side}") is not None or facing.needed == 0:
            continue
        what = f"{facing.side} of {facing.tag}, to {facing.other}"
        if facing.needed is None:
            yield breaks(
                facing.tag,
                message=f"{what}: no gap up to {REACH:g} mm keeps it at {facing.limit:g} °C",
                cure="Cool the enclosure, shield the device, or use a metal duct there",
                source=SOURCE,
                place=facing.place,
            )
            continue
        yield at_least_banded(
            facing.tag,
            what=f"{what} ({facing.temperature.value:.0f} °C there):",
            measured=facing.distance,
            band=facing.needed_band,
            limit=Limit(value=facing.needed, source=SOURCE),
            cure=_cure(facing),
            place=facing.place,
        )


def _cure(facing: Facing) -> str:
    short = (
        mm(max(0.0, facing.needed + facing.needed_band - facing.distance)) if facing.needed else ""
    )
    return (
        f"Give it {short} more, shield it, screw it to the bare plate, cool the air, or state the "
        "clear space of its part"
    )
