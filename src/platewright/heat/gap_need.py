"""The gap a device needs for its heat, before anything stands anywhere."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

import numpy as np

from platewright.foundation.units import MM_PER_M, DegC, Mm, Ratio, Watt, WattPerK
from platewright.heat.air import SEA_LEVEL, Floats
from platewright.heat.gap import Other, Warm, above, below, beside, free_standing, wall_beside
from platewright.heat.standing import conduction_of
from platewright.model.heat import Banded
from platewright.model.part import Part
from platewright.tables.heat_practice import taken

LARGEST: Final[Mm] = 300.0  # no larger gap is looked for
STEPS: Final = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """What of a device decides its gap."""

    width: Mm
    height: Mm
    depth: Mm
    loss: Watt
    plate_conduction: WattPerK
    emissivity: Ratio

    @staticmethod
    def of(part: Part, loss: Watt) -> Body:
        """Return the body of a part at a loss."""
        return Body(
            width=part.width, height=part.height, depth=part.depth, loss=loss,
            plate_conduction=conduction_of(part), emissivity=taken("device emissivity"),
        )  # fmt: skip

    def warm(self, air: DegC) -> Warm:
        """Return the body in metres, in air of a temperature."""
        return Warm(
            width=self.width / MM_PER_M, height=self.height / MM_PER_M,
            depth=self.depth / MM_PER_M, loss=self.loss, plate_conduction=self.plate_conduction,
            emissivity=self.emissivity, air=air,
        )  # fmt: skip


def usual_wall(emissivity: Ratio | None = None) -> Other:
    """Return the wall of a plastic duct full of wire; the wall of a housing counts alike."""
    return Other(
        emissivity=taken("duct emissivity") if emissivity is None else emissivity,
        inside_film=taken("duct inside film"),
        top_film=taken("top film"),
    )


def wall_at(body: Body, side: str, gaps: Floats, air: DegC, other: Other) -> Floats:
    """Return the hottest point of a wall on a side (left, right, top, bottom) at gaps in mm, °C."""
    warm, metres = body.warm(air), gaps / MM_PER_M
    if side == "top":
        return above(warm, other, metres, SEA_LEVEL)
    if side == "bottom":
        return below(warm, other, metres, SEA_LEVEL)
    return beside(warm, other, metres, SEA_LEVEL)[1]


def housing(body: Body, air: DegC) -> DegC:
    """Return the device's own housing where nothing stands near."""
    return float(free_standing(body.warm(air), SEA_LEVEL)[0])


@lru_cache(maxsize=4096)
def gap_needed(
    body: Body, side: str, *, air: DegC, limit: DegC, other: Other | None = None
) -> Mm | None:
    """Return the smallest gap that keeps a wall at its limit; ``None``: none up to 300 mm.

    0 where the device's own housing stays below the limit. Not below 8 mm else, where the channel
    laws are unchecked. Checked: HEAT-43.
    """
    if body.loss <= 0 or housing(body, air) <= limit:
        return 0.0
    wall = other or usual_wall()
    gaps = np.geomspace(taken("least gap"), LARGEST, STEPS)
    over = wall_at(body, side, gaps, air, wall) - limit
    if over[-1] > 0:
        return None
    if over[0] <= 0:
        return float(gaps[0])
    index = int(np.argmax(over <= 0))
    share = over[index - 1] / (over[index - 1] - over[index])
    return float(np.interp(share, (0, 1), gaps[index - 1 : index + 1]))


def wall_band(wall: Floats, air: Floats, air_band: Floats) -> Floats:
    """Return how far a wall's estimated temperature may be off either way, K."""
    return np.hypot(air_band, taken("gap band") * np.maximum(0.0, wall - air))


def gap_not_over(body: Body, side: str, *, air: Banded, limit: DegC) -> Mm | None:
    """Return the smallest gap at which a plastic duct is not over its limit for sure.

    It may be: the estimate with its band then reaches down to the limit. ``None``: none up to
    300 mm; not below 8 mm, where the channel laws are unchecked.
    """
    gaps = np.geomspace(taken("least gap"), LARGEST, STEPS)
    wall = wall_at(body, side, gaps, air.value, usual_wall())
    over = wall - wall_band(wall, np.asarray(air.value), np.asarray(air.band)) - limit
    kept = np.flatnonzero(over <= 0)
    return float(gaps[kept[0]]) if kept.size else None


@dataclass(frozen=True, slots=True, kw_only=True)
class Sensitivity:
    """How the gap beside a duct moves with one input."""

    what: str
    gap: Mm | None


def sensitivities(body: Body, *, air: DegC, limit: DegC) -> tuple[Sensitivity, ...]:
    """Return the gap beside a duct with one thing changed at a time: largest movers first listed."""

    def need(
        body: Body = body, air: DegC = air, limit: DegC = limit, other: Other | None = None
    ) -> Mm | None:
        return gap_needed(body, "left", air=air, limit=limit, other=other)

    def changed(**fields: float) -> Body:
        kept = {name: getattr(body, name) for name in Body.__slots__}
        return Body(**(kept | fields))

    less, more = 0.7, 1.3  # what a loss from a catalogue is usually good for
    return (
        Sensitivity(what=f"air inside {air - 5:g} °C", gap=need(air=air - 5)),
        Sensitivity(what=f"air inside {air + 5:g} °C", gap=need(air=air + 5)),
        Sensitivity(
            what=f"true loss {less * body.loss:.3g} W", gap=need(changed(loss=less * body.loss))
        ),
        Sensitivity(
            what=f"true loss {more * body.loss:.3g} W", gap=need(changed(loss=more * body.loss))
        ),
        Sensitivity(what="no heat into the plate", gap=need(changed(plate_conduction=0.0))),
        Sensitivity(what="0.5 W/K into a bare plate", gap=need(changed(plate_conduction=0.5))),
        Sensitivity(what="bright metal face on the duct", gap=need(other=usual_wall(BRIGHT))),
        Sensitivity(
            what="free-standing bright shield", gap=shielded_gap(body, air=air, limit=limit)
        ),
        Sensitivity(what="bright metal housing", gap=need(changed(emissivity=METAL))),
        Sensitivity(what="duct nearly empty", gap=need(other=Other(inside_film=5.0))),
        Sensitivity(what=f"limit {limit - 5:g} °C", gap=need(limit=limit - 5)),
    )


BRIGHT: Final[Ratio] = 0.25  # galvanised sheet
METAL: Final[Ratio] = 0.3
SHIELD_AIR: Final[Mm] = 10.0  # a shield stands free of both by this


SHIELD_FAR: Final = 5.0  # W/(m²·K): film (3.5) and bright radiation (1.5) of the sheet's far face


def shielded_gap(body: Body, *, air: DegC, limit: DegC) -> Mm | None:
    """Return the whole gap with a free-standing bright sheet 10 mm before the duct.

    The sheet settles as a wall beside the device that gives heat off on its far face; the duct
    then stands beside the sheet. It must touch neither and stay bright: the hopeful end.
    """
    if body.loss <= 0 or housing(body, air) <= limit:
        return 0.0
    gaps = np.geomspace(SHIELD_AIR, LARGEST, STEPS)
    sheet = wall_at(body, "left", gaps, air, Other(emissivity=BRIGHT, inside_film=SHIELD_FAR))
    far = replace(body.warm(air), emissivity=BRIGHT)
    apart = np.full_like(gaps, SHIELD_AIR / MM_PER_M)
    duct = np.array([
        float(wall_beside(far, usual_wall(), apart[:1], hot=float(each), pressure=SEA_LEVEL)[0])
        for each in sheet
    ])  # fmt: skip
    if duct[-1] > limit:
        return None
    return float(gaps[int(np.argmax(duct <= limit))]) + SHIELD_AIR
