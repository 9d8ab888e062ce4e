"""Nothing may stand beyond the plate, nor in the margin along its edges."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import GEOMETRY, Source, Standing
from platewright.model.finding import Reading
from platewright.model.geometry import Box
from platewright.model.panel import Panel
from platewright.rules.judge import Limit, at_least
from platewright.rules.placed import everything
from platewright.rules.registry import rule
from platewright.rules.wording import enough

SOURCE: Final = Source("job.toml", "plate.edge_margin", Standing.JOB)
BACK: Final = {"left": "right", "right": "left", "top": "down", "bottom": "up"}


@rule(
    id="space.plate-edge",
    title="The plate's edges stay free",
    why="The plate's fold, the enclosure's wall and the hands that hang the plate need the edge. "
    "Beyond the plate there is nothing to screw to.",
    source=SOURCE,
)
def check_plate_edge(panel: Panel) -> Iterator[Reading]:
    """Measure from every envelope, duct and rail to the nearest edge of the plate."""
    plate = panel.job.settings.plate
    margin = Limit(value=plate.edge_margin, source=SOURCE)
    on_plate = Limit(value=0.0, source=GEOMETRY)
    for tag, box in everything(panel):
        side, distance = _nearest_edge(box, plate.box)
        is_off = distance < 0 or plate.edge_margin <= 0
        yield at_least(
            tag,
            what=f"from {tag} to the plate's {side} edge",
            measured=distance,
            limit=on_plate if is_off else margin,
            cure=f"Move or shorten {tag} so that it ends {enough(plate.edge_margin - distance)} "
            f"further {BACK[side]}",
            place=box,
        )


def _nearest_edge(box: Box, plate: Box) -> tuple[str, float]:
    distances = {
        "left": box.left - plate.left,
        "right": plate.right - box.right,
        "top": plate.top - box.top,
        "bottom": box.bottom - plate.bottom,
    }
    side = min(distances, key=lambda name: distances[name])
    return side, distances[side]
