"""Run the deep check on the random cabinets and store what it says beside their inputs.

Run: python bench/make_deep_layouts.py [CELL_MM [NAME …]]. Takes minutes to an hour; adds to
data/deep_layouts.json (drawn by deep_layouts.py) and data/deep_fitting.json (more cabinets for
fitting, stored as drawn) what they lack, or replaces what it is told to. Where a cabinet was solved
on cells of two sizes, their mean is the reference and half their difference its own uncertainty.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

import numpy as np

from deep_layouts import WISHES, layout
from platewright.foundation.errors import PlatewrightError
from platewright.foundation.units import MM_PER_M
from platewright.heat.air import SEA_LEVEL, air_at, kelvin
from platewright.heat.solvers.cabinet import FlowBlock, FlowCabinet, FlowWalls
from platewright.heat.solvers.deep_check import FlowField, deep_check
from platewright.model.geometry import Box

DATA = Path(__file__).parent / "data"
FILE, MORE = DATA / "deep_layouts.json", DATA / "deep_fitting.json"
SECONDS, LONG, LARGE = 45.0, 75.0, 0.19  # s of flow; the longer above so many m³
ABOUT = (
    "Invented cabinets with the air under each device's foot as the deep check gives it. mm, W, °C, "
    "W/(m²·K); 'heat' is what the air gets. Keys of 'deep' are cell sizes in mm; 'seconds' of flow "
    "were marched on them, the last two fifths averaged, after thrice that on cells twice as large. "
    "'levels': mean air of each layer of cells, floor first."
)


def described(cabinet: FlowCabinet) -> dict[str, object]:
    """Return the inputs of a cabinet."""
    box, walls = cabinet.inside, cabinet.walls
    return {
        "width": box.width,
        "height": box.height,
        "depth": cabinet.depth,
        "ambient": cabinet.ambient,
        "heat": round(cabinet.heat, 3),
        "walls": {name: getattr(walls, name) for name in sorted(walls.__slots__)},
        "blocks": [
            {
                "tag": b.tag,
                "left": round(b.box.left, 3),
                "bottom": round(b.box.bottom, 3),
                "right": round(b.box.right, 3),
                "top": round(b.box.top, 3),
                "depth": b.depth,
                "heat": b.heat,
                "device": b.is_device,
            }
            for b in cabinet.blocks
        ],
    }


def found(field: FlowField) -> dict[str, object]:
    """Return the answer of the deep check."""
    with np.errstate(invalid="ignore"):
        levels = np.nanmean(field.front(), axis=0)
    return {
        "seconds": round(field.seconds, 3),
        "mean_air": round(field.mean_air, 3),
        "wall_heat": round(field.wall_heat, 3),
        "stored": round(field.stored, 3),
        "residual": float(f"{field.residual:.2e}"),
        "leak": float(f"{field.leak:.2e}"),
        "levels": [round(float(v), 2) for v in levels],
        "inlet": {tag: round(value, 3) for tag, value in field.inlet.items()},
    }


def cabinet_of(stored: dict[str, Any]) -> FlowCabinet:
    """Return a cabinet from its stored inputs."""
    return FlowCabinet(
        inside=Box(0.0, 0.0, stored["width"], stored["height"]),
        depth=stored["depth"],
        ambient=stored["ambient"],
        walls=FlowWalls(**stored["walls"]),
        air=air_at(kelvin(stored["ambient"] + 20.0), SEA_LEVEL),
        blocks=tuple(
            FlowBlock(
                tag=b["tag"],
                box=Box(b["left"], b["bottom"], b["right"], b["top"]),
                depth=b["depth"],
                heat=b["heat"],
                is_device=b["device"],
            )
            for b in stored["blocks"]
        ),
    )


def seconds_for(cabinet: FlowCabinet) -> float:
    """Return how long to march a cabinet's flow, s."""
    inside = cabinet.inside
    volume = inside.width * inside.height * cabinet.depth / MM_PER_M**3
    return LONG if volume > LARGE else SECONDS


def solve(file: Path, stored: dict[str, Any], name: str, cell: float) -> None:
    """Solve one cabinet and keep the answer."""
    entry = stored["layouts"][name]
    cabinet = cabinet_of(entry["cabinet"])
    field = deep_check(cabinet, cell=cell, seconds=seconds_for(cabinet), report=lambda *_: True)
    if not field.finished:
        raise PlatewrightError(f"{name}: stopped early")
    entry["deep"][f"{cell:g}"] = found(field)
    half = file.with_suffix(".half")  # a reader never meets a file half written
    half.write_text(json.dumps(stored, indent=1, ensure_ascii=False) + "\n", encoding="utf-8")
    half.replace(file)
    print(name, cell, f"mean {field.mean_air:.2f} °C", flush=True)


def main(words: list[str]) -> None:
    """Run what is asked for and keep it."""
    cell = float(words[0]) if words else 20.0
    for file in (FILE, MORE):
        stored = json.loads(file.read_text(encoding="utf-8")) if file.exists() else {"layouts": {}}
        stored["about"] = ABOUT
        for wish in WISHES if file == FILE else ():
            drawn = {"fitting": wish.fitting, "cabinet": described(layout(wish))}
            entry = stored["layouts"].setdefault(wish.name, drawn | {"deep": {}})
            if entry["cabinet"] != drawn["cabinet"]:
                entry |= drawn | {"deep": {}}
        for name, entry in stored["layouts"].items():
            is_asked = name in words[1:] if words[1:] else f"{cell:g}" not in entry["deep"]
            if is_asked:
                solve(file, stored, name, cell)


if __name__ == "__main__":
    main(sys.argv[1:])
