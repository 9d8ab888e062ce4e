"""What ``platewright heat`` prints."""

from __future__ import annotations

import sys
from argparse import Namespace
from collections.abc import Iterator

from platewright.cli.words import SAFETY
from platewright.foundation.units import DegC, Mm
from platewright.heat.deep_panel import DeepAnswer, rows_apart
from platewright.heat.gap_table import GapTable
from platewright.heat.measures import measures
from platewright.model.heat import Banded, Needs, PanelHeat
from platewright.model.job import DisplayUnit
from platewright.model.lengths import whole_length
from platewright.tables.deep_validation import ValidationRow
from platewright.tables.heat_practice import taken


def heat(args: Namespace) -> int:
    """Say how warm it gets, or how much gap one device needs; or draw it."""
    from platewright.app.heat import heat_folder
    from platewright.app.heat_pictures import write_heat_picture

    if args.picture is not None:
        for note in write_heat_picture(args.job, args.picture):
            print(f"note: {note}", file=sys.stderr)
        print(f"wrote {args.picture}")
        print(SAFETY)
        return 0
    if args.deep:
        return _deep(args)
    found = heat_folder(args.job, args.device)
    for note in found.notes:
        print(f"note: {note}", file=sys.stderr)
    table, unit = found.table, found.unit
    lines = _panel(found.panel, found.needs, unit) if table is None else _table(table, unit)
    for line in lines:
        print(line)
    print("A simple model is not a type test. Losses are its weakest input.")
    print(SAFETY)
    return 0


def _deep(args: Namespace) -> int:
    """Solve the air's flow; Ctrl-C keeps the best so far."""
    from platewright.app.deep_heat import deep_folder
    from platewright.cli.progress import progress_line

    with progress_line(quiet=False) as progress:
        found = deep_folder(args.job, cell=args.cell, progress=progress)
    for note in found.notes:
        print(f"note: {note}", file=sys.stderr)
    for line in (*deep_lines(found.answer), *validation_lines(found.validation)):
        print(line)
    print("A simple model is not a type test. Losses are its weakest input.")
    print(SAFETY)
    return 0


def deep_lines(answer: DeepAnswer) -> Iterator[str]:
    """Yield what the deep check says beside the fast model."""
    field = answer.field
    cells = " × ".join(f"{size:.0f}" for size in field.cell)
    if not field.finished:
        yield (
            f"NOT CONVERGED: stopped after {field.seconds:.0f} s of flow on cells of {cells} mm. "
            "What follows is the best so far, not an answer."
        )
    told = f"mean of the last {field.averaged:.0f} s" if field.averaged else "its last moment"
    yield (
        f"Deep check: {field.seconds:.0f} s of air flow on cells of {cells} mm, {told}; mean air "
        f"{answer.mean:.1f} °C"
    )
    yield (
        f"  heat adds up to {100 * field.residual:.1g} %; {field.stored:+.1f} of {field.heat:.0f} W "
        "still warm the air"
    )
    yield f"{'device':10} {'deep, °C':>9} {'fast, °C':>9} {'deep - fast':>12} {'limit':>7}  by both"
    for row in answer.rows:
        limit = "-" if row.limit is None else f"{row.limit:g}"
        yield (
            f"{row.tag:10} {row.deep:9.1f} {row.fast.value:5.0f} ± {row.fast.band:.0f} "
            f"{row.difference:+10.1f} K {limit:>7}  {row.verdict}"
        )
    rms, mean, share = rows_apart(answer)
    yield (
        f"Deep less fast: {rms:.1f} K rms, {mean:+.1f} K mean; the fast model tells {share:.0%} of "
        "the devices more than 5 K too cool"
    )
    yield from (f"mind: {text}" for text in answer.cautions)


def validation_lines(rows: tuple[ValidationRow, ...]) -> Iterator[str]:
    """Yield how far the solver is off where the answer is known."""
    yield "How far the solver itself is off (docs/heat-validation.md):"
    for row in rows:
        yield (
            f"  {row.check + ', ' + row.cells:64} {row.found:8.4g} for {row.expected:<6g} {row.unit:3} "
            f"{row.error:>8}  aim {row.allowed}"
        )
    yield (
        "  cabinets: no measured one was at hand. Cells of 20 mm do not resolve the layers along "
        f"the walls: {taken('deep cell error'):.1f} K rms against finer cells on layouts like yours"
    )


def _banded(value: Banded) -> str:
    return f"{value.value:.0f} ± {value.band:.0f} °C"


def _panel(panel: PanelHeat, needs: Needs, unit: DisplayUnit) -> Iterator[str]:
    level = panel.level
    yield f"Heat inside: {panel.losses.total:.0f} W, outside air {level.outside:g} °C"
    yield f"  {panel.losses.parts}"
    yield f"Mean air inside: {_banded(level.inside)} (wanted at most {level.wanted:g} °C)"
    yield f"  by wall balance {level.by_walls:.1f} °C; " + (
        f"by the power law {level.by_power_law:.1f} °C"
        if level.by_power_law is not None
        else f"no power law: {level.no_power_law}"
    )
    if panel.devices:
        yield f"{'device':10} {'heat, W':>8} {'air at its foot':>18} {'housing':>18} {'limit':>7}"
    for one in panel.devices.values():
        limit = "-" if one.limit is None else f"{one.limit:g}"
        yield (
            f"{one.tag:10} {one.loss:8.1f} {_banded(one.air):>18} {_banded(one.surface):>18} "
            f"{limit:>7}"
        )
    placeless = [one for one in panel.losses.devices if one.tag not in panel.devices and one.watts]
    for loss in placeless:
        yield f"{loss.tag:10} {loss.watts:8.1f}   in the door or not placed: warms the mean air"
    if panel.losses.wires:
        yield f"{'wires':10} {panel.losses.wires:8.1f}   all along their routes: warm the mean air"
    if panel.devices:
        yield f"{'in all':10} {panel.losses.total:8.1f}"
    yield "What would hold the air wanted inside, each by itself:"
    yield from (f"  {what:32} {size}" for what, size in measures(needs, unit))
    for text in panel.assumed:
        yield f"assumed: {text}"
    for text in panel.cautions:
        yield f"mind: {text}"


def _told(gap: Mm | None, unit: DisplayUnit) -> str:
    return "none will do" if gap is None else whole_length(gap, unit)


def _table(table: GapTable, unit: DisplayUnit) -> Iterator[str]:
    yield (
        f"{table.tag}: {table.loss:g} W, {table.plate_conduction:g} W/K into the plate; duct at most "
        f"{table.duct_limit:g} °C, neighbour at most {table.neighbour_limit:g} °C"
    )
    yield "Hottest point of a duct beside it, °C, by gap and air inside:"
    airs: tuple[DegC, ...] = table.airs
    yield f"{f'gap, {unit.value}':>8} " + " ".join(f"{f'air {air:g}':>8}" for air in airs)
    for row in table.rows:
        yield f"{whole_length(row.gap, unit).split()[0]:>8} " + " ".join(
            f"{wall:8.0f}" for wall in row.walls
        )
    yield "Smallest gap, ± 25 %:"
    for need in table.needs:
        yield (
            f"  {need.side:7} in air of {need.air:g} °C: duct {_told(need.duct, unit)}, "
            f"neighbour {_told(need.neighbour, unit)}"
        )
    yield from _moves(table, unit)
    for note in table.notes:
        yield f"mind: {note}"


def _moves(table: GapTable, unit: DisplayUnit) -> Iterator[str]:
    """Yield the gap to a duct beside it, and beside it what moves it: more than the method does."""
    air = table.airs[len(table.airs) // 2]
    gap = next(need.duct for need in table.needs if need.side == "left" and need.air == air)
    yield (
        f"Beside it {_told(gap, unit)} in air of {air:g} °C. What moves that, one thing changed at a time:"
    )
    for one in table.sensitivities:
        change = ""
        if gap is not None and one.gap is not None:
            sign = "-" if one.gap < gap else "+"
            change = f"{sign}{whole_length(abs(one.gap - gap), unit)}"
        yield f"  {one.what:32} {_told(one.gap, unit):>12} {change:>8}"
