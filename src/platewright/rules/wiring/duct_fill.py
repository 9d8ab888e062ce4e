"""Ducts must not be too full."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.foundation.units import ALIASES, Ratio
from platewright.model.finding import Reading
from platewright.model.job import Practice
from platewright.model.panel import Panel
from platewright.model.routes import DuctLoad
from platewright.rules.judge import Limit, at_most, job_limit, undecided
from platewright.rules.registry import rule
from platewright.rules.wording import length_of

SOURCE: Final = Source("NFPA 79", "13.5.2")
SHOP: Final = Source("shop practice", "fill of wire duct", Standing.PRACTICE)
FULLEST: Final[Ratio] = 0.50
PERCENT: Final = ALIASES["share"]["%"].factor


@rule(
    id="wiring.duct-fill",
    title="Ducts keep room",
    why="A full duct cannot be closed, its wires are skinned on the fingers and get hot, and no "
    "later wire goes in. Counted with insulation, at the fullest place. By NFPA 79 in North "
    "America; elsewhere the same limit as shop practice.",
    source=SOURCE,
)
def check_duct_fill(panel: Panel) -> Iterator[Reading]:
    """Compare the fullest place of each duct with the limit."""
    is_american = panel.job.settings.practice is Practice.NORTH_AMERICA
    own = Limit(value=FULLEST / PERCENT, source=SOURCE if is_american else SHOP, unit="%")
    stated = panel.job.settings.limits.duct_fill
    limit = job_limit(
        "limits.duct_fill", stated=None if stated is None else stated / PERCENT, own=own
    )
    unsized = _unsized(panel)
    for tag in sorted(unsized.keys() - panel.routes.loads.keys()):
        yield _open(panel, tag, unsized[tag], "", limit.source)
    for tag, load in sorted(panel.routes.loads.items()):
        duct = panel.layout.ducts.get(tag)
        told = ", inside area assumed" if load.assumed else ""
        if tag in unsized and load.fill / PERCENT <= limit.value:
            so_far = f" beside {load.fill / PERCENT:.1f} % of {load.wires} wires (limit {limit.value:g} %)"
            yield _open(panel, tag, unsized[tag], so_far, limit.source)
            continue
        yield at_most(
            tag,
            what=f"duct {tag}, {load.wires} wires at {length_of(load.at, 0)}{told}: fill",
            measured=load.fill / PERCENT,
            limit=limit,
            cure=_cure(tag, load, limit.value * PERCENT),
            place=None if duct is None else duct.box,
        )


def _unsized(panel: Panel) -> Mapping[str, list[str]]:
    """Return the wires without a known outside diameter by the ducts they pass."""
    found: defaultdict[str, list[str]] = defaultdict(list)
    for number, route in panel.routes.wires.items():
        if number not in panel.outer_diameters:
            for tag in route.ducts:
                found[tag].append(number)
    return found


def _open(panel: Panel, tag: str, wires: list[str], beside: str, source: Source) -> Reading:
    duct = panel.layout.ducts.get(tag)
    return undecided(
        tag,
        missing=f"duct {tag}: outside diameter not known of wire {', '.join(wires)}{beside}, so "
        "its fill is not known",
        cure="Measure them and state outer_diameter_mm in wires.csv",
        place=None if duct is None else duct.box,
        source=source,
    )


def _cure(tag: str, load: DuctLoad, limit: Ratio) -> str:
    return (
        f"Take a duct with at least {load.area / limit:.0f} mm² inside for {tag}, or lead wires of "
        f"{load.area - load.inside * limit:.0f} mm² another way"
    )
