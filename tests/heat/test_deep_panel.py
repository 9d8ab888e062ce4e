"""The deep check of a panel: what goes in, what is told, its stop. Coarse cells, to be quick."""

from dataclasses import replace

import pytest

from platewright.cli.heat import deep_lines, validation_lines
from platewright.heat.deep_panel import DeepRow, cabinet_of, deep_heat, rows_apart
from platewright.heat.panel_heat import settled
from platewright.model.heat import Banded
from platewright.tables.deep_validation import validation

from .panels import rows

PANEL = rows(12)


def go_on(*_):
    return True


@pytest.fixture(scope="module")
def answer():
    return deep_heat(PANEL, cell=50.0, seconds=8.0, report=go_on)


def test_walls_let_through_what_they_do_in_the_balance():
    state = settled(PANEL)
    cabinet = cabinet_of(PANEL, state)
    per_kelvin = sum(wall.heat for wall in state.level.walls) / state.level.rise
    assert cabinet.conductance == pytest.approx(per_kelvin, rel=1e-9)
    assert cabinet.heat == pytest.approx(float(state.inside.convected.sum()), rel=1e-6)
    assert cabinet.inside.width == PANEL.job.settings.enclosure.width


def test_heat_carried_out_by_a_fan_is_not_put_in():
    blown = rows(12, fan=200.0)
    state = settled(blown)
    assert cabinet_of(blown, state).heat < 0.7 * float(state.inside.convected.sum())
    words = " ".join(deep_heat(blown, cell=50.0, seconds=0.5, report=go_on).cautions)
    assert "Jets" in words


def test_every_device_is_told_with_both(answer):
    state = settled(PANEL)
    fast = dict(zip(state.here.tags, state.inside.air.tolist(), strict=True))
    assert {row.tag: row.fast.value for row in answer.rows} == fast
    assert [row.deep for row in answer.rows] == sorted((r.deep for r in answer.rows), reverse=True)
    told = "\n".join(deep_lines(answer))
    for row in answer.rows:
        assert row.tag in told
        assert f"{row.difference:+.1f} K" in told
    assert "NOT CONVERGED" not in told


def test_heat_of_the_panel_adds_up(answer):
    assert answer.field.residual < 1e-3
    mean = settled(PANEL).level.rise
    assert answer.mean - 25.0 == pytest.approx(mean, rel=0.35)


def test_stopped_early_it_says_so_and_keeps_what_there_is():
    calls = []

    def stop(share, words):
        calls.append(words)
        return len(calls) < 3

    found = deep_heat(PANEL, cell=50.0, seconds=8.0, report=stop)
    assert len(calls) == 3
    assert not found.field.finished
    assert len(found.rows) == len(PANEL.job.devices)
    assert "NOT CONVERGED" in next(iter(deep_lines(found)))


def test_a_plate_without_heat_is_refused():
    job = PANEL.job
    cold = {name: replace(part, heat=0.0) for name, part in job.parts.items()}
    bare = replace(PANEL, job=replace(job, parts=cold))
    with pytest.raises(ValueError, match="heat"):
        deep_heat(bare, report=go_on)


@pytest.mark.parametrize(
    ("deep", "limit", "told"),
    [
        (50.0, 60.0, "within"),
        (50.0, 59.0, "within"),
        (50.0, 58.9, "undecided"),
        (50.0, 41.0, "undecided"),
        (50.0, 40.9, "over"),
        (56.1, 90.0, "undecided: the two differ"),
        (50.0, None, "no limit stated"),
    ],
)
def test_verdict_of_both(deep, limit, told):
    row = DeepRow(tag="-A", fast=Banded(50.0, 9.0), deep=deep, limit=limit)
    assert row.verdict == told


def test_figures_of_the_difference(answer):
    apart = [row.difference for row in answer.rows]
    rms, mean, share = rows_apart(answer)
    assert mean == pytest.approx(sum(apart) / len(apart))
    assert rms >= abs(mean)
    assert share == sum(x > 5 for x in apart) / len(apart)


def test_the_solvers_own_errors_are_told():
    told = list(validation_lines(validation()))
    assert len(told) == len(validation()) + 2
    assert any("extrapolated" in line for line in told)
    assert any("tall cavity" in line and " K" in line for line in told)
