"""What is said where nothing fits: proof or search's end, and cures that do cure."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from platewright.app.plans import plan as plan_module
from platewright.app.plans.plan import Budget, plan
from platewright.app.plans.plan_folder import plan_folder
from platewright.app.plans.plan_or_explain import plan_or_explain
from platewright.arrange.arranger import Arrangement, probe
from platewright.arrange.task import Task
from platewright.foundation.errors import CannotPlan
from platewright.jobfile.folder import read_job
from platewright.model.job import DuctPattern, Job
from platewright.model.layout import Layout

from .small_jobs import write_job, write_list


def _plan(job: Job, moves: int = 3000):
    return plan_or_explain(
        job, Layout(), seed=1, budget=Budget(moves=moves), progress=lambda _s, _t: True
    )


def _plan_only(job: Job, moves: int = 3000):
    return plan(job, Layout(), seed=1, budget=Budget(moves=moves), progress=lambda _s, _t: True)


def _job(tmp_path: Path, plate: tuple[int, int], **more) -> Job:
    return read_job(write_job(tmp_path / "pump", plate=plate, **more))


def _with_height(job: Job, height: float) -> Job:
    plate = replace(job.settings.plate, height=height)
    enclosure = replace(job.settings.enclosure, height=height + 60)
    return replace(job, settings=replace(job.settings, plate=plate, enclosure=enclosure))


def test_a_proof_is_called_one_and_its_cure_cures(tmp_path: Path) -> None:
    job = _job(tmp_path, (440, 260))
    with pytest.raises(CannotPlan) as told:
        _plan(job)
    assert "proved" in told.value.problem
    assert "at least 2 rows" in told.value.problem
    (higher,) = [cure for cure in told.value.cures if "higher" in cure]
    height = float(higher.split("(")[1].split(" mm")[0])
    assert _plan(_with_height(job, height)).panel.layout.devices


def test_the_search_s_end_is_not_called_a_proof(tmp_path: Path) -> None:
    """Between the height proved too low and the one found to do, only the search can tell."""
    job = _job(tmp_path, (440, 540))
    told = [_refusal(_with_height(job, float(height))) for height in range(360, 440, 20)]
    of_the_search = [cannot for cannot in told if cannot and "not a proof" in cannot.problem]
    assert of_the_search
    assert all("proved" not in cannot.problem for cannot in of_the_search)


def _refusal(job: Job) -> CannotPlan | None:
    try:
        _plan_only(job, moves=600)
    except CannotPlan as cannot:
        return cannot
    return None


def test_spare_room_is_the_first_thing_to_give_up(tmp_path: Path) -> None:
    job = _job(tmp_path, (440, 400), tail="[limits]\nspare_share = 0.5\n")
    with pytest.raises(CannotPlan) as told:
        _plan(job)
    assert told.value.cures[0].startswith("give up the spare room")


def test_a_device_too_deep_is_a_proof_without_a_search_for_cures(tmp_path: Path) -> None:
    with pytest.raises(CannotPlan) as told:
        _plan(_job(tmp_path, (440, 540), door=60))
    assert "the door leaves 60 mm" in told.value.problem
    assert len(told.value.cures) == 1
    assert "from the plate to the door" in told.value.cures[0]


def _with_part(folder: Path, row: str) -> Job:
    (folder / "parts.csv").write_text(
        f"part,width_mm,height_mm,depth_mm,mount,mass_kg\n{row}\n", encoding="utf-8"
    )
    with (folder / "devices.csv").open("a", encoding="utf-8") as devices:
        devices.write(f"-T1,{row.partition(',')[0]}\n")
    return read_job(folder)


def test_a_part_wider_than_the_room_has_one_reason_and_cures_that_are_possible(
    tmp_path: Path,
) -> None:
    """The plate is 440 mm wide in an enclosure of 500 mm: no plate in it takes 950 mm."""
    job = _with_part(write_job(tmp_path / "pump", breakers=1), "long,950,60,50,screws,1")
    with pytest.raises(CannotPlan) as told:
        _plan(job)
    assert "-T1 is 950 mm wide" in told.value.problem
    assert "no place clear" not in told.value.problem
    plate, elsewhere, slip = told.value.cures
    assert slip == "if 950 is a slip, correct width_mm in row 2 of parts.csv"
    asked = float(plate.split("at least ")[1].split(" mm")[0])
    assert plate.endswith(f"in an enclosure of {asked + 60:g} mm instead of 500 mm")
    assert elsewhere.startswith("-T1 (long) outside this enclosure")
    assert "door" not in elsewhere
    wide = replace(job.settings.plate, width=asked, fixing_holes=())
    box = replace(job.settings.enclosure, width=asked + 60)
    large = replace(job, settings=replace(job.settings, plate=wide, enclosure=box))
    assert "-T1" in _plan(large).panel.layout.devices


@pytest.mark.parametrize(
    ("row", "where", "room", "cure"),
    [
        ("long,950,60,50", "width_mm = '950' (long): -T1 is 950 mm wide; a row offers 370 mm",
         "the plate's 440 mm (plate.width_mm) less margins of 2 × 10 mm and 2 × 25 mm of upright duct", "wide"),
        ("tall,60,700,50", "height_mm = '700' (tall): -T1 needs 700 mm",
         "its 540 mm (plate.height_mm) less margins of 2 × 10 mm and 2 × 25 mm of duct", "high"),
        ("deep,60,60,260", "depth_mm = '260' (deep): -T1 stands 260 mm out of the plate; the door",
         "185 mm (enclosure.door_inside_mm)", "from the plate to the door"),
    ],
)  # fmt: skip
def test_a_part_too_large_is_told_with_its_row_and_the_room(
    tmp_path: Path, row: str, where: str, room: str, cure: str
) -> None:
    folder = write_job(tmp_path / "pump", breakers=1)
    with pytest.raises(CannotPlan) as told:
        _plan(_with_part(folder, f"{row},screws,1"))
    assert told.value.problem.startswith("parts.csv, row 2, " + where)
    assert room in told.value.problem
    assert "clear_left_mm" not in told.value.problem  # no second reason
    assert cure in told.value.cures[0]
    assert told.value.cures[-1].startswith("if ")


def test_devices_of_one_part_and_of_others_are_told_once_each(tmp_path: Path) -> None:
    folder = write_job(tmp_path / "pump", breakers=1)
    job = _with_part(folder, "long,950,60,50,screws,1\nlonger,960,60,50,screws,1")
    with (folder / "devices.csv").open("a", encoding="utf-8") as devices:
        devices.write("-T2,longer\n-T3,longer\n")
    job = read_job(folder)
    with pytest.raises(CannotPlan) as told:
        _plan(job)
    assert told.value.problem.startswith("parts.csv, row 3, width_mm = '960' (longer): -T2 is")
    assert "-T3 is of the same part" in told.value.problem
    assert "likewise -T1 (parts.csv, row 2, width_mm = '950' (long))" in told.value.problem


def test_a_part_that_only_upright_ducts_keep_out_asks_for_fewer_of_them(tmp_path: Path) -> None:
    job = _with_part(write_job(tmp_path / "pump", breakers=1), "long,380,60,50,screws,1")
    with pytest.raises(CannotPlan) as told:
        _plan(job)
    assert told.value.cures[0].startswith('fewer upright ducts: set pattern = "left"')
    assert "in an enclosure" not in told.value.cures[1]  # a plate of 500 mm would go in
    assert told.value.cures[2].startswith("-T1 (long) in the door, if it may hang there")
    fewer = replace(job, settings=replace(job.settings, pattern=DuctPattern.LEFT))
    assert "-T1" in _plan(fewer).panel.layout.devices


def test_within_a_trial_nothing_is_tried(tmp_path: Path) -> None:
    with pytest.raises(CannotPlan) as told:
        _plan_only(_job(tmp_path, (440, 200)))
    assert told.value.cures == ()


def test_the_next_enclosure_of_the_shop_is_a_cure(tmp_path: Path) -> None:
    folder = write_job(
        tmp_path / "pump", plate=(440, 200), head='shop_enclosures = "enclosures.csv"'
    )
    write_list(folder)
    with pytest.raises(CannotPlan, match=r"enclosure (narrow|usual|roomy)"):
        plan_folder(
            folder, seed=1, budget=Budget(moves=600), baseline=False, progress=lambda _s, _t: True
        )
    assert not (folder / "layout.toml").exists()


def test_a_plate_larger_than_the_enclosure_asks_for_a_larger_enclosure(tmp_path: Path) -> None:
    job = _job(tmp_path, (440, 260))  # the enclosure is 60 mm higher than the plate
    with pytest.raises(CannotPlan) as told:
        _plan(job)
    (higher,) = [cure for cure in told.value.cures if "higher" in cure]
    height = float(higher.split("(")[1].split(" mm")[0])
    assert height > 320
    assert f"in an enclosure of {height + 60:g} mm instead of 320 mm" in higher


def test_a_heavy_or_deep_device_is_not_proposed_for_the_door(tmp_path: Path) -> None:
    folder = write_job(tmp_path / "pump", plate=(440, 400), breakers=12)
    (folder / "parts.csv").write_text(
        "part,width_mm,height_mm,depth_mm,mount,mass_kg\nheavy,200,150,100,screws,7\n",
        encoding="utf-8",
    )
    with (folder / "devices.csv").open("a", encoding="utf-8") as devices:
        devices.write("-T1,heavy\n")
    with pytest.raises(CannotPlan) as told:
        _plan(read_job(folder))
    assert "in the door" in str(told.value)  # lighter ones were tried
    assert "-T1" not in str(told.value)


def test_room_kept_by_assumption_is_named_with_its_column(tmp_path: Path) -> None:
    folder = write_job(tmp_path / "pump", plate=(440, 360))
    (folder / "parts.csv").write_text(
        "part,width_mm,height_mm,depth_mm,mount,heat_w\nhot,200,150,120,screws,120\n",
        encoding="utf-8",
    )
    with (folder / "devices.csv").open("a", encoding="utf-8") as devices:
        devices.write("-T1,hot\n")
    with pytest.raises(CannotPlan) as told:
        _plan(read_job(folder))
    assert "-T1 keeps" in told.value.problem
    assert "clear_left_mm" in told.value.problem
    assert "part hot if its data sheet asks for less" in told.value.problem


def _finds_nothing(task: Task, _start: object, **_rest: object) -> tuple[Arrangement, int, int]:
    """A search that ends 50 mm short."""
    narrow = task.job.settings.stock.ducts[0]
    found = probe(task, narrow, moves=8, seed=1, report=lambda _d, _w: True)
    return replace(found, found=replace(found.found, violation=50.0)), 8, 8


def test_a_plate_that_stands_is_gone_on_from_where_none_is_found_afresh(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    job = _job(tmp_path, (440, 540))
    stands = _plan(job).panel.layout
    monkeypatch.setattr(plan_module, "_arranged", _finds_nothing)
    with pytest.raises(CannotPlan):
        _plan_only(job)
    again = plan(job, stands, seed=1, budget=Budget(moves=300), progress=lambda _s, _t: True)
    assert set(again.panel.layout.devices) == set(stands.devices)


def test_who_stops_the_search_does_not_wait_for_cures(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    job = _job(tmp_path, (440, 540))

    def stopped(task: Task, start: object, **rest: Any) -> tuple[Arrangement, int, int]:
        assert not rest["watch"].report(0.5, 0.0)
        return _finds_nothing(task, start)

    monkeypatch.setattr(plan_module, "_arranged", stopped)
    with pytest.raises(CannotPlan) as told:
        plan_or_explain(
            job, Layout(), seed=1, budget=Budget(moves=3000), progress=lambda _s, _t: False
        )
    assert told.value.problem.startswith("stopped: ")
    assert told.value.cures == ()
    assert "Tried in vain" not in told.value.problem
