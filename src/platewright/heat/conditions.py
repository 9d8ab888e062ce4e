"""What the job says of enclosure and air, with what is taken where it is silent."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from platewright.foundation.errors import nearest
from platewright.foundation.units import MM2_PER_M2, DegC, Mm2, Pascal
from platewright.heat.air import pressure_at
from platewright.heat.balance import Flow, Skin, Surroundings
from platewright.heat.flows import Vents, flow_conductance, vent_flow
from platewright.heat.walls import Box3, Wall, box_of, walls_of
from platewright.model.job import Air, Job
from platewright.tables.heat_practice import taken
from platewright.tables.placements import PlacementRow, placement_names, placement_row
from platewright.tables.surface_finishes import Finish, finish, finishes

SAFE_FINISH: Final = "painted steel"
SAFE_PLACEMENT: Final = "wall"


@dataclass(frozen=True, slots=True, kw_only=True)
class Conditions:
    """Everything round and about the enclosure that heat depends on."""

    outside: DegC
    wanted: DegC
    wanted_is_stated: bool
    duct_limit: DegC
    duct_limit_is_stated: bool
    pressure: Pascal
    box: Box3
    placement: PlacementRow
    walls: tuple[Wall, ...]
    finish: Finish
    skin: Skin
    air: Air
    assumed: tuple[str, ...]
    cautions: tuple[str, ...]

    @property
    def around(self) -> Surroundings:
        """What the walls meet."""
        return Surroundings(outside=self.outside, pressure=self.pressure, sun=self.air.sun)

    @property
    def is_ventilated(self) -> bool:
        """Whether air or a unit carries heat out beside the walls."""
        air = self.air
        return max(air.fan, air.vents, air.exchanger, air.cooling) > 0

    @property
    def flow(self) -> Flow:
        """Heat that air carries out, per kelvin, at a rise."""
        return lambda rise: carried(self, rise)


def inside_wanted(job: Job) -> DegC:
    """Return the warmest air wanted inside, stated or usual."""
    stated = job.settings.air.inside
    return taken("inside air") if stated is None else stated


def conditions_of(job: Job) -> Conditions:
    """Return the conditions of a job; whatever is not stated is named in ``assumed``."""
    settings = job.settings
    air, enclosure, limit = settings.air, settings.enclosure, settings.limits.duct_temperature
    assumed: list[str] = []
    outside = air.outside
    if outside is None:
        outside = taken("outside air")
        assumed.append(f"air outside {outside:g} °C (air.outside_degc in job.toml)")
    if air.inside is None:
        assumed.append(f"air wanted inside {inside_wanted(job):g} °C (air.inside_degc in job.toml)")
    sheet, placement = (
        _finish(enclosure.material, assumed),
        _placement(enclosure.placement, assumed),
    )
    if limit is None:
        assumed.append(f"duct of PVC, at most {taken('duct limit'):g} °C")
    assumed.append(
        f"walls of {sheet.name}: emissivity {sheet.emissivity:g}; contents radiate to them with "
        f"{taken('inner radiation'):g} of black exchange (a fit)"
    )
    box = box_of(enclosure)
    return Conditions(
        outside=outside,
        wanted=inside_wanted(job),
        wanted_is_stated=air.inside is not None,
        duct_limit=taken("duct limit") if limit is None else limit,
        duct_limit_is_stated=limit is not None,
        pressure=pressure_at(air.altitude),
        box=box,
        placement=placement,
        walls=walls_of(box, placement),
        finish=sheet,
        skin=Skin.of(sheet, taken("inner radiation"), enclosure.sun),
        air=air,
        assumed=tuple(assumed),
        cautions=tuple(_cautions(air)),
    )


def _finish(name: str, assumed: list[str]) -> Finish:
    found = finish(name)
    if found is None:
        found = finish(SAFE_FINISH)
        assert found is not None  # noqa: S101  (a row of our own table)
        told = nearest(name, [row.name for row in finishes()])
        assumed.append(f"enclosure of {SAFE_FINISH}: material {name!r} is not in the table. {told}")
    return found


def _placement(name: str, assumed: list[str]) -> PlacementRow:
    found = placement_row(name)
    if found is None:
        found = placement_row(SAFE_PLACEMENT)
        assert found is not None  # noqa: S101  (a row of our own table)
        told = nearest(name, placement_names())
        assumed.append(f"enclosure on a {SAFE_PLACEMENT}: placement {name!r} is not known. {told}")
    return found


def _cautions(air: Air) -> list[str]:
    said = []
    if air.fan or air.cooling:
        said.append(
            "A fan or cooling unit blows jets: the air at single devices near it is not told, and "
            "its flow must not be blocked"
        )
    if air.sun:
        said.append("Sun is counted on front and top at one strength; its course is left out")
    return said


def vents_of(box: Box3, area: Mm2) -> Vents:
    """Return the vents of an enclosure: two of the same area."""
    return Vents(
        low=area / MM2_PER_M2,
        high=area / MM2_PER_M2,
        height=taken("vent rise") * box.height,
        coefficient=taken("vent coefficient"),
    )


def fan_flow(air: Air) -> float:
    """Return what a fan moves behind its filters, m³/h."""
    return air.fan * (taken("filter share") if air.fan_filter else 1.0)


def carried(conditions: Conditions, rise: float) -> float:
    """Return the heat per kelvin carried out by fan, vents and exchanger at a rise."""
    air = conditions.air
    flow = fan_flow(air)
    if air.vents:
        flow += vent_flow(vents_of(conditions.box, air.vents), rise, conditions.outside)
    return flow_conductance(flow, conditions.outside, conditions.pressure) + air.exchanger
