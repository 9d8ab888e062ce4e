"""Wrong input of many kinds: each gives its clear error and changes no file.

A case says what is replaced in the sound example job, and which fault must then be told: file,
row, a piece of the field, a piece of the problem. Exactly one fault must come of it, unless the
case says that others follow.
"""

from dataclasses import dataclass
from pathlib import Path

import pytest

from platewright.foundation.errors import InputErrors
from platewright.jobfile.folder import read_job
from platewright.jobfile.layout_file import read_layout

JOB, PARTS, DEVICES, WIRES, LAYOUT = (
    "job.toml",
    "parts.csv",
    "devices.csv",
    "wires.csv",
    "layout.toml",
)


@dataclass(frozen=True, kw_only=True)
class Case:
    name: str
    file: str
    old: str | bytes
    new: str | bytes
    row: int | None = None
    field: str = ""
    problem: str
    cure: str = ""
    count: int = 1
    told_in: str = ""  # file of the fault where it is another than the spoilt one


CASES = (
    # the bytes and the shape of a list
    Case(name="latin-1", file=DEVICES, old=b"main switch", new=b"m\xe4in", row=2, problem="UTF-8"),
    Case(name="nul", file=WIRES, old=b"black", new=b"bl\0ck", row=2, problem="no text"),
    Case(name="empty list", file=DEVICES, old="*", new="", row=1, problem="is empty"),
    Case(name="headings only", file=DEVICES, old="*", new="tag,part\n", problem="no device"),
    Case(name="open quote", file=PARTS, old='"Main switch', new='"Main "switch', row=2, problem="split"),
    Case(name="unknown column", file=PARTS, old="heat_w", new="heet_w", row=1, field="heet_w",
         problem="no known column", cure="heat_w"),
    Case(name="column without unit", file=PARTS, old="depth_mm", new="depth", row=1, field="depth",
         problem="no known column", cure="depth_mm"),
    Case(name="column missing", file=WIRES, old=",size,", new=",circuit,", row=1, field="size",
         problem="is missing", count=2),
    Case(name="column twice", file=PARTS, old="kind,width_mm", new="width_in,width_mm", row=1,
         field="width_mm", problem="given twice", count=9),
    Case(name="no heading", file=DEVICES, old="function,", new=",", row=1, field="column 3",
         problem="no heading"),
    Case(name="row too long", file=DEVICES, old="$", new=",x", row=9,
         problem="more cells"),
    Case(name="semicolon row", file=DEVICES, old="-P1,lamp,", new="-P1;lamp;", row=8, field="place",
         problem="one of plate, door", count=3),
    Case(name="decimal comma cuts a cell", file=PARTS, old=",100,130,", new=",100,5,130,", row=2,
         problem="more cells", cure="If 100,5 is one number, write 100.5"),
    Case(name="unknown thread", file=PARTS, old=",M5,", new=",M55,", row=2, field="screw",
         problem="no thread", cure="M5"),
    Case(name="tag taken by a slip", file=DEVICES, old="-Q2,starter-10", new="-Q1,starter-10", row=3,
         field="tag", problem="stands in row 2"),
    # cells of parts.csv
    Case(name="text for number", file=PARTS, old=",100,130,", new=",wide,130,", row=2,
         field="width_mm", problem="not a number"),
    Case(name="nan", file=PARTS, old=",100,130,", new=",nan,130,", row=2, field="width_mm",
         problem="not a number"),
    Case(name="inf", file=PARTS, old=",100,130,", new=",inf,130,", row=2, field="width_mm",
         problem="not a number"),
    Case(name="huge", file=PARTS, old=",100,130,", new=",1e999,130,", row=2, field="width_mm",
         problem="too large"),
    Case(name="zero width", file=PARTS, old=",100,130,", new=",0,130,", row=2, field="width_mm",
         problem="above 0"),
    Case(name="negative", file=PARTS, old=",100,130,", new=",-100,130,", row=2, field="width_mm",
         problem="above 0"),
    Case(name="negative clearance", file=PARTS, old=",0,9,30,20,", new=",0,-9,30,20,", row=3,
         field="clear_right_mm", problem="at least 0"),
    Case(name="needed cell blank", file=PARTS, old=",100,130,", new=",,130,", row=2,
         field="width_mm", problem="is blank"),
    Case(name="bare fraction", file=PARTS, old=",100,130,", new=",3/8,130,", row=2,
         field="width_mm", problem="fraction", cure="inch mark"),
    Case(name="zero below", file=PARTS, old=",100,130,", new=',"1/0""",130,', row=2,
         field="width_mm", problem="not a number"),
    Case(name="unknown unit", file=PARTS, old=",100,130,", new=",100 furlong,130,", row=2,
         field="width_mm", problem="unknown unit"),
    Case(name="unit of another kind", file=PARTS, old=",100,130,", new=",100 kg,130,", row=2,
         field="width_mm", problem="no unit of what is asked"),
    Case(name="decimal comma", file=PARTS, old=",100,130,", new=',"100,5",130,', row=2,
         field="width_mm", problem="decimal comma", cure="100.5"),
    Case(name="thousands", file=PARTS, old=",100,130,", new=',"1,200",130,', row=2,
         field="width_mm", problem="thousands"),
    Case(name="two numbers", file=PARTS, old=",100,130,", new=",100 130,130,", row=2,
         field="width_mm", problem="not a number"),
    Case(name="unknown word", file=PARTS, old=",rail,48,", new=",rial,48,", row=3, field="mount",
         problem="one of rail, screws", cure="rail"),
    Case(name="part twice", file=PARTS, old="contactor-9,", new="starter-10,", row=4, field="part",
         problem="row 3 already", count=2),
    Case(name="terminal twice", file=PARTS, old="1 3 5 A1,", new="1 3 3 A1,", row=4,
         field="terminals_top", problem="names 3 twice"),
    Case(name="range backwards", file=PARTS, old="1..12", new="12..1", row=8,
         field="terminals_top", problem="backwards"),
    Case(name="range of two stems", file=PARTS, old="1..12", new="I1..Q12", row=8,
         field="terminals_top", problem="can't be read"),
    Case(name="endless range", file=PARTS, old="1..12", new="1..999999999", row=8,
         field="terminals_top", problem="more than"),
    Case(name="shared stranger", file=PARTS, old="1.2,A2,", new="1.2,A9,", row=4,
         field="shared_terminals", problem="no terminal of the part", count=2),
    Case(name="rail without centre", file=PARTS, old="rail,48,", new="rail,,", row=3,
         field="rail_center_mm", problem="is missing"),
    Case(name="rail above the body", file=PARTS, old="rail,48,", new="rail,480,", row=3,
         field="rail_center_mm", problem="above the body"),
    Case(name="slot without length", file=PARTS, old="slot,8,", new="slot,,", row=6,
         field="slot_length_mm", problem="is missing"),
    # devices.csv and what it refers to
    Case(name="no designation", file=DEVICES, old="-K2,", new=",", row=7, field="tag",
         problem="is blank"),
    Case(name="device twice", file=DEVICES, old="-K2,", new="-K1,", row=7, field="tag",
         problem="row 6 already", count=2),
    Case(name="unknown part", file=DEVICES, old="-Q2,starter-10", new="-Q2,startr-10", row=3,
         field="part", problem="no known part", cure="starter-10"),
    Case(name="unknown group", file=DEVICES, old="pump,pump,M D,", new="pump,pump,M Z,", row=4,
         field="group", problem="no voltage group"),
    Case(name="unknown place", file=DEVICES, old="door,220", new="roof,220", row=8, field="place",
         problem="one of plate, door"),
    Case(name="half a place in the door", file=DEVICES, old="door,220,", new="door,,", row=8,
         field="door_x_mm", problem="of which the other is given"),
    Case(name="plugs into nothing", file=DEVICES, old=",-K1,,,,,,", new=",-K7,,,,,,", row=7,
         field="plugs_into", problem="no device"),
    Case(name="plugs into itself", file=DEVICES, old=",-K1,,,,,,", new=",-K2,,,,,,", row=7,
         field="plugs_into", problem="the device itself"),
    Case(name="plugs across the door", file=DEVICES, old=",-K1,,,,,,", new=",-P1,,,,,,", row=7,
         field="plugs_into", problem="same place"),
    Case(name="ring", file=DEVICES, old="-T1,supply-5,24 V,control,M D,,,,,",
         new="-T1,supply-5,24 V,control,M D,,,,,", row=3, field="before", problem="ring"),
    Case(name="unknown wish", file=DEVICES, old=",,,,,,-T1,,,,", new=",,,,,,-T9,,,,", row=6,
         field="beside", problem="no device", cure="-T1"),
    # wires.csv
    Case(name="wire number twice", file=WIRES, old="\n2,", new="\n1,", row=3, field="number",
         problem="row 2 already"),
    Case(name="end without terminal", file=WIRES, old="-Q2:1,", new="-Q2,", row=2, field="to",
         problem="names no terminal"),
    Case(name="unknown device", file=WIRES, old="-Q2:1,", new="-Q7:1,", row=2, field="to",
         problem="-Q7 is no device", cure="-Q"),
    Case(name="unknown terminal", file=WIRES, old="-K1:A1", new="-K1:A7", row=5, field="to",
         problem="no terminal A7", cure="A"),
    Case(name="terminal full", file=WIRES, old="-Q1:4,", new="-Q1:2,", row=3, field="from",
         problem="is full"),
    Case(name="both ends one", file=WIRES, old="-Q1:2,-Q2:1", new="-T1:+,-T1:+", row=2,
         field="to", problem="where the wire starts", count=3),
    Case(name="wire size words", file=WIRES, old="1,-Q1:2,-Q2:1,12 AWG", new="1,-Q1:2,-Q2:1,thick",
         row=2, field="size", problem="not a wire size"),
    Case(name="too thin", file=WIRES, old="1,-Q1:2,-Q2:1,12 AWG", new="1,-Q1:2,-Q2:1,40 AWG",
         row=2, field="size", problem="30 AWG to 4/0"),
    Case(name="too thick", file=WIRES, old="1,-Q1:2,-Q2:1,12 AWG", new="1,-Q1:2,-Q2:1,5/0 AWG",
         row=2, field="size", problem="30 AWG to 4/0"),
    Case(name="unknown wire group", file=WIRES, old="black,M,pump", new="black,X,pump", row=2,
         field="group", problem="no voltage group"),
    # job.toml
    Case(name="toml syntax", file=JOB, old='title = "Pump panel"', new="title = Pump panel", row=13,
         problem="column 9"),
    Case(name="toml key twice", file=JOB, old='owner = "Panel shop"', new='number = "1"', row=16,
         problem="overwrite"),
    Case(name="unknown key", file=JOB, old="edge_margin_mm", new="edge_margn_mm",
         field="plate.edge_margn_mm", problem="no known key", cure="edge_margin_mm"),
    Case(name="key without unit", file=JOB, old="thickness_mm", new="thickness",
         field="plate.thickness", problem="no known key", cure="thickness_mm"),
    Case(name="needed key misspelt", file=JOB, old="door_inside_mm = 185", new="dor_inside_mm = 185",
         field="enclosure.dor_inside_mm", problem="no known key", cure="door_inside_mm"),
    Case(name="needed key misspelt deep", file=JOB, old="{x_mm = 425, y_mm = 15}",
         new="{xx_mm = 425, y_mm = 15}", field="plate.fixing_holes[2].xx_mm", problem="no known key"),
    Case(name="no quotes", file=JOB, old='units = "mm"', new="units = mm", row=3,
         problem="invalid value", cure='quotes: units = "mm"'),
    Case(name="half a quotation", file=JOB, old='units = "mm"', new='units = "mm', row=3,
         problem="column", cure="Close the quotation mark"),
    Case(name="decimal comma in settings", file=JOB, old="thickness_mm = 2.5",
         new="thickness_mm = 2,5", row=34, problem="column", cure="with a point: thickness_mm = 2.5"),
    Case(name="no equals sign", file=JOB, old='units = "mm"', new="units mm", row=3,
         problem="column", cure="Write key = value"),
    Case(name="key missing", file=JOB, old="door_inside_mm = 185\n", new="",
         field="enclosure.door_inside_mm", problem="is missing"),
    Case(name="key in two units", file=JOB, old="thickness_mm = 2.5",
         new="thickness_mm = 2.5\nthickness_in = 0.1", field="plate.thickness_mm",
         problem="given twice"),
    Case(name="true for a number", file=JOB, old="thickness_mm = 2.5", new="thickness_mm = true",
         field="plate.thickness_mm", problem="not a number"),
    Case(name="toml nan", file=JOB, old="thickness_mm = 2.5", new="thickness_mm = nan",
         field="plate.thickness_mm", problem="not a number"),
    Case(name="number for text", file=JOB, old='"P-0042"', new="42", field="job.number",
         problem="not text", cure="quotes"),
    Case(name="unknown practice", file=JOB, old='"north-america"', new='"nort-america"',
         field="practice", problem="one of", cure="north-america"),
    Case(name="deep in a list", file=JOB, old="{x_mm = 425, y_mm = 15}", new="{x_mm = 425}",
         field="plate.fixing_holes[2].y_mm", problem="is missing"),
    Case(name="hole beside the plate", file=JOB, old="{x_mm = 425, y_mm = 15}",
         new="{x_mm = 450, y_mm = 15}", field="plate.fixing_holes[2].x_mm", problem="outside"),
    Case(name="share above one", file=JOB, old='"50 %"', new='"150 %"',
         field="limits.duct_fill_share", problem="at most 1"),
    Case(name="share as per cent", file=JOB, old='"50 %"', new="50",
         field="limits.duct_fill_share", problem="at most 1", cure='Write "50 %" or 0.5'),
    Case(name="plate too wide", file=JOB, old="width_mm = 440", new="width_mm = 540",
         field="plate.width_mm", problem="more than the enclosure's width"),
    Case(name="door behind the wall", file=JOB, old="door_inside_mm = 185",
         new="door_inside_mm = 285", field="enclosure.door_inside_mm", problem="more than its depth"),
    Case(name="group twice", file=JOB, old='{name = "D"', new='{name = "D"}, {name = "D"',
         field="groups.name", problem="stands 2 times"),
    Case(name="no date", file=JOB, old='"2026-01-31"', new='"31.1.2026"', field="job.date",
         problem="no date", cure="YYYY-MM-DD"),
    Case(name="table for a list", file=JOB, old="keep_outs = [\n  {x_mm = 180, y_mm = 0, width_mm"
         ' = 80, height_mm = 40, reason = "cable entry"},\n]', new="keep_outs = 3",
         field="plate.keep_outs", problem="not a list"),
    Case(name="unknown duct screw", file=JOB, old='duct_screw = "M5"', new='duct_screw = "M55"',
         field="stock.duct_screw", problem="no thread", cure="M5"),
    Case(name="unknown rail screw", file=JOB, old='rail_screw = "M5"', new='rail_screw = "10-23"',
         field="stock.rail_screw", problem="no thread", cure="10-32"),
    Case(name="unknown rivet", file=JOB, old='rail_screw = "M5"',
         new='rail_screw = "M5"\nduct_rivet = "5/16"', field="stock.duct_rivet",
         problem="no rivet", cure="3/16"),
    Case(name="slots without pitch", file=JOB, old="height_mm = 60},",
         new="height_mm = 60, slot_length_mm = 12},", field="stock.ducts[1].slot_pitch_mm",
         problem="is missing, though slot_length_mm", cure="pitch"),
    Case(name="slot longer than the pitch", file=JOB, old="height_mm = 60},",
         new="height_mm = 60, slot_pitch_mm = 25, slot_length_mm = 25},",
         field="stock.ducts[1].slot_length_mm", problem="nothing between two slots"),
    Case(name="first slot beyond the pitch", file=JOB, old="height_mm = 60},",
         new="height_mm = 60, slot_pitch_mm = 25, first_slot_mm = 26},",
         field="stock.ducts[1].first_slot_mm", problem="more than the pitch"),
    Case(name="slots wider than the base", file=JOB, old="height_mm = 60},",
         new="height_mm = 60, slot_pitch_mm = 25, slot_width_mm = 6, slot_lines_mm = 19},",
         field="stock.ducts[1].slot_lines_mm", problem="base 25 mm wide"),
    Case(name="slot narrower than the screw", file=JOB, old="height_mm = 60},",
         new="height_mm = 60, slot_pitch_mm = 25, slot_width_mm = 4.5},",
         field="stock.ducts[1].slot_width_mm", problem="narrower than screw M5", cure="thinner"),
    Case(name="rail slot longer than the pitch", file=JOB, old="slot_pitch_mm = 25\n",
         new="slot_pitch_mm = 15\n", field="stock.rail.slot_length_mm", problem="nothing between"),
    Case(name="rail slot narrower than the screw", file=JOB, old="slot_pitch_mm = 25\n",
         new="slot_pitch_mm = 25\nslot_width_mm = 4.5\n", field="stock.rail.slot_width_mm",
         problem="narrower than screw M5, 5 mm, which holds rails", cure="rail_screw"),
    Case(name="shop list missing", file=JOB, old='shop_parts = ""', new='shop_parts = "no.csv"',
         field="shop_parts", problem="is no file"),
    Case(name="newer format", file=JOB, old="format = 1", new="format = 99", field="format",
         problem="newer format"),
    # layout.toml
    Case(name="negative length", file=LAYOUT, old="length_mm = 340.0, width", new="length_mm = -3, width",
         field="ducts.D1.length_mm", problem="above 0"),
    Case(name="unknown layout key", file=LAYOUT, old='locked = true}\n"-Q2', new='lockd = true}\n"-Q2',
         field="devices.-Q1.lockd", problem="no known key", cure="locked"),
    Case(name="unknown run", file=LAYOUT, old='run = "across", stock', new='run = "down", stock',
         field="ducts.D1.run", problem="across, upright"),
    Case(name="newer layout", file=LAYOUT, old="format = 1", new="format = 2", field="format",
         problem="newer format"),
)  # fmt: skip


def spoil(folder: Path, case: Case) -> None:
    path = folder / case.file
    content = path.read_bytes()
    old, new = (each.encode() if isinstance(each, str) else each for each in (case.old, case.new))
    if old == b"*":
        content = new
    elif old == b"$":  # the end of the last row
        content = content.rstrip(b"\n") + new + b"\n"
    else:
        assert old in content, f"{case.name}: {case.old!r} is not in {case.file}"
        content = content.replace(old, new, 1)
    if case.name == "ring":
        content = content.replace(b",-Q2,,,\n-K1", b",-Q2,-Q2,,\n-K1")
        content = content.replace(b",-Q3,-T1,", b",-T1,,")
    path.write_bytes(content)


def snapshot(folder: Path) -> dict[str, bytes]:
    return {str(path): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}


def test_there_are_enough_kinds() -> None:
    assert len({case.name for case in CASES}) == len(CASES) >= 40


def test_the_example_is_sound(job_folder: Path) -> None:
    job = read_job(job_folder)
    assert len(job.devices) == 8
    assert len(job.wires) == 10
    assert read_layout(job_folder, job).devices["-Q1"].locked


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_wrong_input_gives_its_clear_error(job_folder: Path, case: Case) -> None:
    spoil(job_folder, case)
    before = snapshot(job_folder)
    with pytest.raises(InputErrors) as caught:
        read_layout(job_folder, read_job(job_folder))
    faults = caught.value.faults
    matching = [
        fault
        for fault in faults
        if fault.file == (case.told_in or case.file)
        and fault.row == case.row
        and case.field in (fault.field or "")
        and case.problem in fault.problem
        and case.cure in fault.cure
    ]
    assert matching, str(caught.value)
    assert all(fault.cure for fault in faults)
    assert len(faults) == case.count, str(caught.value)
    assert snapshot(job_folder) == before


def test_a_word_of_a_choice_may_be_written_in_capitals(job_folder: Path) -> None:
    path = job_folder / JOB
    path.write_text(path.read_text("utf-8").replace('"north-america"', '"North-America"'), "utf-8")
    assert read_job(job_folder).settings.practice == "north-america"


def test_a_folder_without_a_job_says_what_to_do(tmp_path: Path) -> None:
    with pytest.raises(InputErrors, match="platewright new"):
        read_job(tmp_path)


def test_a_job_without_devices_says_what_to_do(job_folder: Path) -> None:
    (job_folder / DEVICES).unlink()
    with pytest.raises(InputErrors, match=r"devices\.csv: is missing"):
        read_job(job_folder)


def test_two_devices_cannot_plug_into_one(job_folder: Path) -> None:
    path = job_folder / DEVICES
    path.write_text(path.read_text() + "-K3,level-relay,,,D,,,,-K1,,,,,,\n")
    with pytest.raises(InputErrors, match="-K2 stands there already"):
        read_job(job_folder)


def test_faults_of_all_files_are_told_in_one_go(job_folder: Path) -> None:
    for name in ("unknown key", "negative", "unknown part", "unknown terminal"):
        spoil(job_folder, next(case for case in CASES if case.name == name))
    with pytest.raises(InputErrors) as caught:
        read_job(job_folder)
    assert [fault.file for fault in caught.value.faults] == [JOB, PARTS, DEVICES, WIRES]


def test_a_missing_parts_list_is_one_fault_and_not_one_for_each_device(job_folder: Path) -> None:
    (job_folder / PARTS).unlink()
    with pytest.raises(InputErrors) as caught:
        read_job(job_folder)
    told = [fault for fault in caught.value.faults if "no other list holds" in fault.problem]
    assert [fault.file for fault in told] == [PARTS]
    assert not [fault for fault in caught.value.faults if fault.field == "part"]
