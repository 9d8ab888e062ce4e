"""A plan may be stopped at any time, is heard of while it works, and can be repeated."""

from __future__ import annotations

import time

import pytest

from generated_jobs import generated_job
from platewright.app.gather import clear_spaces, wiring_spaces
from platewright.app.plans.heartbeat import beating
from platewright.app.plans.plan import Budget, plan
from platewright.arrange.arranger import probe
from platewright.arrange.solvers.search import search
from platewright.arrange.task import Standing, frame_for, task_for, wiring_for
from platewright.jobfile.layout_file import layout_text
from platewright.model.finding import Verdict
from platewright.model.layout import Layout
from platewright.rules.registry import run_rules


def test_stopping_after_any_chunk_of_the_search_leaves_a_legal_plate() -> None:
    job = generated_job(25, seed=3)
    task = task_for(job, clear=clear_spaces(job), wiring=wiring_spaces(job), standing=Standing())
    stock = job.settings.stock.ducts[1]
    first = probe(task, stock, moves=400, seed=1, report=lambda _d, _w: True)
    assert first.is_legal
    data = (task.arrays, wiring_for(task, first.sizes), frame_for(task, first.sizes))
    costs = []
    for chunks in range(1, 41):
        left = [chunks]

        def report(_done: float, _wire: float, left: list[int] = left) -> bool:
            left[0] -= 1
            return left[0] > 0

        found = search(first.found.start, data, moves=100_000, seed=5, report=report)
        assert found.violation == 0.0
        assert found.cost <= first.found.cost + 1e-6
        costs.append(found.cost)
    assert costs[-1] < first.found.cost


@pytest.mark.parametrize("calls", [1, 12, 30, 45, 60])
def test_a_plan_stopped_at_any_call_is_a_plate_without_a_fail(calls: int) -> None:
    told = [0]

    def progress(_share: float, _text: str) -> bool:
        told[0] += 1
        return told[0] < calls

    job = generated_job(25, seed=3)
    planned = plan(job, Layout(), seed=1, budget=Budget(moves=100_000), progress=progress)
    assert planned.stopped
    assert not [f for f in run_rules(planned.panel) if f.verdict is Verdict.FAIL]


def test_a_stop_asked_between_two_news_is_heard() -> None:
    answers = iter([True, False])
    with beating(lambda _s, _t: next(answers, True), every=0.02) as told:
        assert told(0.1, "one")
        time.sleep(0.2)  # repeated meanwhile, and answered with no
        assert not told(0.2, "two")


def test_a_plan_by_seconds_is_the_same_again_by_its_iterations() -> None:
    job = generated_job(25, seed=3)
    timed = plan(
        job, Layout(), seed=2, budget=Budget(seconds=2.0), progress=lambda _s, _t: True
    )  # fmt: skip
    if timed.stopped:  # the machine was too busy for its own estimate; that is told instead
        pytest.skip("the clock ended the search early")
    again = plan(
        job, Layout(), seed=2, budget=Budget(moves=timed.moves), progress=lambda _s, _t: True
    )  # fmt: skip
    assert layout_text(again.panel.layout) == layout_text(timed.panel.layout)
