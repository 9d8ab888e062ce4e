"""Values from standards, handbooks and hand calculations that the program must come to.

``values.csv`` holds them. Ids T-n and V-n are the numbered check values of two independent
collections of trade values; the others name what they check.
"""

import csv
import json
import math
from collections.abc import Callable
from pathlib import Path

import pytest

from platewright.foundation.units import MM_PER_INCH
from platewright.model.job import Practice
from platewright.model.wire import End, SizeSystem, Wire, WireSize
from platewright.tables.bending_space import bending_space
from platewright.tables.ferrules import ferrule_colour
from platewright.tables.rails import rail_profile, rail_rating
from platewright.tables.sheet_gauges import sheet_gauge
from platewright.tables.threads import thread
from platewright.wiring.bend_radius import bend_radius
from platewright.wiring.copper import (
    conductor_area,
    conductor_resistance,
    resistance_at,
    solid_resistance,
)
from platewright.wiring.duct_fill import duct_fill, outer_area
from platewright.wiring.duct_inside import duct_inside
from platewright.wiring.outer_diameter import outer_diameter
from platewright.wiring.wire_length import cut_length

VALUES = Path(__file__).with_name("values.csv")
KM_PER_KFT = 0.3048


def size(number: str, system: str) -> WireSize:
    return WireSize(number, SizeSystem(system))


def diameter(number: str, system: str, kind: str) -> float:
    wire = Wire(
        number="1",
        start=End("-A1", "1"),
        end=End("-A2", "1"),
        size=size(number, system),
        type=kind,
    )
    found = outer_diameter(wire, Practice.IEC)
    assert found is not None
    return found


def resistance(number: str, system: str, at: float) -> float:
    found = conductor_resistance(size(number, system), at=at)
    assert found is not None
    return found


def rail_section(name: str) -> float:
    rail = rail_profile(name)
    assert rail is not None
    return (rail.width + 2 * (rail.height - rail.thickness)) * rail.thickness


def fill(wires: list[tuple[int, str, str, str]], inside: float) -> float:
    diameters = [diameter(*wire) for count, *wire in wires for _ in range(count)]
    return duct_fill(diameters, inside=inside)


FUNCTIONS: dict[str, Callable[..., object]] = {
    "bend_radius": bend_radius,
    "bending": lambda number, field: getattr(bending_space(size(number, "AWG")), field),
    "conductor_area": lambda **written: conductor_area(size(**written)),
    "cut_length": cut_length,
    "drop": lambda length_m, current, **written: (
        2 * length_m / 1000 * resistance(**written, at=20) * current
    ),
    "duct_fill": fill,
    "duct_inside": lambda width, height: duct_inside(width=width, height=height, stated=None)[0],
    "ferrule": lambda **written: ferrule_colour(size(**written)).colour,
    "forming_pilot": lambda name, thickness: thread(name).forming_pilot_in(thickness).pilot,
    "gauge_area": lambda number: conductor_area(size(number, "AWG")),
    "pe": lambda length_m, **written: length_m * resistance(**written, at=20),
    "rail": lambda **names: rail_rating(**names).short_time,
    "rail_section": rail_section,
    "resistance": resistance,
    "resistance_at": resistance_at,
    "resistance_kft": lambda **written: resistance(**written) * KM_PER_KFT,
    "sheet": lambda **names: sheet_gauge(**names).thickness,
    "solid_resistance": lambda number, at: solid_resistance(
        conductor_area(size(number, "AWG")), at=at
    ),
    "thread": lambda name, field: getattr(thread(name), field),
    "thread_stress_in2": lambda name: thread(name).stress_area / MM_PER_INCH**2,
    "wire_area": lambda **written: outer_area(diameter(**written)),
    "wire_area_in2": lambda **written: outer_area(diameter(**written)) / MM_PER_INCH**2,
    "wire_diameter": diameter,
}


def rows() -> list[dict[str, str]]:
    with VALUES.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("row", [pytest.param(row, id=row["id"]) for row in rows()])
def test_value_is_that_of_its_source(row: dict[str, str]) -> None:
    value = FUNCTIONS[row["function"]](**json.loads(row["inputs_json"]))
    if isinstance(value, float):
        expected, tolerance = float(row["expected"]), float(row["tolerance"])
        assert abs(value - expected) <= tolerance, (
            f"{value!r}, {row['source']} {row['page']} says {expected:g} ± {tolerance:g}"
        )
    else:
        assert str(value) == row["expected"], f"{row['source']} {row['page']}"


def test_every_value_says_where_it_is_from() -> None:
    ids = [row["id"] for row in rows()]
    assert len(ids) == len(set(ids))
    for row in rows():
        assert all(row[column] for column in ("source", "page", "tolerance_reason")), row["id"]
        assert row["standing"] in {"published", "memory", "practice"}, row["id"]
        assert math.isfinite(float(row["tolerance"])), row["id"]


def test_every_function_is_used() -> None:
    assert {row["function"] for row in rows()} == set(FUNCTIONS)
