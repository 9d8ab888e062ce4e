"""What to pick from the store before the build, and what to buy."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil
from typing import Final

from platewright.drawing.table import Cell, Column, Quantity, Table, length_text, thickness_text
from platewright.drawing.table_print import PrintRow, PrintTable, print_table
from platewright.fabricate.fasteners import Fastener, fasteners, is_metric, length_words
from platewright.fabricate.stock_names import bar_lengths
from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import MM_PER_INCH, MM_PER_M, Mm
from platewright.model.job import DisplayUnit
from platewright.model.lengths import INCHES_PER_FOOT, said, with_unit
from platewright.model.panel import Panel
from platewright.sheets.page import Leaf, list_paper
from platewright.sheets.pager import Pager
from platewright.sheets.registry import Findings, listing, sheet
from platewright.tables.tools import tool

NOTHING: Final = "Nothing to pick yet: there is no layout. Run the plan, then print again."
ASSUMED: Final = (
    "Lengths of screws: from the plate's thickness and usual thicknesses of rails, duct bases and "
    "device feet ({}, shop practice). Measure the foot of a device before you buy for it."
)
USUAL_FEET: Final[tuple[Mm, ...]] = (1.0, 2.0, 4.0)
STOPS: Final = (
    "End stops: one at each end of a row where at least {} of rail is free (stops are {} to {} "
    "wide, shop practice). Count more where groups are to be kept apart."
)
STOP_WIDTHS: Final[tuple[Mm, Mm]] = (6.0, 10.0)


@listing(id="fasteners", title="Fasteners")
def fastener_table(panel: Panel, findings: Findings) -> Table:  # noqa: ARG001
    """Return screws, washers, nuts and rivets with how many boxes they take."""
    rows = [
        (one.what, one.size, _long(one), one.count, one.boxes, one.in_box, _holds(one))
        for one in fasteners(panel.job, panel.layout)
    ]
    return Table(
        title="Fasteners",
        columns=(
            Column(name="what", head="What"),
            Column(name="size", head="Size"),
            Column(name="length", head="Length"),
            Column(name="count", head="Pick", quantity=Quantity.COUNT),
            Column(name="boxes", head="Boxes", quantity=Quantity.COUNT),
            Column(name="in_box", head="of", quantity=Quantity.COUNT),
            Column(name="holds", head="For", wraps=True),
        ),
        rows=tuple(rows),
    )


@listing(id="purchase", title="Purchase list")
def purchase_table(panel: Panel, findings: Findings) -> Table:  # noqa: ARG001
    """Return everything to buy: whole bars, boxes, devices, wire."""
    return Table(
        title="Purchase list",
        columns=(
            Column(name="group", head="Group"),
            Column(name="item", head="Item", wraps=True),
            Column(name="needed", head="Needed"),
            Column(name="buy", head="Buy", quantity=Quantity.COUNT),
            Column(name="unit", head="Unit"),
        ),
        rows=tuple(_purchases(panel)),
    )


@sheet(id="fasteners", title="Fastener pick list", place=44)
def fastener_sheet(panel: Panel, findings: Findings) -> tuple[Leaf, ...]:
    """Return the pick list with a box to tick."""
    pager = Pager(list_paper(panel.job.settings))
    table = fastener_table(panel, findings)
    if not table.rows:
        pager.paragraph(NOTHING, bold=True)
        return pager.leaves()
    unit = panel.job.settings.units
    *thin, thick = (said(foot, unit) for foot in USUAL_FEET)
    pager.paragraph(ASSUMED.format(f"{', '.join(thin)} and {thick} {unit.value}"))
    least, most = STOP_WIDTHS
    pager.paragraph(
        STOPS.format(with_unit(tool("end stop"), unit), said(least, unit), with_unit(most, unit))
    )
    printed = print_table(table, panel.job.settings.units)
    ticked = PrintTable(
        heads=("Got", *printed.heads),
        to_right=(False, *printed.to_right),
        wraps=(False, *printed.wraps),
        rows=tuple(PrintRow(cells=("[   ]", *row.cells)) for row in printed.rows),
    )
    pager.table(ticked)
    return pager.leaves()


@sheet(id="purchase", title="Purchase list", place=22)
def purchase_sheet(panel: Panel, findings: Findings) -> tuple[Leaf, ...]:
    """Return the purchase list, a heading for each group."""
    pager = Pager(list_paper(panel.job.settings))
    printed = print_table(purchase_table(panel, findings), panel.job.settings.units)
    if not panel.layout.devices:
        pager.paragraph("No layout yet: bars, hardware and wire are not known.", bold=True)
    rows: list[PrintRow] = []
    group = ""
    for row in printed.rows:
        if row.cells[0] != group:
            group = row.cells[0]
            rows.append(PrintRow(cells=(group, *[""] * 3), is_heading=True))
        rows.append(PrintRow(cells=row.cells[1:]))
    pager.table(
        PrintTable(
            heads=printed.heads[1:],
            to_right=printed.to_right[1:],
            wraps=printed.wraps[1:],
            rows=tuple(rows),
        )
    )
    return pager.leaves()


def _holds(one: Fastener) -> str:
    return ", ".join(sorted(one.holds, key=tag_order))


def _long(one: Fastener) -> str:
    if one.what != "screw":
        return ""
    return length_words(one.length, metric=is_metric(one.size))


def _purchases(panel: Panel) -> Iterator[tuple[Cell, ...]]:
    plate, unit = panel.job.settings.plate, panel.job.settings.units
    size = " × ".join(length_text(side, unit) for side in (plate.width, plate.height))
    words = f"plate {size} × {thickness_text(plate.thickness, unit)} {unit.value}, {plate.material}"
    yield "Plate", words, "1", 1, "piece"
    yield from _bars(panel)
    for one in fasteners(panel.job, panel.layout):
        words = " ".join(part for part in (one.what, one.size, _long(one)) if part)
        yield "Hardware", words, str(one.count), one.boxes, f"box of {one.in_box}"
    counts: dict[str, int] = {}
    for device in panel.job.devices.values():
        counts[device.part] = counts.get(device.part, 0) + 1
    for part in sorted(counts, key=tag_order):
        what = panel.job.parts[part].description
        words = f"{part}: {what}" if what else part
        yield "Devices", words, str(counts[part]), counts[part], "piece"
    yield from _wires(panel)


def _bars(panel: Panel) -> Iterator[tuple[Cell, ...]]:
    """Yield whole bars; what lies in the rack as an off-cut is not bought."""
    whole = bar_lengths(panel.job.settings.stock)
    needed: dict[str, int] = {}
    for bar in panel.cuts.new_bars:
        needed[bar.stock] = needed.get(bar.stock, 0) + 1
    unit = panel.job.settings.units
    for stock in sorted(needed):
        pieces = sum(len(bar.pieces) for bar in panel.cuts.new_bars if bar.stock == stock)
        long = length_text(whole.get(stock, 0.0), unit)
        words = f"{stock}, bar of {long} {unit.value}"
        yield "Bars", words, f"{pieces} piece{'' if pieces == 1 else 's'}", needed[stock], "bar"


def _wires(panel: Panel) -> Iterator[tuple[Cell, ...]]:
    """Yield wire by kind, in metres, or feet where the job is in inches."""
    is_inch = panel.job.settings.units is DisplayUnit.INCH
    name, long = ("ft", MM_PER_INCH * INCHES_PER_FOOT) if is_inch else ("m", MM_PER_M)
    lengths: dict[tuple[str, str, str], float] = {}
    for wire in panel.job.wires:
        route = panel.routes.wires.get(wire.number)
        if route is not None and route.is_routed:
            key = (str(wire.size), wire.type, wire.colour)
            lengths[key] = lengths.get(key, 0.0) + route.cut / long
    for key in sorted(lengths, key=lambda key: tuple(map(tag_order, key))):
        words = ", ".join(part for part in key if part)
        yield "Wire", words, f"{lengths[key]:.1f} {name}", ceil(lengths[key]), name
