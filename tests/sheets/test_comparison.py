"""Plates side by side: all on the page, none on another, their figures by them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from platewright.drawing.extent import extent
from platewright.drawing.picture import Picture, Rect, Text
from platewright.model.geometry import Box
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
