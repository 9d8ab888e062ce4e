"""No screw is tightened so far that it strips the plate."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.fabricate.strength import most_torque
from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.layout import HoleKind
from platewright.model.panel import Panel
from platewright.rules.drilled import hole_box, holes_of
from platewright.rules.judge import Limit, at_most, undecided
from platewright.rules.registry import rule
from platewright.rules.wording import length_of
from platewright.tables.reader import source_of
from platewright.tables.strengths import tightening
from platewright.tables.threads import thread

SOURCE: Final = Source("table tightening", "T = K · d · F", Standing.PRACTICE)
IN_THE_PLATE: Final = (HoleKind.TAPPED, HoleKind.SELF_TAPPING)


@rule(
    id="fabrication.thread-strip",
    title="Screws don't strip the plate",
    why="The torque on a device's data sheet presumes a nut or a thick plate. In thin sheet the "
    "thread shears first, and it shears when the screw is tightened, not later.",
    source=SOURCE,
)
def check_thread_strip(panel: Panel) -> Iterator[Reading]:
    """Compare the torque that a device states with what its thread in this plate bears."""
    plate = panel.job.settings.plate
    told: set[str] = set()
    for tag, hole in holes_of(panel):
        size = thread(hole.size)
        if hole.holds not in panel.layout.devices or hole.kind not in IN_THE_PLATE:
            continue
        torque = panel.job.part_of(hole.holds).mount_torque
        if torque is None or size is None or hole.holds in told:
            continue
        told.add(hole.holds)
        used = f"{size.name} in {length_of(plate.thickness, 3)} {plate.material}"
        most = most_torque(size, thickness=plate.thickness, material=plate.material)
        if most is None:
            yield undecided(
                hole.holds,
                missing=f"{hole.holds}, hole {tag}: the strength of {plate.material} is not known",
                cure="Name steel, stainless or aluminium as the plate's material",
                place=hole_box(hole),
            )
            continue
        yield at_most(
            hole.holds,
            what=f"{hole.holds}, {used}: tightened to",
            measured=torque,
            limit=Limit(value=most, source=source_of(tightening()), unit="N·m"),
            cure="Drill it through and set a nut behind, or ask whether less torque will do",
            place=hole_box(hole),
        )
