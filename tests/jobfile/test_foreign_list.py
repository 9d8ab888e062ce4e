"""Spreadsheets from elsewhere: measured before they are unpacked."""

import io
import zipfile
from pathlib import Path

import openpyxl
import pytest

from platewright.foundation.errors import InputErrors
from platewright.jobfile import foreign_list
from platewright.jobfile.foreign_list import read_list


def workbook(path: Path, *rows: list[object]) -> Path:
    book = openpyxl.Workbook()
    book.active.append(["Panel 7, list of things"])
    for row in rows:
        book.active.append(row)
    book.create_sheet("Notes").append(["nothing here"])
    book.save(path)
    return path


def test_a_spreadsheet_with_a_title_above(tmp_path: Path) -> None:
    path = workbook(tmp_path / "a.xlsx", ["Item", "Width (in)"], ["'-K1", 2.0], ["K2", "=1+1"])
    found = read_list(path, "devices", {})
    assert found.columns == {"tag": "Item", "width": "Width (in)"}
    assert found.rows == (
        (3, {"tag": "-K1", "width": "2"}),
        (4, {"tag": "K2", "width": "=1+1"}),  # never worked out: can't be taken for blank
    )


def archive(path: Path, entries: dict[str, bytes]) -> Path:
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, content in entries.items():
            packed.writestr(name, content)
    return path


def refused(path: Path) -> str:
    with pytest.raises(InputErrors) as caught:
        read_list(path, "devices", {})
    (fault,) = caught.value.faults
    assert fault.file == path.name
    assert fault.cure
    return fault.problem


def test_an_archive_that_swells_is_refused(tmp_path: Path) -> None:
    path = archive(tmp_path / "a.xlsx", {"xl/workbook.xml": bytes(20_000_000)})
    assert path.stat().st_size < 100_000
    assert "unpacks" in refused(path)


def test_too_many_entries_or_names_that_reach_out(tmp_path: Path) -> None:
    many = {f"{number}.xml": b"" for number in range(foreign_list.MOST_ENTRIES + 1)}
    assert "unpacks" in refused(archive(tmp_path / "a.xlsx", many))
    assert "no sound" in refused(archive(tmp_path / "b.xlsx", {"../a.xml": b"abc"}))


def test_broken_files(tmp_path: Path) -> None:
    (tmp_path / "a.xlsx").write_bytes(b"PK\x03\x04 nothing more")
    assert "no sound" in refused(tmp_path / "a.xlsx")
    (tmp_path / "b.xlsx").write_bytes(b"tag,part")
    assert "no XLSX" in refused(tmp_path / "b.xlsx")
    assert "no sound" in refused(archive(tmp_path / "c.xlsx", {"a.xml": b"abc"}))
    (tmp_path / "d.csv").write_bytes("Stück;Größe\n".encode("latin-1"))
    assert "UTF-8" in refused(tmp_path / "d.csv")
    (tmp_path / "e.csv").write_text("alpha,beta\n1,2\n")
    assert "headings" in refused(tmp_path / "e.csv")
    assert "no file" in refused(tmp_path / "f.csv")
    (tmp_path / "g.csv").write_text("")
    assert "headings" in refused(tmp_path / "g.csv")


def test_rows_beyond_the_cap_are_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(foreign_list, "MOST_ROWS", 5)
    rows = [["Item", "Part"], *([f"K{number}", "x"] for number in range(9))]
    assert "more than 5 rows" in refused(workbook(tmp_path / "a.xlsx", *rows))
    (tmp_path / "a.csv").write_text("Item,Part\n" + "K,x\n" * 9)
    assert "more than 5 rows" in refused(tmp_path / "a.csv")


def test_a_sheet_that_claims_to_be_endless_is_read_up_to_the_cap(tmp_path: Path) -> None:
    plain = workbook(tmp_path / "a.xlsx", ["Item", "Part"], ["K1", "x"])
    with zipfile.ZipFile(plain) as packed:
        entries = {name: packed.read(name) for name in packed.namelist()}
    sheet = "xl/worksheets/sheet1.xml"
    far = b'<row r="1048576"><c r="XFD1048576" t="inlineStr"><is><t>far</t></is></c></row></sheetData>'
    entries[sheet] = entries[sheet].replace(b"</sheetData>", far)
    path = archive(tmp_path / "b.xlsx", entries)
    assert zipfile.is_zipfile(io.BytesIO(path.read_bytes()))
    assert "more than" in refused(path)
