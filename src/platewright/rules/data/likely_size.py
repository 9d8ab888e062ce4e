"""A body far too small or too heavy for its kind is more likely written in the wrong unit."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.foundation.units import Kg, Mm
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.model.part import Mount, Part
from platewright.rules.judge import breaks, holds
from platewright.rules.registry import rule
from platewright.rules.wording import bare, length_of

SOURCE: Final = Source("sizes met in the trade", "", Standing.PRACTICE)
COPPER: Final = 8.96e-6  # kg/mm³, density of copper (handbook): no device is denser
LOWEST_ON_RAIL: Final[Mm] = 30.0  # a 35 mm rail's clip is hardly less
FLATTEST_ON_RAIL: Final[Mm] = 25.0
# a body that reads shorter is met as one in inches, up to a foot
LONGEST_IN_INCHES: Final[Mm] = 12.0


@rule(
    id="data.likely-size",
    title="Sizes are likely ones",
    why="5.5 in a column of millimetres is most likely 5.5 inches. A plate laid out for it is lost.",
    source=SOURCE,
)
def check_likely_size(panel: Panel) -> Iterator[Reading]:
    """Ask about bodies denser than copper, or of a few mm, and rail devices lower than a rail's clip.

    What can't be at all is refused when the job is read.
    """
    parts = {panel.job.devices[tag].part for tag in panel.job.devices}
    odd = 0
    for name in sorted(parts):
        part = panel.job.parts[name]
        problem = _problem(part)
        if problem:
            odd += 1
            yield breaks(
                name,
                message=f"part {name}, {bare(part.width, None)} × {bare(part.height, None)} × {length_of(part.depth, None)}, {problem}",
                cure="Is it in inches? Write width_in, height_in, depth_in, or 5.5 in; "
                "else correct the size",
                source=SOURCE,
            )
    if parts and not odd:
        yield holds("", message=f"{len(parts)} parts of likely size")


def _problem(part: Part) -> str:
    mass: Kg = part.mass or 0.0
    if mass > COPPER * part.width * part.height * part.depth:
        return f"would be denser than copper at {mass:g} kg"
    if part.mount is Mount.RAIL and part.height < LOWEST_ON_RAIL:
        return "is lower than the clip of a rail"
    if part.mount is Mount.RAIL and part.depth < FLATTEST_ON_RAIL:
        return "is flatter than the clip of a rail"
    if max(part.width, part.height, part.depth) < LONGEST_IN_INCHES:
        return f"is less than {length_of(LONGEST_IN_INCHES, None)} in each direction"
    return ""
