"""A region kept free that reaches past the plate: only its part on the plate counts."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.foundation.units import Mm
from platewright.model.finding import Reading
from platewright.model.job import KeepOut, Plate
from platewright.model.panel import Panel
from platewright.rules.judge import breaks, holds
from platewright.rules.registry import rule
from platewright.rules.wording import bare, common, enough, length_of

SOURCE: Final = Source("assumption", "only what lies on the plate is kept free", Standing.PRACTICE)
ROUNDED: Final[Mm] = 0.5  # what rounding to a whole mm adds is no slip


@rule(
    id="data.keep-out",
    title="Regions kept free lie on the plate",
    why="A region that reaches past the plate may be meant so, or have a slip in its place or "
    "size: then what should be free is not.",
    source=SOURCE,
)
def check_keep_out_data(panel: Panel) -> Iterator[Reading]:
    """Measure how far each region kept free reaches past each edge of the plate."""
    plate, found = panel.job.settings.plate, False
    for number, region in enumerate(plate.keep_outs, start=1):
        past = _past(region, plate)
        if past:
            found = True
            yield _told(number, region, plate, past)
    if plate.keep_outs and not found:
        count = len(plate.keep_outs)
        yield holds("", message=f"all {count} regions kept free lie on the plate")


def _past(region: KeepOut, plate: Plate) -> dict[str, Mm]:
    """Return by how much a region reaches past each edge that it does, by name."""
    box = region.box
    over = {
        "left": -box.left,
        "right": box.right - plate.width,
        "lower": -box.bottom,
        "upper": box.top - plate.height,
    }
    return {edge: by for edge, by in over.items() if by > ROUNDED}


def _told(number: int, region: KeepOut, plate: Plate, past: dict[str, Mm]) -> Reading:
    field, kept = f"plate.keep_outs[{number}]", common(region.box, plate.box)
    name = f" ({region.reason})" if region.reason else ""
    edges = " and ".join(f"{enough(by)} past the {edge} edge" for edge, by in past.items())
    ways = {"left": "x_mm", "right": "width_mm", "lower": "y_mm", "upper": "height_mm"}
    keys = " and ".join(dict.fromkeys(ways[edge] for edge in past))
    return breaks(
        field,
        message=f"{field}{name} reaches {edges} of the plate, which is {bare(plate.width, None)} × "
        f"{length_of(plate.height, None)}: only its part on the plate is kept free",
        cure=f"Correct {keys} in job.toml; if it is meant so, write its part on the plate: "
        f"x_mm = {kept.left:g}, y_mm = {kept.bottom:g}, width_mm = {kept.right - kept.left:g}, "
        f"height_mm = {kept.top - kept.bottom:g}",
        source=SOURCE,
        place=kept,
    )
