from dataclasses import replace
from pathlib import Path

import pytest

from platewright.foundation.errors import InputErrors
from platewright.jobfile.settings import read_settings, settings_from
from platewright.jobfile.settings_write import settings_text, write_settings
from platewright.model.job import (
    Aims,
    ColumnMap,
    DisplayUnit,
    DuctStock,
    Enclosure,
    Group,
    JobSettings,
    Plate,
    Practice,
    Stock,
    Title,
)


def changed_lines(old: str, new: str) -> set[str]:
    return set(old.splitlines()) ^ set(new.splitlines())


def test_saving_what_did_not_change_changes_no_byte(job_folder: Path) -> None:
    path = job_folder / "job.toml"
    before = path.read_bytes()
    write_settings(job_folder, read_settings(job_folder))
    assert path.read_bytes() == before


def test_one_change_changes_one_line(job_folder: Path) -> None:
    path = job_folder / "job.toml"
    before = path.read_text()
    settings = read_settings(job_folder)
    write_settings(job_folder, replace(settings, plate=replace(settings.plate, thickness=3.0)))
    assert changed_lines(before, path.read_text()) == {"thickness_mm = 2.5", "thickness_mm = 3.0"}


def test_comments_order_units_and_line_ends_stay(job_folder: Path) -> None:
    path = job_folder / "job.toml"
    text = path.read_text().replace("width_mm = 440", "width_in = 17 # plate, mine")
    path.write_bytes(b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode())
    settings = read_settings(job_folder)
    assert settings.plate.width == 431.8
    write_settings(job_folder, replace(settings, plate=replace(settings.plate, width=444.5)))
    after = path.read_bytes()
    assert after.startswith(b"\xef\xbb\xbf")
    assert after.count(b"\r\n") == after.count(b"\n")
    assert b"width_in = 17.5 # plate, mine\r\n" in after
    assert read_settings(job_folder).plate.width == 444.5


def test_lists_of_tables_grow_and_shrink(job_folder: Path) -> None:
    settings = read_settings(job_folder)
    plate = settings.plate
    for new in (
        replace(settings, groups=(*settings.groups, Group(name="S", voltage=10.0))),
        replace(settings, groups=settings.groups[1:]),
        replace(settings, groups=()),
        replace(settings, groups=settings.groups),
        replace(settings, plate=replace(plate, fixing_holes=plate.fixing_holes[::-1])),
    ):
        write_settings(job_folder, new)
        assert read_settings(job_folder) == new


def test_tables_that_were_not_there_are_added(job_folder: Path) -> None:
    path = job_folder / "job.toml"
    head, _, _ = path.read_text().partition("[limits]")
    path.write_text(head.replace('practice = "north-america"\n', ""))
    settings = read_settings(job_folder)
    assert settings.practice is Practice.IEC
    new = replace(
        settings,
        practice=Practice.NORTH_AMERICA,
        aims=Aims(wire=2.0),
        columns=ColumnMap(devices={"tag": 'Ref. "des"'}),
        enclosure=replace(settings.enclosure, hinge_x=None),
    )
    write_settings(job_folder, new)
    assert read_settings(job_folder) == new
    assert "# A small job, complete" in path.read_text()


def test_a_new_file_explains_every_key(job_folder: Path) -> None:
    settings = read_settings(job_folder)
    text = settings_text(settings)
    assert settings_from(text.encode()).settings == settings
    keys = [line for line in text.splitlines() if " = " in line and not line.startswith((" ", "#"))]
    assert all(
        "  # " in line for line in keys if not line.startswith(("tag", "width =", 'number = "Wire'))
    )


def test_what_is_to_be_filled_in_is_asked_for(job_folder: Path) -> None:
    text = settings_text(read_settings(job_folder), unfilled={"plate.width_mm"})
    assert "# width_mm =   # TO BE FILLED IN: Width" in text
    faults = settings_from(text.encode()).faults
    assert [fault.field for fault in faults] == ["plate.width_mm"]


def test_a_broken_file_is_not_written_over(job_folder: Path) -> None:
    path = job_folder / "job.toml"
    settings = read_settings(job_folder)
    path.write_text("title = Pump")
    with pytest.raises(InputErrors):
        write_settings(job_folder, settings)
    assert path.read_text() == "title = Pump"


@pytest.mark.parametrize("margin", [1e-9, 12.7000004, 12.7])
def test_a_length_that_is_only_near_a_round_inch_is_read_back_as_it_is(margin: float) -> None:
    box = Enclosure(width=600.0, height=600.0, depth=200.0, door_inside=180.0)
    plate = Plate(width=500.0, height=500.0, thickness=2.0, edge_margin=margin)
    settings = JobSettings(
        job=Title(title="Pump"),
        units=DisplayUnit.INCH,
        enclosure=box,
        plate=plate,
        stock=Stock(ducts=(DuctStock(name="1x2", width=25.4, height=50.8),)),
    )
    text = settings_text(settings)
    assert settings_from(text.encode()).settings == settings
    assert ("edge_margin_in = 0.5" in text) == (margin == 12.7)
