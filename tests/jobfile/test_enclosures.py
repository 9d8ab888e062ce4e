"""The shop's list of enclosures: read as other lists are, every fault told at once."""

from __future__ import annotations

from pathlib import Path

import pytest

from platewright.foundation.errors import InputErrors
from platewright.jobfile.enclosures import read_enclosures

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "enclosures.csv"
HEAD = "name,width_mm,height_mm,depth_mm,door_inside_mm,plate_width_mm,plate_height_mm"
SOUND = "box,500,600,210,185,440,540"


def _read(tmp_path: Path, *rows: str, head: str = HEAD):
    path = tmp_path / "list.csv"
    path.write_text("\n".join([head, *rows]) + "\n", encoding="utf-8")
    return read_enclosures(path)


def _faults(tmp_path: Path, *rows: str, head: str = HEAD) -> list[str]:
    with pytest.raises(InputErrors) as told:
        _read(tmp_path, *rows, head=head)
    return [str(fault) for fault in told.value.faults]


def test_the_example_is_sound() -> None:
    found = read_enclosures(EXAMPLE)
    assert len({one.name for one in found}) == len(found) == 12


def test_inches_and_blanks(tmp_path: Path) -> None:
    head = HEAD.replace("width_mm,", "width_in,", 1) + ",price"
    (one,) = _read(tmp_path, "box,20,600,210,185,440,540,", head=head)
    assert one.width == pytest.approx(508.0)
    assert one.price is None
    assert one.fixing_inset is None
    assert one.fixing_keep_out == 30.0


def test_every_fault_is_told_with_row_and_field(tmp_path: Path) -> None:
    faults = _faults(
        tmp_path, SOUND, "b2,500,600,210,220,440,540", "b3,500,600,210,185,501,540",
        "b4,500,wide,210,185,440,540", "box,500,600,210,185,440,601", "b6,-1,600,210,185,440,540",
    )  # fmt: skip
    for start in (
        "list.csv, row 3, door_inside_mm = '220': is more than its depth of 210 mm",
        "list.csv, row 4, plate_width_mm = '501': is more than the enclosure's width of 500 mm",
        "list.csv, row 5, height_mm = 'wide'",
        "list.csv, row 6, name = 'box': stands in row 2 already",
        "list.csv, row 6, plate_height_mm = '601'",
        "list.csv, row 7, width_mm = '-1'",
    ):
        assert any(fault.startswith(start) for fault in faults), (start, faults)


def test_fixings_past_the_middle_and_unknown_sheet(tmp_path: Path) -> None:
    faults = _faults(
        tmp_path, SOUND + ",220,steel", "b2,500,600,210,185,440,540,20,wood",
        head=HEAD + ",fixing_inset_mm,plate_material",
    )  # fmt: skip
    assert faults[0].startswith("list.csv, row 2, fixing_inset_mm = '220'")
    assert faults[1].startswith("list.csv, row 3, plate_material = 'wood'")


def test_missing_columns_prices_in_parts_and_strange_headings(tmp_path: Path) -> None:
    assert any("door_inside_mm: is missing" in f for f in _faults(
        tmp_path, "box,500,600,210", head="name,width_mm,height_mm,depth_mm"))  # fmt: skip
    assert "price = '210.50'" in _faults(tmp_path, SOUND + ",210.50", head=HEAD + ",price")[0]
    assert "Did you mean price" in _faults(tmp_path, SOUND + ",1", head=HEAD + ",prise")[0]


def test_an_empty_list_and_no_list(tmp_path: Path) -> None:
    assert "names no enclosure" in _faults(tmp_path)[0]
    with pytest.raises(InputErrors, match="is no file"):
        read_enclosures(tmp_path / "none.csv")


def test_a_list_in_inches_is_one_fault(tmp_path: Path) -> None:
    rows = ("a,19.7,23.6,8.3,7.3,17.3,21.3", "b,31.5,47.2,9.8,9.1,29.5,45.3")
    (fault,) = _faults(tmp_path, SOUND, *rows)
    assert fault.startswith("list.csv, row 3, depth_mm, door_inside_mm = '8.3, 7.3': can't be")
    assert "The same in row 4" in fault
    assert "width_in" in fault


def test_millimetres_in_a_list_in_inches_are_one_fault(tmp_path: Path) -> None:
    (fault,) = _faults(tmp_path, SOUND, head=HEAD.replace("_mm", "_in"))
    assert "row 2, width_in, height_in, depth_in = '500, 600, 210'" in fault
    assert "name its columns width_mm" in fault
