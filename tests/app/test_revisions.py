"""Two revisions compared: every difference once, nothing that is the same."""

import csv
import shutil
from dataclasses import replace
from pathlib import Path

import pypdfium2
import pytest

from platewright.app.gather import panel_of
from platewright.app.revisions import compare_revisions
from platewright.cli.main import run
from platewright.drawing.extent import extent, text_box
from platewright.drawing.picture import Circle, Text
from platewright.foundation.errors import InputErrors
from platewright.jobfile.folder import read_job
from platewright.jobfile.layout_file import read_layout, write_layout
from platewright.model.layout import Hole, HoleKind, HoleState, Layout, Rail
from platewright.sheets.revision import NONE, changes, revision_pages, revision_picture

EXAMPLE = Path(__file__).parents[2] / "examples" / "bottle-rinser-by-hand"


def changed(layout):
    """Return the layout with one change of every kind."""
    devices = dict(layout.devices)
    devices["-F2"] = replace(devices["-F2"], x=devices["-F2"].x + 12)
    del devices["-K6"]
    ducts = dict(layout.ducts)
    ducts["D2"] = replace(ducts["D2"], length=500.0)
    ducts["D9"] = replace(ducts["D3"], y=700.0, length=300.0)
    holes = dict(layout.holes)
    del holes["H1"]
    holes["H2"] = replace(holes["H2"], x=holes["H2"].x + 0.7, state=HoleState.DRILLED)
    holes["H3"] = replace(holes["H3"], state=HoleState.DRILLED, holds="")
    holes["H900"] = Hole(x=333, y=444, kind=HoleKind.TAPPED, size="M5", drill=4.2, holds="D9")
    return replace(layout, devices=devices, ducts=ducts, holes=holes)


def test_each_change_is_found_and_nothing_else(folder):
    job, old = read_job(folder), read_layout(folder, read_job(folder))
    found = {
        (c.kind, c.tag, c.what) for c in changes(panel_of(job, old), panel_of(job, changed(old)))
    }
    things = {one for one in found if one[0] != "piece"}
    assert things == {
        ("device", "-F2", "moved"), ("device", "-K6", "gone"),
        ("duct", "D2", "changed"), ("duct", "D9", "new"),
        ("hole", "H1", "gone"), ("hole", "H2", "moved"),
        ("hole", "H3", "left over"), ("hole", "H900", "new"),
    }  # fmt: skip
    assert {("piece", "D2", "changed"), ("piece", "D9", "new")} <= found


def test_the_same_plate_differs_in_nothing(folder):
    job = read_job(folder)
    panel = panel_of(job, read_layout(folder, job))
    assert changes(panel, panel) == ()
    (page,) = revision_pages(panel, panel, names=("A", "A"))
    assert any(NONE in p.text for p in page.primitives if isinstance(p, Text))


def test_holes_that_were_only_renamed_are_no_change(folder):
    job, old = read_job(folder), read_layout(folder, read_job(folder))
    renamed = {f"H{900 + n}": hole for n, hole in enumerate(old.holes.values())}
    assert changes(panel_of(job, old), panel_of(job, replace(old, holes=renamed))) == ()


def test_drawing_and_list_are_written_and_legible(folder, tmp_path):
    old = tmp_path / "before.toml"
    shutil.copy(folder / "layout.toml", old)
    job = read_job(folder)
    write_layout(folder, changed(read_layout(folder, job)))
    done = compare_revisions(folder, old)
    names = [path.name for path in done.files]
    assert {"changes.pdf", "changes-1.svg", "changes.csv"} <= set(names)
    rows = list(csv.DictReader((folder / "out" / "changes.csv").read_text("utf-8").splitlines()))
    assert len(rows) == len(done.found)
    pages = pypdfium2.PdfDocument(folder / "out" / "changes.pdf")
    assert len(pages) == sum(name.endswith(".svg") for name in names)
    panel = panel_of(job, read_layout(folder, job))
    before = panel_of(job, read_layout(EXAMPLE, job))
    for page in revision_pages(before, panel, names=("A", "B")):
        box = extent(page.primitives)
        assert min(box.left, box.bottom) >= 0
        assert box.right <= page.width
        assert box.top <= page.height
        table = [text_box(p) for p in page.primitives if isinstance(p, Text) and p.layer == "TEXT"]
        for index, one in enumerate(table):
            assert not any(one.overlaps(other) for other in table[index + 1 :])


def test_the_command_and_a_wrong_name(folder, capsys):
    assert run(["changes", str(folder), str(EXAMPLE)]) == 0
    assert "0 differences" in capsys.readouterr().out
    with pytest.raises(InputErrors, match="neither a layout file nor a job folder"):
        compare_revisions(folder, folder / "nothing.toml")


def _with_bigger_part(job, tag):
    part = job.part_of(tag)
    bigger = replace(part, part="bigger", width=part.width + 20, hole_pattern_width=None)
    devices = {**job.devices, tag: replace(job.devices[tag], part="bigger")}
    return replace(job, parts={**job.parts, "bigger": bigger}, devices=devices)


def test_a_swapped_part_is_told_with_what_it_was_and_is(folder):
    job, layout = read_job(folder), read_layout(folder, read_job(folder))
    tag = "-F2"
    now = panel_of(_with_bigger_part(job, tag), layout)
    found = [c for c in changes(panel_of(job, layout), now) if c.what == "other part"]
    assert [(c.kind, c.tag) for c in found] == [("device", tag)]
    assert job.devices[tag].part in found[0].words
    assert "bigger" in found[0].words
    assert changes(now, now) == ()


def test_wires_that_changed_are_listed(folder):
    job, layout = read_job(folder), read_layout(folder, read_job(folder))
    first, second, *rest = job.wires
    other = replace(second, colour="pink")
    more = replace(first, number="W999")
    now = replace(job, wires=(other, more, *rest))
    found = changes(panel_of(job, layout), panel_of(now, layout))
    told = {(c.kind, c.tag, c.what) for c in found if c.kind != "piece"}
    assert told == {
        ("wire", first.number, "gone"), ("wire", second.number, "changed"), ("wire", "W999", "new")
    }  # fmt: skip
    assert all("pink" in c.words for c in found if c.tag == second.number)


def _taken_off_the_lists(folder, tag):
    for name in ("devices.csv", "wires.csv"):
        path = folder / name
        lines = path.read_text("utf-8").splitlines(keepends=True)
        kept = [line for line in lines if tag not in line.replace(f"{tag}0", "")]
        path.write_text("".join(kept), "utf-8")


@pytest.mark.parametrize("is_told", [True, False])
def test_a_removed_device_is_told_by_a_layout_alone(folder, tmp_path, is_told):
    """With the part written down it is drawn too; an older layout tells its place alone."""
    job = read_job(folder)
    layout = read_layout(folder, job)
    part = {tag: job.devices[tag].part if is_told else "" for tag in layout.devices}
    told = {tag: replace(at, part=part[tag]) for tag, at in layout.devices.items()}
    write_layout(folder, replace(layout, devices=told))
    old = tmp_path / "before.toml"
    shutil.copy(folder / "layout.toml", old)
    _taken_off_the_lists(folder, "-K6")
    done = compare_revisions(folder, old)
    gone = [(c.kind, c.tag, c.what) for c in done.found if c.kind == "device"]
    assert gone == [("device", "-K6", "gone")]
    assert any("layout alone" in note for note in done.notes)
    dashed = (folder / "out" / "changes-1.svg").read_text("utf-8").count("CUT-LINE")
    assert (dashed > 0) is is_told


def test_every_page_says_not_to_build_while_a_finding_fails(folder, tmp_path, capsys):
    old = tmp_path / "before.toml"
    shutil.copy(folder / "layout.toml", old)
    job = read_job(folder)
    layout = read_layout(folder, job)
    on = replace(layout.devices["-F2"], x=layout.devices["-Q1"].x, y=layout.devices["-Q1"].y)
    write_layout(folder, replace(layout, devices={**layout.devices, "-F2": on}))
    assert compare_revisions(folder, old).fails > 0
    pages = pypdfium2.PdfDocument(folder / "out" / "changes.pdf")
    assert all("NOT TO BUILD" in page.get_textpage().get_text_range() for page in pages)
    assert run(["changes", str(folder), str(old)]) == 0
    assert "NOT TO BUILD" in capsys.readouterr().out


def test_every_drilled_hole_has_its_ring(folder):
    """The legend promises it, changed or not; what is planned and the same has no sign."""
    job, old = read_job(folder), read_layout(folder, read_job(folder))
    drilled = {
        tag: replace(hole, state=HoleState.DRILLED) if n % 2 else hole
        for n, (tag, hole) in enumerate(old.holes.items())
    }
    before = panel_of(job, replace(old, holes=drilled))
    after = panel_of(job, replace(changed(old), holes=drilled))
    picture = revision_picture(before, after, changes(before, after))
    rings = [p.centre for p in picture if isinstance(p, Circle) and p.layer == "BALLOON-OPEN"]
    assert sorted((p.x, p.y) for p in rings) == sorted(
        (h.x, h.y) for h in drilled.values() if h.state is HoleState.DRILLED
    )
    assert not [p for p in picture if isinstance(p, Circle) and p.layer == "DATUM"]


def rails(lengths, profile="TH35-7.5"):
    return {
        tag: Rail(x=60, y=100 + 60 * n, length=long, profile=profile)
        for n, (tag, long) in enumerate(lengths.items())
    }


def test_a_piece_that_serves_again_is_told_with_what_it_becomes(folder):
    """The truth by hand: 511 of 513, 190 of 200; 61 of none, for 60 is too short for it."""
    job = read_job(folder)
    old = Layout(rails=rails({"R21": 60, "R22": 513, "R23": 200, "R24": 300}))
    new = Layout(rails=rails({"R31": 511, "R32": 61, "R33": 190, "R24": 300}))
    found = changes(panel_of(job, old), panel_of(job, new))
    told = {one.tag: one.words.removeprefix("rail TH35-7.5: ") for one in found if one.kind == "piece"}  # fmt: skip
    assert told == {
        "R21": "60 not needed any more",
        "R22": "513 not needed any more; 513 serves as R31",
        "R23": "200 not needed any more; 200 serves as R33",
        "R31": "cut 511; 511 from R22 of before (513), if it is cut already",
        "R32": "cut 61",
        "R33": "cut 190; 190 from R23 of before (200), if it is cut already",
    }


def test_a_piece_of_another_stock_never_serves(folder):
    job = read_job(folder)
    old = Layout(rails=rails({"R1": 500}, profile="TH35-15"))
    new = Layout(rails=rails({"R2": 300}))
    words = [c.words for c in changes(panel_of(job, old), panel_of(job, new)) if c.kind == "piece"]
    assert words == ["rail TH35-15: 500 not needed any more", "rail TH35-7.5: cut 300"]
