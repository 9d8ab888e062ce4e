"""What ``platewright heat`` prints."""

from __future__ import annotations

import sys
from argparse import Namespace
from collections.abc import Iterator

from platewright.cli.words import SAFETY
from platewright.foundation.units import DegC, Mm
from platewright.heat.gap_table import GapTable
from platewright.model.heat import Banded, PanelHeat


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
    found = heat_folder(args.job, args.device)
    for note in found.notes:
        print(f"note: {note}", file=sys.stderr)
    lines = _panel(found.panel) if found.table is None else _table(found.table)
    for line in lines:
        print(line)
    print("A simple model is not a type test. Losses are its weakest input.")
    print(SAFETY)
    return 0


def _banded(value: Banded) -> str:
    return f"{value.value:.0f} ± {value.band:.0f} °C"


def _panel(panel: PanelHeat) -> Iterator[str]:
    level = panel.level
    yield f"Heat inside: {panel.losses.total:.0f} W, outside air {level.outside:g} °C"
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
    for text in panel.assumed:
        yield f"assumed: {text}"
    for text in panel.cautions:
        yield f"mind: {text}"


def _told(gap: Mm | None) -> str:
    return "none will do" if gap is None else f"{gap:.0f} mm"


def _table(table: GapTable) -> Iterator[str]:
    yield (
        f"{table.tag}: {table.loss:g} W, {table.plate_conduction:g} W/K into the plate; duct at most "
        f"{table.duct_limit:g} °C, neighbour at most {table.neighbour_limit:g} °C"
    )
    yield "Hottest point of a duct beside it, °C, by gap and air inside:"
    airs: tuple[DegC, ...] = table.airs
    yield f"{'gap, mm':>8} " + " ".join(f"{f'air {air:g}':>8}" for air in airs)
    for row in table.rows:
        yield f"{row.gap:8g} " + " ".join(f"{wall:8.0f}" for wall in row.walls)
    yield "Smallest gap, ± 25 %:"
    for need in table.needs:
        yield (
            f"  {need.side:7} in air of {need.air:g} °C: duct {_told(need.duct)}, "
            f"neighbour {_told(need.neighbour)}"
        )
    yield "What moves it most:"
    for one in table.sensitivities:
        yield f"  {one.what}: {_told(one.gap)}"
