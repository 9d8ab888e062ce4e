"""Plan; where nothing fits, say what stands in the way and which changes would cure it, tried."""

from __future__ import annotations

from platewright.app.plans.in_the_way import refusal
from platewright.app.plans.plan import Budget, NoPlate, Planned, Progress, Seen, plan
from platewright.model.job import Job
from platewright.model.layout import Layout


def plan_or_explain(
    job: Job, layout: Layout, *, seed: int, budget: Budget, progress: Progress,
    seen: Seen | None = None,
) -> Planned:  # fmt: skip
    """Plan as ``plan`` does; its refusal comes with cures, found by planning changed jobs.

    Who stopped the search does not wait for cures either. Raises ``CannotPlan``.
    """
    try:
        return plan(job, layout, seed=seed, budget=budget, progress=progress, seen=seen)
    except NoPlate as none:
        if none.stopped:
            raise
        raise refusal(none.arrangement, layout, seed=seed) from None
