from pathlib import Path

import openpyxl
import pytest

from platewright.foundation.errors import InputErrors
from platewright.jobfile import import_lists as module
from platewright.jobfile.folder import read_job, starter_parts
from platewright.jobfile.import_lists import ImportReport, NewJob, import_lists
from platewright.jobfile.settings import read_columns, read_settings
from platewright.model.job import ColumnMap, DisplayUnit, Practice
from platewright.model.part import Mount

DEVICES = [
    ["Item", "Catalog No.", "Description", "Qty", "Width (in)", "H (in)", "D [mm]", "Watts",
     "Mounting", "Voltage", "Lid"],
    ["Q1", "AB-1", "main switch", 1, 4.5, '5-3/8"', 95, 8, "screws", "480 V", "red"],
    ["K4, K5, K6", "RL", "relay", 3, 0.25, 3.5, 78, 0.5, "DIN rail", "24 V", ""],
    ["K7", "RL", "relay", 2, 0.25, 3.5, 78, 0.5, "DIN rail", "24 V", ""],
    ["K8", "RL", "relay", 1, 0.25, 3.5, 78, 0.5, "DIN rail", "24 V", ""],
    ["F1", "", "fuse", 1, "abc", "nan", 3, -1, "", "", ""],
    ["F2", "", "fuse", 1, 1, 3, 62, 4, "", "480 V", ""],
    ["Q1", "AB-1", "again", 1, 4.5, 5.375, 95, 8, "screws", "480 V", ""],
    ["H1", "typ-none", "lamp", 1, None, None, None, None, "", "", ""],
]  # fmt: skip
WIRES = """\
Wire No.;From;To;Gauge;Color;Voltage
1;Q1:2;F2:1;#14;red;480 V
1;Q1-4;-K4:A1;16;blue;480 V
3;Q1:6;K9:A1;16;;
4;F2:2;K5.A1;14 AWG;;
5;F2:2;K6.A1;99;;
6;F2:2;K6 A1;18;;
7;F2:2;K6:A2;18;;
"""
SIZES = NewJob(
    title="Pump",
    practice=Practice.NORTH_AMERICA,
    enclosure=(600.0, 600.0, 210.0),
    door_inside=185.0,
    plate=(540.0, 540.0, 2.5),
)


def make(tmp_path: Path, job: NewJob = SIZES) -> ImportReport:
    book = openpyxl.Workbook()
    for row in DEVICES:
        book.active.append(row)
    book.save(tmp_path / "list.xlsx")
    (tmp_path / "wires.csv").write_text(WIRES)
    return import_lists(
        tmp_path / "job", devices=tmp_path / "list.xlsx", wires=tmp_path / "wires.csv", job=job
    )


def test_the_job_is_made_and_reads(tmp_path: Path) -> None:
    report = make(tmp_path)
    job = read_job(tmp_path / "job")
    assert list(job.devices) == ["Q1", "K4", "K5", "K6", "K8", "F2"]
    assert (report.devices, report.parts, report.wires) == (6, 3, 4)
    switch, relay = job.part_of("Q1"), job.part_of("K8")
    assert (switch.width, switch.height, switch.depth) == (114.3, 136.525, 95.0)
    assert switch.mount is Mount.SCREWS
    assert job.devices["K4"].part == job.devices["K8"].part == "RL"
    assert relay.rail_center == pytest.approx(3.5 * 25.4 / 2)
    assert "assumed" in relay.source
    assert [str(wire.size) for wire in job.wires] == ["14 AWG", "16 AWG", "14 AWG", "18 AWG"]
    assert [str(wire.end) for wire in job.wires] == ["F2:1", "K4:A1", "K5:A1", "K6:A1"]
    assert [group.name for group in job.settings.groups] == ["480-V", "24-V"]


def test_each_row_that_can_not_be_used_is_told(tmp_path: Path) -> None:
    told = {(fault.file, fault.row, fault.field) for fault in make(tmp_path).skipped}
    assert told == {
        ("list.xlsx", 4, "Qty"),
        ("list.xlsx", 6, "Width (in)"),
        ("list.xlsx", 6, "H (in)"),
        ("list.xlsx", 8, "Item"),
        ("list.xlsx", 9, "Catalog No."),
        ("wires.csv", 4, "To"),
        ("wires.csv", 6, "Gauge"),
        ("wires.csv", 8, "From"),
    }


def test_what_was_assumed_and_left_is_told(tmp_path: Path) -> None:
    report = make(tmp_path)
    notes = "\n".join(report.notes)
    for words in ("rail centre assumed", "terminal sides assumed", "two wires", "1.2"):
        assert words in notes
    assert report.unused == ("Lid",)
    assert report.to_fill == ()


def test_the_map_is_kept_and_wins_next_time(tmp_path: Path) -> None:
    report = make(tmp_path)
    kept = read_settings(tmp_path / "job").columns
    assert kept == report.columns
    assert kept.devices["tag"] == "Item"
    other = ColumnMap(devices={**kept.devices, "function": "Lid"})
    (tmp_path / "again").mkdir()
    again = make(tmp_path / "again", NewJob(practice=Practice.NORTH_AMERICA, columns=other))
    assert again.columns.devices["function"] == "Lid"
    assert '"Q1","AB-1","red"'.replace('"', "") in (tmp_path / "again/job/devices.csv").read_text()


def test_sizes_not_given_are_to_be_filled_in(tmp_path: Path) -> None:
    report = make(tmp_path, NewJob(practice=Practice.NORTH_AMERICA))
    assert "plate.width_mm" in report.to_fill
    with pytest.raises(InputErrors) as caught:
        read_job(tmp_path / "job")
    assert {fault.field for fault in caught.value.faults} == set(report.to_fill)


def test_a_job_in_inches_is_asked_for_inches(tmp_path: Path) -> None:
    """Keys, questions and stock in inches; what is no round inch stays the length it is."""
    report = make(tmp_path, NewJob(units=DisplayUnit.INCH))
    assert "plate.width_in" in report.to_fill
    with pytest.raises(InputErrors) as caught:
        read_job(tmp_path / "job")
    assert {fault.field for fault in caught.value.faults} == set(report.to_fill)
    assert all("_mm" not in fault.cure for fault in caught.value.faults)
    path = tmp_path / "job" / "job.toml"
    text = path.read_text(encoding="utf-8")
    assert 'name = "1.5x3", width_in = 1.5, height_in = 3.0' in text
    assert "# hinge_x_in =" in text
    assert "kerf_mm = 3.0" in text  # 0.1181… in would not be read back as 3 mm
    sizes = {"width": 24, "height": 30.5, "depth": 10, "door_inside": 8.75, "thickness": 0.105}
    for key, inches in sizes.items():  # filled in as the file asks
        text = text.replace(f"# {key}_in =   #", f"{key}_in = {inches}  #")
    path.write_text(text, encoding="utf-8")
    settings = read_settings(tmp_path / "job")
    assert settings.plate.height == pytest.approx(30.5 * 25.4)
    assert settings.plate.thickness == pytest.approx(2.667)
    assert settings.stock.ducts[1].width == pytest.approx(38.1)


def test_an_old_job_is_never_written_over(tmp_path: Path) -> None:
    (tmp_path / "job").mkdir()
    (tmp_path / "job" / "devices.csv").write_text("mine")
    with pytest.raises(InputErrors, match="already"):
        make(tmp_path)
    assert [path.name for path in (tmp_path / "job").iterdir()] == ["devices.csv"]


def test_all_or_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    save = module.atomic.save

    def fail_at_wires(path: Path, content: bytes) -> None:
        if path.name == "wires.csv":
            raise OSError(28, "No space left on device")
        save(path, content)

    monkeypatch.setattr(module.atomic, "save", fail_at_wires)
    with pytest.raises(OSError, match="No space"):
        make(tmp_path)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["list.xlsx", "wires.csv"]


def test_nothing_usable_is_an_error(tmp_path: Path) -> None:
    (tmp_path / "list.csv").write_text("Item,Part\nK1,no-such-part\n")
    with pytest.raises(InputErrors, match="no row that can be used"):
        import_lists(tmp_path / "job", devices=tmp_path / "list.csv")
    assert not (tmp_path / "job").exists()


def test_metric_list_of_starter_parts_alone(tmp_path: Path) -> None:
    part = next(each for each in starter_parts().values() if len(each.terminals) >= 2)
    (tmp_path / "list.csv").write_text(
        f"Designation,Type,Voltage group\n-F1,{part.part},M\n-F2..-F4,{part.part},M\n"
    )
    first, second = part.terminals[:2]
    (tmp_path / "wires.csv").write_text(
        "No,From device,From terminal,To device,To terminal,Section (mm²)\n"
        f"1,-F1,{first},F2,{second},1.5\n2,-F1,no,F2,{second},1.5\n"
    )
    report = import_lists(
        tmp_path / "job", devices=tmp_path / "list.csv", wires=tmp_path / "wires.csv",
        job=NewJob(enclosure=(600.0, 600.0, 250.0), door_inside=200.0, plate=(540.0, 540.0, 3.0)),
    )  # fmt: skip
    job = read_job(tmp_path / "job")
    assert list(job.devices) == ["-F1", "-F2", "-F3", "-F4"]
    assert not (tmp_path / "job" / "parts.csv").exists()
    assert [str(wire.size) for wire in job.wires] == ["1.5 mm²"]
    assert {(fault.row, fault.field) for fault in report.skipped} == {
        (3, "From device"),
        (3, "To device"),
    }


def test_lengths_without_a_unit_are_read_as_said_and_told(tmp_path: Path) -> None:
    (tmp_path / "list.csv").write_text("Item,Width,Height,Depth (mm)\nK1,2,4,80\n")
    for lengths_in, width in ((DisplayUnit.MM, 2.0), (DisplayUnit.INCH, 50.8)):
        folder = tmp_path / lengths_in
        report = import_lists(
            folder,
            devices=tmp_path / "list.csv",
            job=NewJob(
                enclosure=(600.0, 600.0, 250.0),
                door_inside=200.0,
                plate=(540.0, 540.0, 3.0),
                lengths_in=lengths_in,
            ),
        )
        assert read_job(folder).part_of("K1").width == width
        assert f"Width, Height: no unit in the heading, read as {lengths_in}" in report.notes


def test_device_and_terminal_in_two_columns_are_joined(tmp_path: Path) -> None:
    (tmp_path / "devices.csv").write_text("Tag,Part\n-F1,typ-breaker-1p\n-F2,typ-breaker-1p\n")
    (tmp_path / "wires.csv").write_text(
        "Wire no.,From device,From terminal,To device,To terminal,Size\n1,-F1,2,-F2,1,1.5 mm2\n"
    )
    report = import_lists(
        tmp_path / "job", devices=tmp_path / "devices.csv", wires=tmp_path / "wires.csv"
    )
    assert report.wires == 1
    assert report.skipped == ()
    (tmp_path / "job" / "wires.csv").read_text(encoding="utf-8").index("-F1:2,-F2:1")


def test_a_list_without_designations_names_its_headings(tmp_path: Path) -> None:
    (tmp_path / "devices.csv").write_text("Zeichen,Width (mm),Height (mm)\n-F1,18,90\n")
    with pytest.raises(InputErrors, match="no column that is understood as the designation"):
        import_lists(tmp_path / "job", devices=tmp_path / "devices.csv")
    assert not (tmp_path / "job").exists()


def test_wire_columns_may_be_kept_by_the_names_of_the_file(tmp_path: Path) -> None:
    (tmp_path / "devices.csv").write_text("Tag,Part\n-F1,typ-breaker-1p\n-F2,typ-breaker-1p\n")
    (tmp_path / "wires.csv").write_text("Nr,Here,There,Size\n1,-F1:2,-F2:1,1.5 mm2\n")
    kept = ColumnMap(wires={"number": "Nr", "from": "Here", "to": "There"})
    report = import_lists(
        tmp_path / "job", devices=tmp_path / "devices.csv", wires=tmp_path / "wires.csv",
        job=NewJob(columns=kept),
    )  # fmt: skip
    assert report.wires == 1


def test_groups_with_a_space_between_are_apart_where_both_stand_alone(tmp_path: Path) -> None:
    (tmp_path / "devices.csv").write_text(
        "Tag,Part,Net\n-F1,typ-breaker-1p,M\n-F2,typ-breaker-1p,C\n-T1,typ-breaker-1p,M C\n"
        "-F3,typ-breaker-1p,24 V\n"
    )
    (tmp_path / "wires.csv").write_text(
        "Wire no.,From,To,Size,Net\n1,-F1:2,-T1:1,1.5 mm2,M C\n2,-F2:2,-F3:1,1.5 mm2,24 V\n"
    )
    report = import_lists(
        tmp_path / "job", devices=tmp_path / "devices.csv", wires=tmp_path / "wires.csv"
    )
    devices = (tmp_path / "job" / "devices.csv").read_text(encoding="utf-8")
    assert "M-C" not in devices
    assert "-T1,typ-breaker-1p,M C\n" in devices
    wires = (tmp_path / "job" / "wires.csv").read_text(encoding="utf-8")
    assert [line.split(",") for line in wires.splitlines()][1:][0].count("M") == 1
    assert "24-V" in devices
    assert any("voltage groups taken from the list: M, C, 24-V" in note for note in report.notes)


def test_a_wire_list_without_its_ends_makes_no_job(tmp_path: Path) -> None:
    (tmp_path / "devices.csv").write_text("Tag,Part\n-F1,typ-breaker-1p\n-F2,typ-breaker-1p\n")
    (tmp_path / "wires.csv").write_text("Wire no.,Hither,Yonder,Size\n1,-F1:2,-F2:1,1.5 mm2\n")
    with pytest.raises(InputErrors, match="where a wire starts") as caught:
        import_lists(
            tmp_path / "job", devices=tmp_path / "devices.csv", wires=tmp_path / "wires.csv"
        )
    assert "Hither, Yonder" in str(caught.value)
    assert 'from = "YOUR HEADING"' in str(caught.value)
    assert len(caught.value.faults) == 1
    assert not (tmp_path / "job").exists()


def test_a_wire_list_without_one_good_row_makes_no_job(tmp_path: Path) -> None:
    (tmp_path / "devices.csv").write_text("Tag,Part\n-F1,typ-breaker-1p\n-F2,typ-breaker-1p\n")
    (tmp_path / "wires.csv").write_text("Wire no.,From,To,Size\n1,-F8:2,-F9:1,1.5 mm2\n")
    with pytest.raises(InputErrors, match="holds no row that can be used"):
        import_lists(
            tmp_path / "job", devices=tmp_path / "devices.csv", wires=tmp_path / "wires.csv"
        )
    assert not (tmp_path / "job").exists()


def test_headings_in_a_shop_s_own_words_are_understood(tmp_path: Path) -> None:
    (tmp_path / "devices.csv").write_text(
        "Designation,Article,W [mm],H [mm],D [mm],Fastening,Hole spacing across,Hole spacing up,"
        "Screw size,Air at left,Loss [W],Connections above,Double connections\n"
        "-T1,SS,120,240,190,screws,100,220,M6,10,25,1 3 5,1\n"
    )
    (tmp_path / "wires.csv").write_text("No,Starts at,Ends at,Size\n1,-T1:1,-T1:3,1.5 mm2\n")
    report = import_lists(
        tmp_path / "job", devices=tmp_path / "devices.csv", wires=tmp_path / "wires.csv", job=SIZES
    )
    part = read_job(tmp_path / "job").parts["SS"]
    assert report.unused == ()
    assert part.mount is Mount.SCREWS
    assert (part.hole_pattern_width, part.hole_pattern_height, part.screw) == (100, 220, "M6")
    assert (part.clear_left, part.heat) == (10, 25)
    assert (part.terminals_top, part.shared_terminals) == (("1", "3", "5"), ("1",))


def test_rows_left_out_show_their_cells_as_the_list_has_them(tmp_path: Path) -> None:
    (tmp_path / "list.csv").write_text(
        "Tag,Part no,Width (in),Height (in),Depth (in),Rail center (in)\n"
        "-A1,P1,-3,4,2,\n-A2,P2,3,4,2,5\n-A3,P3,3,4,2,1\n"
    )
    report = import_lists(
        tmp_path / "job", devices=tmp_path / "list.csv", wires=None, job=SIZES
    )  # fmt: skip
    told = {(f.row, f.field, f.value) for f in report.skipped}
    assert told == {(2, "Width (in)", "-3"), (3, "Rail center (in)", "5")}
    assert any("Height (in) = 4" in f.problem for f in report.skipped)


HEADS = ("Tag", "Part", "Width", "Height", "Depth")
BREAKERS = [(f"F{n}", f"breaker {n}", 18 * n, 90, 70) for n in range(1, 5)]


def _import(tmp_path: Path, rows: list[tuple[object, ...]], *heads: str) -> ImportReport:
    book = openpyxl.Workbook()
    for row in (heads, *rows):
        book.active.append(row)
    book.save(tmp_path / "list.xlsx")
    return import_lists(tmp_path / "job", devices=tmp_path / "list.xlsx", job=SIZES)


@pytest.mark.parametrize(
    ("heads", "cure"),
    [
        (HEADS, "give --units in, or call the columns Width (in), Height (in), Depth (in)"),
        (("Tag", "Part", "Width (mm)", "Height (mm)", "Depth (mm)"), "inches, call the columns"),
    ],
)
def test_inches_read_as_millimetres_refuse_the_list(
    tmp_path: Path, heads: tuple[str, ...], cure: str
) -> None:
    inches = [(t, p, *(round(size / 25.4, 2) for size in sizes)) for t, p, *sizes in BREAKERS]
    with pytest.raises(InputErrors) as told:
        _import(tmp_path, inches, *heads)
    (fault,) = told.value.faults
    assert (fault.file, fault.row, fault.value) == ("list.xlsx", 2, "0.71 × 3.54 × 2.76")
    assert fault.field == ", ".join(heads[2:])
    assert "at least as high as the rail. The same in rows 3 to 5" in fault.problem
    assert cure in fault.cure
    assert not (tmp_path / "job").exists()


def test_millimetres_read_as_inches_refuse_the_list(tmp_path: Path) -> None:
    with pytest.raises(InputErrors) as told:
        _import(tmp_path, BREAKERS, "Tag", "Part", "Width (in)", "Height (in)", "Depth (in)")
    (fault,) = told.value.faults
    assert "5 times as deep as the enclosure" in fault.problem
    assert "millimetres, call the columns Width (mm), Height (mm), Depth (mm)" in fault.cure
    assert not (tmp_path / "job").exists()


def test_what_is_too_low_for_a_rail_is_taken_for_screws(tmp_path: Path) -> None:
    """A bar of 12 mm in a list that does not say how things are held."""
    report = _import(tmp_path, [*BREAKERS, ("X1", "bar", 160, 12, 20)], *HEADS)
    parts = read_job_parts(tmp_path)
    assert parts["bar"].mount is Mount.SCREWS
    assert parts["breaker 1"].mount is Mount.RAIL
    assert any("mounting by screws assumed" in note for note in report.notes)


def read_job_parts(tmp_path: Path):
    return read_job(tmp_path / "job").parts


def _lists(tmp_path: Path, devices: str, wires: str | None = None) -> ImportReport:
    (tmp_path / "devices.csv").write_text(devices)
    if wires is not None:
        (tmp_path / "wires.csv").write_text(wires)
    return import_lists(
        tmp_path / "job", devices=tmp_path / "devices.csv",
        wires=None if wires is None else tmp_path / "wires.csv", job=SIZES,
    )  # fmt: skip


def test_a_wire_list_whose_headings_are_not_understood_blames_the_headings(tmp_path: Path) -> None:
    with pytest.raises(InputErrors) as caught:
        _lists(tmp_path, "Tag,Part\n-F1,typ-breaker-1p\n-F2,typ-breaker-1p\n",
               "Wire no.,From,To,Thickness\n1,-F1:2,-F2:1,1.5\n2,-F1:1,-F2:2,1.5\n")  # fmt: skip
    (fault,) = caught.value.faults
    assert "heading 'Thickness' is not understood" in fault.problem
    assert "a wire's size" in fault.problem
    assert "cross section" in fault.cure
    assert 'size = "Thickness" under [columns.wires]' in fault.cure
    assert not (tmp_path / "job").exists()


def test_a_size_without_a_heading_is_told_once_with_all_its_rows(tmp_path: Path) -> None:
    lists = "Tag,Part,Width,Height,Reach\n" + "".join(f"-F{n},P,18,90,70\n" for n in (1, 2, 3))
    with pytest.raises(InputErrors) as caught:
        _lists(tmp_path, lists)
    (fault,) = caught.value.faults
    assert (
        fault.problem == "heading 'Reach' is not understood, and no other names the depth of a body"
    )
    assert "deep" in fault.cure
    report = _lists(tmp_path, lists + "-F4,typ-breaker-1p,,,\n")  # a starter part needs no sizes
    (fault,) = report.skipped
    assert (fault.row, report.devices, report.rows_left_out) == (2, 1, 3)
    assert "The same in rows 3, 4" in fault.problem


def test_door_devices_without_a_place_come_in_with_it_open(tmp_path: Path) -> None:
    report = _lists(
        tmp_path,
        "Tag,Part,Width,Height,Depth,Location\n-F1,P,18,90,70,plate\n-S1,B,30,40,55,door\n",
        "No,From,To,Size\n1,-F1:2,-S1:13,1 mm2\n",
    )
    assert (report.skipped, report.rows_left_out, report.wires) == ((), 0, 1)
    assert any("place in the door still open: -S1" in note for note in report.notes)
    assert read_job(tmp_path / "job").is_open_on_door("-S1")


def test_wires_of_a_device_that_was_left_out_follow_from_its_row(tmp_path: Path) -> None:
    report = _lists(
        tmp_path,
        "Tag,Part,Width,Height,Depth\n-F1,P,18,90,70\n-S1,B,30,nan,55\n-S2,B,30,nan,55\n",
        "No,From,To,Size\n1,-F1:2,S1:13,1 mm2\n2,-S1:14,-S2:13,1 mm2\n3,-F1:1,-F1:4,1 mm2\n"
        "4,-F1:3,-F9:1,1 mm2\n",
    )
    own, stranger, waiting = report.skipped
    assert (own.row, own.field) == (3, "Height")
    assert "The same in row 4" in own.problem
    said = "left out with the devices they end at: rows 2, 3. Left out of devices.csv: "
    assert waiting.problem == said + "-S1 (row 3), -S2 (row 4)"
    assert (stranger.row, stranger.problem) == (5, "-F9 is no device of the list")
    assert report.rows_left_out == 5  # two device rows, three wire rows; not the messages
    assert report.wires == 1


def test_a_list_of_which_nothing_is_understood_shows_what_was_looked_at(tmp_path: Path) -> None:
    with pytest.raises(InputErrors, match="the likeliest reads 'Tag', 'Across', 'Up'"):
        _lists(tmp_path, "Tag,Across,Up\n-F1,18,90\n")


def test_a_file_of_columns_alone_says_how_headings_are_taken(tmp_path: Path) -> None:
    """The cure for a heading that is not understood works before there is any job."""
    (tmp_path / "job.toml").write_text('[columns.wires]\nsize = "Thickness"\n')
    columns = read_columns(tmp_path)
    assert (columns.wires, columns.devices) == ({"size": "Thickness"}, {})
    (tmp_path / "job.toml").write_text('units = "mm"\n')
    assert read_columns(tmp_path) == ColumnMap()


def test_a_job_with_sizes_still_to_fill_in_lends_its_headings(tmp_path: Path) -> None:
    report = make(tmp_path, NewJob(practice=Practice.NORTH_AMERICA))
    assert report.to_fill
    assert read_columns(tmp_path / "job") == report.columns


@pytest.mark.parametrize(
    ("text", "field"),
    [
        ("columns = 3", "columns"),
        ("[columns]\nwires = 3", "columns.wires"),
        ("[columns.wires]\nsize = 3", "columns.wires.size"),
        ("[columns.wire]\nsize = 'CSA'", "columns.wire"),
        ("[columns.wires\nsize = 'CSA'", None),
        ("format = 99", "format"),
    ],
)
def test_columns_that_are_none_are_told(tmp_path: Path, text: str, field: str | None) -> None:
    (tmp_path / "job.toml").write_text(text)
    with pytest.raises(InputErrors) as caught:
        read_columns(tmp_path)
    (fault,) = caught.value.faults
    assert fault.file == "job.toml"
    assert fault.field == field
