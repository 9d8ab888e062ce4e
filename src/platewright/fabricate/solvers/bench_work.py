"""The whole work at the bench: how tools go over the holes, and the steps of the build."""

from __future__ import annotations

from functools import lru_cache

from platewright.fabricate.solvers.drill_passes import drill_passes
from platewright.fabricate.steps import build_order
from platewright.foundation.units import Mm
from platewright.model.job import Job, Plate
from platewright.model.layout import Hole, Layout
from platewright.model.steps import BuildOrder, Pass
from platewright.tables.tools import tool


def reach_of(job: Job) -> Mm:
    """Return how far one works from the plate's edge: as the job says, else shop practice."""
    return job.settings.bench.reach or tool("reach")


def passes_of(job: Job, layout: Layout) -> tuple[Pass, ...]:
    """Return how each tool goes over the holes that are still to be made."""
    return _passes(tuple(layout.holes.items()), job.settings.plate, reach_of(job))


@lru_cache(maxsize=4)  # several sheets of one panel ask for the same
def _passes(holes: tuple[tuple[str, Hole], ...], plate: Plate, reach: Mm) -> tuple[Pass, ...]:
    return drill_passes(dict(holes), plate, reach=reach)


def bench_work(job: Job, layout: Layout) -> BuildOrder:
    """Return the steps of the build."""
    return build_order(job, layout, passes_of(job, layout))
