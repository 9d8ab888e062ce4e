"""How everything is held to the plate, and why by so many screws."""

from __future__ import annotations

from dataclasses import replace
from itertools import groupby
from typing import Final

from platewright.drawing.table import Column, Quantity, Table
from platewright.drawing.table_print import PrintRow, PrintTable, print_table
from platewright.model.panel import Panel
from platewright.sheets.finding_groups import tags_words
from platewright.sheets.page import Leaf, list_paper
from platewright.sheets.pager import Pager
from platewright.sheets.registry import Findings, listing, sheet

LONG: Final = 20  # characters; so many tags in one row are wrapped
NOTHING: Final = "Nothing to hold yet: there is no layout. Run the plan, then print again."


@listing(id="fixings", title="Fixings and why")
def fixing_table(panel: Panel, findings: Findings) -> Table:  # noqa: ARG001  (one shape for all)
    """Return how many fixings each device, rail and duct has, the widest span, and the reason."""
    return Table(
        title="Fixings and why",
        columns=(
            Column(name="tag", head="Holds"),
            Column(name="kind", head="Kind"),
            Column(name="count", head="Fixings", quantity=Quantity.COUNT),
            Column(name="longest", head="Widest span", quantity=Quantity.LENGTH),
            Column(name="reason", head="Why so many", wraps=True),
            Column(name="source", head="Source", wraps=True),
        ),
        rows=tuple(
            (f.tag, f.kind, f.count, f.longest, f.reason, str(f.source))
            for f in panel.fastenings.values()
        ),
    )


@sheet(id="fixings", title="Fixings and why", place=41)
def fixing_sheet(panel: Panel, findings: Findings) -> tuple[Leaf, ...]:
    """Return the list of fixings."""
    pager = Pager(list_paper(panel.job.settings))
    if not panel.fastenings:
        pager.paragraph(NOTHING, bold=True)
        return pager.leaves()
    pager.paragraph(
        "Between two fixings a rail or duct is taken as a beam free to turn at its screws: a rail "
        "pulled off the plate by a snap-on device, a duct of PVC pushed along the plate by a hand "
        "and, where it lies across, half full of wires. A device hangs on its screws by friction: "
        "three times its weight in transport, 50 N pulled at its front. Loads, friction and sag are "
        "shop practice."
    )
    pager.table(_printed(print_table(fixing_table(panel, findings), panel.job.settings.units)))
    return pager.leaves()


def _printed(table: PrintTable) -> PrintTable:
    """Return the list as printed: things held alike, for the same reason, share a row."""
    rows: list[PrintRow] = []
    for alike, group in groupby(table.rows, key=lambda row: row.cells[1:]):
        rows.append(PrintRow(cells=(tags_words(row.cells[0] for row in group), *alike)))
    return replace(
        table,
        heads=(table.heads[0], table.heads[1], "Each", *table.heads[3:]),
        wraps=(any(len(row.cells[0]) > LONG for row in rows), *table.wraps[1:]),
        rows=tuple(rows),
    )
