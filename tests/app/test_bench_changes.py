"""The story of a change after drilling: a plan tells what came, went, was swapped and is drilled."""

from __future__ import annotations

import csv
import io
import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from platewright.app.check import read_folder
from platewright.app.plans.bench_changes import bench_changes
from platewright.app.plans.must_come_off import new_holes
from platewright.app.plans.plan import Budget
from platewright.app.plans.plan_folder import PlannedFolder, plan_folder
from platewright.fabricate.solvers.bench_work import passes_of
from platewright.jobfile.layout_file import read_layout, write_layout
from platewright.model.finding import Verdict
from platewright.model.layout import Hole, HoleKind, HoleState, Layout, Placement, Rail

EXAMPLE = Path(__file__).parents[2] / "examples" / "bottle-rinser"
Rows = list[dict[str, str]]


def _edit(path: Path, change: Callable[[Rows], Rows]) -> None:
    rows = list(csv.DictReader(io.StringIO(path.read_text("utf-8"))))
    out = io.StringIO()
    writer = csv.DictWriter(out, list(rows[0]), lineterminator="\n")
    writer.writeheader()
    writer.writerows(change(rows))
    path.write_text(out.getvalue(), "utf-8")


def _planned(folder: Path) -> PlannedFolder:
    return plan_folder(
        folder, seed=2, budget=Budget(moves=6_000), baseline=False,
        progress=lambda _share, _text: True,
    )  # fmt: skip


def _change(folder: Path) -> None:
    """Swap a fuse holder for a wider one, add two relays, take the level relay away."""

    def parts(rows: Rows) -> Rows:
        old = next(row for row in rows if row["part"] == "fuse-2p-5a")
        return [*rows, {**old, "part": "fuse-2p-wide", "width_mm": "48"}]

    def devices(rows: Rows) -> Rows:
        kept = [row for row in rows if row["tag"] != "-B1"]
        for row in kept:
            if row["tag"] == "-F3":
                row["part"] = "fuse-2p-wide"
        relay = next(row for row in kept if row["tag"] == "-K6")
        return [*kept, {**relay, "tag": "-K7", "beside": ""}, {**relay, "tag": "-K8", "beside": ""}]

    def wires(rows: Rows) -> Rows:
        return [row for row in rows if "-B1:" not in row["from"] + row["to"]]

    _edit(folder / "parts.csv", parts)
    _edit(folder / "devices.csv", devices)
    _edit(folder / "wires.csv", wires)


@pytest.fixture(scope="module")
def story(tmp_path_factory: pytest.TempPathFactory) -> tuple[Layout, PlannedFolder, Path]:
    """Plan, drill every second hole, change the lists, plan again."""
    folder = tmp_path_factory.mktemp("jobs") / "job"
    shutil.copytree(EXAMPLE, folder, ignore=shutil.ignore_patterns("out", ".*", "layout.toml"))
    _planned(folder)
    layout = read_layout(folder, read_folder(folder).job)
    drilled = {
        tag: replace(hole, state=HoleState.DRILLED) if n % 2 else hole
        for n, (tag, hole) in enumerate(layout.holes.items())
    }
    layout = replace(layout, holes=drilled)
    write_layout(folder, layout)
    _change(folder)
    return layout, _planned(folder), folder


def test_no_tag_comes_to_mean_another_place(
    story: tuple[Layout, PlannedFolder, Path],
) -> None:
    before, done, folder = story
    after = read_layout(folder, read_folder(folder).job)
    assert set(after.holes) == set(done.panel.layout.holes)
    for tag, hole in before.holes.items():
        if hole.state is HoleState.DRILLED:
            assert after.holes[tag].state is HoleState.DRILLED
        if tag in after.holes:
            assert (after.holes[tag].x, after.holes[tag].y) == (hole.x, hole.y)
    places = {(h.x, h.y) for h in before.holes.values()}
    fresh = {tag for tag, h in after.holes.items() if (h.x, h.y) not in places}
    assert fresh <= set(after.holes) - set(before.holes)


def test_the_lines_name_what_is_new_gone_swapped_and_to_drill(
    story: tuple[Layout, PlannedFolder, Path],
) -> None:
    before, done, _ = story
    told = dict(line.split(": ", 1) for line in done.changes)
    assert told["devices new"] == "-K7, -K8"
    assert told["devices gone"] == "-B1"
    assert told["devices of another part"] == "-F3 (fuse-2p-5a to fuse-2p-wide)"
    after = done.panel.layout
    fresh = set(after.holes) - set(before.holes)
    named = told["new holes to drill"]
    assert set(named.split(", ")) == (fresh or {"none"})
    moved = {t for t in after.devices if t in before.devices and (after.devices[t].x, after.devices[t].y) != (before.devices[t].x, before.devices[t].y)}  # fmt: skip
    assert set(told["devices moved"].split(", ")) - {"none"} == moved
    assert len(moved) <= 6


def test_the_plan_breaks_nothing_that_was_whole(
    story: tuple[Layout, PlannedFolder, Path],
) -> None:
    _, done, _ = story
    assert not [f for f in done.findings if f.verdict is Verdict.FAIL and f.rule.id.startswith("space.")]  # fmt: skip


def test_a_bare_plate_tells_only_what_came_went_and_was_swapped() -> None:
    job = read_folder(EXAMPLE).job
    here = {tag: Placement(x=1, y=1, part=job.devices[tag].part) for tag in ("-Q1", "-F2")}
    old = {**here, "-F2": replace(here["-F2"], part="fuse-old")}
    before = Layout(devices={"-Q1": here["-Q1"], "-F2": old["-F2"]})
    after = Layout(devices={**here, "-K4": here["-Q1"]})
    gone = Layout(devices={"-Z9": here["-Q1"]})
    assert list(bench_changes(job, before, gone, after)) == [
        "devices new: -K4",
        "devices gone: -Z9",
        "devices of another part: -F2 (fuse-old to fuse-3p-15a)",
    ]
    assert list(bench_changes(job, before, Layout(), before)) == [
        "devices of another part: -F2 (fuse-old to fuse-3p-15a)"
    ]
    assert list(bench_changes(job, Layout(), Layout(), after)) == []


def _one_hole(state: HoleState, holds: str) -> Hole:
    return Hole(x=60, y=60, kind=HoleKind.TAPPED, size="M5", drill=4.2, holds=holds, state=state)


def test_rails_ducts_and_marks_are_told_though_nothing_is_drilled() -> None:
    """Marked only: nothing is drilled yet, but someone stood at the plate with the sheets."""
    job = read_folder(EXAMPLE).job
    tag = next(device.tag for device in job.on_plate)
    at = {tag: Placement(x=0, y=0)}
    rails = {name: Rail(x=50, y=60, length=100) for name in ("R1", "R2", "R10")}
    before = Layout(devices=at, rails=rails, holes={"H1": _one_hole(HoleState.MARKED, "R2")})
    after = Layout(
        devices=at, rails={"R1": rails["R1"], "R11": rails["R2"]},
        holes={"H1": _one_hole(HoleState.MARKED, "")},
    )  # fmt: skip
    told = list(bench_changes(job, before, Layout(), after))
    assert told == ["rails new: R11", "rails gone: R2, R10", "marks to wipe off: H1"]
    bare = replace(before, holes={"H1": _one_hole(HoleState.PLANNED, "R2")})
    assert not list(bench_changes(job, bare, Layout(), replace(after, holes={})))


def test_a_device_is_not_in_the_way_of_its_own_hole() -> None:
    job = read_folder(EXAMPLE).job
    tag = next(d.tag for d in job.on_plate if job.part_of(d.tag).screw)
    before = Layout(
        devices={tag: Placement(x=50, y=50)}, holes={"H1": _one_hole(HoleState.DRILLED, "R9")}
    )
    own = {"H2": _one_hole(HoleState.PLANNED, tag)}
    other = {"H2": _one_hole(HoleState.PLANNED, "R9")}
    (of_its_own,) = new_holes(job, before, replace(before, holes={**before.holes, **own}))
    (of_a_rail,) = new_holes(job, before, replace(before, holes={**before.holes, **other}))
    assert of_its_own.devices == ()
    assert of_a_rail.devices == (tag,)


def _with_larger_transformer(rows: Rows) -> Rows:
    old = next(row for row in rows if row["part"] == "transformer-1kva")
    farther = {
        name: str(float(old[name]) + 12.0)
        for name in ("width_mm", "height_mm", "hole_pattern_width_mm", "hole_pattern_height_mm")
    }
    return [*rows, {**old, "part": "transformer-larger", **farther}]


def _on_larger_transformer(rows: Rows) -> Rows:
    return [{**row, "part": "transformer-larger"} if row["tag"] == "-T1" else row for row in rows]


def test_marks_of_what_moved_are_told_and_never_drilled(tmp_path: Path) -> None:
    """All holes marked, none drilled; a part with holes farther apart: its marks lose their owner."""
    folder = tmp_path / "job"
    shutil.copytree(EXAMPLE, folder, ignore=shutil.ignore_patterns("out", ".*", "layout.toml"))
    _planned(folder)
    layout = read_layout(folder, read_folder(folder).job)
    marked = {tag: replace(hole, state=HoleState.MARKED) for tag, hole in layout.holes.items()}
    write_layout(folder, replace(layout, holes=marked))
    _change(folder)
    _edit(folder / "parts.csv", _with_larger_transformer)
    _edit(folder / "devices.csv", _on_larger_transformer)
    done = _planned(folder)
    read = read_folder(folder)
    after = read.layout.holes
    idle = {t for t in marked if not after[t].holds}  # a mark stays where it is and keeps its tag
    assert idle
    told = dict(line.split(": ", 1) for line in done.changes)
    assert set(told["marks to wipe off"].split(", ")) == idle
    drilled = {tag for one in passes_of(read.job, read.layout) for tag in one.holes}
    assert drilled == set(after) - idle
    wrong = {f.rule.id for f in done.findings if f.verdict is Verdict.FAIL and f.subject in idle}
    assert not wrong
