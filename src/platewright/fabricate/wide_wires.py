"""Wires that are thicker than the slot between two fingers: a finger is broken out for them.

Thinner wires leave a duct between its fingers, which are kept. Where a duct meets another, the
wall is opened over the whole branch anyway (``joints``).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import Mm
from platewright.model.geometry import Point
from platewright.model.layout import Duct, Layout, Run
from platewright.model.routes import Routes
from platewright.tables.ducts import duct_practice

SAME_PLACE: Mm = 10.0  # exits nearer than this share an opening


@dataclass(frozen=True, slots=True, kw_only=True)
class WideExit:
    """A place where fingers are broken out: wall, place from the low end, the wires, the thickest."""

    wall: str
    at: Mm
    wires: tuple[str, ...]
    thickest: Mm


def wide_exits(
    layout: Layout, routes: Routes, diameters: Mapping[str, Mm]
) -> dict[str, tuple[WideExit, ...]]:
    """Return, by duct, where a wire thicker than a slot leaves it to a device."""
    slot = duct_practice().slot
    found: dict[str, list[WideExit]] = {}
    for number in sorted(routes.wires, key=tag_order):
        route, thick = routes.wires[number], diameters.get(number, 0.0)
        if thick <= slot or not route.stretches or len(route.path) < 2:
            continue
        first, last = route.stretches[0], route.stretches[-1]
        for tag, at, end in (
            (first.duct, first.start, route.path[0]),
            (last.duct, last.end, route.path[-1]),
        ):
            if tag in layout.ducts:
                wall = _wall(layout.ducts[tag], end)
                _add(found.setdefault(tag, []), WideExit(
                    wall=wall, at=at, wires=(number,), thickest=thick,
                ))  # fmt: skip
    return {tag: tuple(sorted(exits, key=lambda e: (e.wall, e.at)))
            for tag, exits in sorted(found.items())}  # fmt: skip


def _add(exits: list[WideExit], new: WideExit) -> None:
    for index, old in enumerate(exits):
        if old.wall == new.wall and abs(old.at - new.at) < SAME_PLACE:
            exits[index] = WideExit(
                wall=old.wall, at=old.at, wires=(*old.wires, *new.wires),
                thickest=max(old.thickest, new.thickest),
            )  # fmt: skip
            return
    exits.append(new)


def _wall(duct: Duct, terminal: Point) -> str:
    """Return the wall that faces a terminal."""
    centre = duct.box.centre
    if duct.run is Run.ACROSS:
        return "upper" if terminal.y >= centre.y else "lower"
    return "right" if terminal.x >= centre.x else "left"
