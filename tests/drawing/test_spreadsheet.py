"""Lists read back by the standard library and by openpyxl."""

import csv
import io
from datetime import date

import openpyxl
import pytest

from platewright.drawing.spreadsheet import sheet_name, write_csv, write_xlsx

HEADS = ("tag", "what", "x_mm", "count")
ROWS = (
    ("-K1", "controller, 14 inputs", 60.5, 1),
    ("=1+1", '=HYPERLINK("http://a.example")', 0.125, 2),
    ("+X2", 'says "no"\nand breaks', None, 3),
    ("@A", "Ω × 中", -3.0, 0),
)


def test_csv_reads_back_equal():
    rows = list(csv.reader(io.StringIO(write_csv(HEADS, ROWS).decode(), newline="")))
    assert rows[0] == list(HEADS)
    assert rows[1] == ["-K1", "controller, 14 inputs", "60.5", "1"]
    assert rows[2] == ["=1+1", '=HYPERLINK("http://a.example")', "0.125", "2"]
    assert rows[3] == ["+X2", 'says "no"\nand breaks', "", "3"]
    assert rows[4] == ["@A", "Ω × 中", "-3", "0"]


def read_book(data):
    return openpyxl.load_workbook(io.BytesIO(data))


def test_xlsx_reads_back_equal_and_holds_no_formula():
    sheet = read_book(write_xlsx("Devices", HEADS, ROWS, made_on=date(2026, 3, 2))).active
    assert [tuple(row) for row in sheet.iter_rows(values_only=True)] == [HEADS, *ROWS]
    kinds = {cell.data_type for row in sheet.iter_rows() for cell in row}
    assert "f" not in kinds
    assert sheet["A3"].data_type == "s"
    assert all(cell.hyperlink is None for row in sheet.iter_rows() for cell in row)


def test_xlsx_bytes_depend_on_the_date_given_and_nothing_else():
    data = write_xlsx("Devices", HEADS, ROWS, made_on=date(2026, 3, 2))
    assert data == write_xlsx("Devices", HEADS, ROWS, made_on=date(2026, 3, 2))
    assert read_book(data).properties.created.date() == date(2026, 3, 2)


@pytest.mark.parametrize(
    ("title", "name"),
    [("Cut list", "Cut list"), ("a/b:c*", "a-b-c-"), ("x" * 50, "x" * 31), ("", "list")],
)
def test_sheet_names_are_ones_a_workbook_takes(title, name):
    assert sheet_name(title) == name


def test_an_empty_list_is_a_head():
    sheet = read_book(write_xlsx("Holes", HEADS, (), made_on=date(2026, 3, 2))).active
    assert [tuple(row) for row in sheet.iter_rows(values_only=True)] == [HEADS]
