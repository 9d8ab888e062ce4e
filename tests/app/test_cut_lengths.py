"""Fewer different cut lengths, where rails have the room: never a FAIL for it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from generated_jobs import generated_job
from platewright.app.plans.plan import Budget, Planned, plan
from platewright.app.plans.worth import cut_lengths
from platewright.jobfile.folder import read_job
from platewright.model.finding import Verdict
from platewright.model.job import Job
from platewright.model.layout import Layout
from platewright.rules.registry import run_rules

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


def _planned(job: Job, worth: float) -> Planned:
    aims = replace(job.settings.aims, cut_length=worth)
    job = replace(job, settings=replace(job.settings, aims=aims))
    budget = Budget(moves=12_000)
    planned = plan(job, Layout(), seed=1, budget=budget, progress=lambda _s, _t: True)
    assert not [f for f in run_rules(planned.panel) if f.verdict is Verdict.FAIL]
    return planned


def test_the_more_a_length_is_worth_the_fewer_there_are() -> None:
    told = []
    for seed in range(1, 7):
        job = generated_job(60, seed=seed)
        counts = [cut_lengths(_planned(job, worth).panel.layout) for worth in (0.0, 0.05, 1.0)]
        assert counts[0] >= counts[1] >= counts[2], counts
        told.append(counts)
    assert sum(c[2] for c in told) < sum(c[0] for c in told)


@pytest.mark.parametrize("name", ["bottle-rinser", "packaging-line"])
def test_the_examples(name: str) -> None:
    plain, sought = (_planned(read_job(EXAMPLES / name), worth) for worth in (0.0, 1.0))
    assert plain.panel.layout.devices == sought.panel.layout.devices
    assert plain.cut_lengths_unsought == cut_lengths(plain.panel.layout)
    assert sought.cut_lengths_unsought == cut_lengths(plain.panel.layout)
    assert cut_lengths(sought.panel.layout) <= sought.cut_lengths_unsought
