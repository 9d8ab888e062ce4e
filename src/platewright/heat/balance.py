"""Mean air inside an enclosure, first way: heat through every wall by films and radiation.

Contents and inside air share one temperature. For each wall that air passes outside

    h_in·(Ti − Tw) + ψ·σ·(Ti⁴ − Tw⁴) + α·G = [h_out + ε·σ·(…)]·(Tw − Ta)

and Σ A·q + flow·(Ti − Ta) = P. Both grow with Ti, so there is one answer. Walls that are covered
give off none (safe). Steady state; still air outside.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from platewright.foundation.units import (
    M2,
    MM_PER_M,
    DegC,
    Kelvin,
    Pascal,
    Ratio,
    Watt,
    WattPerK,
    WattPerM2,
    WattPerM2K,
)
from platewright.heat.air import LEAST_DIFFERENCE, Air, air_at, kelvin, rayleigh
from platewright.heat.films import facing_down, facing_up, vertical
from platewright.heat.radiation import radiation_film
from platewright.heat.walls import Facing, Wall
from platewright.tables.placements import Exposure
from platewright.tables.surface_finishes import Finish

LIT: Final = frozenset({"front", "top"})  # walls that the sun meets
CLOSED_TO: Final = 1e-8  # relative change of the inside rise at which the iteration ends
MOST_ROUNDS: Final = 200

Flow = Callable[[float], float]  # rise in K -> W/K carried out by air, beside the walls


@dataclass(frozen=True, slots=True, kw_only=True)
class Surroundings:
    """What is round the enclosure."""

    outside: DegC
    pressure: Pascal
    sun: WattPerM2 = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Skin:
    """The sheet the walls are made of, seen by heat."""

    emissivity: Ratio
    sun_share: Ratio
    resistance: float  # m²·K/W through the sheet
    inner_radiation: Ratio  # ψ: share of black radiation between contents and walls
    covered: WattPerM2K = 0.0  # from a covered wall to the outside; 0: none (safe)

    @staticmethod
    def of(finish: Finish, inner_radiation: Ratio, sun_share: Ratio | None = None) -> Skin:
        """Return the skin of a finish."""
        return Skin(
            emissivity=finish.emissivity,
            sun_share=finish.sun if sun_share is None else sun_share,
            resistance=finish.thickness / MM_PER_M / finish.conductivity,
            inner_radiation=inner_radiation,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class WallState:
    """A wall in the balance."""

    wall: Wall
    temperature: DegC  # outer face
    heat: Watt  # given to the air and the room outside, less what the sun brought

    @property
    def is_open(self) -> bool:
        """Whether air passes it."""
        return self.wall.exposure is Exposure.FREE


@dataclass(frozen=True, slots=True, kw_only=True)
class Balance:
    """The air inside and where the heat goes."""

    inside: DegC
    rise: Kelvin
    loss: Watt  # what the contents give off, less a cooling unit's power
    walls: tuple[WallState, ...]
    carried: Watt  # by air through the enclosure or an exchanger

    @property
    def wall_conductance(self) -> WattPerK:
        """Heat through the walls per kelvin of rise (0 without a rise)."""
        through = sum(state.heat for state in self.walls)
        return through / self.rise if abs(self.rise) > LEAST_DIFFERENCE else 0.0

    @property
    def open_area(self) -> M2:
        """Area of the walls that air passes."""
        return sum(state.wall.area for state in self.walls if state.is_open)

    @property
    def missing(self) -> Watt:
        """What the balance fails to close by."""
        return self.loss - self.carried - sum(state.heat for state in self.walls)


def no_flow(_rise: float) -> float:
    """Return that no air goes through."""
    return 0.0


def balance(
    walls: tuple[Wall, ...], skin: Skin, around: Surroundings, loss: Watt, flow: Flow = no_flow
) -> Balance:
    """Return the steady state for a loss. Checked: HEAT-39, HEAT-40, HEAT2-18 … HEAT2-22."""
    outside = kelvin(around.outside)
    alike = _alike(walls, skin, around)
    area = sum(areas for _, areas, _ in alike.values())
    inside = outside + loss / (4.0 * area + 1e-9)
    outer = dict.fromkeys(alike, (inside + outside) / 2)
    carried = 0.0
    for _ in range(MOST_ROUNDS):
        gain, conductance = loss, flow(inside - outside)
        carried = conductance
        for kind, (wall, areas, sun) in alike.items():
            series, h_out = _films(wall, skin, around, (inside, outer[kind], outside))
            both = series + h_out
            outer[kind] = (series * inside + h_out * outside + sun) / both
            conductance += areas * series * h_out / both
            gain += areas * sun * series / both
        new = outside + gain / conductance
        step, inside = abs(new - inside), 0.2 * inside + 0.8 * new
        if step < CLOSED_TO * max(1.0, abs(new - outside)):
            break
    states = tuple(
        _state(wall, skin, around, (inside, outer.get(_kind(wall, around), inside)))
        for wall in walls
    )
    return Balance(
        inside=inside - kelvin(0.0), rise=inside - outside, loss=loss, walls=states,
        carried=carried * (inside - outside),
    )  # fmt: skip


Kind = tuple[float, Facing, Exposure, bool]


def _kind(wall: Wall, around: Surroundings) -> Kind:
    """Return what decides a wall's films: walls of one kind settle alike."""
    return wall.length, wall.facing, wall.exposure, around.sun > 0 and wall.name in LIT


def _alike(
    walls: tuple[Wall, ...], skin: Skin, around: Surroundings
) -> dict[Kind, tuple[Wall, M2, WattPerM2]]:
    """Return a wall of each kind that gives off heat, the area of its kind, and its sun."""
    found: dict[Kind, tuple[Wall, M2, WattPerM2]] = {}
    for wall in walls:
        if wall.exposure is Exposure.FREE or skin.covered > 0:
            kind = _kind(wall, around)
            _, area, _ = found.get(kind, (wall, 0.0, 0.0))
            found[kind] = (wall, area + wall.area, skin.sun_share * around.sun * kind[3])
    return found


def heat_through(walls: tuple[Wall, ...], skin: Skin, around: Surroundings, inside: DegC) -> Watt:
    """Return what the walls give off at an inside temperature, less what the sun brings."""
    within, outside = kelvin(inside), kelvin(around.outside)
    total = 0.0
    for wall in walls:
        if wall.exposure is Exposure.COVERED and skin.covered == 0:
            continue
        sun = skin.sun_share * around.sun if wall.name in LIT else 0.0
        outer = (within + outside) / 2
        series = 0.0
        for _ in range(MOST_ROUNDS):
            series, h_out = _films(wall, skin, around, (within, outer, outside))
            new = (series * within + h_out * outside + sun) / (series + h_out)
            step, outer = abs(new - outer), 0.3 * outer + 0.7 * new
            if step < CLOSED_TO:
                break
        total += wall.area * series * (within - outer)
    return total


def _films(
    wall: Wall, skin: Skin, around: Surroundings, at: tuple[float, float, float]
) -> tuple[float, float]:
    """Return inner and outer film in W/(m²·K), radiation and sheet included."""
    inside, outer, outside = at
    h_in = _film(wall, (inside, outer), around.pressure, within=True)
    h_in += skin.inner_radiation * radiation_film(inside, outer)
    if wall.exposure is Exposure.COVERED:
        h_out = skin.covered
    else:
        h_out = _film(wall, (outside, outer), around.pressure, within=False)
        h_out += skin.emissivity * radiation_film(outer, outside)
    return 1 / (1 / h_in + skin.resistance), h_out


def _film(wall: Wall, at: tuple[float, float], pressure: Pascal, *, within: bool) -> float:
    air_temperature, face = at
    air: Air[float] = air_at((air_temperature + face) / 2, pressure)
    ra = rayleigh(air, face - air_temperature, wall.length)
    if wall.facing is Facing.SIDE:
        nu = vertical(ra, air.prandtl)
    else:
        looks_up = (wall.facing is Facing.UP) != within  # the face this air touches
        is_warm = face > air_temperature
        nu = facing_up(ra) if looks_up == is_warm else facing_down(ra)
    return nu * air.conductivity / wall.length


def _state(wall: Wall, skin: Skin, around: Surroundings, at: tuple[float, float]) -> WallState:
    inside, outer = at
    if wall.exposure is Exposure.COVERED and skin.covered == 0:
        return WallState(wall=wall, temperature=inside - kelvin(0.0), heat=0.0)
    series, _ = _films(wall, skin, around, (inside, outer, kelvin(around.outside)))
    return WallState(
        wall=wall,
        temperature=outer - kelvin(0.0),
        heat=wall.area * series * (inside - outer),
    )
