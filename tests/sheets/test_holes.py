"""Every hole of the panel once in the schedule, once on the map, once in the DXF."""

import csv
import io
from dataclasses import replace

import ezdxf
import pytest

from platewright.drawing.clip import is_crossed
from platewright.drawing.extent import text_box
from platewright.drawing.picture import Circle, Line, Polyline, Text
from platewright.model.job import Bench, DisplayUnit
from platewright.model.layout import HoleState
from platewright.sheets.documents import documents
from platewright.sheets.hole_map import hole_map, tools
from platewright.sheets.hole_schedule import _schedule, hole_table
from platewright.sheets.registry import sheets
from platewright.tables.threads import thread


@pytest.fixture(scope="module")
def files(panel, findings):
    return documents(panel, findings)


def test_every_hole_stands_once_in_the_schedule(panel, findings):
    rows = hole_table(panel, findings).rows
    assert sorted(row[0] for row in rows) == sorted(panel.layout.holes)
    for tag, x, y, kind, size, drill, holds, state, *_ in rows:
        hole = panel.layout.holes[tag]
        assert (hole.x, hole.y, hole.kind, hole.size) == (x, y, kind, size)
        assert (hole.drill, hole.holds, hole.state) == (drill, holds, state)


def test_holes_are_grouped_by_tool(panel, findings):
    rows = hole_table(panel, findings).rows
    drills = [row[5] for row in rows if row[7] != "drilled"]
    assert drills == sorted(drills)
    assert sum(map(len, tools(panel).values())) == len(drills)
    assert [row[7] == "drilled" for row in rows] == sorted(row[7] == "drilled" for row in rows)


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


@pytest.mark.parametrize("units", list(DisplayUnit))
def test_legend_and_notes_stay_inside_the_frame_however_many_tools(panel, findings, units):
    holes = dict(panel.layout.holes)
    sizes = ["M4", "M5", "M6", "M8", "10-32", "1/4-20", "3/8-16"]
    for tag, size in zip(list(holes), sizes, strict=False):
        holes[tag] = replace(holes[tag], size=size, drill=thread(size).tap_drill)
    many = with_settings(replace(panel, layout=replace(panel.layout, holes=holes)), units=units)
    assert len(tools(many)) >= 9
    page = sheets()["holes"].draw(many, findings)[0]
    words = [p for p in page.primitives if isinstance(p, Text) and p.layer in ("TEXT", "NOTE")]
    boxes = [text_box(p) for p in words]
    assert max(box.right for box in boxes) <= page.width - 10
    for index, one in enumerate(boxes):
        assert not any(one.overlaps(other) for other in boxes[index + 1 :]), words[index].text


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


def headed(panel, findings):
    """Return the printed parts of the schedule: heading and the tags under it, in order."""
    found = []
    for row in _schedule(panel, findings).rows:
        if row.is_heading:
            found.append((row.cells[0], []))
        else:
            found[-1][1].append(row.cells[0])
    return found


def told(panel, findings):
    pages = sheets()["holes"].draw(panel, findings)
    return " ".join(p.text for page in pages for p in page.primitives if isinstance(p, Text))


def test_drilled_holes_stand_in_a_part_of_their_own(panel, findings):
    done = {tag for tag, hole in panel.layout.holes.items() if hole.state == "drilled"}
    assert done
    parts = headed(panel, findings)
    (listed,) = (tags for name, tags in parts if name.startswith("Already drilled: do not drill"))
    assert set(listed) == done
    assert not any(done & set(tags) for name, tags in parts if name.startswith("Drill"))
    pages = sheets()["holes"].draw(panel, findings)
    words = [p.text for page in pages for p in page.primitives if isinstance(p, Text)]
    assert f"already drilled: do not drill: {len(done)}" in words  # in the legend of the map
    for row in hole_table(panel, findings).rows:
        assert (row[8] == "none: drilled") == (row[0] in done)


def test_left_over_holes_have_a_sign_and_a_part_of_their_own(panel, findings):
    """A hole that holds nothing any more must not be screwed into: it looks like no other."""
    done = sorted(tag for tag, hole in panel.layout.holes.items() if hole.state == "drilled")
    holes = dict(panel.layout.holes)
    holes["H900"] = replace(holes[done[0]], x=200.0, y=150.0, holds="")
    former = replace(panel, layout=replace(panel.layout, holes=holes))
    parts = dict(headed(former, findings))
    assert parts["Drilled and left over, holds nothing: leave it empty (1)"] == ["H900"]
    assert any(name == f"Already drilled: do not drill ({len(done)})" for name in parts)
    drawn = hole_map(former, lettering=10)
    struck = [p for p in drawn if isinstance(p, Line) and p.layer == "HOLE-DRILLED"]
    assert {((p.start.x + p.end.x) / 2, (p.start.y + p.end.y) / 2) for p in struck} == {(200, 150)}
    words = [p.text for page in sheets()["holes"].draw(former, findings) for p in page.primitives
             if isinstance(p, Text)]  # fmt: skip
    assert "drilled and left over, holds nothing: leave it empty: 1" in words
    assert f"already drilled: do not drill: {len(done)}" in words


@pytest.mark.parametrize(("apart", "clear"), [(7.0, True), (12.0, True), (1.0, False)])
def test_signs_of_near_holes_shrink_until_they_stand_apart(panel, apart, clear):
    """But never to nothing: two holes that run into each other are drawn over each other."""
    (one, hole), *_ = panel.layout.holes.items()
    other = replace(hole, x=hole.x + apart, state=HoleState.DRILLED, holds="")
    holes = {one: hole, "H900": other}
    near = replace(panel, layout=replace(panel.layout, holes=holes))
    drawn = hole_map(near, lettering=12.5)
    signs = [p for p in drawn if isinstance(p, Circle) and p.layer.startswith("HOLE-")]
    radii = [p.radius for p in signs]
    assert len(radii) == 2
    assert (sum(radii) < apart) is clear
    assert min(radii) > 1.5


def test_each_station_has_a_part_and_nobody_leans_across(panel, findings):
    """Reach 200 mm on a plate of 800 × 640: the middle is out of reach from every edge."""
    near = with_settings(panel, bench=Bench(reach=200))
    plate = near.job.settings.plate
    parts = headed(near, findings)
    far = {
        tag
        for tag, h in near.layout.holes.items()
        if min(h.x, h.y, plate.width - h.x, plate.height - h.y) > 200 and h.state != "drilled"
    }
    assert far
    found = set()
    for heading, tags in parts:
        if heading.startswith("Beyond reach: plate upright, or a board across"):
            found |= set(tags)
        elif heading.startswith("From the"):
            edge = heading.split()[2]
            for tag in tags:
                h = near.layout.holes[tag]
                away = {"left": h.x, "right": plate.width - h.x, "bottom": h.y,
                        "top": plate.height - h.y}  # fmt: skip
                assert away[edge] <= 200
    assert found == far
    assert sorted(t for _, tags in parts for t in tags) == sorted(near.layout.holes)


def test_combined_bits_are_named_where_they_may_be_used_with_the_reason(panel, findings):
    """Shop practice: plate up to 0.8 screw diameters: M5 4.0 mm, M6 4.8 mm; never stainless."""
    words = told(panel, findings)
    assert "3.3 threads held, 2 needed; combined bit: plate up to 4 mm" in words  # 2.657 / 0.8
    thick = {row[4]: row[9] for row in hole_table(with_plate(panel, thickness=4.5), findings).rows}
    assert "Combined" not in thick["M5"]
    assert thick["M6"].endswith("plate 4.50 mm, at most 0.8 × 6.00 = 4.80 mm (shop practice)")
    stainless = with_plate(panel, material="stainless")
    assert "combined" not in told(stainless, findings)
    for row in hole_table(panel, findings).rows:
        assert ("Combined drill and tap" in row[9]) == (row[3] == "tapped" and row[7] != "drilled")


def test_a_job_in_inches_names_inch_drills_and_marks_metric_ones(panel, findings):
    """#21 before 10-32, by the tap and drill charts; M5 stays metric and says so."""
    holes = dict(panel.layout.holes)
    one = next(tag for tag, hole in holes.items() if hole.size == "M6")
    holes[one] = replace(holes[one], size="10-32", drill=4.0386)
    layout = replace(panel.layout, holes=holes)
    inch = with_settings(replace(panel, layout=layout), units=DisplayUnit.INCH)
    parts = headed(inch, findings)
    assert [one] in [t for name, t in parts if "#21 (⌀0.159 in), tap 10-32:" in name]
    assert any(name.startswith("Drill ⌀4.2 mm, tap M5 (metric)") for name, _ in parts)
    metric = headed(replace(panel, layout=layout), findings)
    assert any("⌀4.04 mm (#21), tap 10-32 (inch thread)" in name for name, _ in metric)


def test_dxf_has_a_layer_for_each_tool_and_one_for_what_is_drilled(panel, files):
    document = ezdxf.read(io.StringIO(files["layout.dxf"].decode()))
    drawn = {}
    for circle in document.modelspace().query("CIRCLE"):
        if circle.dxf.layer.startswith("HOLE-"):
            drawn.setdefault(circle.dxf.layer, set()).add(round(2 * circle.dxf.radius, 6))
    kinds = {"tapped": "TAP", "clearance": "CLEAR", "rivet": "RIVET"}
    assert set(drawn) == {
        "HOLE-DRILLED" if h.state == "drilled" else f"HOLE-{kinds[h.kind]}-{h.size}-D{h.drill:g}"
        for h in panel.layout.holes.values()
    }
    assert all(len(drills) == 1 for drills in drawn.values())


def with_settings(panel, **changes):
    settings = replace(panel.job.settings, **changes)
    return replace(panel, job=replace(panel.job, settings=settings))


def with_plate(panel, **changes):
    return with_settings(panel, plate=replace(panel.job.settings.plate, **changes))


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


def test_programs_state_the_room_below_that_their_own_depths_need(files, panel):
    import re

    thickness = panel.job.settings.plate.thickness
    for name in ("drill", "tap"):
        text = files[f"{name}.ngc"].decode("ascii")
        deepest = max(float(z) for z in re.findall(r"Z-(\S+) R", text))
        stated = float(re.search(r"([0-9.]+) MM FREE BELOW", text)[1])
        assert deepest - thickness <= stated < deepest - thickness + 0.1 + 1e-9
    assert b"NO ROOM NEEDED BELOW: NOTHING GOES THROUGH" in files["mark.ngc"]
    assert b"MM FREE BELOW" not in files["mark.ngc"]


def test_a_program_counts_the_holes_of_a_tool_once(files):
    for name in ("mark", "drill", "tap"):
        for line in files[f"{name}.ngc"].decode("ascii").splitlines():
            if line.startswith("(TOOL "):
                assert line.lower().count(" hole") == 1


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


@pytest.mark.parametrize("lettering", [5.0, 12.5, 20.0])
def test_leaders_of_the_map_do_not_cross(panel, lettering):
    parts = hole_map(panel, lettering=lettering)
    centres = {hole.centre for hole in panel.layout.holes.values()}
    leaders = [p for p in parts if isinstance(p, Line) and p.start in centres]
    for index, one in enumerate(leaders):
        assert not any(is_crossed(one, other) for other in leaders[index + 1 :])
