"""The tables of the heat report: one function each, every temperature with its band."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from platewright.drawing.numbers import short
from platewright.drawing.table import length_text
from platewright.drawing.table_print import PrintRow, PrintTable
from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import DegC, Mm
from platewright.heat.conditions import conditions_of, fan_flow
from platewright.heat.gap_need import Body, gap_needed, sensitivities
from platewright.heat.level import LEAST_BAND
from platewright.heat.measures import measures
from platewright.model.heat import Banded, DeviceHeat, Facing, Level, Needs, PanelHeat
from platewright.model.job import DisplayUnit
from platewright.model.lengths import whole_length
from platewright.model.panel import Panel
from platewright.sheets.heat_variants import Variant, least_margin
from platewright.tables.heat_practice import taken

MOST_FACINGS: Final = 16
MOST_CAUSES: Final = 5


def table(heads: tuple[str, ...], rows: Sequence[tuple[str, ...]], *, right: int = 0) -> PrintTable:
    """Return a table of words; the last ``right`` columns stand to the right."""
    count = len(heads)
    return PrintTable(
        heads=heads,
        to_right=(False,) * (count - right) + (True,) * right,
        wraps=(False,) * (count - 1) + (not right,),
        rows=tuple(PrintRow(cells=row) for row in rows),
    )


def banded(value: Banded) -> str:
    """Return value and band as printed, both in whole degrees."""
    return f"{value.value:.0f} ± {value.band:.0f}"


def methods(level: Level) -> PrintTable:
    """Return both methods side by side, with their difference."""
    law, why = level.by_power_law, level.no_power_law
    top = level.top_by_power_law
    rows = [
        (
            "Mean air inside",
            f"{_spread(level, level.by_walls)} °C",
            "no answer" if law is None else f"{_spread(level, law)} °C",
            "–" if level.difference is None else f"{level.difference:+.1f} K",
        ),
        ("Air under the roof", "–", "–" if top is None else f"{_spread(level, top)} °C", "–"),
    ]
    heads = ("Both methods", "Wall balance", "Power law", "Power law less balance")
    made = table(heads, rows, right=3)
    if law is None:
        note = PrintRow(cells=(f"No power law: {why}",), is_heading=True)
        return PrintTable(
            heads=made.heads, to_right=made.to_right, wraps=made.wraps, rows=(note, *made.rows)
        )
    return made


def _spread(level: Level, value: DegC) -> str:
    """Return a temperature of one method with the band of its rise."""
    band = max(LEAST_BAND, taken("rise band") * abs(value - level.outside))
    return f"{value:.1f} ± {band:.1f}"


def causes(panel: Panel, heat: PanelHeat) -> PrintTable:
    """Return where the heat comes from, the most first, and where it goes."""
    total = heat.losses.total
    given = sorted(heat.losses.devices, key=lambda one: (-one.watts, tag_order(one.tag)))
    told = [one for one in given if one.watts > 0][:MOST_CAUSES]
    rows = [
        (
            one.tag, f"{panel.job.part_of(one.tag).description}"
            + (f" ({one.note})" if one.note else ""),
            f"{short(one.watts, 1)} W", _share(one.watts, total),
        )
        for one in told
    ]  # fmt: skip
    rest = total - sum(one.watts for one in told) - heat.losses.wires
    if len(given) > len(told):
        rows.append((f"{len(given) - len(told)} others", "", f"{rest:.1f} W", _share(rest, total)))
    wires = heat.losses
    rows.append((
        "Wires", f"current stated of {wires.wires_known} of {wires.wires_all}",
        f"{wires.wires:.1f} W", _share(wires.wires, total),
    ))  # fmt: skip
    return PrintTable(
        heads=("Heat comes from", "", "Loss", "Share"),
        to_right=(False, False, True, True), wraps=(False, True, False, False),
        rows=tuple(PrintRow(cells=row) for row in rows),
    )  # fmt: skip


def _share(part: float, whole: float) -> str:
    return f"{100 * part / whole:.0f} %" if whole > 0 else "–"


def ways_out(heat: PanelHeat) -> PrintTable:
    """Return where the heat goes, wall by wall, and by how much the balance fails to close."""
    level = heat.level
    rows = [
        (
            f"Wall: {wall.name}", f"{wall.area:.2f} m²" + ("" if wall.is_open else ", covered"),
            f"{_spread(level, wall.temperature)} °C", f"{wall.heat:.0f} W",
        )
        for wall in level.walls
    ]  # fmt: skip
    if level.carried:
        rows.append(("Air through fan, vents, exchanger", "", "–", f"{level.carried:.0f} W"))
    if level.cooled:
        rows.append(("Cooling unit", "", "–", f"{level.cooled:.0f} W"))
    rows.append(("Not accounted for", "", "–", f"{abs(level.missing):.1f} W"))
    return table(("Heat goes out by", "Area", "Outer face", "Heat"), rows, right=3)


def margins(heat: PanelHeat) -> PrintTable:
    """Return the three answers that decide: air wanted, device nearest its limit, duct nearest."""
    level = heat.level
    rows = [
        _margin("Mean air inside", "", level.inside, level.wanted, is_stated=level.wanted_is_stated)
    ]
    least = least_margin(heat)
    if least is not None and least[1].limit is not None:
        one = least[1]
        rows.append(_margin("Air at a device", one.tag, one.air, least[1].limit, is_stated=True))
    if heat.ducts:
        tag, facing = min(
            heat.ducts.items(), key=lambda item: item[1].limit - item[1].temperature.value
        )
        words = f"{tag} beside {facing.tag}"
        rows.append(
            _margin(
                "Wall of a duct", words, facing.temperature, facing.limit,
                is_stated=facing.limit_is_stated,
            )
        )  # fmt: skip
    if heat.devices:
        hot = max(heat.devices.values(), key=lambda one: one.surface.value)
        rows.append(("Warmest housing", hot.tag, f"{banded(hot.surface)} °C", "–", "–", "–"))
    heads = ("What decides", "Where", "Temperature", "Limit", "Margin", "Verdict")
    return table(heads, rows, right=4)


def _margin(
    what: str, where: str, value: Banded, limit: DegC, *, is_stated: bool
) -> tuple[str, ...]:
    star = "" if is_stated else " assumed"
    return (
        what, where, f"{banded(value)} °C", f"{limit:g} °C{star}",
        f"{limit - value.value:+.0f} ± {value.band:.0f} K", _verdict(value, limit),
    )  # fmt: skip


def _verdict(value: Banded, limit: DegC) -> str:
    """Return where the whole band lies."""
    return "within" if value.high <= limit else "over" if value.low > limit else "undecided"


def changed(heat: PanelHeat, found: tuple[Variant, ...]) -> PrintTable:
    """Return what would change the answer most, the largest first."""
    least = least_margin(heat)
    now = ("As it is", f"{heat.level.inside.value:.1f} °C", "–", _kelvin(least and least[0]))
    rows = [now]
    rows += [
        (one.what, f"{one.inside:.1f} °C", f"{one.change:+.1f} K", _kelvin(one.margin))
        for one in found
    ]
    heads = ("One thing changed at a time", "Air inside", "Change", "Least margin of a device")
    return table(heads, rows, right=3)


def _kelvin(value: float | None) -> str:
    return "–" if value is None else f"{value:+.0f} K"


def cures(heat: PanelHeat, needs: Needs, unit: DisplayUnit) -> PrintTable:
    """Return what would hold the air wanted inside, each measure by itself."""
    level = heat.level
    rows: list[tuple[str, ...]] = [*measures(needs, unit)]
    if needs.dew_point is not None:
        wet = "stays dry" if level.wanted > needs.dew_point else "water will form on what is colder"
        rows.append(("Dew point of the outside air", f"{needs.dew_point:.1f} °C: {wet}"))
    return table(("What would hold the air wanted inside", "Size"), rows)


def devices(heat: PanelHeat) -> PrintTable:
    """Return air, margin and housing of each device, the warmest air first."""
    ordered = sorted(heat.devices.values(), key=lambda one: (-one.air.value, tag_order(one.tag)))
    return PrintTable(
        heads=(
            "Tag",
            "Loss",
            "Air at its foot",
            "Limit",
            "Margin",
            "Verdict",
            "Housing",
            "Into plate",
        ),
        to_right=(False, True, True, True, True, True, True, True),
        wraps=(False,) * 8,
        rows=tuple(PrintRow(cells=_device(one)) for one in ordered),
    )


def _device(one: DeviceHeat) -> tuple[str, ...]:
    limit = "not stated" if one.limit is None else f"{one.limit:.0f} °C"
    margin, verdict = "–", "–"
    if one.limit is not None:
        margin = f"{one.limit - one.air.value:+.0f} ± {one.air.band:.0f} K"
        verdict = _verdict(one.air, one.limit)
    return (
        one.tag,
        f"{short(one.loss, 1)} W",
        f"{banded(one.air)} °C",
        limit,
        margin,
        verdict,
        f"{banded(one.surface)} °C",
        f"{short(one.foot, 1)} W",
    )


FACINGS: Final = (
    "Needed none: the device's own housing stays within the limit, or any gap keeps it; what the "
    "other is warmer comes of its own loss and the air. A duct is judged by its warmest point, a "
    "neighbour by the distance. Stated: the part's data state the clear space of that side, which "
    "decides, whatever is worked out here."
)


def facings(panel: Panel, heat: PanelHeat) -> PrintTable:
    """Return the pairs of a warm device and what faces it with the least to spare; every duct."""
    unit = panel.job.settings.units
    ordered = sorted(heat.facings, key=lambda f: (f.limit - f.temperature.value, f.tag, f.side))
    hottest = list(heat.ducts.values())
    told = [f for n, f in enumerate(ordered) if n < MOST_FACINGS or f in hottest]
    return PrintTable(
        heads=("Device", "Side", "To", "Apart", "Needed", "Warmest point", "Limit", "Verdict"),
        to_right=(False, False, False, True, True, True, True, True),
        wraps=(False,) * 8,
        rows=tuple(
            PrintRow(cells=(*_facing(one, unit), facing_verdict(panel, one))) for one in told
        ),
    )


def facing_verdict(panel: Panel, one: Facing) -> str:
    """Return what the rules make of a facing: of a duct its warmth, of a neighbour the distance."""
    if one.other_is_duct:
        return _verdict(one.temperature, one.limit)
    if one.needed == 0:
        return "–"
    if one.needed is not None and one.distance >= one.needed + one.needed_band:
        return "within"
    stated = getattr(panel.job.part_of(one.tag), f"clear_{one.side}")
    if stated is not None:
        return f"{whole_length(stated, panel.job.settings.units)} stated"
    is_over = one.needed is None or one.distance < one.needed - one.needed_band
    return "over" if is_over else "undecided"


def _facing(one: Facing, unit: DisplayUnit) -> tuple[str, ...]:
    needed = "none is enough" if one.needed is None else "none"
    if one.needed:
        needed, band = whole_length(one.needed, unit), whole_length(one.needed_band, unit)
        needed = f"{needed.removesuffix(f' {unit.value}')} ± {band}"
    kind = f"duct {one.other}" if one.other_is_duct else one.other
    star = "" if one.limit_is_stated else " assumed"
    return (
        one.tag, one.side, kind, whole_length(one.distance, unit), needed,
        f"{banded(one.temperature)} °C", f"{one.limit:.0f} °C{star}",
    )  # fmt: skip


def gap_moves(panel: Panel, heat: PanelHeat) -> tuple[str, PrintTable] | None:
    """Return what moves the gap of the hottest device whose sides state none, and its tag."""
    open_sides = [
        one
        for one in heat.devices.values()
        if one.loss > 0
        and None in (panel.job.part_of(one.tag).clear_left, panel.job.part_of(one.tag).clear_right)
    ]
    if not open_sides:
        return None
    unit = panel.job.settings.units
    one = max(open_sides, key=lambda device: (device.loss, device.tag))
    part, conditions = panel.job.part_of(one.tag), conditions_of(panel.job)
    body = Body.of(part, one.loss)
    air, limit = conditions.wanted, conditions.duct_limit
    gap = gap_needed(body, "left", air=air, limit=limit)
    rows = [
        (f"As stated: {one.loss:g} W in {air:g} °C air, duct at most {limit:g} °C", _gap(gap, unit))
    ]
    rows += [(s.what, _gap(s.gap, unit)) for s in sensitivities(body, air=air, limit=limit)]
    return one.tag, table(("One thing changed at a time", "Gap ± 25 %"), [*rows])


def _gap(gap: Mm | None, unit: DisplayUnit) -> str:
    return "none is enough" if gap is None else whole_length(gap, unit)


def inputs(panel: Panel, heat: PanelHeat) -> PrintTable:
    """Return what the job states."""
    settings, c = panel.job.settings, conditions_of(panel.job)
    box, air, losses = settings.enclosure, settings.air, heat.losses
    sides = (box.width, box.height, box.depth)
    size = " × ".join(length_text(side, settings.units) for side in sides)
    rows: list[tuple[str, ...]] = [
        (
            "Enclosure",
            f"{size} {settings.units.value}, {c.finish.name}, {c.placement.placement}",
        ),
        ("Air outside, wanted inside", f"{c.outside:g} °C, {c.wanted:g} °C"),
        ("Height above sea level, sun", f"{air.altitude:g} m, {air.sun:g} W/m²"),
        ("Losses", f"{losses.total:.1f} W: {losses.parts}"),
        ("Wires whose current is stated", f"{losses.wires_known} of {losses.wires_all}"),
    ]
    if air.fan:
        rows.append(("Fan, behind its filters", f"{air.fan:g} m³/h, {fan_flow(air):.0f} m³/h"))
    for what, value, unit in (
        ("Vents, low and high each", air.vents, "mm²"),
        ("Air-to-air exchanger", air.exchanger, "W/K"),
        ("Cooling unit", air.cooling, "W"),
    ):
        if value:
            rows.append((what, f"{value:g} {unit}"))
    return table(("Input", "Value"), rows)
