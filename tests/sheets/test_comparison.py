"""Plates side by side: all on the page, none on another, their figures by them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from platewright.drawing.extent import extent
from platewright.drawing.lettering import text_width
from platewright.drawing.picture import Picture, Rect, Text
from platewright.model.geometry import Box
from platewright.model.job import DisplayUnit
from platewright.sheets.comparison import Shown, ShownLine, comparison_pages, warm_devices


def _shown(panel, count: int) -> list[Shown]:
    lines = (ShownLine(words="wire, m", value="12.3", is_best=True),
             ShownLine(words="holes", value="40", is_best=False))  # fmt: skip
    return [
        Shown(
            panel=panel, name=f"plate-{k}", title="in words " * 6, lines=lines, remarks=("so so",)
        )
        for k in range(count)
    ]


def _plates(page: Picture, panel) -> list[Box]:
    plate = panel.job.settings.plate
    ratio = plate.width / plate.height
    boxes = [p.box for p in page.primitives if isinstance(p, Rect) and p.layer == "PLATE"]
    return [b for b in boxes if b.width / b.height == pytest.approx(ratio, abs=1e-6)]


@pytest.mark.parametrize("count", [1, 2, 3, 6, 7])
def test_every_plate_is_drawn_once_and_apart(panel, count: int) -> None:
    pages = comparison_pages(_shown(panel, count))
    found = [(page, box) for page in pages for box in _plates(page, panel)]
    assert len(found) == count
    for page in pages:
        boxes = _plates(page, panel)
        assert not any(a.overlaps(b) for k, a in enumerate(boxes) for b in boxes[:k])
        around = extent(page.primitives)
        assert around.right <= page.width
        assert around.top <= page.height


def test_figures_stand_by_their_plate_and_the_least_is_bold(panel) -> None:
    (page,) = comparison_pages(_shown(panel, 3))
    texts = [p for p in page.primitives if isinstance(p, Text)]
    assert [t.bold for t in texts if t.text == "12.3"] == [True] * 3
    assert [t.bold for t in texts if t.text == "40"] == [False] * 3
    for k in range(3):
        assert sum(t.text == f"plate-{k}" for t in texts) == 1


def test_the_fewest_devices_that_give_off_four_fifths_of_the_heat_are_grey(panel) -> None:
    warm = warm_devices(panel)
    heat = {t: panel.job.part_of(t).heat or 0.0 for t in panel.layout.devices}
    total = sum(heat.values())
    assert sum(heat[t] for t in warm) >= 0.8 * total
    if warm:
        least = min(warm, key=lambda t: heat[t])
        assert sum(heat[t] for t in warm) - heat[least] < 0.8 * total
    parts = {name: replace(part, heat=None) for name, part in panel.job.parts.items()}
    cold = replace(panel, job=replace(panel.job, parts=parts))
    assert warm_devices(cold) == frozenset()


def test_a_plate_that_fails_is_named_in_the_title(panel) -> None:
    first, second, third = _shown(panel, 3)
    (page,) = comparison_pages([first, replace(second, fails=2), third])
    told = [t.text for t in page.primitives if isinstance(t, Text) and "NOT TO BUILD" in t.text]
    assert len(told) == 1
    assert "plate-1" in told[0]
    assert "plate-0" not in told[0]
    (fine,) = comparison_pages([first, second, third])
    assert not any("NOT TO BUILD" in t.text for t in fine.primitives if isinstance(t, Text))


LONG = "terminals from the cable entry, mean, mm"


def _with_a_long_line(panel, count: int) -> list[Shown]:
    """Return plates of the size and with the lines of a full comparison."""
    named = ("wire, m", "plate height used, mm", "air over a device's limit, K", LONG, "holes")
    shown = _shown(panel, count)
    return [
        replace(
            one, title=one.title * (k % 3 + 1), name="smallest-plate",
            lines=tuple(ShownLine(words=w, value="1234.5", is_best=k == 1) for w in named),
        )
        for k, one in enumerate(shown)
    ]  # fmt: skip


def _box_of(text: Text) -> Box:
    width = text_width(text.text, text.size, bold=text.bold)
    left = text.at.x - (width if text.anchor.value == "right" else 0.0)
    return Box(left, text.at.y, left + width, text.at.y + text.size)


@pytest.mark.parametrize("unit", list(DisplayUnit))
@pytest.mark.parametrize("count", [2, 4, 7])
def test_words_and_figures_keep_clear_of_each_other_and_of_the_frame(panel, count, unit) -> None:
    settings = replace(panel.job.settings, units=unit)
    panel = replace(panel, job=replace(panel.job, settings=settings))
    for page in comparison_pages(_with_a_long_line(panel, count)):
        foot = 10.0 + 40.0  # frame (ISO 5457) and title block
        texts = [
            p for p in page.primitives
            if isinstance(p, Text) and p.layer == "TEXT" and p.at.y > foot and p.text
        ]  # fmt: skip
        figures = [_box_of(t) for t in texts]
        assert any(t.text.startswith("terminals from") for t in texts)
        assert all(box.right <= page.width - 10.0 for box in figures)
        assert not any(a.overlaps(b) for k, a in enumerate(figures) for b in figures[:k])
        ends = [t for t in texts if t.text == "1234.5"]
        beside = {round(t.at.y, 3) for t in ends}
        rows = {round(box.top, 3) for box in _plates(page, panel)}
        assert len(beside) == 5 * len(rows)  # figures of one row of plates stand at one height


@pytest.mark.parametrize(("count", "pages"), [(2, 1), (4, 1), (7, 2)])
def test_a_plate_of_usual_size_is_drawn_at_1_to_10(panel, count: int, pages: int) -> None:
    plate = replace(panel.job.settings.plate, width=750.0, height=1150.0, fixing_holes=())
    settings = replace(panel.job.settings, plate=plate, units=DisplayUnit.MM)
    panel = replace(panel, job=replace(panel.job, settings=settings))
    found = comparison_pages(_with_a_long_line(panel, count))
    assert len(found) == pages
    for page in found:
        assert all(box.width == pytest.approx(75.0) for box in _plates(page, panel))
        assert any(isinstance(p, Text) and p.text == "1:10" for p in page.primitives)


def test_many_plates_not_to_build_are_counted_in_the_title(panel) -> None:
    shown = [replace(one, fails=1) for one in _shown(panel, 5)]
    page = comparison_pages(shown)[0]
    (title,) = [p.text for p in page.primitives if isinstance(p, Text) and "NOT TO BUILD" in p.text]
    assert "NOT TO BUILD: 5 of 5 plates, said beside each" in title


def test_two_large_plates_stay_side_by_side(panel) -> None:
    plate = replace(panel.job.settings.plate, width=1696.0, height=1896.0, fixing_holes=())
    settings = replace(panel.job.settings, plate=plate, units=DisplayUnit.MM)
    panel = replace(panel, job=replace(panel.job, settings=settings))
    assert len(comparison_pages(_with_a_long_line(panel, 2))) == 1
