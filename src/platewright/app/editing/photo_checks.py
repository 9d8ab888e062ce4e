"""How far a straightened photo can be trusted: measured against what is known of the plate.

The lens is taken to draw straight lines straight. Whether it does is measured where the plate's
edges are marked half way between the corners; what it bends is told, not corrected.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import hypot
from pathlib import Path
from typing import Any, Final, TypeAlias

import numpy as np

from platewright.app.editing.as_built import Measured, written_down
from platewright.app.editing.edit import apply_edit
from platewright.app.editing.edits import Put
from platewright.app.editing.photo import CORNERS, Corners, kept_corners, mapped, plane_map
from platewright.app.editing.session import inside_only
from platewright.foundation.units import Mm
from platewright.jobfile.atomic import save
from platewright.model.geometry import Point
from platewright.model.job import Job, Plate
from platewright.model.layout import Layout

Pixel: TypeAlias = tuple[float, float]
EDGES: Final = ("lower", "right", "upper", "left")


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """A distance that was measured with a rule, and its ends in the picture."""

    start: Pixel
    end: Pixel
    length: Mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Checks:
    """What was marked beyond the corners, and where devices were seen on the plate (mm)."""

    edges: Mapping[str, Pixel]
    known: tuple[Known, ...]
    seen: Mapping[str, tuple[Mm, Mm]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Trust:
    """Measured errors: of each edge's middle from its straight line, of each known distance."""

    bow: Mapping[str, Mm]  # outwards from the plate is above 0
    off: tuple[Mm, ...]  # measured in the picture less the known length
    worst: Mm | None  # None: nothing beyond the corners was marked


def trust_of(corners: Corners, plate: Plate, checks: Checks) -> Trust:
    """Return how far marks in the picture are from what is known of them."""
    face = np.array([(0, 0), (plate.width, 0), (plate.width, plate.height), (0, plate.height)])
    matrix = plane_map(np.array(corners, dtype=np.float64), face.astype(np.float64))

    def on_plate(pixel: Pixel) -> tuple[float, float]:
        x, y = mapped(matrix, np.array([pixel], dtype=np.float64))[0]
        return float(x), float(y)

    bow = {}
    for name, pixel in checks.edges.items():
        x, y = on_plate(pixel)
        bow[name] = {
            "lower": -y, "right": x - plate.width, "upper": y - plate.height, "left": -x,
        }[name]  # fmt: skip
    off = []
    for one in checks.known:
        (ax, ay), (bx, by) = on_plate(one.start), on_plate(one.end)
        off.append(hypot(bx - ax, by - ay) - one.length)
    errors = [abs(e) for e in (*bow.values(), *off)]
    return Trust(bow=bow, off=tuple(off), worst=max(errors, default=None))


def kept_checks(folder: Path) -> Checks:
    """Return what is kept beside the corners; what is not sound is left out."""
    kept = _kept(folder)
    edges = {n: p for n in EDGES if (p := _pair(kept.get("edges", {}), n)) is not None}
    known = []
    for one in kept.get("known", []) if isinstance(kept.get("known"), list) else []:
        start, end, length = _pair(one, "start"), _pair(one, "end"), _number(one, "length")
        if start and end and length:
            known.append(Known(start=start, end=end, length=length))
    table = kept.get("seen", {})
    names = table if isinstance(table, dict) else {}
    seen = {str(tag): p for tag in names if (p := _pair(table, tag)) is not None}
    return Checks(edges=edges, known=tuple(known), seen=seen)


def keep_checks(folder: Path, checks: Checks) -> None:
    """Keep marks beside the corners, which stay as they are."""
    inside_only(folder, (CORNERS,))
    known = [{"start": k.start, "end": k.end, "length": k.length} for k in checks.known]
    kept = {
        "corners": kept_corners(folder), "edges": dict(checks.edges), "known": known,
        "seen": dict(checks.seen),
    }  # fmt: skip
    save(folder / CORNERS, (json.dumps(kept) + "\n").encode())


def _kept(folder: Path) -> dict[str, Any]:
    try:
        found = json.loads((folder / CORNERS).read_bytes())
    except (OSError, ValueError):
        return {}
    return found if isinstance(found, dict) else {}


def _pair(table: Any, name: str) -> Pixel | None:
    try:
        x, y = table[name]
        pair = (float(x), float(y))
    except (KeyError, TypeError, ValueError):
        return None
    return pair if np.isfinite(pair).all() else None


def _number(table: Any, name: str) -> float | None:
    try:
        value = float(table[name])
    except (KeyError, TypeError, ValueError):
        return None
    return value if 0 < value < np.inf else None


def taken_over(
    job: Job, layout: Layout, seen: Mapping[str, tuple[Mm, Mm]]
) -> tuple[Layout, tuple[str, ...]]:
    """Return the layout with devices where they were seen, locked there, and what to tell."""
    for tag, (x, y) in seen.items():
        if tag not in layout.devices:  # from the tray
            layout = apply_edit(job, layout, Put(tag=tag, x=x, y=y)).layout
    places = {tag: Point(round(x, 1), round(y, 1)) for tag, (x, y) in seen.items()}
    return written_down(job, layout, Measured(places=places))


def differences(
    job: Job, layout: Layout, seen: Mapping[str, tuple[Mm, Mm]], tags: Sequence[str]
) -> list[dict[str, Any]]:
    """Return each device as planned beside as seen: mm, ``None`` where there is none."""
    rows = []
    for tag in tags:
        at, found = layout.devices.get(tag), seen.get(tag)
        rows.append({
            "tag": tag,
            "what": job.devices[tag].function or job.part_of(tag).description,
            "plan": None if at is None else [at.x, at.y],
            "seen": None if found is None else list(found),
            "locked": at is not None and at.locked,
        })  # fmt: skip
    return rows
