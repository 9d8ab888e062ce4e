"""Run the deep check on the random cabinets and store what it says in data/deep_layouts.json.

Run: python bench/make_deep_layouts.py [CELL_MM [NAME …]]. Takes minutes; adds to the file what it
lacks or replaces what it is told to. 20 mm cells are the reference, 12.5 mm ones show the error
of the cells.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

import numpy as np

from deep_layouts import WISHES, layout
from platewright.foundation.errors import PlatewrightError
from platewright.heat.solvers.cabinet import FlowCabinet
from platewright.heat.solvers.deep_check import FlowField, deep_check

FILE = Path(__file__).parent / "data" / "deep_layouts.json"
SECONDS = 60.0
ABOUT = (
    "Cabinets of bench/deep_layouts.py with the air under each device's foot as the deep check "
    "gives it. mm, W, °C, W/(m²·K); 'heat' is what the air gets. Keys of 'deep' are cell sizes in "
    "mm; 'seconds' of flow were marched on them, the last two fifths averaged, after thrice that "
    "on cells twice as large. 'levels': mean air of each layer of cells, floor first."
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


def main(words: list[str]) -> None:
    """Run what is asked for and keep it."""
    cell = float(words[0]) if words else 20.0
    stored = json.loads(FILE.read_text(encoding="utf-8")) if FILE.exists() else {"layouts": {}}
    stored["about"] = ABOUT
    for wish in WISHES:
        if words[1:] and wish.name not in words[1:]:
            continue
        cabinet = layout(wish)
        entry = stored["layouts"].setdefault(wish.name, {"deep": {}})
        if (
            not words[1:]
            and f"{cell:g}" in entry["deep"]
            and entry["cabinet"] == described(cabinet)
        ):
            continue
        field = deep_check(cabinet, cell=cell, seconds=SECONDS, report=lambda *_: True)
        if not field.finished:
            raise PlatewrightError(f"{wish.name}: stopped early")
        entry |= {"fitting": wish.fitting, "wish": wish.name, "cabinet": described(cabinet)}
        entry["deep"][f"{cell:g}"] = found(field)
        FILE.parent.mkdir(exist_ok=True)
        half = FILE.with_suffix(".half")  # a reader never meets a file half written
        half.write_text(json.dumps(stored, indent=1, ensure_ascii=False) + "\n", encoding="utf-8")
        half.replace(FILE)
        print(wish.name, cell, f"mean {field.mean_air:.2f} °C", flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
