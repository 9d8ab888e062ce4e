"""Random cabinets for comparing the fast model with the deep check, by seed.

Rows of devices of mixed widths between ducts, as plates have them; boxes, losses, walls and the
place of the hot devices vary. Invented; no real panel.
"""

from __future__ import annotations

import random
from dataclasses import dataclass

from platewright.heat.air import SEA_LEVEL, air_at, kelvin
from platewright.heat.solvers.cabinet import FlowBlock, FlowCabinet, FlowWalls
from platewright.model.geometry import Box

AMBIENT = 35.0  # °C
DUCT = (40.0, 60.0)  # width and depth, mm
RAIL_ROW = (  # width, height, depth, share of such devices
    (6.0, 60.0, 50.0, 30),
    (12.0, 75.0, 60.0, 15),
    (18.0, 90.0, 70.0, 20),
    (45.0, 90.0, 90.0, 20),
    (45.0, 125.0, 120.0, 5),
    (90.0, 110.0, 90.0, 5),
    (70.0, 125.0, 120.0, 5),
)
WIDE_ROW = ((150.0, 200.0, 160.0, 2), (120.0, 180.0, 130.0, 2), (100.0, 115.0, 90.0, 3))


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """What one random cabinet is drawn from."""

    name: str
    seed: int
    size: tuple[float, float, float]  # inside width, height, depth to the door, mm
    devices: int
    heat: float  # W given to the air
    hot: str  # even | low | high | row | few : where the heat sits
    wide: bool  # a row of wide deep devices
    ducts: bool
    walls: str  # wall | free | row
    fitting: bool  # may constants be fitted on it?


def _w(
    name: str,
    seed: int,
    size: tuple[float, float, float],
    devices: int,
    heat: float,
    **more: str | bool,
) -> Wish:
    given: dict[str, str | bool] = {
        "hot": "even",
        "wide": False,
        "ducts": True,
        "walls": "wall",
        "fitting": False,
    }
    given.update(more)
    return Wish(name=name, seed=seed, size=size, devices=devices, heat=heat, **given)  # type: ignore[arg-type]


S, M, N, L, X = (
    (600.0, 800.0, 200.0),
    (800.0, 800.0, 250.0),
    (600.0, 1000.0, 200.0),
    (800.0, 1200.0, 250.0),
    (1000.0, 1800.0, 300.0),
)
WISHES = (
    _w("fit-1", 1, S, 24, 75.0, fitting=True),
    _w("fit-2", 2, M, 30, 125.0, wide=True, fitting=True),
    _w("fit-3", 3, N, 36, 100.0, hot="low", fitting=True),
    _w("fit-4", 4, L, 50, 150.0, hot="few", wide=True, walls="free", fitting=True),
    _w("fit-5", 5, L, 70, 170.0, hot="row", fitting=True),
    _w("fit-6", 6, X, 110, 280.0, wide=True, walls="row", fitting=True),
    _w("held-1", 11, S, 26, 70.0, hot="few"),
    _w("held-2", 12, S, 30, 80.0, hot="high", ducts=False),
    _w("held-3", 13, M, 40, 120.0, hot="low", wide=True),
    _w("held-4", 14, M, 34, 130.0, walls="free"),
    _w("held-5", 15, N, 40, 90.0, hot="row"),
    _w("held-6", 16, N, 34, 110.0, wide=True, walls="free"),
    _w("held-7", 17, L, 50, 150.0, hot="low", wide=True),
    _w("held-8", 18, L, 80, 140.0, walls="row"),
    _w("held-9", 19, L, 60, 180.0, hot="high", wide=True),
    _w("held-10", 20, X, 170, 300.0, wide=True),
    _w("held-11", 21, X, 120, 260.0, hot="few", wide=True, walls="free"),
    _w("held-12", 22, X, 130, 280.0, hot="row"),
    _w("held-13", 23, M, 28, 100.0, hot="few", ducts=False, wide=True),
    _w("held-14", 24, X, 90, 240.0, hot="high", wide=True, walls="row"),
)


def layout(wish: Wish) -> FlowCabinet:
    """Return the cabinet of a wish."""
    chance = random.Random(wish.seed)
    width, height, depth = wish.size
    blocks = _place(wish, chance)
    blocks = _heat(blocks, wish, chance)
    film = kelvin(AMBIENT + 20.0)
    return FlowCabinet(
        inside=Box(0.0, 0.0, width, height),
        depth=depth,
        ambient=AMBIENT,
        walls=_walls(wish.walls),
        air=air_at(film, SEA_LEVEL),
        blocks=tuple(blocks),
    )


def _walls(placement: str) -> FlowWalls:
    """Return wall losses, W/(m²·K): 3.5 for an open wall, less for floor and covered ones."""
    if placement == "free":
        return FlowWalls(left=3.5, right=3.5, floor=2.5, roof=3.8, door=3.5, plate=1.8)
    if placement == "row":
        return FlowWalls(left=0.0, right=0.0, floor=2.5, roof=3.8, door=3.5, plate=1.8)
    return FlowWalls(left=3.5, right=3.5, floor=2.5, roof=3.8, door=3.5, plate=0.0)


def _draw(
    kinds: tuple[tuple[float, ...], ...], chance: random.Random
) -> tuple[float, float, float]:
    kind = chance.choices(kinds, weights=[k[3] for k in kinds])[0]
    return kind[0], kind[1], kind[2]


def _place(wish: Wish, chance: random.Random) -> list[FlowBlock]:
    """Fill rows from the top with about equal numbers of devices; ducts between and beside."""
    width, height, depth = wish.size
    edge = 25.0
    duct_w, duct_d = DUCT if wish.ducts else (0.0, 0.0)
    rows = _rows(wish, chance, height - 2 * edge, duct_w)
    left, right = edge + duct_w, width - edge - duct_w
    blocks: list[FlowBlock] = []
    top = height - edge
    per_row = -(-wish.devices // len(rows))
    count = 0
    for row_height, kinds in rows:
        top -= duct_w
        if wish.ducts:
            blocks.append(_duct(len(blocks), Box(edge, top, width - edge, top + duct_w), duct_d))
        x, middle = left + 5.0 + chance.uniform(0, 30), top - row_height / 2
        for _ in range(min(per_row, wish.devices - count) if kinds is RAIL_ROW else 9):
            w, h, d = _draw(kinds, chance)
            if kinds is WIDE_ROW and d > depth - 30.0:
                w, h, d = WIDE_ROW[-1][:3]
            gap = (
                chance.choice((0.0, 0.0, 0.0, 0.0, 5.0, 20.0))
                if kinds is RAIL_ROW
                else chance.uniform(15, 60)
            )
            if x + gap + w > right - 5.0 or count == wish.devices:
                break
            x += gap
            box = Box(x, middle - h / 2, x + w, middle + h / 2)
            blocks.append(FlowBlock(tag=f"-D{count + 1}", box=box, depth=min(d, depth - 30.0)))
            count += 1
            x += w
        top -= row_height
    if wish.ducts:
        bottom = Box(edge, top - duct_w, width - edge, top)
        blocks.append(_duct(len(blocks), bottom, duct_d))
        for x in (edge, width - edge - duct_w):
            upright = Box(x, top, x + duct_w, height - edge - duct_w)
            blocks.append(_duct(len(blocks), upright, duct_d))
    return blocks


def _rows(
    wish: Wish, chance: random.Random, room: float, duct: float
) -> list[tuple[float, tuple[tuple[float, ...], ...]]]:
    """Return heights of rows (wiring room in it) and what stands in them, top first."""
    wide_height = 240.0
    rail_height = 165.0
    used = duct
    rows: list[tuple[float, tuple[tuple[float, ...], ...]]] = []
    if wish.wide:
        rows.append((wide_height, WIDE_ROW))
        used += wide_height + duct
    most = int((room - used) // (rail_height + duct))
    wanted = min(most, max(3, -(-wish.devices // 22)))
    rows += [(rail_height, RAIL_ROW)] * wanted
    chance.shuffle(rows)
    slack = (room - used - wanted * (rail_height + duct)) / len(rows)
    more = max(0.0, slack) * chance.uniform(0.2, 1.0)
    return [(row_height + more, kinds) for row_height, kinds in rows]


def _duct(number: int, box: Box, depth: float) -> FlowBlock:
    return FlowBlock(tag=f"duct {number}", box=box, depth=depth, is_device=False)


def _heat(blocks: list[FlowBlock], wish: Wish, chance: random.Random) -> list[FlowBlock]:
    """Share the heat: by volume and chance, leaning to where the wish wants it."""
    devices = [b for b in blocks if b.is_device]
    middle = sorted(b.box.centre.y for b in devices)[len(devices) // 2]
    chosen_row = chance.choice(sorted({round(b.box.centre.y) for b in devices}))
    few = {
        b.tag for b in sorted(devices, key=lambda b: -b.box.width * b.depth * chance.random())[:4]
    }
    weights = {}
    for b in devices:
        weight = (b.box.width * b.box.height * b.depth) ** 0.7 * chance.uniform(0.2, 1.8)
        lean = {
            "low": 4.0 if b.box.centre.y < middle else 1.0,
            "high": 4.0 if b.box.centre.y > middle else 1.0,
            "row": 6.0 if round(b.box.centre.y) == chosen_row else 1.0,
            "few": 12.0 if b.tag in few else 1.0,
        }
        weights[b.tag] = weight * lean.get(wish.hot, 1.0)
    total = sum(weights.values())
    return [
        FlowBlock(
            tag=b.tag,
            box=b.box,
            depth=b.depth,
            heat=round(wish.heat * weights[b.tag] / total, 3) if b.is_device else 0.0,
            is_device=b.is_device,
        )
        for b in blocks
    ]
