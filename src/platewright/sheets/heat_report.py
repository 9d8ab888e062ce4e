"""The heat report: what was put in, what was assumed, how it was worked out, what came out."""

from __future__ import annotations

from typing import Final

from platewright.drawing.numbers import short
from platewright.drawing.table import Column, Quantity, Table
from platewright.drawing.table_print import PrintRow, PrintTable
from platewright.foundation.units import Mm
from platewright.heat.conditions import conditions_of, fan_flow
from platewright.heat.gap_need import Body, gap_needed, sensitivities
from platewright.heat.level import needs_of
from platewright.heat.panel_heat import heat_of
from platewright.model.heat import Banded, DeviceHeat, Facing, Needs, PanelHeat
from platewright.model.panel import Panel
from platewright.sheets.heat_picture import heat_picture
from platewright.sheets.page import Leaf, list_paper
from platewright.sheets.pager import Pager
from platewright.sheets.registry import Findings, listing, sheet
from platewright.sheets.tags import natural

PICTURE_HEIGHT: Final[Mm] = 135.0
MOST_FACINGS: Final = 16
METHOD: Final = (
    "Mean air inside: heat through each wall by free-convection films (Churchill and Chu; McAdams) "
    "and radiation, solved until in equals out; beside it the power law of IEC TR 60890 (values "
    "from memory). The hotter of both is judged. Shape: a stratified core and the wakes of devices, "
    "fitted to a flow solution, with a band that covers how far it was off on other layouts. Housings: films, radiation and heat into the plate. Ducts and "
    "neighbours: channel law, radiation, balance of the hottest point."
)


@listing(id="heat", title="Heat")
def heat_table(panel: Panel, findings: Findings) -> Table:  # noqa: ARG001  (one shape for all)
    """Return loss, air, limit and housing of every placed device."""
    heat = heat_of(panel)
    number = Quantity.NUMBER
    return Table(
        title="Heat",
        columns=(
            Column(name="tag", head="Tag"),
            Column(name="loss", head="Loss, W", quantity=number, unit="w"),
            Column(name="air", head="Air, °C", quantity=number, unit="degc"),
            Column(name="air_band", head="± K", quantity=number, unit="k"),
            Column(name="limit", head="Limit, °C", quantity=number, unit="degc"),
            Column(name="housing", head="Housing, °C", quantity=number, unit="degc"),
            Column(name="housing_band", head="± K", quantity=number, unit="k"),
            Column(name="plate", head="Into plate, W", quantity=number, unit="w"),
        ),
        rows=tuple(
            (
                tag, round(one.loss, 2), round(one.air.value, 1), round(one.air.band, 1),
                None if one.limit is None else round(one.limit, 1), round(one.surface.value, 1),
                round(one.surface.band, 1), round(one.foot, 2),
            )
            for tag, one in sorted(heat.devices.items(), key=lambda item: natural(item[0]))
        ),
    )  # fmt: skip


@sheet(id="heat", title="Heat report", place=55)
def heat_sheet(panel: Panel, findings: Findings) -> tuple[Leaf, ...]:  # noqa: ARG001
    """Return results and what they rest on, then the picture, the devices and the gaps."""
    pager = Pager(list_paper(panel.job.settings))
    heat = heat_of(panel)
    conditions = conditions_of(panel.job)
    needs = needs_of(conditions, heat.losses.total)
    pager.paragraph(_headline(heat), bold=True)
    pager.paragraph(
        "An estimate, not a type test and not a verification. Every temperature has its band."
    )
    pager.table(_rows(("Result", "Value"), _results(heat)))
    pager.table(_rows(("What would hold the air wanted inside", "Size"), _measures(heat, needs)))
    pager.heading("What it rests on")
    pager.table(_rows(("Input", "Value"), _inputs(panel, heat)))
    pager.paragraph("Method. " + METHOD)
    pager.paragraph("Assumed, because the job does not state it: " + "; ".join(heat.assumed) + ".")
    pager.paragraph("What the model cannot know: " + ". ".join(heat.cautions) + ".")
    if heat.devices:
        pager.heading("Where it is warm", keep=PICTURE_HEIGHT)
        pager.picture(heat_picture(panel, heat, width=pager.space.width, height=PICTURE_HEIGHT))
        pager.paragraph(
            "Darker is warmer. From the side: the model has no depth of its own; wakes are drawn "
            "as deep as their devices and spread as they do across the plate."
        )
        pager.heading("Air and housing of each device")
        pager.table(_devices(heat))
    if heat.facings:
        pager.heading("Ducts and neighbours of warm devices")
        pager.table(_facings(heat))
    _sensitive(pager, panel, heat)
    return pager.leaves()


def _headline(heat: PanelHeat) -> str:
    level = heat.level
    told = f"Air inside {_banded(level.inside)} °C at {heat.losses.total:.0f} W; wanted {level.wanted:g} °C"
    missing = len(heat.losses.unknown)
    return told + (f". The heat of {missing} devices is not in it" if missing else "") + "."


def _banded(value: Banded) -> str:
    return f"{value.value:.0f} ± {value.band:.0f}"


def _rows(heads: tuple[str, str], rows: list[tuple[str, str]]) -> PrintTable:
    return PrintTable(
        heads=heads,
        to_right=(False, False),
        wraps=(False, True),
        rows=tuple(PrintRow(cells=row) for row in rows),
    )


def _results(heat: PanelHeat) -> list[tuple[str, str]]:
    level = heat.level
    rows = [
        ("Air outside", f"{level.outside:g} °C"),
        ("Mean air inside, wall balance", f"{level.by_walls:.1f} °C"),
    ]
    if level.by_power_law is None:
        rows.append(("Mean air inside, power law", f"no answer: {level.no_power_law}"))
    else:
        rows += [
            ("Mean air inside, power law", f"{level.by_power_law:.1f} °C"),
            ("Difference of the methods", f"{level.difference:+.1f} K"),
            ("Air under the roof, power law", f"{level.top_by_power_law:.1f} °C"),
        ]
    through = sum(wall.heat for wall in level.walls)
    ways = [f"walls {through:.0f} W"]
    ways += [f"air {level.carried:.0f} W"] if level.carried else []
    ways += [f"cooling unit {level.cooled:.0f} W"] if level.cooled else []
    rows.append(("Heat goes out by", ", ".join(ways)))
    rows.append(("Balance closes within", f"{abs(level.missing):.1g} W"))
    if heat.devices:
        hottest = max(heat.devices.values(), key=lambda one: one.air.value)
        warmest = max(heat.devices.values(), key=lambda one: one.surface.value)
        rows.append(("Warmest air at a device", f"{hottest.tag}: {_banded(hottest.air)} °C"))
        rows.append(("Warmest housing", f"{warmest.tag}: {_banded(warmest.surface)} °C"))
        margins = [(one.limit - one.air.value, one) for one in heat.devices.values() if one.limit]
        if margins:
            least, one = min(margins, key=lambda pair: pair[0])
            rows.append(
                (
                    "Least margin to a limit",
                    f"{one.tag}: {least:+.0f} K, band ± {one.air.band:.0f} K",
                )
            )
    ducts = heat.ducts
    if ducts:
        tag, facing = max(ducts.items(), key=lambda item: item[1].temperature.value)
        rows.append(
            (
                "Warmest duct wall",
                f"{tag} beside {facing.tag}: {_banded(facing.temperature)} °C, limit {facing.limit:g}",
            )
        )
    return rows


def _measures(heat: PanelHeat, needs: Needs) -> list[tuple[str, str]]:
    level = heat.level
    none = "not needed" if level.inside.value <= level.wanted else "can't: outside air is too warm"
    rows = [
        ("Filter fan, blowing freely", f"{needs.fan:.0f} m³/h" if needs.fan else none),
        ("Air-to-air exchanger", f"{needs.exchanger:.1f} W/K" if needs.exchanger else none),
        ("Cooling unit, useful power", f"{needs.cooling:.0f} W" if needs.cooling else "not needed"),
    ]
    if needs.larger:
        rows.append(
            ("Or this enclosure without any", "{:.0f} × {:.0f} × {:.0f} mm".format(*needs.larger))
        )
    rows.append(
        (
            "Heater against condensation",
            "not looked at: air.coldest_degc is not stated"
            if needs.heater is None
            else f"{needs.heater:.0f} W",
        )
    )
    if needs.dew_point is not None:
        wet = "stays dry" if level.wanted > needs.dew_point else "water will form on what is colder"
        rows.append(("Dew point of the outside air", f"{needs.dew_point:.1f} °C: {wet}"))
    return rows


def _devices(heat: PanelHeat) -> PrintTable:
    ordered = sorted(heat.devices.values(), key=lambda one: (-one.air.value, natural(one.tag)))
    return PrintTable(
        heads=("Tag", "Loss", "Air at its foot", "Limit", "Margin", "Housing", "Into plate"),
        to_right=(False, True, True, True, True, True, True),
        wraps=(False,) * 7,
        rows=tuple(PrintRow(cells=_device(one)) for one in ordered),
    )


def _device(one: DeviceHeat) -> tuple[str, ...]:
    limit = "not stated" if one.limit is None else f"{one.limit:.0f} °C"
    margin = "–" if one.limit is None else f"{one.limit - one.air.value:+.0f} K"
    return (
        one.tag,
        f"{short(one.loss, 1)} W",
        f"{_banded(one.air)} °C",
        limit,
        margin,
        f"{_banded(one.surface)} °C",
        f"{short(one.foot, 1)} W",
    )


def _facings(heat: PanelHeat) -> PrintTable:
    """Return the pairs with the least to spare."""
    ordered = sorted(heat.facings, key=lambda f: (f.limit - f.temperature.value, f.tag, f.side))
    return PrintTable(
        heads=("Device", "Side", "To", "Apart", "Needed", "Warmest point", "Limit"),
        to_right=(False, False, False, True, True, True, True),
        wraps=(False,) * 7,
        rows=tuple(PrintRow(cells=_facing(one)) for one in ordered[:MOST_FACINGS]),
    )


def _facing(one: Facing) -> tuple[str, ...]:
    needed = "none is enough" if one.needed is None else "no gap"
    if one.needed:
        needed = f"{one.needed:.0f} ± {one.needed_band:.0f} mm"
    kind = f"duct {one.other}" if one.other_is_duct else one.other
    star = "" if one.limit_is_stated else " assumed"
    return (
        one.tag, one.side, kind, f"{one.distance:.0f} mm", needed,
        f"{_banded(one.temperature)} °C", f"{one.limit:.0f} °C{star}",
    )  # fmt: skip


def _sensitive(pager: Pager, panel: Panel, heat: PanelHeat) -> None:
    """Add what moves the gap of the hottest device whose sides state none."""
    open_sides = [
        one
        for one in heat.devices.values()
        if one.loss > 0
        and None in (panel.job.part_of(one.tag).clear_left, panel.job.part_of(one.tag).clear_right)
    ]
    if not open_sides:
        return
    one = max(open_sides, key=lambda device: (device.loss, device.tag))
    part, conditions = panel.job.part_of(one.tag), conditions_of(panel.job)
    body = Body.of(part, one.loss)
    air, limit = conditions.wanted, conditions.duct_limit
    gap = gap_needed(body, "left", air=air, limit=limit)
    rows = [(f"As stated: {one.loss:g} W in {air:g} °C air, duct at most {limit:g} °C", _gap(gap))]
    rows += [(s.what, _gap(s.gap)) for s in sensitivities(body, air=air, limit=limit)]
    pager.heading(f"What moves the gap between {one.tag} and a duct beside it")
    pager.table(_rows(("One thing changed at a time", "Gap ± 25 %"), rows))


def _gap(gap: Mm | None) -> str:
    return "none is enough" if gap is None else f"{gap:.0f} mm"


def _inputs(panel: Panel, heat: PanelHeat) -> list[tuple[str, str]]:
    settings, c = panel.job.settings, conditions_of(panel.job)
    box, air, losses = settings.enclosure, settings.air, heat.losses
    rows = [
        (
            "Enclosure",
            f"{box.width:g} × {box.height:g} × {box.depth:g} mm, {c.finish.name}, {c.placement.placement}",
        ),
        ("Air outside, wanted inside", f"{c.outside:g} °C, {c.wanted:g} °C"),
        ("Height above sea level, sun", f"{air.altitude:g} m, {air.sun:g} W/m²"),
        ("Losses of devices, wires", f"{losses.total - losses.wires:.1f} W, {losses.wires:.1f} W"),
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
    return rows
