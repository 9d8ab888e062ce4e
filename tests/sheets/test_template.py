"""The drill template, measured on the printed page as a builder would measure it."""

import dataclasses
from math import hypot

import numpy as np
import pypdfium2
import pytest

from platewright.drawing.clip import clipped
from platewright.drawing.extent import extent, text_box
from platewright.drawing.paper import Paper
from platewright.drawing.pdf import write_pdf
from platewright.drawing.picture import Circle, Line, Polyline, Rect, Text
from platewright.model.geometry import Box, Point
from platewright.model.job import Bench, Practice, TemplatePaper
from platewright.model.layout import HoleState
from platewright.sheets import tiles as tiles_module
from platewright.sheets.drill_template import NOTHING
from platewright.sheets.registry import sheets
from platewright.sheets.template_page import EXISTS, MARK_WORDS
from platewright.sheets.tiles import on_paper, tiling

DPI = 400
TAGS = ("HOLE-TAG", "GHOST-TAG")
POINTS = 72 / 25.4
PAPERS = list(TemplatePaper)


def with_paper(panel, paper):
    settings = dataclasses.replace(panel.job.settings, bench=Bench(paper=paper))
    return dataclasses.replace(panel, job=dataclasses.replace(panel.job, settings=settings))


def todo(panel):
    return {t: h for t, h in panel.layout.holes.items() if h.state != "drilled"}


@pytest.fixture(scope="module", params=PAPERS, ids=str)
def printed(request, panel):
    """The panel, its tiles and its pages as printed on one of the papers."""
    chosen = with_paper(panel, request.param)
    pages = sheets()["template"].draw(chosen, ())
    return chosen, tiling(chosen.job.settings, todo(chosen).values()), pages


def dark_runs(row):
    """Return the middles of the dark stretches of a row of pixels."""
    edges = np.flatnonzero(np.diff(np.concatenate([[0], (row < 128).astype(int), [0]])))
    return [(a + b - 1) / 2 for a, b in zip(edges[::2], edges[1::2], strict=True)]


def seen(page, box):
    """Return a part of a rendered page, grey, upright as printed."""
    wide, high = page.get_size()
    crop = (box.left * POINTS, box.bottom * POINTS, wide - box.right * POINTS,
            high - box.top * POINTS)  # fmt: skip
    return page.render(scale=DPI / 72, crop=crop, grayscale=True).to_numpy()


def test_both_rulers_of_every_tile_measure_right_on_the_rendered_page(printed):
    _, tiles, pages = printed
    document = pypdfium2.PdfDocument(write_pdf(pages))
    assert len(document) == len(tiles.printed) + 1
    per_mm = DPI / 25.4
    window = tiles.window
    for number in range(1, len(document)):
        page = document[number]
        across = Box(window.left - 1, window.bottom - 9.5, window.left + 103, window.bottom - 2.5)
        picture = seen(page, across)
        up = seen(
            page, Box(window.left - 9.5, window.bottom - 1, window.left - 2.5, window.bottom + 103)
        ).T[:, ::-1]  # turned: the ruler's left end first, its millimetre side last
        for ruler in (picture, up[::-1]):
            line = int(ruler.shape[0] * 0.5)
            upper = dark_runs(ruler[line - int(2.6 * per_mm)])
            lower = dark_runs(ruler[line + int(2.6 * per_mm)])
            ticks = [x for x in upper if x - upper[0] <= 100.5 * per_mm]
            assert (ticks[-1] - ticks[0]) / per_mm == pytest.approx(100.0, abs=0.07)
            assert (lower[-1] - lower[0]) / per_mm == pytest.approx(101.6, abs=0.07)


def test_a_page_printed_too_small_is_caught_by_the_ruler(panel):
    """The measuring itself sees 1 %: a page shrunk to fit must not pass."""
    chosen = with_paper(panel, TemplatePaper.A4)
    tiles = tiling(chosen.job.settings, todo(chosen).values())
    page = pypdfium2.PdfDocument(write_pdf(sheets()["template"].draw(chosen, ())))[1]
    per_mm = DPI / 25.4 * 0.99
    window = tiles.window
    box = Box(window.left - 1, window.bottom - 9.5, window.left + 103, window.bottom - 2.5)
    upper = dark_runs(seen(page, box)[int(0.9 * DPI / 25.4)])
    length = (max(x for x in upper if x < 101.4 * DPI / 25.4) - upper[0]) / per_mm
    assert abs(length - 100.0) > 0.5


def test_every_hole_is_on_a_tile_at_its_place_and_size(printed):
    panel, tiles, pages = printed
    found = set()
    for tile, page in zip(tiles.printed, pages[1:], strict=True):
        datum = on_paper(tiles, tile)
        circles = [
            c for c in page.primitives if isinstance(c, Circle) and c.layer.startswith("HOLE-")
        ]
        words = [p.text for p in page.primitives if isinstance(p, Text)]
        for circle in circles:
            x, y = circle.centre.x - datum.x, circle.centre.y - datum.y
            tags = [t for t, h in todo(panel).items() if hypot(h.x - x, h.y - y) < 1e-6]
            assert len(tags) == 1
            assert circle.radius == pytest.approx(todo(panel)[tags[0]].drill / 2)
            assert sum(word.startswith(f"{tags[0]}  ") for word in words) == 1
            found.add(tags[0])
    assert found == set(todo(panel))


def test_each_hole_says_what_it_holds_and_bodies_stand_in_thin_grey(printed):
    """Who punches knows which screw it is; an outline can't be taken for one to cut along."""
    panel, tiles, pages = printed
    named = set()
    for tile, page in zip(tiles.printed, pages[1:], strict=True):
        texts = [p for p in page.primitives if isinstance(p, Text)]
        words = {t.text.split("  ")[0]: t.text for t in texts if t.layer == "HOLE-TAG"}
        for tag, hole in todo(panel).items():
            if tag in words:
                assert words[tag].split("  ")[2] == hole.holds
        tags = [t for t in texts if t.layer == "GHOST-TAG"]
        named |= {t.text for t in tags}
        datum = on_paper(tiles, tile)
        for text in tags:
            body = body_box(panel, text.text)
            if body is not None:
                at = Point(text.at.x - datum.x, text.at.y - datum.y)
                assert body.contains(at)
        rings = [extent((p,)) for p in page.primitives if isinstance(p, Circle)]
        assert not any(text_box(text).overlaps(ring) for text in tags for ring in rings)
        assert {p.layer for p in page.primitives if isinstance(p, Line)} <= {
            "GHOST", "BORDER", "RULER", "REGISTER", "CUT-LINE", "FRAME", "AXIS", "GRID",
        }  # fmt: skip
    assert named >= set(panel.layout.devices)  # narrow ones upright


@pytest.mark.parametrize("about", [1, 2, 4])
def test_words_at_near_holes_are_led_to_them_and_no_leader_runs_over_words(panel, about):
    """A planned hole among some that are left over, as near as moved devices leave them."""
    hole = next(iter(todo(panel).values()))
    near = {
        f"H{900 + k}": dataclasses.replace(
            hole, x=hole.x + dx, y=hole.y + dy, state=HoleState.DRILLED, holds=""
        )
        for k, (dx, dy) in enumerate([(7.0, -3.0), (-7.0, -3.0), (0.0, 8.0), (9.0, 7.0)][:about])
    }
    layout = dataclasses.replace(panel.layout, holes={**panel.layout.holes, **near})
    crowded = dataclasses.replace(panel, layout=layout)
    tiles = tiling(crowded.job.settings, todo(crowded).values())
    pages = sheets()["template"].draw(crowded, ())[1:]
    seen = 0
    for tile, page in zip(tiles.printed, pages, strict=True):
        datum = on_paper(tiles, tile)
        words = [p for p in page.primitives if isinstance(p, Text) and p.layer in TAGS]
        lines = [p for p in page.primitives if isinstance(p, Line) and p.layer == "RULER"]
        for text in words:
            name = text.text.split("  ")[0]
            over = [one for one in lines if clipped(one.start, one.end, text_box(text))]
            assert over == [], text
            if name in near:
                seen += 1
                assert text.text.endswith("drilled, left over")
                at = near[name].centre
                at = Point(at.x + datum.x, at.y + datum.y)
                ring = near[name].drill / 2
                starts = [hypot(one.start.x - at.x, one.start.y - at.y) for one in lines]
                way = text_box(text).grown(1, 1, 1, 1).distance_to(at)
                assert way <= ring + 2.0 or any(abs(each - ring) < 1e-6 for each in starts)
    assert seen >= len(near)


def body_box(panel, tag):
    """Return where a device's body will stand, from the job's own numbers."""
    if tag not in panel.layout.devices:
        return None
    part, at = panel.job.part_of(tag), panel.layout.devices[tag]
    return Box(at.x, at.y, at.x + part.width, at.y + part.height)


def off_printer(panel, paper, x, y):
    """Return a panel whose job allows for a printer, its tiles, and its pages as drawn."""
    bench = Bench(paper=paper, printer_scale_x=x, printer_scale_y=y)
    settings = dataclasses.replace(panel.job.settings, bench=bench)
    chosen = dataclasses.replace(panel, job=dataclasses.replace(panel.job, settings=settings))
    return tiling(settings, todo(chosen).values()), sheets()["template"].draw(chosen, ())


@pytest.mark.parametrize("paper", PAPERS, ids=str)
def test_a_printer_that_is_off_is_allowed_for_in_both_directions(panel, paper):
    """What is drawn, times what the printer makes of it, is right: rulers and every hole."""
    x, y = 0.99, 1.015
    tiles, pages = off_printer(panel, paper, x, y)
    document = pypdfium2.PdfDocument(write_pdf(pages))
    per_mm = DPI / 25.4
    window = tiles.window
    found = set()
    for number, (tile, drawn) in enumerate(zip(tiles.printed, pages[1:], strict=True), start=1):
        low, left = window.bottom, window.left
        across = seen(document[number], Box(left - 1, low - 9.5, left + 103.5, low - 2.5))
        up = seen(document[number], Box(left - 9.5, low - 1, left - 2.5, low + 103.5)).T[:, ::-1]
        for ruler, scale in ((across, x), (up[::-1], y)):
            upper = dark_runs(ruler[int(ruler.shape[0] * 0.5) - int(2.6 * per_mm)])
            measured = [(at - upper[0]) / per_mm * scale for at in upper]
            assert min(abs(at - 100.0) for at in measured) < 0.07
        circles = [
            c for c in drawn.primitives if isinstance(c, Circle) and c.layer.startswith("HOLE-")
        ]
        for circle in circles:
            at_x = tile.shows.left + (circle.centre.x - left) * x
            at_y = tile.shows.bottom + (circle.centre.y - low) * y
            tags = [t for t, h in todo(panel).items() if hypot(h.x - at_x, h.y - at_y) < 1e-6]
            assert len(tags) == 1
            assert circle.radius * (x + y) / 2 == pytest.approx(todo(panel)[tags[0]].drill / 2)
            found |= set(tags)
        words = [p.text for p in drawn.primitives if isinstance(p, Text)]
        assert f"Printer: x {x:.4f}, y {y:.4f}" in words
    assert found == set(todo(panel))


def test_the_template_asks_for_what_the_rulers_measured(printed):
    _, _, pages = printed
    key = " ".join(p.text for p in pages[0].primitives if isinstance(p, Text))
    assert "printer_scale_x" in key
    assert "write down what they measured" in key
    for page in pages[1:]:
        words = [p.text for p in page.primitives if isinstance(p, Text)]
        assert "Measured: across _____ up _____" in words
        assert not any("Printer:" in word for word in words)


def test_register_marks_of_neighbours_lie_on_each_other(printed):
    _, tiles, pages = printed
    marks = {}
    for tile, page in zip(tiles.printed, pages[1:], strict=True):
        datum = on_paper(tiles, tile)
        marks[tile.column, tile.row] = {
            (round(p.points[0].x - datum.x, 6), round(p.points[0].y - datum.y, 6))
            for p in page.primitives
            if isinstance(p, Polyline) and p.layer == "REGISTER-BLACK"
        }
    for (column, row), own in marks.items():
        for other in ((column + 1, row), (column, row + 1)):
            if other in marks:
                assert len(own & marks[other]) == 2


def test_a_register_mark_cannot_be_taken_for_a_hole(printed):
    """No circle, no cross through its middle, and in words beside it what it is."""
    _, tiles, pages = printed
    told = 0
    for page in pages[1:]:
        black = [p for p in page.primitives if isinstance(p, Polyline)]
        middles = {p.points[0] for p in black if p.layer == "REGISTER-BLACK"}
        words = [p for p in page.primitives if isinstance(p, Text) and p.text == MARK_WORDS]
        told += len(words)
        assert len(words) == len(middles)
        assert not any(isinstance(p, Circle) and p.centre in middles for p in page.primitives)
        for line in (p for p in page.primitives if isinstance(p, Line) and p.layer == "REGISTER"):
            box = extent((line,))
            assert not any(box.contains(middle) for middle in middles)
    assert told or len(tiles.printed) == 1
    key = " ".join(p.text for p in pages[0].primitives if isinstance(p, Text))
    assert "Never punch a half-black square (register, not a hole)" in key


def test_only_what_is_punched_has_a_cross(printed):
    """The plate's own fixing holes are rings that say so."""
    panel, tiles, pages = printed
    fixings = panel.job.settings.plate.fixing_holes
    rings = set()
    for tile, page in zip(tiles.printed, pages[1:], strict=True):
        datum = on_paper(tiles, tile)
        places = {(round(f.x + datum.x, 6), round(f.y + datum.y, 6)) for f in fixings}
        here = {
            (round(c.centre.x, 6), round(c.centre.y, 6))
            for c in page.primitives
            if isinstance(c, Circle)
        } & places
        rings |= here
        words = [p.text for p in page.primitives if isinstance(p, Text)]
        assert words.count(EXISTS) == len(here)
        crosses = [extent((p,)).centre for p in page.primitives
                   if isinstance(p, Line) and p.layer in ("RULER", "FIXING")]  # fmt: skip
        assert not {(round(at.x, 6), round(at.y, 6)) for at in crosses} & places
    assert rings


def test_tiles_without_holes_are_left_out_and_told(printed):
    """What is left out has no hole that another tile does not show whole."""
    panel, tiles, pages = printed
    assert len(pages) == len(tiles.printed) + 1
    words = " ".join(p.text for p in pages[0].primitives if isinstance(p, Text))
    for hole in todo(panel).values():
        assert any(
            tile.shows.left + hole.drill / 2 <= hole.x <= tile.shows.right - hole.drill / 2
            and tile.shows.bottom + hole.drill / 2 <= hole.y <= tile.shows.top - hole.drill / 2
            for tile in tiles.printed
        )
    for tile in tiles.tiles:
        if not tile.number:
            assert f"{tile.column + 1}/{tile.row + 1}" in words
    whole = Box(0, 0, panel.job.settings.plate.width, panel.job.settings.plate.height)
    covered = tiles.tiles[0].shows.union(tiles.tiles[-1].shows)
    assert covered.contains(Point(0, 0))
    assert covered.contains(Point(whole.right, whole.top))


def test_the_datum_corner_is_printed_and_all_tiles_hang_together(printed):
    """Every place on the paper is found from the datum over register marks, tile by tile."""
    panel, tiles, pages = printed
    first = tiles.printed[0]
    assert first.shows.contains(Point(0, 0))
    datum = on_paper(tiles, first)
    plate = panel.job.settings.plate
    edges = [
        (p.start, p.end) for p in pages[1].primitives if isinstance(p, Line) and p.layer == "BORDER"
    ]
    assert any(a.x == b.x == pytest.approx(datum.x) for a, b in edges)
    assert any(a.y == b.y == pytest.approx(datum.y) for a, b in edges)
    assert plate.width > 0
    assert any("datum 0, 0" in p.text for p in pages[1].primitives if isinstance(p, Text))
    places = {(tile.column, tile.row) for tile in tiles.printed}
    reached, front = {(first.column, first.row)}, [(first.column, first.row)]
    while front:
        column, row = front.pop()
        for other in ((column + 1, row), (column - 1, row), (column, row + 1), (column, row - 1)):
            if other in places - reached:
                reached.add(other)
                front.append(other)
    assert reached == places


def strips(panel):
    """Yield what each tile alone shows of plates a few mm about a whole number of windows."""
    hole = next(iter(panel.layout.holes.values()))
    for paper in PAPERS:
        settings = with_paper(panel, paper).job.settings
        one = tiling(settings, [hole])
        across = one.tiles[0].shows.width - one.overlap
        for windows in (1, 2, 3):
            for more in (-3.0, 0.5, 2.0, 9.0, 25.0):
                wide = one.overlap + windows * across + more
                plate = dataclasses.replace(settings.plate, width=wide, height=300.0)
                corners = [
                    dataclasses.replace(hole, x=x, y=y)
                    for x in (8.0, wide / 2, wide - 4.0)
                    for y in (8.0, 292.0)
                ]
                tiles = tiling(dataclasses.replace(settings, plate=plate), corners)
                for tile in tiles.printed:
                    left = tile.shows.left + (tiles.overlap if tile.column else 0.0)
                    last = tile.column == tiles.columns - 1
                    right = tile.shows.right - (0.0 if last else tiles.overlap)
                    yield min(right, wide) - max(left, 0.0)


def test_no_tile_is_printed_for_a_mere_strip(panel, monkeypatch):
    assert min(strips(panel)) >= 30.0
    monkeypatch.setattr(tiles_module, "SHIFTS", (0.0,))  # the grid begins at the plate's corner
    monkeypatch.setattr(Paper, "turned", property(lambda paper: paper))
    assert min(strips(panel)) < 30.0


def test_each_tile_bears_a_map_with_itself_black(printed):
    _, tiles, pages = printed
    middles = []
    for page in pages[1:]:
        black = [
            p.box for p in page.primitives if isinstance(p, Rect) and p.layer == "REGISTER-BLACK"
        ]
        others = [p for p in page.primitives if isinstance(p, Rect) and p.layer == "GRID"
                  and p.box.width == pytest.approx(black[0].width)]  # fmt: skip
        assert len(black) == 1
        assert len(others) == len(tiles.printed) - 1
        middles.append(black[0].centre)
    assert len(set(middles)) == len(tiles.printed)


def test_no_register_mark_lies_on_a_hole(printed):
    panel, tiles, pages = printed
    for tile, page in zip(tiles.printed, pages[1:], strict=True):
        datum = on_paper(tiles, tile)
        for mark in page.primitives:
            if isinstance(mark, Polyline) and mark.layer == "REGISTER-BLACK":
                at = Point(mark.points[0].x - datum.x, mark.points[0].y - datum.y)
                square = Box(at.x - 4, at.y - 4, at.x + 4, at.y + 4)
                assert not any(square.contains(hole.centre) for hole in todo(panel).values())


def test_pages_keep_to_their_paper_and_lettering_is_legible(printed):
    _, tiles, pages = printed
    for page in pages:
        box = extent(page.primitives)
        assert min(box.left, box.bottom) >= 0
        assert box.right <= page.width
        assert box.top <= page.height
        boxes = [text_box(p) for p in page.primitives if isinstance(p, Text)]
        for index, one in enumerate(boxes):
            assert not any(one.overlaps(other) for other in boxes[index + 1 :])
    for page in pages[1:]:
        assert (page.width, page.height) in {
            (tiles.paper.width, tiles.paper.height), (tiles.paper.height, tiles.paper.width)
        }  # fmt: skip
        lines = [p for p in page.primitives if isinstance(p, Line) and p.layer == "RULER"]
        assert lines


def test_the_paper_follows_the_practice_where_the_job_says_nothing(panel):
    settings = panel.job.settings
    american = dataclasses.replace(settings, practice=Practice.NORTH_AMERICA)
    assert tiling(settings, ()).paper.name == "A3"
    assert tiling(american, ()).paper.name == "Tabloid"


def test_drilled_holes_need_no_template(panel, bare_panel):
    holes = {
        t: dataclasses.replace(h, state=HoleState.DRILLED) for t, h in panel.layout.holes.items()
    }
    layout = dataclasses.replace(panel.layout, holes=holes)
    (page,) = sheets()["template"].draw(dataclasses.replace(panel, layout=layout), ())
    assert NOTHING in [p.text for p in page.primitives if isinstance(p, Text)]
    assert len(sheets()["template"].draw(bare_panel, ())) == 1
