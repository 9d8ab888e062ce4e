"""Values of heat that the program must come to: worked examples, exact solutions, tables.

``heat_values.csv`` holds them. HEAT-n and HEAT2-n are the numbered check values of two independent
collections; those of their prototypes are second program texts of the same formulas, not
measurements (standing: practice). Left out: values of correlations that are not used here
(HEAT-3 constant flux plate, HEAT-8 level closed gap, HEAT2-24 plume of a ventilation handbook), of
a zonal network that was not built (HEAT2-29 to 31), HEAT2-22a, whose inner exchange is not told,
and HEAT2-25, which ``tests/heat/test_plate.py`` holds as Bessel's exact field. Elsewhere: HEAT-12
to 19 and 24 to 26 (flow solver) in ``tests/heat/solvers`` and ``bench_heat_deep.py``; HEAT-28 in
``test_plate.py``; HEAT-29, 30 in ``test_local_air.py``; HEAT-36 in ``test_panel_heat.py`` and
``test_gap.py``; HEAT-44 in ``bench_heat.py``. Twice in both: HEAT-23 is 4b, HEAT2-1, 10, 16, 21
are HEAT-1, 10, 21, 31.
"""

import csv
import json
import math
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from scipy.optimize import brentq, minimize_scalar

from platewright.heat import air, films, gap, radiation
from platewright.heat.balance import Skin, Surroundings, balance, no_flow
from platewright.heat.flows import Vents, flow_conductance, flow_for, vent_flow, vent_rise
from platewright.heat.losses import conductor_heat
from platewright.heat.plate import Sheet, plate_temperature
from platewright.heat.power_law import power_law
from platewright.heat.surface import Bodies, Round, surfaces
from platewright.heat.walls import Box3, effective_area, walls_of
from platewright.tables.placements import placement_row
from platewright.tables.surface_finishes import finish

VALUES = Path(__file__).with_name("heat_values.csv")
SEA = air.SEA_LEVEL
VENTS = Vents(low=0.01, high=0.01, height=0.7, coefficient=0.6)


def plate_heat(*, ra, prandtl, conductivity, length, area, difference):
    return films.vertical(ra, prandtl) * conductivity / length * area * difference


def laminar_heat(*, ra, prandtl, conductivity, length, area, difference):
    return films.vertical_laminar(ra, prandtl) * conductivity / length * area * difference


def up_heat(*, ra, conductivity, length, area, difference):
    return films.facing_up(ra) * conductivity / length * area * difference


def holman_ra(*, hot, air, nu, prandtl, length, g):
    film = (hot + air) / 2 + 273
    return g / film * (hot - air) * length**3 * prandtl / nu**2


def box_state(
    *, width, height, depth, placement, loss, outside, inner, altitude=0.0, emissivity=0.9,
    sun=0.0, sun_share=0.5, covered=0.0, flow=0.0,
):  # fmt: skip
    skin = Skin(
        emissivity=emissivity, sun_share=sun_share, resistance=0.0, inner_radiation=inner,
        covered=covered,
    )  # fmt: skip
    around = Surroundings(outside=outside, pressure=air.pressure_at(altitude), sun=sun)
    walls = walls_of(Box3(width=width, height=height, depth=depth), placement_row(placement))
    through = flow_conductance(flow, outside, around.pressure)
    state = balance(walls, skin, around, loss, (lambda _: through) if flow else no_flow)
    assert abs(state.missing) <= 1e-3 * loss  # the balance closes to 0.1 % in every solution
    return state


def wall_temperature(*, name, **box):
    state = box_state(**box)
    return next(one.temperature for one in state.walls if one.wall.name == name)


def surface(*, loss, width, height, depth, air, conduction=0.0):
    def one(value):
        return np.array([float(value)])

    state = surfaces(
        Bodies(
            width=one(width / 1000), height=one(height / 1000), depth=one(depth / 1000),
            loss=one(loss), plate_conduction=one(conduction), emissivity=one(0.9),
            open_left=one(1), open_right=one(1),
        ),
        Round(air=one(air), walls=one(air), plate=one(air), pressure=SEA),
    )  # fmt: skip
    out = state.convected + state.radiated + state.foot
    assert out[0] == pytest.approx(loss, rel=1e-3)
    return float(state.temperature[0])


def body(air, loss, foot=0.0):
    return gap.Warm(
        width=0.1, height=0.115, depth=0.09, loss=loss, plate_conduction=foot, emissivity=0.9,
        air=air,
    )  # fmt: skip


def duct_wall(*, gap, air, loss, film=2.0):
    return float(_gap.beside(body(air, loss), _gap.Other(inside_film=film), mm(gap), SEA)[1])


_gap = gap


def mm(length):
    return np.asarray(length / 1000)


def gap_for(*, air, loss, film, limit):
    return brentq(lambda g: duct_wall(gap=g, air=air, loss=loss, film=film) - limit, 8, 300)


def optimum_number(*, constant):
    """Elenbaas number where Nu/s² is largest; s² ∝ √El."""
    found = minimize_scalar(
        lambda log: -float(gap.channel_nusselt(np.asarray(math.exp(log)), constant))
        / math.exp(log / 2),
        bounds=(0, 8), method="bounded", options={"xatol": 1e-9},
    )  # fmt: skip
    return math.exp(found.x)


def fin():
    """First cell and face of a strip heated at its end, by 300 cells."""
    length, cells, spread = 0.3, 300, 50 * 0.0025
    sheet = Sheet(width=length, height=1.0, spread=spread, film=10.0)
    heat = np.zeros((1, cells))
    heat[0, 0] = 100 / (length / cells)
    first = plate_temperature(sheet, np.zeros((1, cells)), heat)[0]
    assert (first.sum() * 10.0 * length / cells) == pytest.approx(100.0, rel=1e-9)
    return float(first[0]), float(first[0] + 100 / spread * length / cells / 2)


def wall_film(*, facing, length):
    """Film outside a wall of 46.6 °C in air of 35 °C."""
    film = air.air_at(273.15 + (46.6 + 35) / 2, SEA)
    ra = air.rayleigh(film, 11.6, length)
    nu = {
        "side": lambda: films.vertical(ra, film.prandtl),
        "up": lambda: films.facing_up(ra),
        "down": lambda: films.facing_down(ra),
    }[facing]()
    return nu * film.conductivity / length


def fin_film(*, length, hot, cold):
    film = air.air_at((hot + cold) / 2, SEA)
    ra = air.rayleigh(film, hot - cold, length)
    return films.vertical_laminar(ra, film.prandtl) * film.conductivity / length


def channel_film(*, gap, constant):
    hot, cold = np.asarray(393.15), np.asarray(313.15)
    number = _gap.elenbaas(SEA, hot, cold, mm(gap), np.asarray(0.115))
    conductivity = air.air_at(353.15, SEA).conductivity
    return float(_gap.channel_nusselt(number, constant) * conductivity / mm(gap))


def vent_320():
    vents = Vents(low=0.02, high=0.02, height=0.6, coefficient=0.6)
    dense = 1.13 * air.GAS_CONSTANT * 320  # pressure that makes the density that of the example
    return vent_rise(vents, 150, outside=320 - 273.15, pressure=dense)


def vent(heat):
    return vent_rise(VENTS, heat, outside=35, pressure=SEA)


FUNCTIONS: dict[str, Callable[..., float]] = {
    "air": lambda kelvins, field, altitude=0.0: getattr(
        air.air_at(kelvins, air.pressure_at(altitude)), field
    ),
    "channel": lambda number, constant: float(gap.channel_nusselt(np.asarray(number), constant)),
    "channel_film": channel_film,
    "channel_limit": lambda number, constant: float(
        gap.channel_nusselt(np.asarray(number), constant) / number
    ),
    "channel_wide": lambda number: float(gap.channel_nusselt(np.asarray(number)) / number**0.25),
    "dew_point": air.dew_point,
    "duct_above": lambda gap, air, loss, foot: float(
        _gap.above(body(air, loss, foot), _gap.Other(), mm(gap), SEA)
    ),
    "duct_wall": duct_wall,
    "effective_area": lambda placement, **size: effective_area(
        walls_of(Box3(**size), placement_row(placement))
    ),
    "facing_down": films.facing_down,
    "facing_plate": lambda width, height, distance: float(
        radiation.facing_plate(np.asarray(width), np.asarray(height), np.asarray(distance))
    ),
    "facing_point": lambda width, height, distance: float(
        radiation.facing_point(np.asarray(width), np.asarray(height), np.asarray(distance))
    ),
    "facing_up": films.facing_up,
    "fan": lambda heat, rise, outside, altitude: flow_for(
        heat, rise, outside=outside, pressure=air.pressure_at(altitude)
    ),
    "film_radiation": lambda emissivity, celsius: (
        emissivity * radiation.radiation_film(celsius + 273.15, celsius + 273.15)
    ),
    "fin_end": lambda: fin()[1],
    "fin_film": fin_film,
    "fin_first": lambda: fin()[0],
    "gap_for": gap_for,
    "holman_ra": holman_ra,
    "inside": lambda **box: box_state(**box).inside,
    "laminar_heat": laminar_heat,
    "layer": lambda: 1000 * gap.layer_thickness(SEA, hot=120.0, air=40.0, height=0.115),
    "optimum_factor": lambda constant: optimum_number(constant=constant) ** 0.25,
    "optimum_gap": lambda constant, ra, length: (
        length * (optimum_number(constant=constant) / ra) ** 0.25
    ),
    "optimum_number": optimum_number,
    "plate_heat": plate_heat,
    "plates_radiate": lambda one, other, hot, cold, area: (
        area
        * radiation.between_plates(one, other)
        * (radiation.black_body(hot) - radiation.black_body(cold))
    ),
    "power_rise": lambda area, loss: (
        power_law(Box3(width=0.8, height=2.0, depth=0.6), area, loss).middle
    ),
    "pressure_at": air.pressure_at,
    "rise": lambda **box: box_state(**box).rise,
    "rod": films.rod,
    "sealed_gap_textbook": films.sealed_gap_textbook,
    "sheet_drop": lambda finish, flux: flux * Skin.of(_finish(finish), 0.4).resistance,
    "small_body": lambda emissivity, hot, cold: (
        emissivity * (radiation.black_body(hot) - radiation.black_body(cold))
    ),
    "surface": surface,
    "up_heat": up_heat,
    "vent_320": vent_320,
    "vent_double": lambda heat: vent(2 * heat) / vent(heat),
    "vent_flow": lambda heat: vent_flow(VENTS, vent(heat), 35),
    "vent_rise": vent,
    "vertical": films.vertical,
    "vertical_turbulent": films.vertical_turbulent,
    "wall_film": wall_film,
    "wall_known": lambda gap, hot, air, free: float(
        _gap.wall_beside(body(air, 0.0), _gap.Other(free_film=free), mm(gap), hot=hot, pressure=SEA)
    ),
    "wall_temperature": wall_temperature,
    "wire_heat": conductor_heat,
}
_finish = finish


def rows() -> list[dict[str, str]]:
    with VALUES.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("row", [pytest.param(row, id=row["id"]) for row in rows()])
def test_value_is_that_of_its_source(row: dict[str, str]) -> None:
    value = FUNCTIONS[row["function"]](**json.loads(row["inputs_json"]))
    expected, tolerance = float(row["expected"]), float(row["tolerance"])
    assert abs(value - expected) <= tolerance, (
        f"{value!r}, {row['source']} {row['page']} says {expected:g} ± {tolerance:g}"
    )


def test_every_value_says_where_it_is_from() -> None:
    ids = [row["id"] for row in rows()]
    assert len(ids) == len(set(ids))
    for row in rows():
        assert all(row[column] for column in ("source", "page", "tolerance_reason")), row["id"]
        assert row["standing"] in {"published", "memory", "practice"}, row["id"]
        assert math.isfinite(float(row["tolerance"])), row["id"]


def test_every_function_is_used() -> None:
    assert {row["function"] for row in rows()} == set(FUNCTIONS)
