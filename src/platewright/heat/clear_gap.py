"""What must stay empty round a device: as its data state, else worked out from its heat."""

from __future__ import annotations

import math
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.foundation.units import DegC, Mm, Ratio
from platewright.heat.gap_need import LARGEST, Body, gap_needed, housing
from platewright.model.job import DisplayUnit
from platewright.model.lengths import whole_length
from platewright.model.need import ClearSpace, Need
from platewright.model.part import Part
from platewright.tables.heat_gaps import heat_gap
from platewright.tables.heat_practice import taken
from platewright.tables.reader import source_of

UNKNOWN: Final = Source("no gap known, none kept", standing=Standing.PRACTICE)
WORKED_OUT: Final = Source(
    "heat gap worked out from loss, size and air inside", "±25 %", Standing.PRACTICE
)


def clear_space(
    part: Part,
    *,
    load: Ratio = 1.0,
    inside: DegC | None = None,
    duct_limit: DegC | None = None,
    unit: DisplayUnit = DisplayUnit.MM,
) -> ClearSpace:
    """Return the room each side of a part needs beyond its covers.

    Stated (0 is stated as none): the part's own data. Not stated: the gap that keeps the wall of
    a plastic duct at ``duct_limit`` in ``inside`` air (usual values where ``None``); that is
    enough for a neighbour too, whose usual limit is higher. No more than 150 mm are kept: beyond,
    the reason says what helps. Where the air alone is too warm for the duct: a gap of shop
    practice. Heat not stated either: none can be derived, and the reason says so.
    """
    air = taken("inside air") if inside is None else inside
    limit = taken("duct limit") if duct_limit is None else duct_limit
    sides = (
        _need(part, side, stated, (load, air, limit), unit)
        for side, stated in (
            ("left", part.clear_left),
            ("right", part.clear_right),
            ("top", part.clear_top),
            ("bottom", part.clear_bottom),
        )
    )
    left, right, top, bottom = sides
    return ClearSpace(left=left, right=right, top=top, bottom=bottom)


def _need(
    part: Part, side: str, stated: Mm | None, at: tuple[Ratio, DegC, DegC], unit: DisplayUnit
) -> Need:
    if stated is not None:
        source = Source("data of the part", part.source, Standing.JOB)
        return Need(stated, source, "stated", stated=True)
    if part.heat is None:
        reason = "clear space not stated, and heat is not stated to derive it from"
        return Need(0.0, UNKNOWN, reason, stated=False)
    load, air, limit = at
    body = Body.of(part, part.heat * load)
    where = f"not stated; {body.loss:g} W in {air:g} °C air"
    if air >= limit and body.loss > 0:
        usual = heat_gap(body.loss)
        room = {"top": usual.above, "bottom": usual.below}.get(side, usual.side)
        reason = f"{where}: a plastic duct is too warm at any distance, kept by shop practice"
        return Need(room, source_of(usual), reason, stated=False)
    return _worked_out(body, "left" if side == "right" else side, (air, limit), where, unit)


def _worked_out(
    body: Body, side: str, at: tuple[DegC, DegC], where: str, unit: DisplayUnit
) -> Need:
    air, limit = at
    gap, most = gap_needed(body, side, air=air, limit=limit), taken("largest gap kept")
    if gap == 0:
        warmth = housing(body, air)
        reason = f"{where}: its housing stays near {warmth:.0f} °C, no gap for heat"
        return Need(0.0, WORKED_OUT, reason, stated=False)
    if gap is None or gap > most:
        told = f"only {whole_length(gap, unit)} keep" if gap is not None else ""
        told = told or f"no gap up to {whole_length(LARGEST, unit)} keeps"
        reason = f"{where}: {told} a plastic duct at {limit:g} °C; shield it or cool the air"
        return Need(most, WORKED_OUT, reason, stated=False)
    reason = f"{where}: {whole_length(gap, unit)} ± 25 % keep a plastic duct at {limit:g} °C"
    return Need(float(math.ceil(gap)), WORKED_OUT, reason, stated=False)
