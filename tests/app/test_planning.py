"""A plan that the page looks on at: what may move, what is kept, how it ends."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

from platewright.app.beside import planning
from platewright.app.beside.planning import (
    Candidate,
    How,
    Planning,
    Progress,
    held_for,
    weighed_by,
    with_own_locks,
)
from platewright.app.editing.edit import apply_edit
from platewright.app.editing.edits import TakeOff
from platewright.app.editing.session import Session, Snapshot
from platewright.app.live.checked import checked
from platewright.app.report import counts, totals
from platewright.model.layout import Layout
from platewright.tables.presets import preset, preset_names


def run(
    monkeypatch: pytest.MonkeyPatch, now: Snapshot, how: How, rounds: tuple[int, ...] = (4_000,)
) -> Progress:
    monkeypatch.setattr(planning, "ROUNDS", rounds)
    told: list[Progress] = []
    done = checked(now)
    before = Candidate(layout=now.layout, counts=counts(done.findings), totals=totals(done.panel))
    plan = Planning(now, before, how=how, seed=1, tell=told.append)
    plan.start()
    plan.join(120)
    assert not plan.is_running
    assert [p.ended for p in told].count(True) == 1
    assert all(a.share <= b.share + 1e-9 for a, b in pairwise(told))
    return told[-1]


def test_anew_finds_a_plate_without_the_mistakes(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    now = Session(folder).snapshot()
    last = run(monkeypatch, now, How.ANEW)
    assert last.best is not None
    assert last.before.counts["FAIL"] > 0
    assert last.best.counts["FAIL"] == 0


def test_the_rest_leaves_what_stands(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    now = Session(folder).snapshot()
    first = run(monkeypatch, now, How.ANEW).best
    assert first is not None
    open_ = apply_edit(now.job, first.layout, TakeOff(tags=("-F5", "-K3"))).layout
    last = run(monkeypatch, replace(now, layout=open_), How.REST)
    assert last.best is not None, last.problem
    for tag, at in open_.devices.items():
        assert last.best.layout.devices[tag] == at, tag
    assert {"-F5", "-K3"} <= set(last.best.layout.devices)
    assert not any(at.locked for at in last.best.layout.devices.values())


def test_polish_offers_nothing_worse(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    now = Session(folder).snapshot()
    good = run(monkeypatch, now, How.ANEW, (20_000,)).best
    assert good is not None
    last = run(monkeypatch, replace(now, layout=good.layout), How.POLISH, (2_000, 2_000))
    if last.best is None:
        assert last.problem == "no better plate was found"
    else:
        assert last.best.rank < last.before.rank


def test_locks_come_back_as_the_user_set_them(folder: Path) -> None:
    layout = Session(folder).snapshot().layout
    own = replace(
        layout, devices={**layout.devices, "-Q1": replace(layout.devices["-Q1"], locked=True)}
    )
    held = held_for(How.REST, own)
    assert all(thing.locked for thing in (*held.devices.values(), *held.rails.values()))
    assert with_own_locks(held, own) == own
    assert held_for(How.ANEW, own) == own
    assert isinstance(own, Layout)


def test_better_plates_are_shown_while_one_search_goes_on(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    now = Session(folder).snapshot()
    monkeypatch.setattr(planning, "ROUNDS", (40_000,))
    monkeypatch.setattr(planning, "SHOW_EVERY", 0.0)
    done = checked(now)
    before = Candidate(layout=now.layout, counts=counts(done.findings), totals=totals(done.panel))
    told: list[Progress] = []
    plan = Planning(now, before, how=How.ANEW, seed=1, tell=told.append)
    prices: list[float] = []
    own = plan._seen

    def seen(layout: Layout, price: float) -> None:
        prices.append(price)
        own(layout, price)

    monkeypatch.setattr(plan, "_seen", seen)
    plan.start()
    plan.join(120)
    shown = [p.trying for p in told if p.trying is not None]
    assert len(shown) >= 2
    assert all(p.best is None for p in told if p.trying is not None), "within the first search"
    assert all(set(now.job.devices) >= set(layout.devices) for layout in shown)
    assert plan._least == min(prices) < prices[0]
    assert not told[-1].trying


def test_a_stop_keeps_the_best_so_far(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    now = Session(folder).snapshot()
    monkeypatch.setattr(planning, "ROUNDS", (4_000, 50_000_000))
    done = checked(now)
    before = Candidate(layout=now.layout, counts=counts(done.findings), totals=totals(done.panel))
    told: list[Progress] = []

    def tell(progress: Progress) -> None:
        told.append(progress)
        if progress.best is not None:
            plan.stop()

    plan = Planning(now, before, how=How.ANEW, seed=1, tell=tell)
    plan.start()
    plan.join(60)
    assert not plan.is_running
    assert told[-1].ended
    assert told[-1].best is not None
    assert told[-1].best.counts["FAIL"] == 0


def test_a_preset_weighs_the_aims(folder: Path) -> None:
    job = Session(folder).snapshot().job
    name = preset_names()[0]
    row = preset(name)
    assert row is not None
    aims = weighed_by(job, name).settings.aims
    assert {key: getattr(aims, key) for key in row.weights} == dict(row.weights)
    assert aims.wish == job.settings.aims.wish
    assert weighed_by(job, "") is job
