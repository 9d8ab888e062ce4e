"""Inches typed as millimetres, and the reverse: one clear fault, and no file is changed.

The wrong inputs are typed as a user would type them, into a copy of the example.
"""

from __future__ import annotations

import csv
import re
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from scipy import constants

from platewright.foundation.errors import InputError, InputErrors
from platewright.foundation.units import MM_PER_INCH
from platewright.jobfile import impossible_parts
from platewright.jobfile.folder import read_job, starter_parts
from platewright.jobfile.impossible_parts import Wrong, doubt_of
from platewright.model.job import Enclosure
from platewright.model.part import Mount, Part

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "bottle-rinser"
LISTS = ("job.toml", "parts.csv", "devices.csv", "wires.csv")
BODY = ("width_mm", "height_mm", "depth_mm")
Row = dict[str, str]


@pytest.fixture
def rinser(tmp_path: Path) -> Path:
    folder = tmp_path / "rinser"
    folder.mkdir()
    for name in LISTS:
        shutil.copy(EXAMPLE / name, folder / name)
    return folder


def _inches(cell: str) -> str:
    return f"{float(cell) / MM_PER_INCH:.2f}"


def _change_parts(folder: Path, change: Callable[[Row], None], **renamed: str) -> None:
    path = folder / "parts.csv"
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    for row in rows:
        change(row)
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow([renamed.get(name, name) for name in rows[0]])
        writer.writerows(row.values() for row in rows)


def _part_in_inches(name: str, *columns: str, blank: tuple[str, ...] = ()) -> Callable[[Row], None]:
    """Return a change that writes one part in inches, all its lengths or some."""

    def change(row: Row) -> None:
        if row["part"] != name and name != "*":
            return
        for column, cell in row.items():
            if column.endswith("_mm") and cell and (not columns or column in columns):
                row[column] = _inches(cell)
        row.update(dict.fromkeys(blank, ""))

    return change


def _replace(folder: Path, *changes: tuple[str, str]) -> None:
    path = folder / "job.toml"
    text = path.read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    path.write_text(text, encoding="utf-8")


PLATE = (("width_mm = 750", "width_mm = 29.5"), ("height_mm = 1150", "height_mm = 45.25"))
BOX = (
    ("width_mm = 800", "width_mm = 31.5"),
    ("height_mm = 1200", "height_mm = 47.25"),
    ("depth_mm = 250", "depth_mm = 9.84"),
    ("door_inside_mm = 232", "door_inside_mm = 9.13"),
)


def _without_holes(folder: Path) -> None:
    path = folder / "job.toml"
    text = re.sub(r"\[\[plate\.\w+\]\]\n(\w+ = .*\n)+", "", path.read_text(encoding="utf-8"))
    assert "[[plate" not in text
    path.write_text(text, encoding="utf-8")


def _faults(folder: Path) -> tuple[InputError, ...]:
    before = {path: path.read_bytes() for path in folder.iterdir()}
    with pytest.raises(InputErrors) as told:
        read_job(folder)
    assert {path: path.read_bytes() for path in folder.iterdir()} == before
    return told.value.faults


def _fault(folder: Path) -> InputError:
    faults = _faults(folder)
    assert len(faults) == 1, "\n".join(map(str, faults))
    return faults[0]


def test_all_parts_in_inches_are_one_fault_with_their_rows(rinser: Path) -> None:
    _change_parts(rinser, _part_in_inches("*"))
    fault = _fault(rinser)
    assert (fault.file, fault.row) == ("parts.csv", 2)
    assert fault.field == ", ".join(BODY)
    assert fault.value == "4.13 × 5.31 × 3.74"
    assert "can't be 4.13 × 5.31 × 3.74 mm" in fault.problem
    assert "The same in rows 3 to 27" in fault.problem
    assert "name the columns width_in, height_in, depth_in" in fault.cure


def test_the_cure_cures(rinser: Path) -> None:
    """All columns of lengths named for inches, as the fault says: the job reads, to a hair."""
    before = read_job(rinser).parts
    path = rinser / "parts.csv"
    _change_parts(rinser, _part_in_inches("*"))
    head, rest = path.read_text(encoding="utf-8").split("\n", 1)
    path.write_text(head.replace("_mm", "_in") + "\n" + rest, encoding="utf-8")
    after = read_job(rinser).parts
    assert after["drive-2hp"].width == pytest.approx(before["drive-2hp"].width, abs=0.2)


@pytest.mark.parametrize(
    ("part", "columns", "blank", "row", "why"),
    [
        ("starter-10a", (), (), 6, "at least as high as the rail"),
        ("starter-10a", BODY, (), 6, "at least as high as the rail"),  # rail centre still in mm
        ("starter-10a", BODY, ("mass_kg", "heat_w"), 6, "at least as high as the rail"),
        ("drive-2hp", (), (), 5, "denser than any metal"),
        ("drive-2hp", BODY, (), 5, "denser than any metal"),
        ("drive-2hp", (), ("mass_kg",), 5, "two M4 screws 3.07 mm apart would overlap"),
        ("drive-2hp", BODY, ("mass_kg",), 5, "its holes are 78 mm apart"),
        ("drive-2hp", (), ("mass_kg", "screw"), 5, "hotter than molten copper"),
        ("selector", BODY, ("mass_kg",), 26, "its cut-out is 22.5 mm wide"),
        ("selector", (), ("mass_kg",), 26, "no wire gets through its cut-out of 0.89 mm"),
    ],
)
def test_one_part_in_inches(
    rinser: Path, part: str, columns: tuple[str, ...], blank: tuple[str, ...], row: int, why: str
) -> None:
    _change_parts(rinser, _part_in_inches(part, *columns, blank=blank))
    fault = _fault(rinser)
    assert (fault.file, fault.row, fault.field) == ("parts.csv", row, ", ".join(BODY))
    assert f"part {part} can't be" in fault.problem
    assert why in fault.problem
    assert fault.cure.startswith("If these are inches, write the unit in the cells: ")


def test_only_the_heights_in_inches_are_one_fault(rinser: Path) -> None:
    _change_parts(rinser, _part_in_inches("*", "height_mm", blank=("hole_pattern_height_mm",)))
    body, fault = _faults(rinser)
    assert (body.row, body.field, body.value) == (2, "height_mm", "5.31")
    assert (fault.row, fault.value) == (4, "45")
    assert fault.problem == (
        "lies above the body: height_mm = 3.74. The same in rows 6, 8 to 10, 12 to 22"
    )
    assert "name it so (rail_center_in, height_in)" in fault.cure


@pytest.mark.parametrize(("column", "cell"), [("width_mm", "4.13"), ("depth_mm", "3.74")])
def test_only_one_column_in_inches_names_it_alone(rinser: Path, column: str, cell: str) -> None:
    _change_parts(rinser, _part_in_inches("*", column))
    fault = _fault(rinser)
    assert (fault.row, fault.field, fault.value) == (2, column, cell)
    assert "denser than any metal. The same in rows 3, 7, 11, 23" in fault.problem


def test_only_the_hole_pattern_in_inches_names_its_columns(rinser: Path) -> None:
    _change_parts(rinser, _part_in_inches("drive-2hp", "hole_pattern_width_mm"))
    fault = _fault(rinser)
    assert (fault.row, fault.field, fault.value) == (5, "hole_pattern_width_mm", "3.07")
    assert "two M4 screws 3.07 mm apart would overlap" in fault.problem
    assert "name the column hole_pattern_width_in" in fault.cure


def test_parts_on_a_rail_in_inches_are_told_by_the_rail_of_the_job(rinser: Path) -> None:
    _replace(rinser, ('profile = "TH35-7.5"', 'profile = "TH15-5.5"'))
    _change_parts(rinser, _part_in_inches("starter-10a", *BODY, blank=("mass_kg",)))
    assert "the 15 mm rail of IEC 60715" in _fault(rinser).problem


def test_grams_in_a_column_of_kilograms(rinser: Path) -> None:
    def change(row: Row) -> None:
        if row["part"] == "starter-10a":
            row["mass_kg"] = "420"

    _change_parts(rinser, change)
    fault = _fault(rinser)
    assert (fault.row, fault.field, fault.value) == (6, "mass_kg", "420")
    assert fault.cure.startswith("If it is in grams, write 420 g")


# --- millimetres as inches ---------------------------------------------------------------------


def test_millimetres_in_one_cell_of_a_column_in_inches(rinser: Path) -> None:
    def change(row: Row) -> None:
        row["width_mm"] = "450" if row["part"] == "level-relay" else _inches(row["width_mm"])

    _change_parts(rinser, change, width_mm="width_in")
    fault = _fault(rinser)
    assert (fault.row, fault.field, fault.value) == (20, "width_in", "450")
    assert "can't be 11430 × 90 × 66 mm" in fault.problem
    assert "as wide as the enclosure, 800 mm" in fault.problem
    assert "write the unit in the cells: 450 mm" in fault.cure


def test_millimetres_in_all_cells_of_columns_in_inches(rinser: Path) -> None:
    renamed = {name: name.replace("_mm", "_in") for name in BODY}
    _change_parts(rinser, lambda _row: None, **renamed)
    fault = _fault(rinser)
    assert fault.field == "width_in, height_in, depth_in"
    assert "The same in rows 3 to 28" in fault.problem
    assert "name the columns width_mm, height_mm, depth_mm" in fault.cure


def test_parts_of_the_shop_that_the_job_does_not_use_may_be_for_larger_enclosures(
    rinser: Path,
) -> None:
    _replace(rinser, ("depth_mm = 250", "depth_mm = 90"), ("inside_mm = 232", "inside_mm = 80"))
    with (rinser / "parts.csv").open("a", encoding="utf-8") as parts:
        parts.write("tall,,drive,600,9000,1100" + "," * 9 + ",screws" + "," * 22 + "\n")
    assert "tall" in read_job(rinser).parts
    with (rinser / "devices.csv").open("a", encoding="utf-8") as devices:
        devices.write("-T9,tall" + "," * 12 + "\n")
    assert _fault(rinser).field == "depth_mm"


def test_without_an_enclosure_air_is_the_measure() -> None:
    large = _part(1143.0, 2794.0, 2337.0, mass=0.42)
    doubt = doubt_of(large, profile="", box=None)
    assert doubt is not None
    assert doubt.wrong is Wrong.TOO_LARGE
    assert "lighter than air" in doubt.why


# --- job.toml ----------------------------------------------------------------------------------


@pytest.mark.parametrize("has_holes", [True, False])
def test_a_plate_in_inches_is_one_fault(rinser: Path, has_holes: bool) -> None:
    _replace(rinser, *PLATE)
    if not has_holes:
        _without_holes(rinser)
    fault = _fault(rinser)
    assert (fault.file, fault.field) == ("job.toml", "plate.width_mm, plate.height_mm")
    assert fault.value == "29.5, 45.25"
    assert "the 24 devices on the plate are 1268 cm² large, and it has 13 cm²" in fault.problem
    assert "name the keys width_in, height_in" in fault.cure


@pytest.mark.parametrize(
    ("side", "written"), [("width_mm = 750", "29.5"), ("height_mm = 1150", "29.9")]
)
def test_one_side_of_a_plate_in_inches(rinser: Path, side: str, written: str) -> None:
    key = side.partition(" ")[0]
    _replace(rinser, (side, f"{key} = {written}"))
    _without_holes(rinser)
    fault = _fault(rinser)
    assert (fault.file, fault.field, fault.value) == ("job.toml", f"plate.{key}", written)
    assert "holds no rail with a device" in fault.problem
    assert f"name the key {key[:-2]}in," in fault.cure


def test_an_enclosure_in_inches_is_one_fault(rinser: Path) -> None:
    _replace(rinser, *BOX)
    fault = _fault(rinser)
    keys = ("width_mm", "height_mm", "depth_mm", "door_inside_mm")
    assert fault.field == ", ".join(f"enclosure.{key}" for key in keys)
    assert "the plate of 750 × 1150 mm is to go into it" in fault.problem


def test_only_the_depth_in_inches(rinser: Path) -> None:
    _replace(rinser, *BOX[2:])
    assert _fault(rinser).field == "enclosure.depth_mm, enclosure.door_inside_mm"


def test_the_thickness_in_inches(rinser: Path) -> None:
    _replace(rinser, ('thickness_mm = "0.1046 in"', "thickness_mm = 0.1046"))
    fault = _fault(rinser)
    assert (fault.field, fault.value) == ("plate.thickness_mm", "0.1046")
    assert "is a foil" in fault.problem


def test_ducts_in_inches_are_one_fault(rinser: Path) -> None:
    path = rinser / "job.toml"
    text = path.read_text(encoding="utf-8")
    text = text.replace("width_in = 1\nheight_in = 3", "width_mm = 1\nheight_mm = 3")
    path.write_text(text.replace('width_mm = "2 in"', "width_mm = 2"), encoding="utf-8")
    fault = _fault(rinser)
    assert fault.field == "stock.ducts[1].width_mm"
    assert "narrower than screw M5, 5 mm" in fault.problem
    assert "The same: 2x3" in fault.problem


def test_everything_in_inches_is_a_fault_for_each_file(rinser: Path) -> None:
    _replace(rinser, *PLATE, *BOX)
    _without_holes(rinser)
    _change_parts(rinser, _part_in_inches("*"))
    job, parts = _faults(rinser)
    assert (job.file, parts.file) == ("job.toml", "parts.csv")
    assert "plate.height_mm" in (job.field or "")
    assert "enclosure.depth_mm" in (job.field or "")


def test_millimetres_as_inches_in_the_settings(rinser: Path) -> None:
    _replace(rinser, ("width_mm = 750", "width_in = 750"), ("height_mm = 1150", "height_in = 1150"))
    fault = _fault(rinser)
    assert (fault.field, fault.value) == ("plate.width_in, plate.height_in", "750, 1150")
    assert "goes by road" in fault.problem
    assert "name the keys width_mm, height_mm" in fault.cure


# --- what must never be refused ------------------------------------------------------------------


def _part(width: float, height: float, depth: float, mount: str = "screws", **more: object) -> Part:
    centre = height / 2 if mount == "rail" else None
    return Part(
        part="p", width=width, height=height, depth=depth, mount=Mount(mount), rail_center=centre,
        **more,  # type: ignore[arg-type]
    )  # fmt: skip


REAL = {
    "slim terminal on a 15 mm rail": _part(3.5, 22, 30, "rail", mass=0.003),
    "end stop": _part(6, 36, 32, "rail", mass=0.01),
    "label holder in a rail's channel": _part(40, 24, 12, "rail"),
    "low relay, its foot not counted": _part(6.2, 28, 60, "rail", mass=0.02),
    "busbar taken for a rail part": _part(160, 12, 30, "rail", mass=0.5),
    "welded stud M6": _part(12, 12, 16, mass=0.01, terminals_top=("1",), screw="M6"),
    "ground stud, mass rounded up": _part(10, 10, 8, mass=0.05),
    "lamp of 8 mm": _part(10, 10, 20, mass=0.004, cutout_diameter=8.0, terminals_top=("1", "2")),
    "copper bar, to the scale's last digit": _part(100, 10, 5, mass=0.05, screw="M5",
                                                   hole_pattern_width=85.0, hole_pattern_height=0.0),
    "solid copper block": _part(100, 100, 100, mass=8.96),
    "transformer": _part(145, 125, 132, mass=14, heat=70),
    "power resistor": _part(16, 29, 15, mass=0.03, heat=10, screw="M2.5", hole_pattern_width=18.0),
    "transistor on the plate": _part(16, 21, 5, heat=100, mass=0.006, screw="M3",
                                     hole_pattern_width=0.0, hole_pattern_height=0.0),
    "bar on wide feet": _part(12, 160, 10, hole_pattern_width=60.0, hole_pattern_height=145.0),
    "strip over the whole rail": _part(1900, 60, 52, "rail", mass=3),
    "drive of a large cabinet": _part(420, 1100, 380, mass=85, heat=1800),
    "empty document pocket": _part(400, 300, 30, mass=0.2),
    "fan in foam": _part(323, 323, 150, mass=1.2),
}  # fmt: skip


@pytest.mark.parametrize("name", REAL)
def test_no_real_part_is_refused(name: str) -> None:
    box = Enclosure(width=300.0, height=400.0, depth=120.0, door_inside=100.0)
    for profile in ("TH35-7.5", "TH35-15", "TH15-5.5", "G32", "ours", ""):
        assert doubt_of(REAL[name], profile=profile, box=box) is None


def test_no_starter_part_is_refused() -> None:
    for part in starter_parts().values():
        assert doubt_of(part, profile="TH35-7.5", box=None) is None


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (("width_mm = 750", "width_mm = 180"), ("height_mm = 1150", "height_mm = 180")),
        (("depth_mm = 250", "depth_mm = 80"), ("door_inside_mm = 232", "door_inside_mm = 60")),
    ],
)
def test_a_plate_or_enclosure_that_is_only_too_small_is_read(
    rinser: Path, old: tuple[str, str], new: tuple[str, str]
) -> None:
    """``size`` reads such a job to find the right one, and ``plan`` says what lacks room."""
    _without_holes(rinser)
    _replace(rinser, old, new)
    assert read_job(rinser).devices


# --- the limits against what they are from -------------------------------------------------------


def test_the_limits_are_those_of_physics() -> None:
    """Stefan and Boltzmann's law and the gas law by the constants of CODATA, as scipy has them.

    Copper melts at 1357.77 K (a fixed point of ITS-90); dry air has 28.96 g/mol.
    """
    glowing = constants.Stefan_Boltzmann * 1357.77**4 * 1e-6  # W/mm²
    assert pytest.approx(glowing, rel=0.01) == impossible_parts.GLOWING
    air = 0.02896 * constants.atm / (constants.R * 293.15) * 1e-9  # kg/mm³
    assert pytest.approx(air, rel=0.01) == impossible_parts.AIR


def _edges() -> Iterator[tuple[Part, Part]]:
    """Yield pairs: a part at the limit, and one just beyond it."""
    yield _part(9, 14.0, 24.9, "rail"), _part(9, 13.9, 24.9, "rail")
    yield _part(9, 13.9, 25.0, "rail"), _part(9, 13.9, 24.9, "rail")
    cube = 22.6e-6 * 1000.0  # kg, of 10 mm
    yield _part(10, 10, 10, mass=cube + 0.049), _part(10, 10, 10, mass=cube + 0.051)
    pattern = {"screw": "M4", "hole_pattern_height": 0.0}
    yield (
        _part(20, 20, 20, hole_pattern_width=4.0, **pattern),
        _part(20, 20, 20, hole_pattern_width=3.9, **pattern),
    )
    yield _part(20, 30, 9, cutout_diameter=150.0), _part(20, 30, 9, cutout_diameter=150.1)
    yield _part(10, 10, 10, heat=115.8), _part(10, 10, 10, heat=115.9)
    yield _part(4.0, 3, 3, screw="M4"), _part(3.9, 3, 3, screw="M4")


@pytest.mark.parametrize("number", range(7))
def test_at_each_limit_a_part_passes_and_beyond_it_does_not(number: int) -> None:
    within, beyond = list(_edges())[number]
    assert doubt_of(within, profile="TH35-7.5", box=None) is None
    assert doubt_of(beyond, profile="TH35-7.5", box=None) is not None
