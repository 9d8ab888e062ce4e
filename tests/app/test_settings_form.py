"""Cells put back into ``job.toml``: read again by the standard library's reader, and line by line."""

from __future__ import annotations

import tomllib
from dataclasses import fields
from pathlib import Path
from typing import Any

import pytest

from platewright.app.editing.settings_form import Row, form_of, with_cells
from platewright.foundation.errors import InputErrors
from platewright.jobfile.columns import Kind, columns_of
from platewright.model.job import JobSettings

JOB = (Path(__file__).resolve().parents[2] / "examples" / "bottle-rinser" / "job.toml").read_bytes()


def kept(*was: int) -> list[Row]:
    return [Row(was=each, cells={}) for each in was]


def comments(content: bytes) -> list[str]:
    return [line.strip() for line in content.decode().splitlines() if line.strip().startswith("#")]


def paths(record: type, path: str = "") -> set[str]:
    found: set[str] = set()
    for column in columns_of(record):
        name = f"{path}{column.field if column.record else column.name}"
        if column.kind is Kind.RECORD and column.record:
            found |= paths(column.record, f"{name}.")
        elif column.kind is not Kind.MAP:
            found.add(name)
    return found


def test_every_key_of_the_settings_is_in_the_form() -> None:
    form = form_of(JOB)
    shown = {f"{s.path}.{c.key}" if s.path else c.key for s in form.sections for c in s.cells}
    shown |= {one.path for one in form.lists}
    assert shown == paths(JobSettings) - {"format", "columns"}
    assert len(fields(JobSettings)) > 10


def test_the_form_shows_what_is_written() -> None:
    form = form_of(JOB)
    cells = {f"{s.path}.{c.key}": c for s in form.sections for c in s.cells}
    assert cells["plate.thickness_mm"].text == "0.1046 in"
    assert cells["limits.duct_fill_plan_share"].text == "40 percent"
    assert cells["air.outside_degc"].text == ""
    assert cells[".preset"].choices
    stock = next(one for one in form.lists if one.path == "stock.ducts")
    assert stock.rows[0][:3] == ("1x3", "1 in", "3 in")


def test_nothing_changed_is_the_same_bytes() -> None:
    assert with_cells(JOB, {}, {}) == JOB
    crlf = b"\xef\xbb\xbf" + JOB.replace(b"\n", b"\r\n")
    assert with_cells(crlf, {}, {"groups": kept(1, 2, 3, 4, 5)}) == crlf


def test_cells_change_in_place_and_comments_stay() -> None:
    made = with_cells(
        JOB,
        {"plate.width_mm": "740", "stock.kerf_mm": "1/16 in", "limits.duct_fill_plan_share": "45 percent",
         "air.outside_degc": "38", "air.fan_filter": "no", "job.date": ""},
        {},
    )  # fmt: skip
    old, new = tomllib.loads(JOB.decode()), tomllib.loads(made.decode())
    old["plate"]["width_mm"] = 740
    old["stock"]["kerf_mm"] = "1/16 in"
    old["limits"]["duct_fill_plan_percent"] = 45
    del old["job"]["date"]
    assert new == {**old, "air": {"outside_degc": 38, "fan_filter": False}}
    assert comments(made) == comments(JOB)
    assert [k for k in new if k != "air"] == list(old), "the order of the file stays"


@pytest.mark.parametrize("out", [1, 2, 3, 4, 5])
def test_a_row_taken_out_loses_no_comment(out: int) -> None:
    stay = [n for n in range(1, 6) if n != out]
    made = with_cells(JOB, {}, {"groups": kept(*stay)})
    old: dict[str, Any] = tomllib.loads(JOB.decode())
    del old["groups"][out - 1]
    assert tomllib.loads(made.decode()) == old
    assert sorted(comments(made)) == sorted(comments(JOB))


def test_a_row_is_added_before_the_comment_of_what_follows() -> None:
    new = Row(was=0, cells={"name": "X", "voltage_v": "400", "title": ""})
    made = with_cells(JOB, {}, {"groups": [*kept(1, 2, 3, 4, 5), new]})
    text = made.decode()
    assert tomllib.loads(text)["groups"][-1] == {"name": "X", "voltage_v": 400}
    assert text.index('name = "X"') < text.index("# Duct in inch sizes")
    assert comments(made) == comments(JOB)


def test_all_rows_out_and_rows_where_there_were_none() -> None:
    bare = with_cells(JOB, {}, {"plate.keep_outs": []})
    assert "keep_outs" not in tomllib.loads(bare.decode())["plate"]
    assert sorted(comments(bare)) == sorted(comments(JOB))
    row = Row(was=0, cells={"x_mm": "10", "y_mm": "20", "width_mm": "3", "height_mm": "1-1/2 in"})
    again = with_cells(bare, {}, {"plate.keep_outs": [row]})
    assert tomllib.loads(again.decode())["plate"]["keep_outs"] == [
        {"x_mm": 10, "y_mm": 20, "width_mm": 3, "height_mm": "1-1/2 in"}
    ]


def test_rows_in_brackets() -> None:
    old = b'[stock]\nducts = [\n  {name = "a", width_mm = 40, height_mm = 60},  # the usual\n]\n'
    rows = [Row(was=1, cells={"width_mm": "45"}), Row(was=0, cells={"name": "b"})]
    made = with_cells(old, {}, {"stock.ducts": rows}).decode()
    assert tomllib.loads(made)["stock"]["ducts"] == [
        {"name": "a", "width_mm": 45, "height_mm": 60}, {"name": "b"},
    ]  # fmt: skip
    assert "# the usual" in made


def test_what_is_no_number_is_left_for_the_reader_to_judge() -> None:
    made = with_cells(JOB, {"plate.width_mm": "wide"}, {})
    assert tomllib.loads(made.decode())["plate"]["width_mm"] == "wide"


def test_no_such_key_and_no_toml() -> None:
    with pytest.raises(KeyError):
        with_cells(JOB, {"plate.colour": "red"}, {})
    with pytest.raises(KeyError):
        with_cells(JOB, {}, {"plate": []})
    with pytest.raises(InputErrors):
        with_cells(b"plate = [", {"units": "in"}, {})
    assert form_of(b"plate = [").fault
