"""The preset that seeks a cool plate, judged by the heat model that the search does not run."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from scipy.stats import spearmanr

from generated_jobs import generated_job
from platewright.app.gather import clear_spaces, panel_of, wiring_spaces
from platewright.app.plans.coolness import warmth_of
from platewright.app.plans.plan import DEFAULT_MOVES, Budget, plan
from platewright.app.plans.weighing import weighed_by
from platewright.app.plans.worth import worth_of
from platewright.arrange.arranger import in_order
from platewright.arrange.arrays import room_for, sums_for
from platewright.arrange.kernels.anneal import anneal
from platewright.arrange.kernels.warmth import warmest
from platewright.arrange.solvers.search import priced
from platewright.arrange.task import Standing, frame_for, task_for, uniform_sizes, wiring_for
from platewright.foundation.errors import InputErrors
from platewright.heat.panel_heat import heat_of
from platewright.jobfile.folder import read_job
from platewright.model.finding import Verdict
from platewright.model.job import Job
from platewright.model.layout import Layout
from platewright.rules.registry import run_rules

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


def _hottest(job: Job, seed: int, moves: int) -> float:
    panel = plan(
        job, Layout(), seed=seed, budget=Budget(moves=moves), progress=lambda _s, _t: True
    ).panel
    assert not [f for f in run_rules(panel) if f.verdict is Verdict.FAIL]
    hottest = worth_of(panel).hottest
    assert hottest is not None
    return hottest


def _gain(job: Job, *, seed: int) -> float:
    """Return by how much the preset's warmest housing is cooler than the balanced plate's, K."""
    balanced, cool = (weighed_by(job, name) for name in ("all-round", "coolest"))
    return _hottest(balanced, seed, DEFAULT_MOVES) - _hottest(cool, seed, DEFAULT_MOVES)


def test_the_coolest_preset_is_never_hotter_than_the_balanced_and_mostly_cooler() -> None:
    gains = [_gain(generated_job(25, seed=seed), seed=1) for seed in range(1, 6)]
    assert min(gains) >= 0.0, gains
    assert float(np.mean(gains)) > 2.0, gains


@pytest.mark.parametrize(("name", "seed"), [("bottle-rinser", 1), ("packaging-line", 1)])
def test_the_examples_get_cooler(name: str, seed: int) -> None:
    assert _gain(read_job(EXAMPLES / name), seed=seed) > 0.0


def test_the_estimate_that_steers_orders_plates_as_the_heat_model_does() -> None:
    """Rank correlation over plates in random order; the model's own figures are the judge."""
    job = weighed_by(generated_job(25, seed=2), "coolest")
    task = task_for(
        job, clear=clear_spaces(job), wiring=wiring_spaces(job), standing=Standing(),
        warmth=warmth_of(job),
    )  # fmt: skip
    sizes = uniform_sizes(task, 4, job.settings.stock.ducts[1])
    chance = np.random.default_rng(5)
    told, modelled = [], []
    for _ in range(40):
        tags = [str(tag) for tag in chance.permutation(sorted(job.devices))]
        found = in_order(task, sizes, tags)
        told.append(warmest(found.frame.hot, found.frame.air, task.arrays.width, found.placed))
        heat = heat_of(panel_of(job, found.layout))
        modelled.append(max(d.surface.value for d in heat.devices.values()))
    assert spearmanr(told, modelled).statistic > 0.5


@pytest.mark.parametrize("seed", range(4))
def test_a_walk_that_looks_at_warmth_ends_at_the_full_price(seed: int) -> None:
    job = weighed_by(generated_job(40, seed=seed), "coolest")
    task = task_for(
        job, clear=clear_spaces(job), wiring=wiring_spaces(job), standing=Standing(),
        warmth=warmth_of(job),
    )  # fmt: skip
    sizes = uniform_sizes(task, 4, job.settings.stock.ducts[1])
    data = (task.arrays, wiring_for(task, sizes), frame_for(task, sizes))
    assert data[2].w_cool == 5000.0
    start = in_order(task, sizes, sorted(job.devices)).found.start
    start = start._replace(tokens=start.tokens[start.tokens < task.arrays.free])
    ends = np.arange(3) + task.arrays.free
    tokens = np.concatenate([start.tokens, ends])
    extra = np.zeros(4)
    blocks, wiring, frame = data
    room = (*(room_for(blocks, frame) for _ in range(2)), *(sums_for(*data) for _ in range(2)))
    best = (tokens.copy(), extra.copy())
    for leg in range(5):
        told = anneal(tokens, extra, blocks, wiring, frame, room, (300, 9e3, 90.0, leg + 1), best)
        found, _ = priced(start._replace(tokens=best[0], extra=best[1]), *data)
        assert told == pytest.approx((found.violation, found.cost), rel=1e-9, abs=1e-6)


def test_progress_never_goes_back_and_comes_to_the_end() -> None:
    told: list[float] = []

    def progress(share: float, _told: str) -> bool:
        told.append(share)
        return True

    job = weighed_by(generated_job(25, seed=1), "coolest")
    plan(job, Layout(), seed=1, budget=Budget(moves=40_000, explain=True), progress=progress)
    assert told == sorted(told)
    assert 0.9 < told[-1] <= 1.0
    for part in range(1, 10):  # what looks for cooler plates is half of the work, and is told
        assert any(part / 10 - 0.1 <= share <= part / 10 + 0.1 for share in told)


def test_a_job_without_heat_is_planned_by_what_is_left() -> None:
    job = generated_job(12, seed=1)
    cold = replace(job, parts={n: replace(p, heat=None) for n, p in job.parts.items()})
    assert warmth_of(cold) is None
    planned = plan(
        weighed_by(cold, "coolest"), Layout(), seed=1, budget=Budget(moves=4_000),
        progress=lambda _s, _t: True,
    )  # fmt: skip
    assert set(planned.panel.layout.devices) == set(cold.devices)


def test_an_unknown_preset_is_told_with_the_nearest() -> None:
    with pytest.raises(InputErrors, match="coolest"):
        weighed_by(generated_job(12, seed=1), "coolst")
