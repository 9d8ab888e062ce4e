"""What must come off a drilled plate before a new hole: named for each, with the reason."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from platewright.app.plans.must_come_off import new_holes, told
from platewright.cli.main import run
from platewright.jobfile.folder import read_job
from platewright.jobfile.layout_file import read_layout, write_layout
from platewright.model.job import DisplayUnit, Job
from platewright.model.layout import Hole, HoleKind, HoleState, Layout

from .small_jobs import write_job

BREAKER = "-F1"


@pytest.fixture(scope="module")
def drilled(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Job, Layout]:
    folder = write_job(tmp_path_factory.mktemp("jobs") / "pump", plate=(700, 640))
    run(["plan", str(folder), "--iterations", "2000"])
    job = read_job(folder)
    layout = read_layout(folder, job)
    holes = {t: replace(h, state=HoleState.DRILLED) for t, h in layout.holes.items()}
    layout = replace(layout, holes=holes)
    write_layout(folder, layout)
    return folder, job, layout


def _with(layout: Layout, x: float, y: float) -> Layout:
    fresh = Hole(x=x, y=y, kind=HoleKind.TAPPED, size="M5", drill=4.2, holds=BREAKER)
    return replace(layout, holes={**layout.holes, "H900": fresh})


def test_a_hole_under_a_rail_names_the_rail(drilled: tuple[Path, Job, Layout]) -> None:
    _, job, before = drilled
    name, rail = next(iter(before.rails.items()))
    (one,) = new_holes(job, before, _with(before, rail.x + 11.0, rail.y + 3.0))
    assert (name, f"{name} lies over it") in [(m.tag, m.words) for m in one.rails_and_ducts]
    line = list(told((one,), DisplayUnit.MM))[1]
    assert "first take off" in line
    assert f"{name} ({name} lies over it)" in line


def test_a_hole_beside_a_duct_wall_names_the_duct_by_what_the_chuck_meets(
    drilled: tuple[Path, Job, Layout],
) -> None:
    _, job, before = drilled
    name, duct = next((t, d) for t, d in before.ducts.items() if d.run == "across")
    (near,) = new_holes(job, before, _with(before, duct.x + duct.length / 2, duct.y - 4.0))
    assert name in [m.tag for m in near.rails_and_ducts]
    assert "would touch" in " ".join(m.words for m in near.rails_and_ducts)
    # far from any wall and rail, nothing is named
    high = max(d.box.top for d in before.ducts.values())
    (far,) = new_holes(job, before, _with(before, 20.0, high + 200.0))
    assert (far.rails_and_ducts, far.devices) == ((), ())


def test_a_job_in_inches_reads_inches(drilled: tuple[Path, Job, Layout]) -> None:
    """The hole's place and what the tool would meet: as the drawings of such a job are."""
    _, job, before = drilled
    job = replace(job, settings=replace(job.settings, units=DisplayUnit.INCH))
    name, duct = next((t, d) for t, d in before.ducts.items() if d.run == "across")
    x, y = duct.x + duct.length / 2, duct.y - 4.0
    (near,) = new_holes(job, before, _with(before, x, y))
    line = list(told((near,), DisplayUnit.INCH))[1]
    assert f"at {x / 25.4:.2f}, {y / 25.4:.2f} in: " in line
    assert f"{name}, {duct.height / 25.4:.2f} in high and" in line
    assert "mm" not in line


def test_what_cannot_be_on_yet_is_not_taken_off(drilled: tuple[Path, Job, Layout]) -> None:
    _, job, before = drilled
    name, rail = next(iter(before.rails.items()))
    own = next(t for t, h in before.holes.items() if h.holds == name)
    open_hole = replace(before.holes[own], state=HoleState.PLANNED)
    before = replace(before, holes={**before.holes, own: open_hole})
    (one,) = new_holes(job, before, _with(before, rail.x + 11.0, rail.y + 3.0))
    assert name not in [m.tag for m in one.rails_and_ducts]


def test_a_bare_plate_has_no_such_list(drilled: tuple[Path, Job, Layout]) -> None:
    _, job, before = drilled
    assert new_holes(job, Layout(), before) == ()


def test_plan_prints_it_and_gives_it_as_json(
    drilled: tuple[Path, Job, Layout], capsys: pytest.CaptureFixture[str]
) -> None:
    """A part that is screwed on comes to a drilled plate: its holes are new."""
    folder, _, _ = drilled
    before = (folder / "layout.toml").read_bytes()
    with (folder / "devices.csv").open("a", encoding="utf-8") as file:
        file.write("-W1,typ-ground-bar-12\n")
    capsys.readouterr()
    run(["plan", str(folder), "--iterations", "2000", "--json"])
    told_json = json.loads(capsys.readouterr().out)["totals"]
    (folder / "layout.toml").write_bytes(before)
    run(["plan", str(folder), "--iterations", "2000"])
    out = capsys.readouterr().out
    fresh = told_json["new_holes"]
    assert fresh
    assert "new holes to drill: " + ", ".join(h["hole"] for h in fresh) in out
    for hole in fresh:
        assert f"{hole['hole']} for {hole['holds']}" in out
        for one in hole["take_off"]:
            assert one["why"] in out
