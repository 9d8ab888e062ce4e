"""A plain job for the tests of cutting and drilling."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from platewright.model.device import Device
from platewright.model.job import (
    DuctStock,
    Enclosure,
    FixingHole,
    Job,
    JobSettings,
    Limits,
    Plate,
    Stock,
    Title,
)
from platewright.model.part import Mount, Part

PLATE = Plate(
    width=800,
    height=600,
    thickness=2.5,
    fixing_holes=(FixingHole(x=20, y=20), FixingHole(x=780, y=20)),
)
STOCK = Stock(
    ducts=(
        DuctStock(name="40x60", width=40, height=60),
        DuctStock(name="80x80", width=80, height=80),
    )
)
PARTS = {
    "block": Part(part="block", width=45, height=80, depth=70, mount=Mount.RAIL, rail_center=40),
    "heavy": Part(
        part="heavy", width=90, height=80, depth=90, mount=Mount.RAIL, rail_center=40, mass=1.5
    ),
    "drive": Part(
        part="drive",
        width=100,
        height=200,
        depth=150,
        mount=Mount.SCREWS,
        hole_pattern_width=80,
        hole_pattern_height=180,
        screw="M5",
    ),
    "bar": Part(
        part="bar",
        width=160,
        height=12,
        depth=30,
        mount=Mount.SCREWS,
        hole_pattern_width=145,
        hole_pattern_height=0,
        screw="M6",
    ),
    "unstated": Part(part="unstated", width=50, height=50, depth=50, mount=Mount.SCREWS),
}


@pytest.fixture
def make_job() -> Callable[..., Job]:
    """Return a maker of jobs: plate, stock, limits, and devices as tag=part."""

    def make(
        devices: dict[str, str] | None = None,
        *,
        plate: Plate = PLATE,
        stock: Stock = STOCK,
        limits: Limits | None = None,
        **changes: object,
    ) -> Job:
        settings = JobSettings(
            job=Title(title="test"),
            enclosure=Enclosure(width=900, height=700, depth=300, door_inside=250),
            plate=replace(plate, **changes),
            stock=stock,
            limits=limits or Limits(),
        )
        placed = {tag: Device(tag=tag, part=part) for tag, part in (devices or {}).items()}
        return Job(settings=settings, parts=PARTS, devices=placed, wires=())

    return make
