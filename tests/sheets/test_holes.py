"""Every hole of the panel once in the schedule, once on the map, once in the DXF."""

import csv
import io

import ezdxf
import pytest

from platewright.drawing.picture import Circle, Polyline, Text
from platewright.sheets.documents import documents
from platewright.sheets.hole_map import hole_map, tools
from platewright.sheets.hole_schedule import hole_table
from platewright.sheets.registry import sheets


@pytest.fixture(scope="module")
def files(panel, findings):
    return documents(panel, findings)


def test_every_hole_stands_once_in_the_schedule(panel, findings):
    rows = hole_table(panel, findings).rows
    assert sorted(row[0] for row in rows) == sorted(panel.layout.holes)
    for tag, x, y, kind, size, drill, holds, state in rows:
        hole = panel.layout.holes[tag]
        assert (hole.x, hole.y, hole.kind, hole.size) == (x, y, kind, size)
        assert (hole.drill, hole.holds, hole.state) == (drill, holds, state)


def test_holes_are_grouped_by_tool(panel, findings):
    drills = [row[5] for row in hole_table(panel, findings).rows]
    assert drills == sorted(drills)
    assert sum(map(len, tools(panel).values())) == len(panel.layout.holes)


def test_every_hole_is_printed_once_in_the_schedule_and_once_on_the_map(panel, findings):
    pages = sheets()["holes"].draw(panel, findings)
    words = [p.text for page in pages for p in page.primitives if isinstance(p, Text)]
    for tag in panel.layout.holes:
        assert words.count(tag) == 2


def test_a_left_over_hole_is_said_to_be_one(panel, findings):
    import dataclasses

    holes = dict(panel.layout.holes)
    holes["H1"] = dataclasses.replace(holes["H1"], holds="")
    layout = dataclasses.replace(panel.layout, holes=holes)
    pages = sheets()["holes"].draw(dataclasses.replace(panel, layout=layout), findings)
    words = [p.text for page in pages for p in page.primitives if isinstance(p, Text)]
    assert "left over" in words


def test_the_map_has_one_sign_a_hole(panel):
    parts = hole_map(panel, lettering=9.0)
    signs = [p for p in parts if p.layer.startswith("HOLE-") and isinstance(p, Circle | Polyline)]
    assert len(signs) == len(panel.layout.holes)


def test_dxf_holds_every_hole_once_as_a_circle_of_its_drill(panel, files):
    document = ezdxf.read(io.StringIO(files["layout.dxf"].decode()))
    assert document.audit().errors == []
    drawn = sorted(
        (round(c.dxf.center.x, 6), round(c.dxf.center.y, 6), round(2 * c.dxf.radius, 6))
        for c in document.modelspace().query("CIRCLE")
        if c.dxf.layer.startswith("HOLE-")
    )
    assert drawn == sorted(
        (round(h.x, 6), round(h.y, 6), round(h.drill, 6)) for h in panel.layout.holes.values()
    )


def test_csv_of_the_holes_reads_back_equal(panel, files):
    rows = list(csv.DictReader(io.StringIO(files["holes.csv"].decode(), newline="")))
    assert len(rows) == len(panel.layout.holes)
    for row in rows:
        hole = panel.layout.holes[row["tag"]]
        assert float(row["x_mm"]) == pytest.approx(hole.x, abs=5e-4)
        assert float(row["y_mm"]) == pytest.approx(hole.y, abs=5e-4)
        assert float(row["drill_mm"]) == hole.drill
        assert (row["kind"], row["size"], row["holds"]) == (hole.kind, hole.size, hole.holds)


def test_no_holes_is_said(bare_panel, findings):
    pages = sheets()["holes"].draw(bare_panel, findings)
    words = [p.text for page in pages for p in page.primitives if isinstance(p, Text)]
    assert any(word.startswith("No layout yet") for word in words)


def test_programs_make_exactly_the_holes_of_the_schedule(panel, files):
    """Read back line by line: place and depth of each hole that is still to be made."""
    import re

    todo = {t: h for t, h in panel.layout.holes.items() if h.state != "drilled"}
    thickness = panel.job.settings.plate.thickness
    found = {}
    for name, cycle in (("mark", "G81"), ("drill", "G81"), ("tap", "G84")):
        text = files[f"{name}.ngc"].decode("ascii")
        found[name] = {
            tag: tuple(map(float, numbers))
            for *numbers, tag in re.findall(
                rf"G98 {cycle} X(\S+) Y(\S+) Z(\S+) R\S+ F\S+ \((\S+)\)", text
            )
        }
        assert len(re.findall(cycle, text)) == len(found[name])
    assert set(found["mark"]) == set(found["drill"]) == set(todo)
    assert set(found["tap"]) == {t for t, h in todo.items() if h.kind == "tapped"}
    for tag, hole in todo.items():
        x, y, z = found["drill"][tag]
        assert (x, y) == pytest.approx((hole.x, hole.y), abs=5e-4)
        assert -z == pytest.approx(thickness + 0.3 * hole.drill + 1, abs=5e-4)
        if hole.kind == "tapped":
            assert -found["tap"][tag][2] > thickness


def test_programs_of_a_plate_that_fails_say_so_first(panel, findings, files):
    assert any(finding.verdict == "FAIL" for finding in findings)
    assert b"(NOT TO BUILD: 1 FINDINGS FAIL)" in files["drill.ngc"]
    assert b"NOT TO BUILD" not in documents(panel, ())["drill.ngc"]


def test_holes_stand_in_the_order_of_the_drill_program(panel, findings, files):
    import re

    listed = [row[0] for row in hole_table(panel, findings).rows if row[7] != "drilled"]
    program = re.findall(r"G81 .*\((\S+)\)", files["drill.ngc"].decode())
    by_drill = {}
    for tag in program:
        by_drill.setdefault(panel.layout.holes[tag].drill, []).append(tag)
    for drill, tags in by_drill.items():
        kinds = {}
        for tag in listed:
            hole = panel.layout.holes[tag]
            if hole.drill == drill:
                kinds.setdefault((hole.kind, hole.size), []).append(tag)
        for same in kinds.values():
            assert same == [tag for tag in tags if tag in same]
