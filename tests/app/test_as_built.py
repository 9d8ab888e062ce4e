"""The plate as it was built: what was measured is kept, what was drilled never moves."""

import csv
from dataclasses import replace
from pathlib import Path

import pytest

from platewright.app.check import read_folder
from platewright.app.editing.as_built import Measured, as_built, written_down
from platewright.app.editing.session import Session
from platewright.cli.main import run
from platewright.fabricate.solvers.bench_work import passes_of
from platewright.fabricate.solvers.place_holes import place_holes
from platewright.foundation.errors import InputErrors
from platewright.foundation.tag_order import tag_order
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
    as_built(folder, places=["H3=100.4,918.2"], drilled="H1..H10", marked="", far=True)
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


def test_a_mark_given_up_is_planned_again_or_drops_out(folder):
    """A mark of something that is there is planned again; one that holds nothing drops out."""
    as_built(folder, places=[], drilled="H1", marked="H5,H6")
    session = Session(folder)
    holes = {**session.layout.holes, "H6": replace(session.layout.holes["H6"], holds="")}
    session.take(replace(session.layout, holes=holes), "the owner of H6 is gone")
    old = layout_of(folder)
    done = as_built(folder, places=[], drilled="", marked="", give_up="H5,H6")
    assert "2 marks given up, to be wiped off the plate: H5,H6" in done.told
    new = layout_of(folder)
    assert new.holes["H5"] == replace(old.holes["H5"], state=HoleState.PLANNED)
    assert set(old.holes) - set(new.holes) == {"H6"}
    Session(folder).undo()
    assert layout_of(folder) == old


def test_all_drilled_and_ranges_leave_marks_to_wipe_off_alone(folder):
    session = Session(folder)
    idle = replace(session.layout.holes["H2"], state=HoleState.MARKED, holds="")
    session.take(replace(session.layout, holes={**session.layout.holes, "H2": idle}), "idle mark")
    as_built(folder, places=[], drilled="H1..H3", marked="")
    holes = layout_of(folder).holes
    assert holes["H1"].state is holes["H3"].state is HoleState.DRILLED
    assert holes["H2"] == idle
    as_built(folder, places=[], drilled="all", marked="")
    assert layout_of(folder).holes["H2"] == idle
    as_built(folder, places=[], drilled="H2", marked="")  # who names it has drilled there
    assert layout_of(folder).holes["H2"].state is HoleState.DRILLED


def test_what_no_list_names_stays_in_the_file_until_the_next_plan(folder):
    """A device taken off devices.csv: the plan after an as-built must still tell it as gone."""
    rows = (folder / "devices.csv").read_text("utf-8").splitlines(keepends=True)
    (folder / "devices.csv").write_text(
        "".join(row for row in rows if not row.startswith("-B1,")), "utf-8"
    )
    wires = (folder / "wires.csv").read_text("utf-8").splitlines(keepends=True)
    (folder / "wires.csv").write_text("".join(row for row in wires if "-B1:" not in row), "utf-8")
    as_built(folder, places=[], drilled="H1", marked="")
    read = read_folder(folder)
    assert list(read.dropped.devices) == ["-B1"]
    Session(folder).undo()
    assert list(read_folder(folder).dropped.devices) == ["-B1"]


def test_a_number_of_an_older_sheet_is_told_with_the_holes_there_are(folder):
    ordered = sorted(layout_of(folder).holes, key=tag_order)
    with pytest.raises(InputErrors) as caught:
        as_built(folder, places=[], drilled="H900", marked="")
    assert f"{ordered[0]}..{ordered[-1]}. An older sheet's numbers are void" in str(
        caught.value.faults[0]
    )


def test_what_cannot_be_given_up_is_told_and_nothing_is_written(folder):
    as_built(folder, places=[], drilled="H1..H4", marked="H5")
    as_built(folder, places=[], drilled="", marked="", give_up="H2")
    before = (folder / "layout.toml").read_bytes()
    with pytest.raises(InputErrors) as caught:
        as_built(folder, places=[], drilled="", marked="", give_up="H900 H6 H2 -X1 D1..D2")
    told = [str(fault) for fault in caught.value.faults]
    assert len(told) == 5
    for part in (
        "no hole is called H900",
        "H6 is neither drilled nor marked",
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


def in_inches(folder):
    """Make the job one whose sheets are printed in inches; nothing else of it changes."""
    path = folder / "job.toml"
    text = path.read_text("utf-8")
    assert text.count('units = "mm"') == 1
    path.write_text(text.replace('units = "mm"', 'units = "in"'), "utf-8")


def bytes_of(folder):
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()}


def test_bare_numbers_are_in_the_unit_of_the_printed_schedule(folder, capsys):
    """What the hole schedule prints, typed back as it stands, is no offset but its rounding."""
    in_inches(folder)
    run(["sheets", str(folder)])
    text = (folder / "out" / "holes.csv").read_text("utf-8-sig")
    rows = {row["tag"]: row for row in csv.DictReader(text.splitlines())}
    old = layout_of(folder).holes
    typed = [f"--set={t}={rows[t]['x_in']},{rows[t]['y_in']}" for t in ("H1", "H2", "H7")]
    capsys.readouterr()
    assert run(["as-built", str(folder), *typed]) in (0, 1)
    said = capsys.readouterr().out
    assert "Read in inches" in said
    new = layout_of(folder).holes
    for tag in ("H1", "H2", "H7"):
        off = max(abs(new[tag].x - old[tag].x), abs(new[tag].y - old[tag].y))
        assert off <= 0.005 * 25.4 + 0.001, tag
        assert new[tag].state is HoleState.DRILLED
    assert " mm from the plan" not in said


@pytest.mark.parametrize(
    ("typed", "x", "y"),
    [
        ("4,36", 101.6, 914.4),
        ("4in,36in", 101.6, 914.4),
        ('4,36 1/8"', 101.6, 917.575),
        ("3 15/16,36", 100.0125, 914.4),
        ("100.5mm,917mm", 100.5, 917.0),
        ("100.5,917 mm", 100.5, 917.0),
        ("100.5mm,36.1in", 100.5, 916.94),
    ],
)
def test_a_unit_behind_a_number_wins_in_an_inch_job(folder, typed, x, y):
    in_inches(folder)
    as_built(folder, places=[f"H1={typed}"], drilled="", marked="")
    hole = layout_of(folder).holes["H1"]
    assert (hole.x, hole.y) == pytest.approx((x, y), abs=0.001)


def test_a_millimetre_job_reads_millimetres_and_says_so(folder):
    done = as_built(folder, places=["H1=100.5,917", "H2=4in,36in"], drilled="", marked="", far=True)
    hole = layout_of(folder).holes["H1"]
    assert (hole.x, hole.y) == (100.5, 917)
    assert done.told[0] == "Read in mm, the unit of this job's sheets: H1=100.5,917"


@pytest.mark.parametrize(
    "typed", ["H1=2000,20", "H1=100,-0.1", "H1=0,20", "-T1=5000,5", "D2=9,-99"]
)
def test_a_place_off_the_plate_is_one_fault_and_no_file_changes(folder, typed):
    before = bytes_of(folder)
    plate = read_job(folder).settings.plate
    with pytest.raises(InputErrors) as caught:
        as_built(folder, places=[typed], drilled="", marked="", far=True)
    (fault,) = caught.value.faults
    assert fault.value == typed
    assert f"off the plate, which is {plate.width:g} × {plate.height:g} mm" in fault.problem
    assert "unit" in fault.cure
    assert bytes_of(folder) == before


def test_a_device_that_reaches_over_the_edge_is_taken_as_measured(folder):
    as_built(folder, places=["-T1=-5,575"], drilled="", marked="")
    assert layout_of(folder).devices["-T1"].x == -5


@pytest.mark.parametrize("off", [24.9, 25.1])
def test_a_hole_far_from_its_plan_is_taken_only_with_far(folder, off):
    old, before = layout_of(folder).holes["H1"], bytes_of(folder)
    typed = f"H1={old.x + off},{old.y}"
    if off < 25:
        as_built(folder, places=[typed], drilled="", marked="")
        return
    with pytest.raises(InputErrors) as caught:
        as_built(folder, places=[typed], drilled="", marked="")
    (fault,) = caught.value.faults
    assert "lies 25.1 mm from where H1 was planned" in fault.problem
    assert "--far" in fault.cure
    assert bytes_of(folder) == before
    as_built(folder, places=[typed], drilled="", marked="", far=True)
    assert layout_of(folder).holes["H1"].x == pytest.approx(old.x + off)


def test_the_other_unit_is_proposed_where_it_fits(folder):
    old = layout_of(folder).holes["H1"]
    with pytest.raises(InputErrors) as caught:
        as_built(
            folder, places=[f"H1={old.x / 25.4:.2f},{old.y / 25.4:.2f}"], drilled="", marked=""
        )
    (fault,) = caught.value.faults
    wanted = f"Did you mean H1={old.x / 25.4:.2f}in,{old.y / 25.4:.2f}in?"
    assert wanted in fault.cure
    typed = wanted.removeprefix("Did you mean ").rstrip("?")
    as_built(folder, places=[typed], drilled="", marked="")  # the cure cures


@pytest.mark.parametrize("order", [1, -1])
def test_holes_of_a_device_that_was_moved_are_measured_from_where_they_went(folder, order):
    old = layout_of(folder)
    at = old.devices["-Q1"]
    tag = next(t for t, hole in old.holes.items() if hole.holds == "-Q1")
    hole = old.holes[tag]
    places = [f"-Q1={at.x + 60},{at.y}", f"{tag}={hole.x + 60.4},{hole.y}"][::order]
    done = as_built(folder, places=places, drilled="", marked="")
    assert f"{tag}: measured +0.4, +0.0 mm from the plan (0.4 mm off), drilled" in done.told
    assert any(line.startswith("-Q1: ") and "that is far" in line for line in done.told)


def test_a_range_backwards_is_read_as_meant_and_half_a_range_is_one_fault(folder):
    done = as_built(folder, places=[], drilled="H10..H5", marked="")
    assert "6 holes drilled: H5..H10" in done.told
    before = bytes_of(folder)
    for words in ("H1..", "..H3", "..", "H1.."):
        with pytest.raises(InputErrors) as caught:
            as_built(folder, places=[], drilled=words, marked="")
        (fault,) = caught.value.faults
        assert (fault.value, fault.problem) == (words, "is half a range")
    with pytest.raises(InputErrors, match="given a place already: H1=100,918"):
        as_built(folder, places=["H1=100,918", "H1=101,918"], drilled="", marked="")
    assert bytes_of(folder) == before


def test_the_command_takes_a_far_hole_only_with_the_flag(folder, capsys):
    assert run(["as-built", str(folder), "--set=H1=160,918"]) == 2
    assert "add --far" in capsys.readouterr().err
    assert (
        run(["as-built", str(folder), "--set=H1=160,918", "--far"]) == 1
    )  # the example's mistakes
    assert "H1: measured +60.0, +0.0 mm from the plan (60.0 mm off), drilled" in (
        capsys.readouterr().out
    )
