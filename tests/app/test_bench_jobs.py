"""The generated jobs of the benchmarks are what they say, and a plan of one passes the checks."""

from __future__ import annotations

import pytest

import run_bench
from bench_arrange import row
from bench_no_fails import rows as no_fails_rows
from generated_jobs import generated_job, with_traps
from platewright.app.plans.plan import Budget, plan
from platewright.model.finding import Verdict
from platewright.rules.registry import run_rules


@pytest.mark.parametrize("seed", [1, 2])
def test_a_plan_round_pins_chains_and_regions_to_keep_free_fails_nowhere(seed: int) -> None:
    job, layout = with_traps(generated_job(25, seed=seed), seed)
    (switch,) = layout.devices
    chains = {d.tag: d.plugs_into for d in job.devices.values() if d.plugs_into}
    assert chains, "some devices are chained"
    assert len(job.settings.plate.keep_outs) == 2
    budget = Budget(moves=40_000)
    planned = plan(job, layout, seed=seed, budget=budget, progress=lambda _s, _t: True)
    found = planned.panel.layout.devices
    assert (found[switch].x, found[switch].y) == (
        layout.devices[switch].x,
        layout.devices[switch].y,
    )
    for tag, contactor in chains.items():
        right = found[contactor].x + job.part_of(contactor).width
        assert found[tag].x == pytest.approx(right, abs=1e-3)
    failed = [f for f in run_rules(planned.panel) if f.verdict is Verdict.FAIL]
    assert failed == []


def test_long_benchmarks_run_only_by_their_whole_name() -> None:
    assert run_bench._is_asked("arrange", [])
    assert run_bench._is_asked("arrange", ["arr"])
    assert not run_bench._is_asked("no_fails", [])
    assert not run_bench._is_asked("no_fails", ["no"])
    assert run_bench._is_asked("no_fails", ["no_fails"])
    assert not run_bench._is_asked("arrange", ["no_fails"])


def test_rows_say_what_their_baseline_is(capsys: pytest.CaptureFixture[str]) -> None:
    line = run_bench._line(row("wire", 0.5, "share", 0.6, "most allowed"))
    assert line.split() == ["wire", "0.5", "share", "0.6", "0.8333", "most", "allowed"]
    made = no_fails_rows(seeds=0)
    assert [r["name"] for r in made if r["unit"] == "plans"] == [
        f"no_fails_{n}" for n in (25, 60, 120, 300)
    ]
    assert all(r["baseline_is"] for r in made)
    assert capsys.readouterr().out == ""
