"""The heat report: complete, readable without colour, and drawn from the judged numbers."""

from itertools import pairwise

import pytest

from platewright.drawing.picture import Rect, Text
from platewright.drawing.styles import style_of
from platewright.heat.panel_heat import heat_of
from platewright.sheets.heat_picture import BANDS, heat_picture
from platewright.sheets.registry import listings, sheets


@pytest.fixture(scope="module")
def words(panel, findings):
    pages = sheets()["heat"].draw(panel, findings)
    return " ".join(p.text for page in pages for p in page.primitives if isinstance(p, Text))


def test_it_says_what_a_thermal_data_sheet_says(words):
    for part in (
        "wall balance", "power law", "Difference of the methods", "Method.", "Assumed",
        "cannot know", "not a type test", "Margin", "Filter fan", "Cooling unit", "Heater",
        "Losses of devices", "Balance closes",
    ):  # fmt: skip
        assert part in words, part


def test_every_temperature_of_a_device_has_its_band(words, panel):
    for one in heat_of(panel).devices.values():
        assert f"{one.air.value:.0f} ± {one.air.band:.0f} °C" in words


def test_the_scale_is_told_by_lightness_alone():
    greys = [style_of(f"HEAT-{band}").fill for band in range(BANDS)]
    assert all(a - b >= 0.05 for a, b in pairwise(greys))
    assert greys[-1] >= 0.4  # black lettering on it can be read


def test_darker_is_warmer(panel):
    heat = heat_of(panel)
    parts = heat_picture(panel, heat, width=160.0, height=120.0)
    drawn = {p.layer for p in parts if isinstance(p, Rect) and p.layer.startswith("HEAT-")}
    assert {"HEAT-0", "HEAT-4"} <= drawn
    marks = [
        p.text
        for p in parts
        if isinstance(p, Text) and p.text.endswith("°C") and p.text[0].isdigit()
    ]
    values = [float(mark.split()[0]) for mark in marks]
    assert values == sorted(values)
    assert values[0] <= float(heat.front.values.min())
    step = values[1] - values[0]
    assert values[-1] + step >= float(heat.front.values.max())


def test_the_picture_keeps_to_its_space(panel):
    parts = heat_picture(panel, heat_of(panel), width=160.0, height=120.0)
    boxes = [p.box for p in parts if isinstance(p, Rect)]
    assert max(b.right for b in boxes) - min(b.left for b in boxes) <= 160.0
    assert max(b.top for b in boxes) - min(b.bottom for b in boxes) <= 120.0


def test_a_job_without_a_layout_still_has_its_report(bare_panel, findings):
    pages = sheets()["heat"].draw(bare_panel, findings)
    words = " ".join(p.text for page in pages for p in page.primitives if isinstance(p, Text))
    assert "Air inside" in words
    assert "Where it is warm" not in words


def test_the_list_holds_every_placed_device(panel, findings):
    table = listings()["heat"].make(panel, findings)
    assert {row[0] for row in table.rows} == set(heat_of(panel).devices)
    assert all(len(row) == len(table.columns) for row in table.rows)
