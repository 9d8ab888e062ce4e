"""The wire list: every wire with its ends, its way and the length to cut."""

from __future__ import annotations

from typing import Final

from platewright.drawing.table import Column, Quantity, Table
from platewright.drawing.table_print import print_table
from platewright.foundation.tag_order import tag_order
from platewright.model.panel import Panel
from platewright.model.routes import Route
from platewright.model.wire import Wire
from platewright.sheets.page import Leaf, list_paper
from platewright.sheets.pager import Pager
from platewright.sheets.registry import Findings, listing, sheet

NO_WIRES: Final = "The job lists no wires."


@listing(id="wires", title="Wire list")
def wire_table(panel: Panel, findings: Findings) -> Table:  # noqa: ARG001  (one shape for all)
    """Return every wire in the order of the job's list."""
    rows = []
    for wire in panel.job.wires:
        route = panel.routes.wires.get(wire.number)
        cut = route.cut if route is not None and route.is_routed else None
        rows.append(
            (
                wire.number,
                str(wire.start),
                str(wire.end),
                str(wire.size),
                wire.colour,
                wire.type,
                wire.group,
                _way(panel, wire, route),
                cut,
            )
        )
    return Table(
        title="Wire list",
        columns=(
            Column(name="number", head="No."),
            Column(name="from", head="From"),
            Column(name="to", head="To"),
            Column(name="size", head="Size"),
            Column(name="colour", head="Colour"),
            Column(name="type", head="Type"),
            Column(name="group", head="Group"),
            Column(name="ducts", head="Through", wraps=True),
            Column(name="cut", head="Cut", quantity=Quantity.LENGTH),
        ),
        rows=tuple(rows),
    )


@listing(id="wire-totals", title="Wire to draw")
def wire_totals(panel: Panel, findings: Findings) -> Table:  # noqa: ARG001  (one shape for all)
    """Return the length of each kind of wire: what to take from the store."""
    sums: dict[tuple[str, str, str], tuple[int, float]] = {}
    for wire in panel.job.wires:
        route = panel.routes.wires.get(wire.number)
        if route is not None and route.is_routed:
            key = (str(wire.size), wire.type, wire.colour)
            count, length = sums.get(key, (0, 0.0))
            sums[key] = (count + 1, length + route.cut)
    return Table(
        title="Wire to draw",
        columns=(
            Column(name="size", head="Size"),
            Column(name="type", head="Type"),
            Column(name="colour", head="Colour", wraps=True),
            Column(name="wires", head="Wires", quantity=Quantity.COUNT),
            Column(name="length", head="Length", quantity=Quantity.LONG),
        ),
        rows=tuple(
            (*key, *sums[key]) for key in sorted(sums, key=lambda key: tuple(map(tag_order, key)))
        ),
    )


@sheet(id="wires", title="Wire list", place=50)
def wire_sheet(panel: Panel, findings: Findings) -> tuple[Leaf, ...]:
    """Return the list, then what to take from the store."""
    pager = Pager(list_paper(panel.job.settings))
    unit = panel.job.settings.units
    table = wire_table(panel, findings)
    if not table.rows:
        pager.paragraph(NO_WIRES, bold=True)
        return pager.leaves()
    lost = [wire.number for wire in panel.job.wires if _is_lost(panel, wire)]
    if not panel.routes.wires:
        pager.paragraph("No layout yet: lengths are not known.", bold=True)
    elif lost:
        pager.paragraph(f"Without a way, cut to measure at the panel: {', '.join(lost)}", bold=True)
    pager.paragraph(
        "Cut: length with ends and slack, rounded up. Fit both markers before the ends go in."
    )
    pager.table(print_table(table, unit))
    totals = wire_totals(panel, findings)
    if totals.rows:
        pager.heading("Wire to draw from the store")
        pager.table(print_table(totals, unit))
    return pager.leaves()


def _is_lost(panel: Panel, wire: Wire) -> bool:
    route = panel.routes.wires.get(wire.number)
    return route is None or not route.is_routed


def _way(panel: Panel, wire: Wire, route: Route | None) -> str:
    if route is None:
        return "not routed"
    if not route.is_routed:
        return f"no way: {route.problem}"
    ducts: list[str] = []
    for stretch in route.stretches:
        if not ducts or ducts[-1] != stretch.duct:
            ducts.append(stretch.duct)
    if ducts:
        return " ".join(ducts)
    on_door = all(panel.job.is_in_door(end.device) for end in (wire.start, wire.end))
    return "on the door" if on_door else "direct"
