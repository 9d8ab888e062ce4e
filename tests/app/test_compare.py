"""Plates by several weighings: what is better, what is the same, what is written."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from platewright.app.plans.compare import (
    COOLEST,
    OWN,
    Alternative,
    compare_folder,
    figures,
    names_of,
    ranked,
    remarks_of,
    weighings,
)
from platewright.app.plans.plan import Budget
from platewright.foundation.errors import InputErrors
from platewright.jobfile.folder import read_job
from platewright.jobfile.layout_file import read_layout
from platewright.tables.presets import preset_names

from .small_jobs import write_job


def _compare(folder: Path, take: str = ""):
    return compare_folder(
        folder, seed=1, budget=Budget(moves=600), take=take, progress=lambda _s, _t: True
    )


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_job(tmp_path_factory.mktemp("jobs") / "pump")


@pytest.fixture(scope="module")
def found(folder: Path):
    return _compare(folder)


def test_every_preset_is_planned_and_drawn_and_no_layout_written(folder: Path, found) -> None:
    assert [one.name for one in found.alternatives] == list(preset_names())
    assert found.alternatives[-1].name == COOLEST
    assert not (folder / "layout.toml").exists()
    assert {p.name for p in found.files} == {"compare.pdf", "compare.svg"}
    svg = (folder / "out" / "compare.svg").read_text(encoding="utf-8")
    assert "Plates compared" in svg
    for name in preset_names():
        assert name in svg


def test_take_writes_that_plate_and_all_is_the_same_again(tmp_path: Path, found) -> None:
    folder = write_job(tmp_path / "pump")
    took = _compare(folder, take="smallest-plate")
    one = next(a for a in took.alternatives if a.name == "smallest-plate")
    written = read_layout(folder, one.planned.panel.job)
    assert took.taken == "smallest-plate"
    assert written.devices == one.planned.panel.layout.devices
    assert [p.read_bytes() for p in took.files] == [p.read_bytes() for p in found.files]


def test_a_name_that_is_not_compared_is_told(folder: Path) -> None:
    with pytest.raises(InputErrors, match=r"--take = 'smalest-plate'.*smallest-plate"):
        _compare(folder, take="smalest-plate")


def test_the_smallest_plate_is_no_higher_than_any(found) -> None:
    """On six breakers and contactors the search finds its aim, whatever the machine."""
    height = {one.name: one.worth.height for one in found.alternatives}
    assert height["smallest-plate"] == min(height.values())


def test_the_coolest_is_no_warmer_than_any(found) -> None:
    warm = {
        one.name: (one.worth.over_limit or 0.0, one.worth.hottest) for one in found.alternatives
    }
    assert warm[COOLEST] == min(warm.values())


def test_own_weights_come_first_where_they_are_no_preset(tmp_path: Path) -> None:
    job = read_job(write_job(tmp_path / "pump", tail="[aims]\nheight = 3\nwish = 7\n"))
    chosen = weighings(job)
    assert next(iter(chosen)) == OWN
    assert all(aims.wish == 7.0 for _, aims in chosen.values())
    assert OWN in names_of(job)


def _with(one: Alternative, name: str, **values: float) -> Alternative:
    return replace(
        one, name=name, worth=replace(one.worth, **values), no_better_than="", same_as=""
    )


def test_what_another_plate_beats_in_every_line_is_said_so(found) -> None:
    first = found.alternatives[0]
    worse = _with(first, "worse", wire=first.worth.wire + 5, holes=first.worth.holes + 1)
    other = _with(first, "other", wire=first.worth.wire + 5, holes=first.worth.holes - 1)
    told = {one.name: one for one in ranked([worse, other, replace(first, no_better_than="")])}
    assert told["worse"].no_better_than == "other"
    assert told["other"].no_better_than == ""
    assert told[first.name].no_better_than == ""


def test_a_plate_that_fails_names_the_rules_it_breaks(found) -> None:
    first = found.alternatives[0]
    one = replace(first, fails=1, failing=("heat.device-air",))
    two = replace(first, fails=3, failing=("heat.device-air", "space.door-gap"))
    assert next(remarks_of(one)) == "1 finding FAILs (heat.device-air): not a plate to build"
    assert next(remarks_of(two)) == (
        "3 findings FAIL (heat.device-air, space.door-gap): not a plate to build"
    )
    assert [bool(a.fails) for a in found.alternatives] == [
        bool(a.failing) for a in found.alternatives
    ]


def test_a_plate_that_fails_beats_none(found) -> None:
    first = found.alternatives[0]
    failing = replace(_with(first, "failing", wire=first.worth.wire - 1), fails=2)
    told = {one.name: one for one in ranked([failing, _with(first, "sound")])}
    assert told["sound"].no_better_than == ""
    assert figures(failing)[0] == 2.0


def test_stopping_keeps_what_was_planned(tmp_path: Path) -> None:
    calls = []

    def stop_at_once(share: float, text: str) -> bool:
        calls.append(text)
        return len(calls) < 3

    folder = write_job(tmp_path / "pump")
    found = compare_folder(folder, seed=1, budget=Budget(moves=600), take="", progress=stop_at_once)
    assert found.stopped
    assert found.alternatives
    assert "stopped" in found.failed["easy-cutting"]


def test_pages_of_an_earlier_comparison_go(tmp_path: Path) -> None:
    folder = write_job(tmp_path / "pump")
    (folder / "out").mkdir()
    (folder / "out" / "compare-2.svg").write_text("old")
    (folder / "out" / "compare-notes.svg").write_text("mine")
    files = _compare(folder).files
    assert {path.name for path in (folder / "out").iterdir()} == {
        *(path.name for path in files), "compare-notes.svg",
    }  # fmt: skip
