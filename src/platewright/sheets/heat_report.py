"""The heat report: what came out and why first, then what it rests on, in a data sheet's words."""

from __future__ import annotations

from typing import Final

from platewright.drawing.table import Column, Quantity, Table
from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import Mm
from platewright.heat.conditions import conditions_of
from platewright.heat.level import needs_of
from platewright.heat.panel_heat import heat_of
from platewright.model.heat import PanelHeat
from platewright.model.panel import Panel
from platewright.sheets import heat_tables as tables
from platewright.sheets.heat_picture import FRAMES, air_picture, surface_picture
from platewright.sheets.heat_variants import variants
from platewright.sheets.page import Leaf, list_paper
from platewright.sheets.pager import Pager
from platewright.sheets.registry import Findings, listing, sheet

NOT_A_TEST: Final = (
    "An estimate by a simple model, not a type test and not a verification. Every temperature "
    "carries its band; where the band reaches over a limit the answer is undecided."
)
READ_AIR: Final = (
    "Darker is warmer. Each device has the colour and the number of the air at its foot, with its "
    "band in kelvin where there is room; what is too small to letter is led out, or in the table. "
    f"{FRAMES}. From the "
    "side: the hottest column; the model has no depth of its own, wakes are drawn as deep as their "
    "devices and spread as they do across the plate."
)
READ_SURFACES: Final = (
    "Numbers: mean of the housing; hottest point of a duct's wall. Ducts without colour face no "
    f"warm device. {FRAMES}. The warmest housings may burn a hand."
)
METHOD: Final = (
    "Mean air inside: heat through each wall by free-convection films (Churchill and Chu; McAdams) "
    "and radiation, solved until in equals out; beside it the power law of IEC TR 60890 (values "
    "from memory). The hotter of both is judged. Shape: a stratified core and the wakes of devices, "
    "fitted to a flow solution, with a band that covers how far it was off on other layouts. Housings: films, radiation and heat into the plate. Ducts and "
    "neighbours: channel law, radiation, balance of the hottest point."
)


TEXT_ROOM: Final[Mm] = 24.0  # below a picture, for how to read it


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
            for tag, one in sorted(heat.devices.items(), key=lambda item: tag_order(item[0]))
        ),
    )  # fmt: skip


@sheet(id="heat", title="Heat report", place=55)
def heat_sheet(panel: Panel, findings: Findings) -> tuple[Leaf, ...]:  # noqa: ARG001
    """Return answer and cause, picture, devices, gaps, then inputs, method and sensitivities."""
    pager = Pager(list_paper(panel.job.settings))
    heat = heat_of(panel)
    _answer(pager, panel, heat)
    _pictures(pager, panel, heat)
    if heat.devices:
        pager.heading("Results: air and housing of each device")
        pager.table(tables.devices(heat))
    if heat.facings:
        pager.heading("Results: ducts and neighbours of warm devices")
        pager.table(tables.facings(panel, heat))
        pager.paragraph(tables.FACINGS)
    pager.heading("Inputs")
    pager.table(tables.inputs(panel, heat))
    pager.heading("Assumptions and method")
    pager.paragraph("Assumed, because the job does not state it: " + "; ".join(heat.assumed) + ".")
    pager.paragraph("Method. " + METHOD)
    pager.paragraph("What the model cannot know: " + ". ".join(heat.cautions) + ".")
    pager.heading("Sensitivities: what would change the answer most")
    pager.table(tables.changed(heat, variants(panel, heat)))
    moves = tables.gap_moves(panel, heat)
    if moves is not None:
        pager.heading(f"Sensitivities: the gap between {moves[0]} and a duct beside it")
        pager.table(moves[1])
    return pager.leaves()


def _answer(pager: Pager, panel: Panel, heat: PanelHeat) -> None:
    """Add the answer, its cause and its cure: the first page."""
    pager.paragraph(_headline(heat), bold=True)
    pager.paragraph(NOT_A_TEST)
    pager.table(tables.causes(panel, heat))
    pager.table(tables.ways_out(heat))
    pager.table(tables.methods(heat.level))
    pager.table(tables.margins(heat))
    needs = needs_of(conditions_of(panel.job), heat.losses.total)
    pager.table(tables.cures(heat, needs, panel.job.settings.units))


def _pictures(pager: Pager, panel: Panel, heat: PanelHeat) -> None:
    """Add a page of the air and a page of what a hand would touch."""
    if not heat.devices:
        return
    for heading, draw, words in (
        ("Where it is warm: air", air_picture, READ_AIR),
        ("Where it is warm: surfaces", surface_picture, READ_SURFACES),
    ):
        pager.turn()
        pager.heading(heading)
        space = pager.space
        pager.picture(draw(panel, heat, width=space.width, height=pager.room - TEXT_ROOM))
        pager.paragraph(words)


def _headline(heat: PanelHeat) -> str:
    level, total = heat.level, heat.losses.total
    over = level.inside.value - level.wanted
    verdict = f"{abs(over):.0f} K {'too warm' if over > 0 else 'to spare'}"
    told = (
        f"Air inside {tables.banded(level.inside)} °C at {total:.0f} W and {level.outside:g} °C "
        f"outside; wanted at most {level.wanted:g} °C: {verdict}"
    )
    missing = len(heat.losses.unknown)
    return told + (f". The heat of {missing} devices is not in it" if missing else "") + "."
