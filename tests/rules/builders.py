"""Small hand-made panels for the tests of rules: each thing with only what a test needs."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Mapping
from typing import Any

from platewright.foundation.sources import Source, Standing
from platewright.model.device import Device
from platewright.model.finding import Finding, Verdict
from platewright.model.job import (
    Air,
    DuctStock,
    Enclosure,
    Group,
    Job,
    JobSettings,
    Limits,
    Plate,
    Practice,
    RailStock,
    Stock,
    Title,
)
from platewright.model.layout import Duct, Hole, HoleKind, HoleState, Layout, Placement, Rail, Run
from platewright.model.need import ClearSpace, Need, WiringSpace
from platewright.model.panel import Panel
from platewright.model.part import Mount, Part
from platewright.model.pieces import CutPlan
from platewright.model.routes import Routes
from platewright.model.wire import End, SizeSystem, Wire, WireSize
from platewright.rules.registry import run_rules

STATED = Source("parts.csv", "clear space", Standing.JOB)
ASSUMED = Source("shop practice", "clear space", Standing.PRACTICE)
COVERS_NONE: Mapping[str, Any] = {
    f"cover_{side}": 0.0 for side in ("left", "right", "top", "bottom", "front")
}


def part(name: str = "box", **fields: Any) -> Part:
    """A part of 40 × 80 × 60 with no covers, on screws unless said otherwise."""
    usual: dict[str, Any] = {
        "width": 40.0,
        "height": 80.0,
        "depth": 60.0,
        "mount": Mount.SCREWS,
        **COVERS_NONE,
    }
    return Part(part=name, **(usual | fields))


def need(room: float, *, stated: bool = True, reason: str = "") -> Need:
    return Need(room, STATED if stated else ASSUMED, reason, stated)


def clear(**rooms: Need) -> ClearSpace:
    """Clear space with none on the sides not named."""
    return ClearSpace(
        **{side: rooms.get(side, need(0.0)) for side in ("left", "right", "top", "bottom")}
    )


def duct(x: float, y: float, length: float, run: Run = Run.ACROSS, **fields: Any) -> Duct:
    usual: dict[str, Any] = {"width": 40.0, "height": 60.0, "stock": "40x60"}
    return Duct(x=x, y=y, length=length, run=run, **(usual | fields))


def rail(x: float, y: float, length: float, **fields: Any) -> Rail:
    return Rail(x=x, y=y, length=length, **fields)


def hole(x: float, y: float, holds: str = "", **fields: Any) -> Hole:
    usual: dict[str, Any] = {
        "kind": HoleKind.TAPPED,
        "size": "M5",
        "drill": 4.2,
        "state": HoleState.PLANNED,
    }
    return Hole(x=x, y=y, holds=holds, **(usual | fields))


def wire(number: str, start: str, end: str, **fields: Any) -> Wire:
    """A wire between two ends written device:terminal."""
    usual: dict[str, Any] = {"size": WireSize("1.5", SizeSystem.MM2)}
    a, b = start.split(":"), end.split(":")
    return Wire(number=number, start=End(*a), end=End(*b), **(usual | fields))


def settings(**fields: Any) -> JobSettings:
    """A plate of 800 × 600 × 2.5 with no edge margin, door 200 in front of it.

    ``plate``, ``enclosure``, ``limits``, ``stock`` take the fields that differ.
    """
    plate = {"width": 800.0, "height": 600.0, "thickness": 2.5, "edge_margin": 0.0}
    enclosure = {"width": 900.0, "height": 700.0, "depth": 250.0, "door_inside": 200.0}
    stock = {
        "ducts": (DuctStock(name="40x60", width=40.0, height=60.0),),
        "rail": RailStock(),
    }
    return JobSettings(
        job=Title(title="test"),
        practice=fields.get("practice", Practice.IEC),
        enclosure=Enclosure(**(enclosure | fields.get("enclosure", {}))),
        plate=Plate(**(plate | fields.get("plate", {}))),
        groups=tuple(Group(name=name) for name in fields.get("groups", ())),
        limits=Limits(**fields.get("limits", {})),
        air=Air(**fields.get("air", {})),
        stock=Stock(**(stock | fields.get("stock", {}))),
    )


def panel(
    *,
    parts: Iterable[Part] = (),
    devices: Iterable[tuple[Device, tuple[float, float] | None]] = (),
    wires: Iterable[Wire] = (),
    layout: Mapping[str, Any] | None = None,
    job: JobSettings | None = None,
    **fields: Any,
) -> Panel:
    """A panel: devices with the lower left corner of their bodies (``None``: not placed).

    ``fields`` are those of Panel; clear space not named is none, wiring space not named is free.
    """
    stood = list(devices)
    usual: dict[str, Any] = {
        "clear": {device.tag: clear() for device, _ in stood},
        "wiring": dict[str, WiringSpace](),
        "outer_diameters": dict[str, float](),
        "routes": Routes(wires={}, loads={}),
        "cuts": CutPlan(bars=(), bounds=()),
    }
    return Panel(
        job=Job(
            settings=job or settings(),
            parts={one.part: one for one in parts},
            devices={device.tag: device for device, _ in stood},
            wires=tuple(wires),
        ),
        layout=Layout(
            devices={device.tag: Placement(x=at[0], y=at[1]) for device, at in stood if at},
            **(layout or {}),
        ),
        **(usual | fields),
    )


def boxes(*places: tuple[float, float], **part_fields: Any) -> dict[str, Any]:
    """Devices -A1, -A2 … of one part at these places, as arguments of ``panel``."""
    return {
        "parts": [part(**part_fields)],
        "devices": [
            (Device(tag=f"-A{number}", part="box"), place)
            for number, place in enumerate(places, start=1)
        ],
    }


def device(tag: str, part: str = "box", **fields: Any) -> Device:
    return Device(tag=tag, part=part, **fields)


def told(rule_id: str, of: Panel) -> tuple[Finding, ...]:
    """Findings of one rule."""
    return run_rules(of, only=(rule_id,))


def verdict(rule_id: str, of: Panel) -> Verdict:
    """The worst verdict of one rule; what is missed must carry a cure and, in space, a place."""
    findings = told(rule_id, of)
    for found in findings:
        if found.verdict in (Verdict.FAIL, Verdict.CAUTION, Verdict.UNDECIDED):
            assert found.cure, found
            assert found.message, found
    for found in findings:
        if found.verdict is Verdict.PASS and not found.subject:
            assert len(findings) == 1, f"all is told to be well beside {findings[0]}"
    return findings[0].verdict


def with_job(of: Panel, **fields: Any) -> Panel:
    """The same panel under other settings."""
    return dataclasses.replace(of, job=dataclasses.replace(of.job, settings=settings(**fields)))
