"""The whole work at the bench: how tools go over the holes, and the steps of the build."""

from __future__ import annotations

from platewright.fabricate.solvers.drill_passes import drill_passes
from platewright.fabricate.steps import build_order
from platewright.foundation.units import Mm
from platewright.model.job import Job
from platewright.model.layout import Layout
from platewright.model.steps import BuildOrder, Pass
from platewright.tables.tools import tool


def reach_of(job: Job) -> Mm:
    """Return how far one works from the plate's edge: as the job says, else shop practice."""
    return job.settings.bench.reach or tool("reach")


def passes_of(job: Job, layout: Layout) -> tuple[Pass, ...]:
    """Return how each tool goes over the holes that are still to be made."""
    return drill_passes(layout.holes, job.settings.plate, reach=reach_of(job))


def bench_work(job: Job, layout: Layout) -> BuildOrder:
    """Return the steps of the build."""
    return build_order(job, layout, passes_of(job, layout))
