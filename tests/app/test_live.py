"""What is told while the hand moves is what the checks say once it lets go."""

from __future__ import annotations

import random
from collections import Counter
from pathlib import Path

import pytest

from generated_jobs import generated_job
from platewright.app.editing.edit import apply_edit
from platewright.app.editing.edits import Move, Put, TakeOff
from platewright.app.editing.things import thing_of
from platewright.app.gather import panel_of
from platewright.app.live.drag import Base, Drag
from platewright.app.plans.plan import Budget, plan
from platewright.foundation.errors import CannotPlan
from platewright.jobfile.folder import read_job
from platewright.jobfile.layout_file import read_layout
from platewright.model.finding import Finding, Verdict
from platewright.model.job import Job
from platewright.model.layout import Layout
from platewright.model.panel import Panel
from platewright.rules.registry import run_rules

LIVE = (
    "space.device-overlap",
    "space.clear-space",
    "space.wiring-space",
    "space.duct-overlap",
    "space.plate-edge",
    "space.keep-out",
    "space.fixing-hole",
)
MET: Counter[str] = Counter()  # what the trials below came upon
Measures = Counter[tuple[str, str, float, float]]


def measures(findings: tuple[Finding, ...]) -> Measures:
    return Counter(
        (f.rule.id, f.subject, round(f.measured or 0.0, 6), round(f.limit or 0.0, 6))
        for f in findings
        if f.verdict in (Verdict.FAIL, Verdict.CAUTION) and not f.message.startswith("hole ")
    )


def judged(panel: Panel) -> Measures:
    return measures(run_rules(panel, only=LIVE))


def agrees(job: Job, layout: Layout, tags: tuple[str, ...], shift: tuple[float, float]) -> None:
    """Drag, let go, and hold the last frame to the full checks and the full routing."""
    before = panel_of(job, layout)
    drag = Drag(before, Base(before), tags)
    places = []
    for tag in drag.tags:
        thing = thing_of(layout, tag)
        assert thing is not None
        places.append((round(thing.x + shift[0], 3), round(thing.y + shift[1], 3)))
    frame = drag.frame(places)

    dropped = apply_edit(job, layout, Move(tags=tags, dx=shift[0], dy=shift[1])).layout
    after = panel_of(job, dropped)
    lifted = apply_edit(job, layout, TakeOff(tags=tags)).layout
    expected = judged(after) - judged(panel_of(job, lifted))
    told = Counter(
        (c.rule, c.subject, round(c.measured, 6), round(c.limit, 6)) for c in frame.clashes
    )
    assert told == expected
    MET.update(rule for rule, *_ in told)
    if frame.wires is not None:
        assert frame.wires.cut == pytest.approx(after.routes.total_cut)
        assert frame.wires.unrouted == sum(not r.is_routed for r in after.routes.wires.values())
        for tag, fill in frame.wires.fill.items():
            assert fill == pytest.approx(after.routes.loads[tag].fill), tag
        still = set(after.routes.loads) - set(frame.wires.fill)
        for tag in still:
            assert after.routes.loads[tag].fill == pytest.approx(before.routes.loads[tag].fill)


@pytest.mark.parametrize("seed", range(30))
def test_one_device_of_the_rinser(folder: Path, seed: int) -> None:
    job = read_job(folder)
    layout = read_layout(folder, job)
    chance = random.Random(seed)
    tag = chance.choice(sorted(layout.devices))
    agrees(job, layout, (tag,), (chance.uniform(-250, 250), chance.uniform(-250, 250)))


def test_the_trials_come_upon_every_check(folder: Path) -> None:
    job = read_job(folder)
    layout = read_layout(folder, job)
    for shift in ((-60.0, 0.0), (0.0, 55.0), (300.0, 0.0), (620.0, -45.0), (-75.0, 200.0)):
        for tag in ("-Q1", "-T1", "-X4", "-K1"):
            agrees(job, layout, (tag,), shift)
    agrees(job, layout, ("-T1",), (200.0, 0.0))  # onto the stiffener
    agrees(job, layout, ("-X3",), (160.0, -110.0))  # over a fixing hole of the plate
    assert set(MET) >= set(LIVE)


@pytest.mark.parametrize("seed", range(8))
def test_several_things_at_once(folder: Path, seed: int) -> None:
    job = read_job(folder)
    layout = read_layout(folder, job)
    chance = random.Random(seed)
    tags = tuple(chance.sample(sorted([*layout.devices, *layout.rails]), 5))
    agrees(job, layout, tags, (chance.uniform(-120, 120), chance.uniform(-120, 120)))


@pytest.mark.parametrize("tag", ["D1", "D6", "R4"])
def test_a_duct_and_a_rail(folder: Path, tag: str) -> None:
    job = read_job(folder)
    layout = read_layout(folder, job)
    before = panel_of(job, layout)
    thing = thing_of(layout, tag)
    assert thing is not None
    frame = Drag(before, Base(before), (tag,)).frame([(thing.x + 60, thing.y - 30)])
    assert (frame.wires is None) == tag.startswith("D")
    assert not frame.gaps or all(gap.other != tag for gap in frame.gaps)


def test_a_device_from_the_tray(folder: Path) -> None:
    job = read_job(folder)
    layout = apply_edit(job, read_layout(folder, job), TakeOff(tags=("-Q1",))).layout
    before = panel_of(job, layout)
    frame = Drag(before, Base(before), ("-Q1",)).frame([(90.0, 905.5)])
    after = panel_of(job, apply_edit(job, layout, Put(tag="-Q1", x=90.0, y=905.5)).layout)
    assert frame.wires is not None
    assert frame.wires.cut == pytest.approx(after.routes.total_cut)


def test_gaps_tell_the_nearest_thing_and_the_room_it_asks_for(folder: Path) -> None:
    job = read_job(folder)
    layout = read_layout(folder, job)
    before = panel_of(job, layout)
    gaps = {g.side: g for g in Drag(before, Base(before), ("-X4",)).frame([(210.0, 936.0)]).gaps}
    # -X4 with its covers from 207 to 293; -Q1 ends at 195, -F2 begins at 310
    assert (gaps["left"].other, gaps["left"].distance) == ("-Q1", 12.0)
    assert (gaps["right"].other, gaps["right"].distance) == ("-F2", 17.0)
    assert gaps["top"].needed >= 25.0  # its own clear space above


@pytest.fixture(scope="module")
def middling() -> tuple[Job, Layout]:
    job = generated_job(60, seed=3, wires=200)
    try:
        done = plan(
            job, Layout(), seed=1, budget=Budget(moves=8_000), progress=lambda _share, _text: True
        )
    except CannotPlan as cannot:  # the test below needs a plate, not a good one
        pytest.fail(str(cannot))
    return job, done.panel.layout


@pytest.mark.parametrize("seed", range(12))
def test_a_dense_plate(middling: tuple[Job, Layout], seed: int) -> None:
    job, layout = middling
    chance = random.Random(seed)
    tag = chance.choice(sorted(layout.devices))
    agrees(job, layout, (tag,), (chance.uniform(-300, 300), chance.uniform(-300, 300)))
