"""Labels and terminal plan: every end of every wire once, counted from the job's own list."""

import csv
import dataclasses
import io

import pytest

from platewright.drawing.extent import text_box
from platewright.drawing.picture import Rect, Text
from platewright.drawing.spreadsheet import write_csv
from platewright.drawing.table import file_heads, file_rows
from platewright.model.job import DisplayUnit
from platewright.model.wire import End
from platewright.sheets.registry import sheets
from platewright.sheets.terminal_plan import terminal_table
from platewright.sheets.wire_labels import label_table


def words(pages):
    return [p.text for page in pages for p in page.primitives if isinstance(p, Text)]


def test_every_wire_has_two_labels_with_both_ends(panel):
    table = label_table(panel, ())
    text = write_csv(file_heads(table, DisplayUnit.MM), file_rows(table, DisplayUnit.MM)).decode()
    rows = list(csv.DictReader(io.StringIO(text, newline="")))
    assert len(rows) == 2 * len(panel.job.wires)
    for wire in panel.job.wires:
        first, second = [row for row in rows if row["number"] == wire.number]
        assert (first["here"], first["there"]) == (str(wire.start), str(wire.end))
        assert (second["here"], second["there"]) == (str(wire.end), str(wire.start))
        assert (second["device"], second["terminal"]) == (wire.end.device, wire.end.terminal)


def test_every_label_is_printed_once_inside_its_cutting_line(panel):
    pages = sheets()["wire-labels"].draw(panel, ())
    told = words(pages)
    for wire in panel.job.wires:
        for here, there in ((wire.start, wire.end), (wire.end, wire.start)):
            assert told.count(f"{wire.number}   {here}") == 1
            assert f"to {there}" in told
    for page in pages:
        boxes = [p.box for p in page.primitives if isinstance(p, Rect) and p.layer == "CUT-LINE"]
        labels = [p for p in page.primitives if isinstance(p, Text) and p.text.startswith("to -")]
        assert len(boxes) == len(labels)
        for label in labels:
            inside = text_box(label)
            assert any(
                b.left < inside.left and inside.right < b.right
                and b.bottom < inside.bottom and inside.top < b.top for b in boxes
            )  # fmt: skip


def test_many_wires_fill_several_pages_and_lose_none(panel):
    wires = tuple(dataclasses.replace(panel.job.wires[0], number=f"W{n}") for n in range(1, 231))
    many = dataclasses.replace(panel, job=dataclasses.replace(panel.job, wires=wires))
    pages = sheets()["wire-labels"].draw(many, ())
    assert len(pages) > 1
    told = words(pages)
    start = str(wires[0].start)
    assert all(told.count(f"W{n}   {start}") == 1 for n in range(1, 231))


def test_no_wires_is_said(panel):
    none = dataclasses.replace(panel, job=dataclasses.replace(panel.job, wires=()))
    assert "The job lists no wires." in words(sheets()["wire-labels"].draw(none, ()))


@pytest.fixture
def stripped(panel):
    """The panel with its strip named as one, and two wires on it, one of them to the field side."""
    parts = dict(panel.job.parts)
    parts["strip"] = dataclasses.replace(
        parts["strip"], kind="terminal strip", terminals_top=("1", "2", "3"),
        terminals_bottom=("f1", "f2", "f3"),
    )  # fmt: skip
    wires = (
        dataclasses.replace(panel.job.wires[0], number="90", end=End("-X2", "2")),
        dataclasses.replace(panel.job.wires[1], number="91", end=End("-X2", "f2")),
    )
    return dataclasses.replace(panel, job=dataclasses.replace(panel.job, parts=parts, wires=wires))


def test_the_terminal_plan_has_every_place_with_what_is_on_it(stripped):
    rows = terminal_table(stripped, ()).rows
    assert [(r[0], r[1], r[2], r[4]) for r in rows] == [
        ("-X2", 1, "1", "f1"), ("-X2", 2, "2", "f2"), ("-X2", 3, "3", "f3"),
    ]  # fmt: skip
    first, second = stripped.job.wires
    assert rows[1][3].startswith(f"90: {first.start}")
    assert rows[1][5].startswith(f"91: {second.start}")
    assert rows[0][3] == rows[0][5] == ""
    told = words(sheets()["terminals"].draw(stripped, ()))
    assert any("2 connected" in word for word in told)
    assert any("Jumpers and bridges are not in the job's data" in word for word in told)


def test_sides_of_unlike_number_are_not_paired(stripped):
    parts = dict(stripped.job.parts)
    parts["strip"] = dataclasses.replace(parts["strip"], terminals_top=("L1", "L2"))
    job = dataclasses.replace(stripped.job, parts=parts)
    rows = terminal_table(dataclasses.replace(stripped, job=job), ()).rows
    assert [(r[2], r[4]) for r in rows] == [
        ("L1", ""), ("L2", ""), ("", "f1"), ("", "f2"), ("", "f3"),
    ]  # fmt: skip


def test_a_bar_with_one_side_has_no_empty_columns(stripped):
    parts = dict(stripped.job.parts)
    parts["strip"] = dataclasses.replace(parts["strip"], terminals_bottom=())
    job = dataclasses.replace(stripped.job, parts=parts, wires=stripped.job.wires[:1])
    told = words(sheets()["terminals"].draw(dataclasses.replace(stripped, job=job), ()))
    assert "Lower" not in told
    assert told.count("Wire to") == 1
    assert words(sheets()["terminals"].draw(stripped, ())).count("Wire to") == 2


def test_a_job_without_strips_says_so(panel):
    assert any("No part of this job" in w for w in words(sheets()["terminals"].draw(panel, ())))
