"""The terminal plan: what is connected to each terminal of each strip, side by side."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import zip_longest
from typing import Final

from platewright.drawing.table import Column, Quantity, Table
from platewright.drawing.table_print import PrintRow, PrintTable
from platewright.foundation.tag_order import tag_order
from platewright.model.panel import Panel
from platewright.sheets.page import Leaf, list_paper
from platewright.sheets.pager import Pager
from platewright.sheets.registry import Findings, listing, sheet

STRIPS: Final = ("terminal", "distribution block", "ground bar", "earth bar")
NO_STRIPS: Final = (
    "No part of this job is called a terminal strip, block or bar (kind in parts.csv)."
)
NOTES: Final = (
    (
        "Both sides of each strip, from left to right. Empty: nothing of this job's wires. Field "
        "leads are not in the job's list: write them in beside their terminal."
    ),
    "Jumpers and bridges are not in the job's data: mark them here when they are fitted.",
)
FIELD: Final = "____________________"


@listing(id="terminals", title="Terminal plan")
def terminal_table(panel: Panel, findings: Findings) -> Table:  # noqa: ARG001  (one shape for all)
    """Return each place of each strip: its upper and lower terminal with what is connected."""
    joined = _joined(panel)
    rows = []
    for tag in _strips(panel):
        part = panel.job.part_of(tag)
        pairs = _pairs(part.terminals_top, part.terminals_bottom)
        for place, (upper, lower) in enumerate(pairs, start=1):
            rows.append(
                (
                    tag,
                    place,
                    upper,
                    ", ".join(joined.get((tag, upper), ())),
                    lower,
                    ", ".join(joined.get((tag, lower), ())),
                )
            )
        for place, name in enumerate((*part.terminals_left, *part.terminals_right), start=1):
            rows.append((tag, place, name, ", ".join(joined.get((tag, name), ())), "", ""))
    return Table(
        title="Terminal plan",
        columns=(
            Column(name="strip", head="Strip"),
            Column(name="place", head="Place", quantity=Quantity.COUNT),
            Column(name="upper", head="Upper"),
            Column(name="upper_wires", head="Wire to", wraps=True),
            Column(name="lower", head="Lower"),
            Column(name="lower_wires", head="Wire to", wraps=True),
        ),
        rows=tuple(rows),
    )


@sheet(id="terminals", title="Terminal plan", place=54)
def terminal_sheet(panel: Panel, findings: Findings) -> tuple[Leaf, ...]:
    """Return one table for each strip."""
    pager = Pager(list_paper(panel.job.settings))
    table = terminal_table(panel, findings)
    if not table.rows:
        pager.paragraph(NO_STRIPS, bold=True)
        return pager.leaves()
    for note in NOTES:
        pager.paragraph(note)
    for tag in _strips(panel):
        rows = [row for row in table.rows if row[0] == tag]
        if rows:
            part = panel.job.part_of(tag)
            used = sum(bool(row[3]) + bool(row[5]) for row in rows)
            pager.heading(f"{tag}  {part.description or part.part}: {used} connected")
            pager.table(_printed([tuple(str(cell) for cell in row[1:]) for row in rows]))
    return pager.leaves()


def _printed(rows: list[tuple[str, ...]]) -> PrintTable:
    """Return a strip as printed; a free side has room for a field lead, a missing one none."""
    cells = [
        (
            place, upper, above or (FIELD if upper else ""),
            lower, below or (FIELD if lower else ""),
        )
        for place, upper, above, lower, below in rows
    ]  # fmt: skip
    is_used = [any(row[index] for row in cells) for index in range(5)]
    kept = [0, *(index for index in (1, 2) if is_used[1]), *(i for i in (3, 4) if is_used[3])]
    return PrintTable(
        heads=tuple(("Place", "Upper", "Wire to", "Lower", "Wire to")[index] for index in kept),
        to_right=tuple(index == 0 for index in kept),
        wraps=tuple(index in (2, 4) for index in kept),
        rows=tuple(PrintRow(cells=tuple(row[index] for index in kept)) for row in cells),
    )


def _pairs(upper: tuple[str, ...], lower: tuple[str, ...]) -> list[tuple[str, str]]:
    """Return the places of a strip: both sides beside each other where they are as many."""
    if upper and lower and len(upper) != len(lower):
        return [(name, "") for name in upper] + [("", name) for name in lower]
    return list(zip_longest(upper, lower, fillvalue=""))


def _strips(panel: Panel) -> tuple[str, ...]:
    """Return the devices that are strips, blocks or bars by the kind of their part."""
    return tuple(
        tag
        for tag in sorted(panel.job.devices, key=tag_order)
        if any(word in panel.job.part_of(tag).kind.lower() for word in STRIPS)
    )


def _joined(panel: Panel) -> dict[tuple[str, str], tuple[str, ...]]:
    """Return, by device and terminal, the wires there with their other ends."""
    found: dict[tuple[str, str], list[str]] = {}
    for terminal, words in _all_ends(panel):
        found.setdefault(terminal, []).append(words)
    return {terminal: tuple(words) for terminal, words in found.items()}


def _all_ends(panel: Panel) -> Iterator[tuple[tuple[str, str], str]]:
    for wire in panel.job.wires:
        size = f"{wire.size} {wire.colour}".strip()
        for here, there in ((wire.start, wire.end), (wire.end, wire.start)):
            yield (here.device, here.terminal), f"{wire.number}: {there} ({size})"
