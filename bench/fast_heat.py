"""The fast model of air inside beside the deep check, on stored layouts."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from platewright.foundation.units import MM_PER_M
from platewright.heat.local_air import (
    Bars,
    Constants,
    Floats,
    Room,
    Sources,
    core_rise,
    inlet_rise,
    inlets_of,
)

DATA = Path(__file__).parent / "data"
HELD = "deep_layouts.json"  # fitting layouts and those held out
MORE = "deep_fitting.json"  # further fitting layouts
CELL = "20"  # mm: the cells all layouts were solved on; finer ones beside it where there are any


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One layout, and what the deep check says of the air under each device's foot."""

    name: str
    is_fitting: bool
    room: Room
    sources: Sources
    bars: Bars
    convected: Floats
    loss: float  # W through the walls
    deep: Floats  # K over the outside air, a mean over the sizes of cells it was solved on
    unsure: Floats  # K: half of what those sizes differ by; NaN: solved on one size alone

    def fast(self, constants: Constants) -> Floats:
        """Return what the fast model says of the same."""
        core = core_rise(
            self.room, self.sources, self.convected, loss=self.loss, constants=constants
        )
        inlets = inlets_of(self.sources, self.bars, constants)
        return inlet_rise(core, self.room, self.sources, inlets, self.convected, constants)


def cases(folder: Path = DATA) -> list[Case]:
    """Return every stored layout."""
    found = []
    for name in (HELD, MORE):
        file = folder / name
        if file.exists():
            stored = json.loads(file.read_text(encoding="utf-8"))["layouts"]
            found += [_case(key, layout) for key, layout in stored.items()]
    return found


def _case(name: str, layout: dict[str, Any]) -> Case:
    box, walls = layout["cabinet"], layout["cabinet"]["walls"]
    inlets = [field["inlet"] for field in layout["deep"].values()]
    inlet = layout["deep"][CELL]["inlet"]
    devices = [b for b in box["blocks"] if b["tag"] in inlet]
    ducts = [
        b
        for b in box["blocks"]
        if not b["device"] and b["right"] - b["left"] > b["top"] - b["bottom"]
    ]
    width, height, depth = (box[key] / MM_PER_M for key in ("width", "height", "depth"))

    def metres(blocks: list[dict[str, Any]], key: str) -> Floats:
        return np.array([block[key] for block in blocks], dtype=np.float64) / MM_PER_M

    found = np.array([[inlet[b["tag"]] for b in devices] for inlet in inlets])
    left, right = metres(devices, "left"), metres(devices, "right")
    bottom, top = metres(devices, "bottom"), metres(devices, "top")
    return Case(
        name=name,
        is_fitting=layout["fitting"],
        room=Room(
            width=width, height=height, depth=depth,
            upright=(walls["left"] + walls["right"]) * depth + (walls["door"] + walls["plate"]) * width,
            floor=walls["floor"] * width * depth, roof=walls["roof"] * width * depth,
            sides=(walls["left"] + walls["right"]) * depth,
        ),
        sources=Sources(
            x=(left + right) / 2, y=bottom, width=right - left, height=top - bottom,
            depth=metres(devices, "depth"),
        ),
        bars=Bars(
            left=metres(ducts, "left"), right=metres(ducts, "right"),
            bottom=metres(ducts, "bottom"), top=metres(ducts, "top"),
        ),
        convected=np.array([b["heat"] for b in devices]),
        loss=box["heat"],
        deep=found.mean(axis=0) - box["ambient"],
        unsure=np.ptp(found, axis=0) / 2 if len(found) > 1 else np.full(len(devices), np.nan),
    )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Agreement:
    """How far the fast model is off."""

    devices: int
    rms: float  # K
    bias: float  # K, above 0: the fast model is hotter
    unsafe: float  # share of devices it tells more than 5 K too cool
    worst: float  # K


def agreement(errors: Floats) -> Agreement:
    """Return the figures of fast minus deep."""
    return Agreement(
        devices=errors.size,
        rms=float(np.sqrt((errors**2).mean())),
        bias=float(errors.mean()),
        unsafe=float((errors < -5).mean()),
        worst=float(errors[np.abs(errors).argmax()]),
    )


def errors_of(chosen: list[Case], constants: Constants) -> Floats:
    """Return fast minus deep over all devices of some layouts."""
    return np.concatenate([case.fast(constants) - case.deep for case in chosen])
