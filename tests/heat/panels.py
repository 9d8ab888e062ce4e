"""Panels of any number of devices for the tests of heat."""

from __future__ import annotations

import dataclasses
import random

from platewright.model.device import Device
from platewright.model.job import Air, DuctStock, Enclosure, Job, JobSettings, Plate, Stock, Title
from platewright.model.layout import Duct, Layout, Placement, Run
from platewright.model.panel import Panel
from platewright.model.part import Mount, Part
from platewright.model.pieces import CutPlan
from platewright.model.routes import Routes

SIZES = ((18, 90, 70, 2.0), (45, 90, 90, 5.0), (22.5, 100, 110, 3.0), (90, 115, 100, 30.0))


def settings(**air):
    return JobSettings(
        job=Title(title="heat"),
        enclosure=Enclosure(width=800, height=1000, depth=300, door_inside=270),
        air=Air(outside=25.0, inside=45.0, **air),
        plate=Plate(width=740, height=940, thickness=2.5),
        stock=Stock(ducts=(DuctStock(name="40x60", width=40, height=60),)),
    )


def panel_of(parts, places, *, ducts=None, **air):
    """``parts``: tag -> (width, height, depth, heat); ``places``: tag -> lower left corner."""
    made = {
        tag: Part(
            part=tag, width=w, height=h, depth=d, heat=heat, mount=Mount.RAIL, heat_limit=60.0
        )
        for tag, (w, h, d, heat) in parts.items()
    }
    return Panel(
        job=Job(
            settings=settings(**air),
            parts=made,
            devices={tag: Device(tag=tag, part=tag) for tag in parts},
            wires=(),
        ),
        layout=Layout(
            devices={tag: Placement(x=x, y=y) for tag, (x, y) in places.items()},
            ducts=ducts or {},
        ),
        clear={}, wiring={}, outer_diameters={}, routes=Routes(wires={}, loads={}),
        cuts=CutPlan(bars=(), bounds=()),
    )  # fmt: skip


def rows(count=24, seed=1, **air):
    """Rows of mixed devices between ducts."""
    chance = random.Random(seed)
    parts, places, ducts = {}, {}, {}
    x, y, row = 60.0, 740.0, 0
    for number in range(count):
        size = chance.choice(SIZES)
        if x + size[0] > 680:
            x, y, row = 60.0, y - 200, row + 1
        parts[f"-K{number}"], places[f"-K{number}"] = size, (x, y)
        x += size[0] + chance.choice((0.0, 3.0, 20.0))
    for number in range(row + 2):
        ducts[f"D{number}"] = Duct(
            x=10, y=860 - 200 * number, length=720, width=40, height=60, run=Run.ACROSS
        )
    return panel_of(parts, places, ducts=ducts, **air)


def mirrored(panel):
    """The same plate seen in a mirror."""
    width = panel.job.settings.plate.width
    layout = panel.layout
    return dataclasses.replace(
        panel,
        layout=dataclasses.replace(
            layout,
            devices={
                tag: Placement(x=width - at.x - panel.job.part_of(tag).width, y=at.y)
                for tag, at in layout.devices.items()
            },
            ducts={
                tag: dataclasses.replace(duct, x=width - duct.box.right)
                for tag, duct in layout.ducts.items()
            },
        ),
    )


def hotter(panel, factor, tags=None):
    """The same panel with the heat of some parts multiplied."""
    parts = {
        name: dataclasses.replace(part, heat=part.heat * factor)
        if tags is None or name in tags
        else part
        for name, part in panel.job.parts.items()
    }
    return dataclasses.replace(panel, job=dataclasses.replace(panel.job, parts=parts))
