"""Every edit, by hand-worked figures of the rinser laid out by hand."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from platewright.app.editing.edit import EditError, apply_edit
from platewright.app.editing.edits import (
    AddDuct,
    AddRail,
    Align,
    Edit,
    Lock,
    Move,
    PlaceHoles,
    Put,
    Restock,
    SetHoles,
    Space,
    Stretch,
    Swap,
    TakeOff,
)
from platewright.jobfile.folder import read_job
from platewright.jobfile.layout_file import read_layout
from platewright.model.job import Job
from platewright.model.layout import HoleState, Layout, Run


@pytest.fixture
def job(folder: Path) -> Job:
    return read_job(folder)


@pytest.fixture
def layout(folder: Path, job: Job) -> Layout:
    return read_layout(folder, job)


def holes_of(layout: Layout, tag: str) -> set[tuple[float, float]]:
    return {(h.x, h.y) for h in layout.holes.values() if h.holds == tag}


def test_a_moved_device_takes_its_planned_holes_along(job: Job, layout: Layout) -> None:
    after = apply_edit(job, layout, Move(tags=("-Q1",), dx=5, dy=-2.5)).layout
    assert (after.devices["-Q1"].x, after.devices["-Q1"].y) == (95.0, 903.0)
    assert holes_of(after, "-Q1") == {(x + 5, y - 2.5) for x, y in holes_of(layout, "-Q1")}
    assert holes_of(after, "-X4") == holes_of(layout, "-X4")


def test_a_drilled_hole_stays_and_a_new_one_is_planned(job: Job, layout: Layout) -> None:
    sunk = {**layout.holes, "H1": replace(layout.holes["H1"], state=HoleState.DRILLED)}
    done = apply_edit(job, replace(layout, holes=sunk), Move(tags=("-Q1",), dx=30, dy=0))
    left = done.layout.holes["H1"]
    assert (left.x, left.y, left.holds, left.state) == (100.0, 918.0, "", HoleState.DRILLED)
    # pattern 85 by 110 centred on a body of 105 by 135, its corner at 120, 905.5
    assert holes_of(done.layout, "-Q1") == {
        (130.0, 918.0), (215.0, 918.0), (130.0, 1028.0), (215.0, 1028.0)
    }  # fmt: skip
    assert done.notes == ("H1 at 100, 918 was drilled for -Q1 and is left over",)


def test_moving_back_finds_the_drilled_hole_again(job: Job, layout: Layout) -> None:
    sunk = {**layout.holes, "H1": replace(layout.holes["H1"], state=HoleState.DRILLED)}
    away = apply_edit(job, replace(layout, holes=sunk), Move(tags=("-Q1",), dx=30, dy=0)).layout
    back = apply_edit(job, away, Move(tags=("-Q1",), dx=-30, dy=0)).layout
    assert back.holes["H1"].holds == "-Q1"
    assert holes_of(back, "-Q1") == holes_of(layout, "-Q1")


def test_take_off_and_put_back_from_the_tray(job: Job, layout: Layout) -> None:
    off = apply_edit(job, layout, TakeOff(tags=("-Q1",))).layout
    assert "-Q1" not in off.devices
    assert holes_of(off, "-Q1") == set()
    on = apply_edit(job, off, Put(tag="-Q1", x=90, y=905.5)).layout
    now = job.devices["-Q1"].part  # written down, so that a later swap of the part is told
    assert on.devices["-Q1"] == replace(layout.devices["-Q1"], part=now)
    assert holes_of(on, "-Q1") == holes_of(layout, "-Q1")


def test_swap_in_one_row_keeps_the_pairs_outer_edges(job: Job, layout: Layout) -> None:
    after = apply_edit(job, layout, Swap(one="-Q1", other="-F2")).layout
    # -Q1 is 105 wide from 90, -F2 54 wide from 310 to 364
    assert after.devices["-F2"].x == 90.0
    assert after.devices["-Q1"].x == 364.0 - 105.0


def test_swap_across_rows_exchanges_rails(job: Job, layout: Layout) -> None:
    after = apply_edit(job, layout, Swap(one="-F3", other="-F6")).layout
    axis = {t: layout.devices[t].y + (job.part_of(t).rail_center or 0) for t in ("-F3", "-F6")}
    for tag, other in (("-F3", "-F6"), ("-F6", "-F3")):
        assert after.devices[tag].y + (job.part_of(tag).rail_center or 0) == axis[other]


def test_align_brings_edges_onto_the_first(job: Job, layout: Layout) -> None:
    after = apply_edit(job, layout, Align(tags=("-Q1", "-X4", "-F2"), edge="top")).layout
    tops = {t: after.devices[t].y + job.part_of(t).height for t in ("-Q1", "-X4", "-F2")}
    assert set(tops.values()) == {905.5 + 135}


def test_space_evenly_leaves_the_outermost(job: Job, layout: Layout) -> None:
    after = apply_edit(job, layout, Space(tags=("-F2", "-Q1", "-X4"), along="x")).layout
    # from 90 to 364 without the bodies and covers: 105, 80 with covers of 3 and 3, 54
    gap = (364 - 90 - 105 - 86 - 54) / 2
    assert after.devices["-Q1"].x == 90.0
    assert after.devices["-F2"].x == 310.0
    assert after.devices["-X4"].x == pytest.approx(90 + 105 + gap + 3)


def test_ducts_and_rails_are_laid_cut_and_made_of_another_size(job: Job, layout: Layout) -> None:
    duct = AddDuct(x=100, y=700, length=300, run=Run.ACROSS, stock="2x3")
    one = apply_edit(job, layout, duct).layout
    assert one.ducts["D8"].width == pytest.approx(50.8)
    assert holes_of(one, "D8")
    two = apply_edit(job, one, Stretch(tag="D8", start=90, end=500)).layout
    assert (two.ducts["D8"].x, two.ducts["D8"].length) == (90.0, 410.0)
    three = apply_edit(job, two, Restock(tag="D8", stock="1x3")).layout
    assert three.ducts["D8"].y == pytest.approx(700 + (50.8 - 25.4) / 2)
    four = apply_edit(job, three, AddRail(x=100, y=760, length=200, run=Run.ACROSS)).layout
    assert four.rails["R8"].length == 200
    assert not holes_of(apply_edit(job, four, TakeOff(tags=("D8", "R8"))).layout, "D8")


def test_lock_refuses_the_hand(job: Job, layout: Layout) -> None:
    locked = apply_edit(job, layout, Lock(tags=("-Q1",), locked=True)).layout
    with pytest.raises(EditError, match="is locked"):
        apply_edit(job, locked, Move(tags=("-X4", "-Q1"), dx=1, dy=0))
    free = apply_edit(job, locked, Lock(tags=("-Q1",), locked=False)).layout
    assert free == layout


def test_holes_are_marked_and_planned_anew(job: Job, layout: Layout) -> None:
    marked = apply_edit(job, layout, SetHoles(tags=("H1", "H2"), state=HoleState.MARKED)).layout
    assert marked.holes["H2"].state is HoleState.MARKED
    anew = apply_edit(job, marked, PlaceHoles()).layout
    assert anew.holes["H1"] == marked.holes["H1"]


def test_a_mark_that_holds_nothing_is_wiped_off(job: Job, layout: Layout) -> None:
    idle = replace(layout.holes["H1"], state=HoleState.MARKED, holds="")
    marked = replace(layout, holes={**layout.holes, "H1": idle})
    wiped = apply_edit(job, marked, SetHoles(tags=("H1", "H2"), state=HoleState.PLANNED)).layout
    assert set(layout.holes) - set(wiped.holes) == {"H1"}


@pytest.mark.parametrize(
    ("edit", "problem"),
    [
        (Move(tags=("-Q99",), dx=0, dy=0), "does not stand on the plate"),
        (Put(tag="-P1", x=0, y=0), "belongs on the door"),
        (Put(tag="-Q1", x=1e9, y=0), "far from any plate"),
        (Swap(one="-Q1", other="D1"), "only two devices"),
        (Stretch(tag="-Q1", start=0, end=100), "is a device"),
        (Stretch(tag="D1", start=5, end=5), "no length to cut"),
        (Restock(tag="D1", stock="9x9"), "in stock"),
        (SetHoles(tags=("H999",), state=HoleState.DRILLED), "no hole"),
    ],
)
def test_what_can_not_be_done_is_said(job: Job, layout: Layout, edit: Edit, problem: str) -> None:
    with pytest.raises(EditError, match=problem) as refused:
        apply_edit(job, layout, edit)
    assert refused.value.where
