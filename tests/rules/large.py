"""A made-up large panel: rows of devices between ducts, with rails, holes, wires and loads."""

from __future__ import annotations

from typing import Any

from platewright.model.job import FixingHole
from platewright.model.layout import Run
from platewright.model.need import WiringSpace
from platewright.model.panel import Panel
from platewright.model.part import Mount
from platewright.model.routes import DuctLoad, Route, Routes

from .builders import clear, device, duct, hole, need, panel, part, rail, settings, wire

PITCH = 240.0  # one row and its duct


def large_panel(rows: int = 10, per_row: int = 30, wires: int = 1000) -> Panel:
    """Return ``rows`` × ``per_row`` devices that stand as a builder would put them."""
    parts = [
        part("rail", mount=Mount.RAIL, rail_center=40.0, snap_travel=5.0, **_data()),
        part("screws", hole_pattern_width=30.0, hole_pattern_height=60.0, screw="M5", **_data()),
    ]
    stood, layout = [], {"ducts": {}, "rails": {}, "holes": {}}
    width = 60.0 + per_row * 50.0 + 60.0
    for row in range(rows):
        base = 20.0 + row * PITCH
        layout["ducts"][f"U{row}"] = duct(60, base, width - 120)
        body = base + 40.0 + 50.0
        for at in range(per_row):
            tag, x = f"-A{row * per_row + at + 1}", 65.0 + at * 50.0
            kind = "rail" if at < per_row * 0.6 else "screws"
            group = ("M", "C", "D")[min(int(at / per_row * 3), 2)]
            stood.append((device(tag, part=kind, group=(group,)), (x, body)))
            if kind == "screws":
                for n, (dx, dy) in enumerate(((5, 10), (35, 10), (5, 70), (35, 70))):
                    layout["holes"][f"H{tag}{n}"] = hole(x + dx, body + dy, tag)
        layout["rails"][f"R{row}"] = rail(65, body + 40, per_row * 30.0)
    layout["ducts"][f"U{rows}"] = duct(60, 20.0 + rows * PITCH, width - 120)
    for side, x in (("L", 20.0), ("R", width - 60.0)):
        layout["ducts"][side] = duct(x, 20, rows * PITCH + 40, Run.UPRIGHT)
    _fix(layout)
    return panel(
        parts=parts,
        devices=stood,
        wires=_wires(wires, len(stood)),
        layout=layout,
        clear={one.tag: clear(top=need(30), bottom=need(30), left=need(5)) for one, _ in stood},
        wiring={one.tag: WiringSpace(top=need(40), bottom=need(40)) for one, _ in stood},
        outer_diameters={str(number): 3.0 for number in range(wires)},
        routes=_routes(wires, layout),
        job=settings(
            groups=("M", "C", "D"),
            plate={
                "width": width,
                "height": rows * PITCH + 80.0,
                "edge_margin": 10.0,
                "fixing_holes": tuple(
                    FixingHole(x=x, y=y, keep_out=15.0) for x in (10.0, width - 10) for y in (8.0,)
                ),
            },
            limits={"spare": 0.01},
        ),
    )


def _data() -> dict[str, Any]:
    return {"heat": 3.0, "mass": 0.4, "mount_torque": 2.0, "terminals_top": ("1", "2")}


def _fix(layout: dict[str, Any]) -> None:
    for tag, piece in (*layout["rails"].items(), *layout["ducts"].items()):
        is_duct = tag in layout["ducts"]
        is_across = piece.run is Run.ACROSS
        off = piece.width / 2 if is_duct else 0.0
        for n in range(7):
            along = 30.0 + n * (piece.length - 60.0) / 6
            x, y = (
                (piece.x + along, piece.y + off) if is_across else (piece.x + off, piece.y + along)
            )
            layout["holes"][f"H{tag}{n}"] = hole(x, y, tag)


def _wires(count: int, devices: int) -> list[Any]:
    return [
        wire(
            str(number),
            f"-A{number % devices + 1}:1",
            f"-A{(number * 7 + 1) % devices + 1}:2",
            group="M",
        )
        for number in range(count)
    ]


def _routes(count: int, layout: dict[str, Any]) -> Routes:
    wires = {
        str(number): Route(wire=str(number), path=(), stretches=(), run=500.0, cut=620.0)
        for number in range(count)
    }
    loads = {
        tag: DuctLoad(duct=tag, at=50.0, wires=90, area=640.0, inside=2053.5, assumed=True)
        for tag in layout["ducts"]
    }
    return Routes(wires=wires, loads=loads)
