from dataclasses import replace
from pathlib import Path

from platewright.jobfile.folder import read_job
from platewright.jobfile.layout_file import (
    layout_text,
    read_layout,
    read_layout_with_notes,
    write_layout,
)
from platewright.model.layout import Duct, Hole, HoleKind, HoleState, Layout, Placement, Rail, Run

LAYOUT = Layout(
    devices={"-Q1": Placement(x=45.0, y=312.12345, locked=True), "-T1": Placement(x=-0.0, y=1.0)},
    ducts={"D1": Duct(x=0.0, y=0.0, length=340.0, width=40.0, height=60.0, run=Run.UPRIGHT)},
    rails={"R1": Rail(x=1.0, y=2.0, length=3.0)},
    holes={"H1": Hole(x=1.0, y=2.0, kind=HoleKind.TAPPED, size="M5", drill=4.2, holds="R1")},
)
TEXT = """\
# Where everything stands, in mm from the plate's lower left corner.
# Written by plan and page; may be edited by hand. locked = true keeps a thing in place.
format = 1

[devices]
"-Q1" = {x_mm = 45.0, y_mm = 312.123, locked = true}
"-T1" = {x_mm = 0.0, y_mm = 1.0}

[ducts]
D1 = {x_mm = 0.0, y_mm = 0.0, length_mm = 340.0, width_mm = 40.0, height_mm = 60.0, run = "upright"}

[rails]
R1 = {x_mm = 1.0, y_mm = 2.0, length_mm = 3.0}

[holes]
H1 = {x_mm = 1.0, y_mm = 2.0, kind = "tapped", size = "M5", drill_mm = 4.2, holds = "R1"}
"""


def test_a_new_file_has_one_line_a_thing(job_folder: Path) -> None:
    assert layout_text(LAYOUT) == TEXT
    (job_folder / "layout.toml").unlink()
    write_layout(job_folder, LAYOUT)
    assert (job_folder / "layout.toml").read_text() == TEXT


def test_whole_numbers_are_written_like_others() -> None:
    assert layout_text(Layout(devices={"a": Placement(x=1, y=2)})).endswith(
        "a = {x_mm = 1.0, y_mm = 2.0}\n"
    )


def test_no_file_is_an_empty_layout(job_folder: Path) -> None:
    job = read_job(job_folder)
    (job_folder / "layout.toml").unlink()
    assert read_layout(job_folder, job) == Layout()


def test_comments_of_a_person_stay(job_folder: Path) -> None:
    path = job_folder / "layout.toml"
    path.write_text(
        "# my plate\n"
        + TEXT.replace("locked = true}", "locked = true} # bolted").replace(
            "[ducts]", "# ducts of last year\n[ducts]"
        )
    )
    new = replace(
        LAYOUT,
        devices={"-Q1": Placement(x=5.0, y=6.0), "-Q2": Placement(x=7.0, y=8.0)},
        holes={},
    )
    write_layout(job_folder, new)
    text = path.read_text()
    assert text.startswith("# my plate\n")
    assert '"-Q1" = {x_mm = 5.0, y_mm = 6.0} # bolted\n' in text
    assert '"-Q2" = {x_mm = 7.0, y_mm = 8.0}\n' in text
    assert "# ducts of last year\n[ducts]" in text
    assert '"-T1"' not in text
    assert read_layout(job_folder, read_job(job_folder)) == new
    write_layout(job_folder, new)
    assert path.read_text() == text


def test_units_at_the_edge(job_folder: Path) -> None:
    path = job_folder / "layout.toml"
    path.write_text('[devices]\n"-Q1" = {x_in = 2, y_mm = "1-3/8 in"}\n')
    assert read_layout(job_folder, read_job(job_folder)).devices["-Q1"] == Placement(
        x=50.8, y=34.925
    )


def test_line_ends_stay(job_folder: Path) -> None:
    path = job_folder / "layout.toml"
    path.write_bytes(path.read_bytes().replace(b"\n", b"\r\n"))
    write_layout(job_folder, LAYOUT)
    after = path.read_bytes()
    assert after.count(b"\r\n") == after.count(b"\n") > 5


def test_a_device_that_left_the_lists_is_left_out_and_told(job_folder: Path) -> None:
    path = job_folder / "layout.toml"
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace('"-Q2" =', '"-Q9" ='), encoding="utf-8")
    reading = read_layout_with_notes(job_folder, read_job(job_folder))
    assert "-Q9" not in reading.layout.devices
    assert any("-Q9 is not on the plate by devices.csv" in note for note in reading.notes)


def test_a_drilled_hole_outlives_what_it_held(job_folder: Path) -> None:
    job = read_job(job_folder)
    layout = read_layout(job_folder, job)
    tag, hole = next((t, h) for t, h in layout.holes.items() if h.holds == "-Q1")
    for state, stays in (
        (HoleState.DRILLED, True),
        (HoleState.MARKED, True),
        (HoleState.PLANNED, False),
    ):
        held = replace(hole, holds="-Q9", state=state)
        write_layout(job_folder, replace(layout, holes={**layout.holes, tag: held}))
        reading = read_layout_with_notes(job_folder, job)
        assert (tag in reading.layout.holes) is stays
        assert any(tag in note and "gone" in note for note in reading.notes)
        if stays:
            assert reading.layout.holes[tag] == replace(held, holds="")
