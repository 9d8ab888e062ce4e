"""The whole panel's heat: losses, level, air and housing of every device, gaps, pictures."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from platewright.foundation.tag_order import listed
from platewright.foundation.units import MM_PER_M, DegC, Ratio, Watt
from platewright.heat.air import Floats
from platewright.heat.conditions import Conditions, conditions_of
from platewright.heat.contacts import Contacts, contacts
from platewright.heat.facings import Nearest, Scene, facings_of, nearest, others_of
from platewright.heat.fields import Scenery, pictures
from platewright.heat.level import level_of
from platewright.heat.local_air import (
    LAYERS,
    Constants,
    Room,
    core_rise,
    inlet_rise,
    inlets_of,
    wall_loss,
)
from platewright.heat.losses import losses_of
from platewright.heat.plate import Sheet, plate_temperature
from platewright.heat.standing import Standing, standing
from platewright.heat.surface import Bodies, Round, Surfaces, surfaces
from platewright.model.heat import Banded, DeviceHeat, Field, Level, Losses, PanelHeat
from platewright.model.panel import Panel
from platewright.tables.heat_practice import taken
from platewright.tables.surface_finishes import finish

ROUNDS: Final = 2  # between air, housings and plate
FIRST_SHARE: Final = 0.5  # of the loss that goes to the air, to begin with
LEAST_RISE: Final = 0.01  # K
LEAST_LOSS: Final = 1e-3  # W/(m·K)
PLATE_CELL: Final = 20.0  # mm
PLATE_MOST: Final = 64  # cells along a side
PLATE_CONDUCTIVITY: Final = 50.0  # W/(m·K), steel, where the plate's material is not in the table


_LAST: Final[list[tuple[Panel, PanelHeat]]] = []  # the panel looked at last: rules and sheets ask


def heat_of(panel: Panel) -> PanelHeat:
    """Return how warm everything gets, worked out once for a panel."""
    if not _LAST or _LAST[0][0] is not panel:
        _LAST[:] = [(panel, worked_out(panel))]
    return _LAST[0][1]


def worked_out(panel: Panel) -> PanelHeat:
    """Return how warm everything gets. A device without a place has no air of its own."""
    state = settled(panel)
    conditions, losses, level = state.conditions, state.losses, state.level
    here, inside = state.here, state.inside
    return PanelHeat(
        losses=losses,
        level=level,
        devices=_devices(panel, level, here, inside),
        facings=facings_of(
            Scene(
                standing=here, ducts=dict(sorted(panel.layout.ducts.items())), air=inside.air,
                air_band=air_band(inside.air, level.outside), surfaces=inside.surfaces,
                pressure=conditions.pressure,
                duct_limit=conditions.duct_limit,
                duct_limit_is_stated=conditions.duct_limit_is_stated,
            ),
            inside.near,
        ),
        front=inside.front,
        side=inside.side,
        plate=inside.plate,
        assumed=(*conditions.assumed, *_assumed(losses, here)),
        cautions=(*conditions.cautions, *CAUTIONS, _measured()),
    )  # fmt: skip


CAUTIONS: Final = (
    "A simple model, not a type test: nothing here was compared with a measured panel of this kind",
    "Steady state at the losses given: starting, cyclic duty and heating up are left out",
    "A housing counts as one temperature: hot spots inside it are for its maker to tell",
)


def _measured() -> str:
    """Return how far the fast model was off where it was held against a flow solution."""
    return (
        f"Air at single devices is by a fast model, off by {taken('fast model rms'):.1f} K rms against "
        f"a flow solution of layouts it was not fitted to; {taken('fast model unsafe'):.0%} of the "
        f"devices were more than 5 K warmer than told. So no band is narrower than "
        f"{taken('air band least'):g} K"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Settled:
    """All that the answer is told from."""

    conditions: Conditions
    losses: Losses
    level: Level
    here: Standing
    inside: Inside


def settled(panel: Panel) -> Settled:
    """Return losses, level, devices and the air, housings and plate settled with each other."""
    conditions = conditions_of(panel.job)
    losses = losses_of(panel.job, panel.routes)
    level = level_of(conditions, losses.total)
    here = standing(panel, {one.tag: one.watts for one in losses.devices})
    inside = _inside(panel, conditions, level, here)
    return Settled(conditions=conditions, losses=losses, level=level, here=here, inside=inside)


@dataclass(frozen=True, slots=True, kw_only=True)
class Inside:
    """Air, housings and plate, settled with each other.

    What is radiated to the walls (and what wires and door devices give off) warms the inside
    evenly; what goes to the air by convection makes it warmer upwards.
    """

    air: Floats  # °C at each foot
    surfaces: Surfaces
    near: Nearest
    front: Field
    side: Field
    plate: Field
    convected: Floats  # W each device gives to the air
    layered: Ratio  # share of all heat that the air carries up; the rest warms evenly


def room_of(panel: Panel, level: Level) -> Room:
    """Return the air space, with what each wall gives off per kelvin in the level's balance."""
    enclosure = panel.job.settings.enclosure
    width, height = enclosure.width / MM_PER_M, enclosure.height / MM_PER_M
    rise = max(LEAST_RISE, level.rise)
    each = {wall.name: max(0.0, wall.heat) / rise for wall in level.walls}
    upright = sum(each[name] for name in ("front", "back", "left", "right")) / height
    return Room(
        width=width, height=height, depth=enclosure.door_inside / MM_PER_M,
        upright=max(LEAST_LOSS, upright), floor=each["floor"], roof=each["top"],
        sides=(each["left"] + each["right"]) / height,
    )  # fmt: skip


def level_loss(level: Level) -> Watt:
    """Return the heat the level was worked out for, that of a cooling unit included."""
    return sum(wall.heat for wall in level.walls) + level.carried + level.cooled


def _inside(panel: Panel, conditions: Conditions, level: Level, here: Standing) -> Inside:
    constants, room = Constants.from_table(), room_of(panel, level)
    near = nearest(here.edges, others_of(here, dict(sorted(panel.layout.ducts.items()))))
    inlets = inlets_of(here.sources, here.bars, constants)
    close = contacts(here, dict(sorted(panel.layout.ducts.items())))
    bodies, sheet = _bodies(here, close), _sheet(panel)
    loss = wall_loss(room, np.full(LAYERS + 1, max(0.0, level.rise)))
    given = max(level_loss(level), float(here.loss.sum()))
    convected = FIRST_SHARE * here.loss
    under = np.full(len(here.tags), level.inside.value)
    walls = under.copy()
    for _ in range(ROUNDS):
        share = float(convected.sum()) / given if given > 0 else 0.0
        core = core_rise(room, here.sources, convected, loss=share * loss, constants=constants)
        core = core + (1 - share) * level.rise
        rise = inlet_rise(core, room, here.sources, inlets, convected, constants)
        air = level.outside + rise
        state = surfaces(
            bodies, Round(air=air, walls=walls, plate=under, pressure=conditions.pressure)
        )
        convected = np.maximum(0.0, state.convected)
        plate = _plate(panel, here, sheet, level.outside + core, state.foot)
        under = _under(panel, here, plate)
    scenery = Scenery(
        room=room, sources=here.sources, bars=here.bars, core=core, convected=convected,
        outside=level.outside, shift=here.shift, constants=constants,
    )  # fmt: skip
    front, side = pictures(scenery)
    area = panel.job.settings.plate.box
    return Inside(
        air=air, surfaces=state, near=near, front=front, side=side,
        plate=Field(area=area, values=plate.astype(np.float32)),
        convected=convected, layered=share,
    )  # fmt: skip


def _bodies(here: Standing, close: Contacts) -> Bodies:
    """Return the housings; a side that something stands against is shut, and passes heat to it."""
    n, s = len(here.tags), here.sources
    return Bodies(
        width=s.width, height=s.height, depth=s.depth, loss=here.loss,
        plate_conduction=here.plate_conduction,
        emissivity=np.full(n, taken("device emissivity")),
        open_left=close.open_sides[0], open_right=close.open_sides[1],
        ends=close.ends, across=close.across,
    )  # fmt: skip


def _sheet(panel: Panel) -> Sheet:
    plate = panel.job.settings.plate
    row = (
        finish(plate.material)
        or finish(f"bare {plate.material}")
        or finish(f"{plate.material} steel")
    )
    conductivity = row.conductivity if row else PLATE_CONDUCTIVITY
    return Sheet.of(plate.width, plate.height, plate.thickness, conductivity)


def _plate_cells(panel: Panel) -> tuple[int, int]:
    plate = panel.job.settings.plate

    def count(length: float) -> int:
        return min(PLATE_MOST, max(2, round(length / PLATE_CELL)))

    return count(plate.height), count(plate.width)


def _spans(edges: Floats, cells: tuple[int, int], size: tuple[float, float]) -> Floats:
    """Return first and last + 1 row and column under each box: (n, 4)."""
    rows, columns = cells
    width, height = size
    left = np.clip((edges[:, 0] / width * columns).round(), 0, columns - 1)
    right = np.clip((edges[:, 2] / width * columns).round(), left + 1, columns)
    bottom = np.clip((edges[:, 1] / height * rows).round(), 0, rows - 1)
    top = np.clip((edges[:, 3] / height * rows).round(), bottom + 1, rows)
    return np.stack((bottom, top, left, right), axis=1).astype(np.intp)


def _plate(panel: Panel, here: Standing, sheet: Sheet, core: Floats, foot: Floats) -> Floats:
    """Return the plate's temperature: feet of the devices, core air on both faces."""
    rows, columns = _plate_cells(panel)
    heat = np.zeros((rows, columns))
    area = sheet.width / columns * sheet.height / rows
    size = panel.job.settings.plate.width, panel.job.settings.plate.height
    spans = _spans(here.edges, (rows, columns), size)
    for i in np.flatnonzero(foot):
        bottom, top, left, right = spans[i]
        heat[bottom:top, left:right] += foot[i] / ((top - bottom) * (right - left) * area)
    y = (np.arange(rows) + 0.5) * sheet.height / rows + here.shift[1] / MM_PER_M
    height = panel.job.settings.enclosure.height / MM_PER_M
    air = np.interp(y, np.linspace(0.0, height, core.size), core)
    return plate_temperature(sheet, np.repeat(air[:, None], columns, axis=1), heat)


def _under(panel: Panel, here: Standing, plate: Floats) -> Floats:
    """Return the plate's mean temperature under each device that gives it heat."""
    rows, columns = plate.shape
    size = panel.job.settings.plate.width, panel.job.settings.plate.height
    sums = np.zeros((rows + 1, columns + 1))
    sums[1:, 1:] = plate.cumsum(axis=0).cumsum(axis=1)
    b, t, left, r = _spans(here.edges, (rows, columns), size).T
    total = sums[t, r] - sums[b, r] - sums[t, left] + sums[b, left]
    return np.asarray(total / ((t - b) * (r - left)))


def air_band(air: Floats, outside: DegC) -> Floats:
    """Return how far the air at each device may be off either way, K."""
    return np.maximum(taken("air band least"), taken("air band") * (air - outside))


def _devices(panel: Panel, level: Level, here: Standing, inside: Inside) -> dict[str, DeviceHeat]:
    own = taken("surface band")
    air, hot = inside.air, inside.surfaces.temperature
    spread = air_band(air, level.outside)
    wide = spread + own * np.maximum(0.0, hot - air)
    columns = (air, spread, hot, wide, here.loss, inside.surfaces.foot)
    found = {}
    for tag, part, box, *values in zip(
        here.tags, here.parts, here.boxes, *(column.tolist() for column in columns), strict=True
    ):
        limit, note = air_limit(part.heat_limit, part.derating, panel.job.devices[tag].load)
        found[tag] = DeviceHeat(
            tag=tag, box=box, loss=values[4], air=Banded(values[0], values[1]),
            surface=Banded(values[2], values[3]), foot=values[5], limit=limit, limit_note=note,
        )  # fmt: skip
    return found


def air_limit(full: DegC | None, derating: float | None, load: float) -> tuple[DegC | None, str]:
    """Return the warmest air at a load: the limit at full load, more where less is carried."""
    if full is None:
        return None, "not stated"
    if derating is None or load >= 1:
        return full, "at full load"
    return full + (1 - load) / derating, f"at {load:.0%} of full load, {derating:.2%} per kelvin"


def _assumed(losses: Losses, here: Standing) -> tuple[str, ...]:
    said = []
    typical = [one.tag for one in losses.devices if one.note.startswith("typical")]
    if typical:
        said.append(f"typical losses, not from data sheets: {listed(typical, 12)}")
    if losses.unknown:
        said.append(f"no heat stated, counted as none: {listed(losses.unknown, 12)}")
    if losses.wires_known < losses.wires_all:
        missing = losses.wires_all - losses.wires_known
        said.append(f"no heat of {missing} wires whose current is not stated")
    guessed = [
        tag
        for tag, part in zip(here.tags, here.parts, strict=True)
        if part.plate_conduction is None and part.mount == "screws" and part.heat
    ]
    if guessed:
        value = taken("plate conduction screws")
        said.append(f"{value:g} W/K from housing to plate where screwed on: {listed(guessed, 12)}")
    return tuple(said)
