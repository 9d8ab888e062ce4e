"""The invented example jobs: complete, sound, and with the trade's traps in them.

Totals are those of the jobs' description (10.1: 223 W; 10.2: 119 devices, 1319 W), where they
were added up apart from these files. The packaging line has one device more than described: the
protective earth bar that its PE wires need.
"""

from __future__ import annotations

from collections import Counter
from functools import cache
from pathlib import Path

import pytest

from platewright.jobfile.folder import read_job
from platewright.model.device import Device
from platewright.model.job import Job
from platewright.model.part import HoleForm, Mount

EXAMPLES = Path(__file__).parents[2] / "examples"
FOLDERS = sorted(path.name for path in EXAMPLES.iterdir() if (path / "job.toml").is_file())


@cache
def _job(name: str) -> Job:
    return read_job(EXAMPLES / name)


def _heat(job: Job, devices: tuple[Device, ...]) -> float:
    return sum(job.part_of(device.tag).heat or 0.0 for device in devices)


def test_there_are_three_examples() -> None:
    assert FOLDERS == ["bottle-rinser", "bottle-rinser-by-hand", "packaging-line"]


def test_bottle_rinser_adds_up() -> None:
    job = _job("bottle-rinser")
    assert len(job.on_plate) == 24
    assert _heat(job, job.on_plate) == pytest.approx(223.0)
    doors = {device.tag for device in job.on_door}
    to_door = [wire for wire in job.wires if {wire.start.device, wire.end.device} & doors]
    assert len(job.wires) - len(to_door) == 65  # described: 66, one of them to the door's stud
    assert len(to_door) == 10


def test_packaging_line_adds_up() -> None:
    job = _job("packaging-line")
    assert len(job.on_plate) == 119 + 1
    assert _heat(job, job.on_plate) == pytest.approx(1319.4)
    assert 340 <= len(job.wires) <= 370


def test_lists_by_hand_are_those_of_the_sound_job() -> None:
    for name in ("devices.csv", "wires.csv"):
        assert (EXAMPLES / "bottle-rinser-by-hand" / name).read_bytes() == (
            EXAMPLES / "bottle-rinser" / name
        ).read_bytes()


@pytest.mark.parametrize("name", FOLDERS)
def test_every_part_is_complete_where_no_trap_is_set(name: str) -> None:
    job = _job(name)
    for device in job.devices.values():
        part = job.part_of(device.tag)
        assert None not in (part.heat, part.heat_limit, part.mass, part.terminal_torque), part.part
        assert part.source.startswith("invented")
        covers = (part.cover_left, part.cover_right, part.cover_top, part.cover_bottom)
        assert None not in (*covers, part.cover_front), part.part
    for device in job.on_plate:
        part = job.part_of(device.tag)
        if part.mount is Mount.RAIL:
            assert None not in (part.rail_center, part.snap_travel), part.part
        else:
            assert None not in (part.screw, part.hole_pattern_width, part.mount_torque), part.part


@pytest.mark.parametrize("name", FOLDERS)
def test_no_terminal_takes_more_wires_than_stated(name: str) -> None:
    job = _job(name)
    ends = Counter(end for wire in job.wires for end in (wire.start, wire.end))
    for end, wires in ends.items():
        shared = end.terminal in job.part_of(end.device).shared_terminals
        assert wires <= (2 if shared else 1), str(end)


@pytest.mark.parametrize("name", FOLDERS)
def test_no_wire_meets_the_hidden_side_of_a_linked_pair(name: str) -> None:
    job = _job(name)
    ends = {end for wire in job.wires for end in (wire.start, wire.end)}
    for device in job.on_plate:
        if device.hangs_under is not None:
            upper = job.part_of(device.hangs_under)
            hidden = {(device.hangs_under, terminal) for terminal in upper.terminals_bottom}
            hidden |= {(device.tag, each) for each in job.part_of(device.tag).terminals_top}
            assert not hidden & {(end.device, end.terminal) for end in ends}, device.tag


def test_traps_of_the_bottle_rinser_are_set() -> None:
    job = _job("bottle-rinser")
    transformer, drive, panel = (job.part_of(tag) for tag in ("-T1", "-T3", "-P1"))
    assert transformer.heat == 70.0
    assert (transformer.clear_left, transformer.clear_right) == (None, None)
    assert transformer.hole_form is HoleForm.SLOT
    behind_panel = job.settings.enclosure.door_inside - panel.depth
    assert behind_panel < drive.depth + (drive.cover_front or 0.0)
    assert drive.depth + (drive.cover_front or 0.0) < job.settings.enclosure.door_inside
    for tag in ("-Q1", "-T1", "-F2", "-X4"):
        part = job.part_of(tag)
        assert any((part.cover_left, part.cover_top, part.cover_bottom, part.cover_front)), tag
    assert len(job.settings.plate.fixing_holes) == 4
    assert len(job.settings.plate.keep_outs) == 1


def test_plates_are_thin_and_thick() -> None:
    # gauges: Manufacturers' Standard Gauge, 14 ga 0.0747 in, 12 ga 0.1046 in
    thickness = {name: _job(name).settings.plate.thickness for name in FOLDERS}
    assert thickness == {
        "bottle-rinser": pytest.approx(2.657, abs=5e-4),
        "bottle-rinser-by-hand": pytest.approx(1.897, abs=5e-4),
        "packaging-line": 3.0,
    }


def test_inches_in_job_toml_are_read() -> None:
    ducts = {duct.name: duct for duct in _job("bottle-rinser").settings.stock.ducts}
    assert ducts["1-1/2x3"].width == pytest.approx(1.5 * 25.4)
    assert ducts["1x3"].width == pytest.approx(25.4)  # written as width_in
    assert ducts["2x3"].length == pytest.approx(6 * 12 * 25.4)


def test_traps_of_the_packaging_line_are_set() -> None:
    job = _job("packaging-line")
    hot = [device for device in job.on_plate if (job.part_of(device.tag).heat or 0.0) >= 35.0]
    drives = [device for device in hot if device.tag in {f"-T{n}" for n in range(11, 21)}]
    assert len(drives) == 10
    assert {job.part_of(device.tag).depth for device in drives} == {145.0, 185.0}
    assert job.part_of("-R1").mass == 11.0
    assert job.part_of("-R11").clear_left is None
    groups = {group for n in range(31, 55) for group in job.devices[f"-K{n}"].group}
    assert groups == {"C", "D"}
    chain = [
        device for device in job.on_plate if device.plugs_into in {f"-K{n}" for n in range(1, 13)}
    ]
    assert len(chain) == 12  # modules that plug into the controller, one after another


def test_strips_of_the_packaging_line_keep_a_fifth_for_later() -> None:
    job = _job("packaging-line")
    used = Counter(
        end.device
        for wire in job.wires
        for end in (wire.start, wire.end)
        if end.device in {f"-X{n}" for n in range(1, 7)}
    )
    for tag, count in used.items():
        assert count <= 0.8 * len(job.part_of(tag).terminals_top), tag
