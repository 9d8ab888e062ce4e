"""The torque sheet: every screw, how far it is turned, by whose word, signed and marked."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.drawing.table import Cell, Column, Quantity, Table
from platewright.drawing.table_print import PrintRow, PrintTable
from platewright.fabricate.access import driver_for, standing
from platewright.fabricate.torques import tightening
from platewright.foundation.sources import Standing as Grade
from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import NM_PER_LB_IN, Nm
from platewright.model.job import Practice
from platewright.model.layout import Hole, HoleKind
from platewright.model.lengths import whole_length
from platewright.model.panel import Panel
from platewright.sheets.page import Leaf, list_paper
from platewright.sheets.pager import Pager
from platewright.sheets.registry import Findings, listing, sheet
from platewright.tables.tools import tool
from platewright.tables.torques import clamp_torques, wire_torque

LINE: Final = "_________"
OPEN: Final = "open"
NONE: Final = "–"  # spring terminals and rivets: nothing is turned, nothing is signed
NOTHING: Final = "No screws yet: there is no layout. Run the plan, then print again."
NOTES: Final = (
    (
        "Order of authority: label on the device, its data sheet, the standard for its screw. "
        "'Open': nobody has stated it; read it off the device, write it in, and tighten to that."
    ),
    (
        "Tighten once, with a tool that is in calibration; then a thin line of paint across screw "
        "and part (seal mark). Reading the torque again later proves nothing: joints settle. A "
        "second person checks and marks in another colour."
    ),
)


@listing(id="torques", title="Torques")
def torque_table(panel: Panel, findings: Findings) -> Table:  # noqa: ARG001
    """Return the fixing screws of every thing, then the terminals of every device."""
    return Table(
        title="Torques",
        columns=(
            Column(name="what", head="What"),
            Column(name="tag", head="Tag"),
            Column(name="screws", head="Screws"),
            Column(name="count", head="No.", quantity=Quantity.COUNT),
            Column(name="torque", head="N·m", quantity=Quantity.NUMBER, unit="nm"),
            Column(name="torque_lb", head="lb·in", quantity=Quantity.NUMBER, unit="lbin"),
            Column(name="basis", head="By", wraps=True),
        ),
        rows=(*_fixings(panel), *_terminals(panel)),
    )


@sheet(id="torques", title="Torque sheet", place=46)
def torque_sheet(panel: Panel, findings: Findings) -> tuple[Leaf, ...]:
    """Return the torques with room to sign and to tick the seal mark."""
    pager = Pager(list_paper(panel.job.settings))
    table = torque_table(panel, findings)
    if not panel.layout.holes:
        pager.paragraph(NOTHING, bold=True)
        if not table.rows:
            return pager.leaves()
    for note in NOTES:
        pager.paragraph(note)
    for group, title in (("fixing", "Screws in the plate"), ("terminal", "Terminals")):
        rows = [row for row in table.rows if row[0] == group]
        if rows:
            pager.heading(title)
            pager.table(_printed(rows))
    pager.paragraph(f"Torque tool no. {LINE}{LINE}   calibrated until {LINE}{LINE}")
    return pager.leaves()


def _printed(rows: list[tuple[Cell, ...]]) -> PrintTable:
    return PrintTable(
        heads=("Tag", "Screws", "No.", "N·m", "lb·in", "By", "Signed", "Checked", "Mark"),
        to_right=(False, False, True, True, True, False, False, False, False),
        wraps=(False, True, False, False, False, True, False, False, False),
        rows=tuple(
            PrintRow(
                cells=(
                    str(tag), str(screws), str(count), _number(torque), _number(pounds, 0),
                    str(basis), *((NONE,) * 3 if torque == 0 else (LINE, LINE, "[   ]")),
                )
            )
            for _, tag, screws, count, torque, pounds, basis in rows
        ),
    )  # fmt: skip


def _number(value: Cell, decimals: int = 2) -> str:
    if value is None:
        return OPEN
    if value == 0:
        return NONE
    return f"{value:.{decimals}f}" if isinstance(value, float) else str(value)


def _pounds(torque: Nm | None) -> float | None:
    return None if torque is None else round(torque / NM_PER_LB_IN, 1)


def _fixings(panel: Panel) -> Iterator[tuple[Cell, ...]]:
    """Yield the screws of each thing that are tightened alike, with the driver they need."""
    layout = panel.layout
    for tag in sorted({*layout.devices, *layout.rails, *layout.ducts}, key=tag_order):
        alike: dict[tuple[HoleKind, str], list[Hole]] = {}
        for hole in layout.holes.values():
            if hole.holds == tag:
                alike.setdefault((hole.kind, hole.size), []).append(hole)
        for (kind, size), holes in alike.items():
            words = _screw_words(kind, size) + _driver_words(panel, tag, holes)
            if kind is HoleKind.RIVET:
                yield "fixing", tag, words, len(holes), 0.0, 0.0, "set: no torque"
                continue
            found = tightening(panel.job, layout, holes[0])
            basis = (
                "nobody: see the device" if found.source is None else _grade(found.source.standing)
            )
            if found.reason:
                basis += f": {found.reason}"
            pounds = _pounds(found.torque)
            yield "fixing", tag, words, len(holes), found.torque, pounds, basis


def _grade(standing: Grade) -> str:
    return {Grade.JOB: "part's data", Grade.PRACTICE: "shop practice"}.get(standing, str(standing))


def _screw_words(kind: HoleKind, size: str) -> str:
    return {
        HoleKind.TAPPED: size,
        HoleKind.CLEARANCE: f"{size} with nut",
        HoleKind.RIVET: f"rivet {size}",
        HoleKind.SELF_TAPPING: f"{size} self-tapping",
    }[kind]


def _driver_words(panel: Panel, tag: str, holes: list[Hole]) -> str:
    """Return which screwdriver is needed where the usual one does not reach.

    Rails and ducts are tightened before the devices stand beside them.
    """
    layout, job = panel.layout, panel.job
    others = [*layout.rails, *layout.ducts]
    if tag in layout.devices:
        others += layout.devices
    things = [standing(job, layout, other) for other in others if other != tag]
    needed = [driver_for(hole.centre, things) for hole in holes]
    found = [driver for driver in needed if driver is not None]
    if len(found) < len(needed):
        return ", before its neighbours"
    longest = max(driver.length for driver in found)
    slim = min(driver.blade for driver in found) < tool("blade diameter")
    if longest <= tool("usual blade") and not slim:
        return ""
    return f", {'slim ' if slim else ''}blade {whole_length(longest, job.settings.units)}"


def _terminals(panel: Panel) -> Iterator[tuple[Cell, ...]]:
    """Yield the terminals of each device that a wire is connected to."""
    used: dict[str, set[str]] = {}
    for wire in panel.job.wires:
        for end in (wire.start, wire.end):
            used.setdefault(end.device, set()).add(end.terminal)
    for tag in sorted(used.keys() & panel.job.devices.keys(), key=tag_order):
        part = panel.job.part_of(tag)
        if part.terminal_torque == 0:
            yield "terminal", tag, "spring", len(used[tag]), 0.0, 0.0, "no screw"
            continue
        torque = part.terminal_torque
        basis = "part's data" if torque is not None else _usual(panel, tag)
        yield "terminal", tag, "terminals", len(used[tag]), torque, _pounds(torque), basis


def _usual(panel: Panel, tag: str) -> str:
    """Return what the standards give by screw or by wire, to be chosen at the device."""
    if panel.job.settings.practice is Practice.NORTH_AMERICA:
        sizes = {w.size for w in panel.job.wires if tag in (w.start.device, w.end.device)}
        rows = {wire_torque(s.number) for s in sizes} - {None}
        slots = sorted((row.narrow_slot, row.wide_slot) for row in rows if row is not None)
        if slots:
            pairs = "; ".join(
                f"{a / NM_PER_LB_IN:.0f} or {b / NM_PER_LB_IN:.0f} lb·in" for a, b in slots
            )
            return f"device silent: by UL 486A-B {pairs}, small or large slot"
    screws = ", ".join(
        f"{row.screw} {row.torque:g}"
        for row in clamp_torques()
        if row.screw in ("M3", "M3.5", "M4", "M5")
    )
    return f"device silent: by IEC 60947-1 {screws}"
