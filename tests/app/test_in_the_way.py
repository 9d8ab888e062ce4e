"""A drilled plate that takes no more says what is drilled in the way, and what giving it up costs."""

from __future__ import annotations

from dataclasses import replace

import pytest

from generated_jobs import generated_job
from platewright.app.editing.as_built import Measured, written_down
from platewright.app.gather import clear_spaces, panel_of, wiring_spaces
from platewright.app.plans.cannot_fit import explain
from platewright.app.plans.new_clashes import refuse_new_clashes
from platewright.app.plans.plan import Budget, plan
from platewright.app.plans.plan_or_explain import plan_or_explain
from platewright.app.plans.stays import all_free, must_stand
from platewright.arrange.arranger import probe
from platewright.arrange.task import task_for
from platewright.foundation.errors import CannotPlan
from platewright.model.device import Device
from platewright.model.job import KeepOut
from platewright.model.layout import HoleState, Layout
from platewright.model.part import Mount

_PLATE = generated_job(20, seed=4)


def _read(layout: Layout, words: str) -> list[str]:
    """Return the holes that words such as ``H1..H4,H9`` name."""
    found: list[str] = []
    for word in words.split(","):
        first, _, last = word.partition("..")
        numbers = range(int(first[1:]), int((last or first)[1:]) + 1)
        found += [tag for n in numbers if (tag := f"H{n}") in layout.holes]
    return found


@pytest.fixture(scope="module")
def drilled() -> Layout:
    found = plan(
        _PLATE, Layout(), seed=3, budget=Budget(moves=20_000), progress=lambda _s, _t: True
    )
    holes = {t: replace(h, state=HoleState.DRILLED) for t, h in found.panel.layout.holes.items()}
    return replace(found.panel.layout, holes=holes)


def test_a_part_taller_than_every_row_is_named_with_what_keeps_the_rows(drilled: Layout) -> None:
    tag = next(t for t in sorted(drilled.devices) if _PLATE.part_of(t).mount is Mount.RAIL)
    part = replace(_PLATE.part_of(tag), part="tall", height=_PLATE.part_of(tag).height + 400)
    device = replace(_PLATE.devices[tag], part="tall")
    job = replace(
        _PLATE, parts={**_PLATE.parts, "tall": part}, devices={**_PLATE.devices, tag: device}
    )
    with pytest.raises(CannotPlan) as caught:
        plan_or_explain(
            job, drilled, seed=1, budget=Budget(moves=3_000), progress=lambda _s, _t: True
        )
    problem = caught.value.problem
    assert "Drilled holes keep" in problem
    assert f"New or of another part: {tag}." in problem
    assert f"Too tall for every row: {tag}" in problem
    assert not [cure for cure in caught.value.cures if "wider" in cure]
    (lower,) = [cure for cure in caught.value.cures if f"in the place of {tag}" in cure]
    high = float(lower.split(" mm for")[0].split()[-1])
    fits = replace(part, height=high)
    job = replace(job, parts={**job.parts, "tall": fits})
    try:
        plan_or_explain(
            job, drilled, seed=1, budget=Budget(moves=1_000), progress=lambda _s, _t: True
        )
    except CannotPlan as again:
        assert "Too tall" not in again.problem  # noqa: PT017  (it may fit by now, too)


def test_a_plate_with_a_new_clash_is_refused_and_an_old_one_is_not(drilled: Layout) -> None:
    """A device is pushed over a drilled rail: refused, unless it lay there before."""
    tag = next(t for t in sorted(drilled.devices) if _PLATE.part_of(t).mount is not Mount.RAIL)
    rail = next(r for r in drilled.rails.values() if r.length > 100)
    there = replace(drilled.devices[tag], x=rail.x + 5, y=rail.y - 60)
    clashing = replace(drilled, devices={**drilled.devices, tag: there})
    refuse_new_clashes(panel_of(_PLATE, drilled), drilled)
    with pytest.raises(CannotPlan, match="round what is drilled"):
        refuse_new_clashes(panel_of(_PLATE, clashing), drilled)
    refuse_new_clashes(panel_of(_PLATE, clashing), clashing)
    bare = replace(drilled, holes={})
    refuse_new_clashes(panel_of(_PLATE, clashing), bare)


def test_no_more_is_to_be_given_up_than_need_be(drilled: Layout) -> None:
    """A screw-mounted part grows into the rails beside it; with the told holes idle it fits."""
    tag = next(t for t in sorted(drilled.devices) if _PLATE.devices[t].part.startswith("drive"))
    old = _PLATE.part_of(tag)
    part = replace(
        old,
        part="wide",
        width=old.width + 40,
        hole_pattern_width=(old.hole_pattern_width or 0) + 40,
    )
    device = replace(_PLATE.devices[tag], part="wide")
    plate = _PLATE.settings.plate  # what lies below the ducts is kept free: nothing goes there
    below = KeepOut(
        x=0.0, y=0.0, width=plate.width, height=min(d.y for d in drilled.ducts.values())
    )
    plate = replace(plate, keep_outs=(*plate.keep_outs, below))
    job = replace(
        _PLATE, parts={**_PLATE.parts, "wide": part}, devices={**_PLATE.devices, tag: device},
        settings=replace(_PLATE.settings, plate=plate),
    )  # fmt: skip
    with pytest.raises(CannotPlan) as caught:
        plan_or_explain(
            job, drilled, seed=1, budget=Budget(moves=3_000), progress=lambda _s, _t: True
        )
    (cure,) = [one for one in caught.value.cures if one.startswith("give up")]
    words = cure.split("--give-up ")[1].split(", then")[0]
    done = Measured(places={}, given_up=tuple(_read(drilled, words)))
    less, _ = written_down(_PLATE, drilled, done)
    named = [t for t, h in less.holes.items() if not h.holds and drilled.holes[t].holds]
    fits = plan(
        job, less, seed=1, budget=Budget(moves=20_000),
        progress=lambda _s, _t: True,
    )  # fmt: skip
    assert tag in fits.panel.layout.devices
    assert len(named) < len(drilled.holes) / 2
    owners = {drilled.holes[one].holds for one in named}
    assert f"In the way: {', '.join(sorted(owners))}" in caught.value.problem


def test_spare_room_is_no_cure_in_vain_where_without_it_the_drilled_plate_plans(
    drilled: Layout,
) -> None:
    """What the refusal says of spare room is what planning without it comes to."""
    more = {f"-N{k}": Device(tag=f"-N{k}", part="relay-6", group=("D",)) for k in range(2)}
    bare = replace(_PLATE, devices={**_PLATE.devices, **more})
    plan(bare, drilled, seed=1, budget=Budget(moves=8_000), progress=lambda _s, _t: True)  # it fits
    limits = replace(_PLATE.settings.limits, spare=0.5)
    job = replace(bare, settings=replace(bare.settings, limits=limits))
    task = task_for(
        job, clear=clear_spaces(job), wiring=wiring_spaces(job),
        standing=all_free(job, drilled, must_stand(job, drilled)),
    )  # fmt: skip
    found = probe(task, job.settings.stock.ducts[0], moves=400, seed=1, report=lambda _d, _w: True)
    refused = explain(found, seed=1, drilled=drilled)
    assert any("give up the spare room" in cure for cure in refused.cures)
    assert "spare room given up" not in refused.problem
