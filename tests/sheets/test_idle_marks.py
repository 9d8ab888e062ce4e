"""Marks that hold nothing any more: told on every sheet that shows them, drilled by none.

The truth is what the test itself did: which holes it marked and took their owner from.
"""

import io
from dataclasses import replace

import ezdxf
import pytest

from platewright.drawing.picture import Circle, Line, Text
from platewright.fabricate.solvers.bench_work import bench_work, passes_of
from platewright.model.layout import HoleState
from platewright.model.steps import Work
from platewright.sheets.documents import documents
from platewright.sheets.drill_template import NOTHING
from platewright.sheets.hole_schedule import hole_table
from platewright.sheets.registry import sheets


@pytest.fixture(scope="module")
def marks(panel):
    planned = [t for t, hole in panel.layout.holes.items() if hole.state is HoleState.PLANNED]
    return tuple(planned[::3])


@pytest.fixture(scope="module")
def marked(panel, marks):
    """Return the panel with some planned holes marked, and what they held gone elsewhere."""
    idle = {t: replace(panel.layout.holes[t], state=HoleState.MARKED, holds="") for t in marks}
    return replace(panel, layout=replace(panel.layout, holes={**panel.layout.holes, **idle}))


@pytest.fixture(scope="module")
def files(marked, findings):
    return documents(marked, findings)


def words_of(panel, findings, sheet):
    pages = sheets()[sheet].draw(panel, findings)
    return [part.text for page in pages for part in page.primitives if isinstance(part, Text)]


def test_no_program_goes_to_a_mark(marked, marks, files):
    tags = {tag for one in passes_of(marked.job, marked.layout) for tag in one.holes}
    wanted = {t for t, h in marked.layout.holes.items() if h.state is HoleState.PLANNED}
    assert tags == wanted
    programs = {name: data.decode() for name, data in files.items() if name.endswith(".ngc")}
    assert {"drill.ngc", "tap.ngc", "mark.ngc"} <= set(programs)
    for text in programs.values():
        for tag in marks:
            hole = marked.layout.holes[tag]
            assert f"X{hole.x:.3f} Y{hole.y:.3f}" not in text
    assert any(f"X{h.x:.3f} Y{h.y:.3f}" in programs["drill.ngc"] for h in marked.layout.holes.values())  # fmt: skip


def test_the_schedule_has_them_last_under_a_heading_of_their_own(marked, marks, findings):
    rows = hole_table(marked, findings).rows
    assert {row[0] for row in rows[-len(marks) :]} == set(marks)
    assert {row[8] for row in rows[-len(marks) :]} == {"none: wipe the mark off"}
    assert all(row[8] != "none: wipe the mark off" for row in rows[: -len(marks)])
    words = " ".join(words_of(marked, findings, "holes"))
    assert f"wipe the mark off, do not drill: {len(marks)}" in words
    for tag in marks:
        assert words_of(marked, findings, "holes").count(tag) == 2  # the list and the map


def test_the_template_has_no_cross_to_punch_there(marked, marks, findings):
    pages = sheets()["template"].draw(marked, findings)[1:]
    crosses = sum(isinstance(p, Line) and p.layer == "RULER" and abs(_long(p) - 14) < 1e-6 for page in pages for p in page.primitives)  # fmt: skip
    plain = sheets()["template"].draw(_without(marked, marks), findings)[1:]
    assert crosses == sum(isinstance(p, Line) and p.layer == "RULER" and abs(_long(p) - 14) < 1e-6 for page in plain for p in page.primitives)  # fmt: skip
    circles = [p for page in pages for p in page.primitives if isinstance(p, Circle)]
    assert len(circles) == sum(isinstance(p, Circle) for page in plain for p in page.primitives)
    words = words_of(marked, findings, "template")
    told = [text for text in words if "marked: wipe off, do not drill" in text]
    assert told
    assert {text.split()[0] for text in told} <= set(marks)


def _long(line):
    return abs(line.start.x - line.end.x) + abs(line.start.y - line.end.y)


def _without(panel, tags):
    holes = {tag: hole for tag, hole in panel.layout.holes.items() if tag not in tags}
    return replace(panel, layout=replace(panel.layout, holes=holes))


def test_where_only_marks_are_left_no_template_is_needed(marked, marks, findings):
    others = [tag for tag in marked.layout.holes if tag not in marks]
    assert NOTHING in words_of(_without(marked, others), findings, "template")


def test_the_drawing_file_has_them_on_a_layer_of_their_own(marked, marks, files):
    document = ezdxf.read(io.StringIO(files["layout.dxf"].decode()))
    circles = [c for c in document.modelspace() if c.dxftype() == "CIRCLE"]
    there = {(round(c.dxf.center.x, 3), round(c.dxf.center.y, 3)) for c in circles if c.dxf.layer == "MARK-WIPE-OFF"}  # fmt: skip
    holes = marked.layout.holes
    assert there == {(round(holes[t].x, 3), round(holes[t].y, 3)) for t in marks}
    tools = [c for c in circles if c.dxf.layer.startswith("HOLE-") and c.dxf.layer != "HOLE-DRILLED"]  # fmt: skip
    assert len(tools) == sum(hole.state is HoleState.PLANNED for hole in holes.values())


def test_the_build_wipes_them_off_before_any_tool_is_taken_up(marked, marks):
    steps = bench_work(marked.job, marked.layout).steps
    wiping = [step for step in steps if step.work is Work.WIPE_OFF]
    assert len(wiping) == 1
    assert all(tag in " ".join(wiping[0].does) for tag in marks)
    tools = [step.number for step in steps if step.drills]
    assert tools
    assert wiping[0].number < min(tools)


def test_a_plate_without_such_marks_has_no_such_step(panel):
    assert all(step.work is not Work.WIPE_OFF for step in bench_work(panel.job, panel.layout).steps)
