"""The plate as it was built: what was measured is kept, what was drilled never moves."""

from dataclasses import replace
from pathlib import Path

import pytest

from platewright.app.editing.as_built import Measured, as_built, written_down
from platewright.app.editing.session import Session
from platewright.cli.main import run
from platewright.fabricate.solvers.bench_work import passes_of
from platewright.fabricate.solvers.place_holes import place_holes
from platewright.foundation.errors import InputErrors
from platewright.jobfile.folder import read_job
from platewright.jobfile.layout_file import read_layout
from platewright.model.geometry import Point
from platewright.model.layout import HoleState

EXAMPLE = Path(__file__).parents[2] / "examples" / "bottle-rinser-by-hand"


def layout_of(folder):
    return read_layout(folder, read_job(folder))


def test_a_measured_device_is_locked_there_and_its_planned_holes_go_along(folder):
    old = layout_of(folder)
    done = as_built(folder, places=["-Q1=91.5,904"], drilled="", marked="")
    new = layout_of(folder)
    assert (new.devices["-Q1"].x, new.devices["-Q1"].y, new.devices["-Q1"].locked) == (
        91.5,
        904,
        True,
    )
    for tag, hole in old.holes.items():
        moved = hole.holds == "-Q1" and hole.state is HoleState.PLANNED
        assert new.holes[tag].x == pytest.approx(hole.x + (1.5 if moved else 0))
        assert new.holes[tag].y == pytest.approx(hole.y - (1.5 if moved else 0))
    assert any("+1.5, -1.5 mm" in line for line in done.told)


def test_drilled_holes_stay_and_a_foot_beside_them_is_told(folder):
    done = as_built(folder, places=["-Q1=93,905.5"], drilled="all", marked="")
    new = layout_of(folder)
    assert all(hole.state is HoleState.DRILLED for hole in new.holes.values())
    old = read_layout(EXAMPLE, read_job(EXAMPLE))
    for tag, hole in old.holes.items():
        assert (new.holes[tag].x, new.holes[tag].y) == (hole.x, hole.y)
    assert sum("-Q1: its foot lies 3.0 mm from" in line for line in done.told) == 4


def test_inches_and_ranges_are_read(folder):
    as_built(folder, places=['H1=4 in,36 1/8"'], drilled="H2..H4, H7", marked="H9..H8")
    holes = layout_of(folder).holes
    assert (holes["H1"].x, holes["H1"].y) == pytest.approx((101.6, 36.125 * 25.4), abs=1e-3)
    assert {t for t, h in holes.items() if h.state is HoleState.DRILLED} >= {
        "H1", "H2", "H3", "H4", "H7",
    }  # fmt: skip
    assert holes["H8"].state is holes["H9"].state is HoleState.MARKED
    assert holes["H5"].state is HoleState.PLANNED


def test_every_fault_is_told_and_nothing_is_written(folder):
    before = (folder / "layout.toml").read_bytes()
    with pytest.raises(InputErrors) as caught:
        as_built(folder, places=["-Q99=1,2", "-Q1=5", "-Q1=a,b"], drilled="H1..H900", marked="X")
    assert len(caught.value.faults) == 5
    assert (folder / "layout.toml").read_bytes() == before


def test_it_is_one_step_that_can_be_undone(folder):
    before = layout_of(folder)
    as_built(folder, places=["-Q1=91,904"], drilled="all", marked="")
    Session(folder).undo()
    assert layout_of(folder) == before


def test_a_drilled_hole_is_no_longer_on_the_drills_way_nor_moved_by_new_holes(folder):
    as_built(folder, places=["H3=100.4,918.2"], drilled="H1..H10", marked="")
    job = read_job(folder)
    layout = layout_of(folder)
    todo = {tag for one in passes_of(job, layout) for tag in one.holes}
    assert todo == {t for t, h in layout.holes.items() if h.state is not HoleState.DRILLED}
    planned_again = place_holes(job, layout)
    assert planned_again.holes["H3"].centre == Point(100.4, 918.2)


def test_a_drilled_hole_is_never_unmade(folder):
    job, layout = read_job(folder), layout_of(folder)
    drilled = {t: replace(h, state=HoleState.DRILLED) for t, h in layout.holes.items()}
    after, _ = written_down(
        job, replace(layout, holes=drilled), Measured(places={}, marked=tuple(drilled))
    )
    assert all(hole.state is HoleState.DRILLED for hole in after.holes.values())


def test_the_command_says_what_changed(folder, capsys):
    status = run(["as-built", str(folder), "--set=-T1=525,575", "--drilled", "all"])
    said = capsys.readouterr().out
    assert status == 1  # the example has mistakes in it on purpose
    assert "-T1: measured +0.1, +0.0 mm" in said
    assert "0 of " in said
    assert run(["as-built", str(folder)]) == 2


def test_holes_given_up_stay_drilled_and_hold_nothing(folder):
    as_built(folder, places=[], drilled="all", marked="")
    old = layout_of(folder)
    own = [tag for tag, hole in old.holes.items() if hole.holds == "-Q1"]
    done = as_built(folder, places=[], drilled="", marked="", give_up=",".join(own[:-1]))
    assert f"-Q1 is still held by {own[-1]} and stays where it is" in done.told
    done = as_built(folder, places=[], drilled="", marked="", give_up="-Q1")
    assert "plan may move -Q1 now" in done.told
    new = layout_of(folder)
    for tag, hole in old.holes.items():
        wanted = replace(hole, holds="") if tag in own else hole
        assert new.holes[tag] == wanted
    Session(folder).undo()
    Session(folder).undo()
    assert layout_of(folder) == old


def test_a_lock_goes_with_the_holes_that_kept_the_thing(folder):
    as_built(folder, places=["-Q1=91,904"], drilled="all", marked="")
    assert layout_of(folder).devices["-Q1"].locked
    done = as_built(folder, places=[], drilled="", marked="", give_up="-Q1")
    assert not layout_of(folder).devices["-Q1"].locked
    assert "plan may move -Q1 now; its lock is taken away" in done.told


def test_what_cannot_be_given_up_is_told_and_nothing_is_written(folder):
    as_built(folder, places=[], drilled="H1..H4", marked="H5")
    as_built(folder, places=[], drilled="", marked="", give_up="H2")
    before = (folder / "layout.toml").read_bytes()
    with pytest.raises(InputErrors) as caught:
        as_built(folder, places=[], drilled="", marked="", give_up="H900 H5 H6 H2 -X1 D1..D2")
    told = [str(fault) for fault in caught.value.faults]
    assert len(told) == 6
    for part in (
        "no hole is called H900",
        "H5 is not drilled (marked)",
        "H6 is not drilled (planned)",
        "H2 holds nothing",
        "no drilled hole holds -X1",
        "no hole is called D1",
    ):
        assert sum(part in line for line in told) == 1, (part, told)
    assert (folder / "layout.toml").read_bytes() == before


def test_all_holes_can_be_given_up_at_once_but_not_twice(folder):
    as_built(folder, places=[], drilled="all", marked="", give_up="H3..H4")
    assert not layout_of(folder).holes["H3"].holds
    as_built(folder, places=[], drilled="", marked="", give_up="all")
    assert not any(hole.holds for hole in layout_of(folder).holes.values())
    with pytest.raises(InputErrors, match="no drilled hole holds anything"):
        as_built(folder, places=[], drilled="", marked="", give_up="all")


def test_the_command_gives_holes_up(folder, capsys):
    run(["as-built", str(folder), "--drilled", "all"])
    capsys.readouterr()
    run(["as-built", str(folder), "--give-up", "H1..H4"])
    said = capsys.readouterr().out
    assert "4 drilled holes given up, left over in the plate: H1..H4" in said
    assert "Next: platewright plan" in said
    assert run(["as-built", str(folder), "--give-up", "H1"]) == 2
    assert "H1 holds nothing" in capsys.readouterr().err
