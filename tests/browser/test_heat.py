"""The stage "How warm" in a real Chromium: the judged numbers in colours, following the hand."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest

from platewright.app.gather import panel_of
from platewright.drawing.temperature_colours import band_colours
from platewright.heat.panel_heat import heat_of
from platewright.jobfile.folder import read_job
from platewright.jobfile.layout_file import read_layout
from platewright.model.heat import PanelHeat

from .conftest import Bench
from .test_page import axe, violations

__all__ = ["axe"]  # the fixture
pytestmark = pytest.mark.browser


def judged(bench: Bench) -> PanelHeat:
    job = read_job(bench.folder)
    return heat_of(panel_of(job, read_layout(bench.folder, job)))


def number(bench: Bench, tag: str) -> str:
    found = bench.thing(tag).locator(".degrees").get_attribute("data-number")
    return str(found)


def colour(bench: Bench, tag: str) -> str:
    script = "node => node.style.getPropertyValue('--heat')"
    return str(bench.thing(tag).evaluate(script))


def bands(bench: Bench) -> str:
    script = (
        "() => [...document.querySelectorAll('.field .band')].map(b => b.getAttribute('d')).join()"
    )
    return str(bench.page.evaluate(script))


NUMBERS = """() => JSON.stringify([...document.querySelectorAll('.devices .degrees')]
  .map(n => [n.parentNode.dataset.tag, n.dataset.number]))"""


def numbers(bench: Bench) -> dict[str, str]:
    """The number on each device."""
    return dict(json.loads(bench.page.evaluate(NUMBERS)))


def resting(bench: Bench) -> dict[str, str]:
    """The numbers once none has changed for a second: the last place of the hand is answered."""
    seen = [numbers(bench)]
    while len(seen) < 11 or any(one != seen[-1] for one in seen[-10:]):
        bench.page.wait_for_timeout(100)
        seen.append(numbers(bench))
    return seen[-1]


def shown(value: Any) -> str:
    return f"{value.value:.0f} ±{value.band:.0f}"


@pytest.fixture
def warm(bench: Bench) -> Bench:
    bench.settled()
    bench.page.get_by_role("tab", name="How warm").click()
    bench.page.locator(".with-heat .degrees").first.wait_for(state="attached")
    return bench


def told_as_judged(bench: Bench, heat: PanelHeat, view: str) -> None:
    """Every device's number and colour, and the warmest walls of ducts."""
    for tag, one in heat.devices.items():
        value = one.air if view == "air" else one.surface
        assert number(bench, tag) == shown(value), tag
        assert colour(bench, tag) in band_colours()
    with_number = bench.page.locator(".ducts .degrees").count()
    assert with_number == (len(heat.ducts) if view == "surfaces" else 0)


def test_air_and_surfaces_are_the_judged_ones(warm: Bench) -> None:
    heat, page = judged(warm), warm.page
    told_as_judged(warm, heat, "air")
    hot, cool = (pick(heat.devices.values(), key=lambda one: one.air.value) for pick in (max, min))
    order = list(band_colours())
    assert order.index(colour(warm, hot.tag)) > order.index(colour(warm, cool.tag))
    assert page.locator(".field.side").is_visible()
    page.get_by_role("button", name="Surfaces", exact=True).click()
    told_as_judged(warm, heat, "surfaces")
    for tag, wall in heat.ducts.items():
        assert number(warm, tag) == shown(wall.temperature)
    assert not page.locator(".field.side").is_visible()


def test_a_frame_says_where_a_limit_is_not_kept(warm: Bench) -> None:
    heat = judged(warm)
    for tag, one in heat.devices.items():
        classes = warm.thing(tag).get_attribute("class").split()
        over = one.limit is not None and one.air.low > one.limit
        close = one.limit is not None and one.air.low <= one.limit < one.air.high
        assert ("too-warm" in classes, "may-be-too-warm" in classes) == (over, close), tag
    warm.page.get_by_role("button", name="Surfaces", exact=True).click()
    assert "too-warm" in warm.thing("D7").get_attribute("class").split()
    assert "too-warm" not in warm.thing("-T1").get_attribute("class").split()


def test_the_list_has_the_least_margin_first_and_chooses_its_device(warm: Bench) -> None:
    heat, page = judged(warm), warm.page
    margins = {
        tag: one.limit - one.air.value for tag, one in heat.devices.items() if one.limit is not None
    }
    first = page.locator("table.warmth tbody tr").first
    tag = min(margins, key=lambda each: margins[each])
    cells = [words.replace("\u00a0", " ") for words in first.locator("th, td").all_inner_texts()]
    one = heat.devices[tag]
    assert cells[:2] == [tag, shown(one.air)]
    assert cells[3] == f"−{-margins[tag]:.0f}"
    assert cells[4] == shown(one.surface)
    first.get_by_role("button").click()
    assert warm.thing(tag).get_attribute("aria-pressed") == "true"
    text = page.locator("#column .sum:visible").inner_text().replace("\u00a0", " ")
    assert f"{heat.level.inside.value:.0f} ±{heat.level.inside.band:.0f} °C" in text


def test_the_scale_is_told_in_degrees(warm: Bench) -> None:
    scale = warm.page.locator(".heat-scale")
    marks = [float(words) for words in scale.locator("i").all_inner_texts()]
    assert len(marks) == len(band_colours()) - 1
    assert marks == sorted(marks)
    lines = {float(w) for w in warm.page.locator(".isotherm-numbers text").all_text_contents()}
    assert lines
    assert lines <= set(marks)
    label = scale.get_attribute("aria-label") or ""
    assert f"under {marks[0]:g} to over {marks[-1]:g} °C" in label


def test_heat_follows_the_hand_and_is_exact_when_it_lets_go(warm: Bench) -> None:
    page = warm.page
    before, field = page.evaluate(NUMBERS), bands(warm)
    x, y = warm.body_spot("-T3")
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x - 130 * warm.scale, y + 150 * warm.scale, steps=8)
    page.wait_for_function(f"before => ({NUMBERS})() !== before", arg=before)
    page.wait_for_function(
        "before => [...document.querySelectorAll('.field .band')]"
        ".map(b => b.getAttribute('d')).join() !== before",
        arg=field,
    )
    assert page.locator(".devices .in-hand").count() == 1, "the hand still holds it"
    assert warm.layout.devices["-T3"].x == 375.0, "nothing is saved yet"
    followed = resting(warm)
    page.mouse.up()
    warm.saved("move -T3")
    warm.settled()
    resting(warm)
    told_as_judged(warm, judged(warm), "air")
    assert followed == numbers(warm), "what was followed is what the check says"


def test_a_hand_that_is_stopped_leaves_the_temperatures_as_they_were(warm: Bench) -> None:
    page = warm.page
    heat, field = judged(warm), bands(warm)
    x, y = warm.body_spot("-T3")
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x - 130 * warm.scale, y, steps=8)
    page.wait_for_function(
        "before => [...document.querySelectorAll('.field .band')]"
        ".map(b => b.getAttribute('d')).join() !== before",
        arg=field,
    )
    page.evaluate(
        "document.querySelector('svg.plate')"
        ".dispatchEvent(new PointerEvent('pointercancel', { pointerId: 1 }))"
    )
    page.wait_for_function("() => !document.querySelector('.in-hand')")
    page.mouse.up()
    page.wait_for_timeout(300)
    assert bands(warm) == field
    told_as_judged(warm, heat, "air")


@pytest.mark.parametrize("kind", ["SVG", "PNG"])
def test_the_picture_is_taken_away(warm: Bench, kind: str) -> None:
    with warm.page.expect_download(timeout=30_000) as waited:
        warm.page.get_by_role("button", name=f"Picture of temperature: {kind}").click()
    assert waited.value.suggested_filename == f"temperatures.{kind.lower()}"
    begin = Path(waited.value.path()).read_bytes()[:5]
    assert begin == {"SVG": b"<?xml", "PNG": b"\x89PNG\r"}[kind]


def test_by_keys_alone(bench: Bench) -> None:
    bench.settled()
    page = bench.page
    page.get_by_role("tab", name="Where it goes").focus()
    bench.key("ArrowRight", "ArrowRight")
    page.locator(".with-heat .degrees").first.wait_for(state="attached")
    page.get_by_role("button", name="Surfaces", exact=True).focus()
    bench.key("Enter")
    assert page.get_by_role("button", name="Surfaces", exact=True).get_attribute(
        "aria-pressed"
    ) == "true"  # fmt: skip
    told_as_judged(bench, judged(bench), "surfaces")
    row = page.locator("table.warmth tbody tr", has_text="-T3").get_by_role("button")
    row.focus()
    bench.key("Enter")
    before = judged(bench)
    page.locator("svg.plate").focus()
    for _ in range(6):
        bench.key("Shift+ArrowLeft")
    bench.saved("move -T3")
    bench.settled()
    heat = judged(bench)
    assert heat.devices != before.devices
    page.wait_for_function(
        "told => document.querySelector('[data-tag=\"-T3\"] .degrees').dataset.number === told",
        arg=shown(heat.devices["-T3"].surface),
    )
    told_as_judged(bench, heat, "surfaces")


def test_heat_follows_the_keys_before_they_rest(warm: Bench) -> None:
    page = warm.page
    row = page.locator("table.warmth tbody tr", has_text="-T3").get_by_role("button")
    row.click()
    page.locator("svg.plate").focus()
    # on a busy machine two presses may lie further apart than the pause after which a shift is
    # saved: then nothing is seen of what comes before it, and it is looked at again
    assert any(_followed_unsaved(warm) for _ in range(6)), "heat did not follow before the save"
    warm.saved("move -T3")
    warm.settled()
    resting(warm)
    told_as_judged(warm, judged(warm), "air")


def _followed_unsaved(warm: Bench) -> bool:
    """Press arrow keys; tell whether numbers and field changed while the file had not."""
    warm.settled()
    resting(warm)
    before, field, held = numbers(warm), bands(warm), warm.layout.devices["-T3"].x
    for press in range(40):
        warm.key("Shift+ArrowLeft" if press < 4 else "Alt+ArrowLeft")
        warm.page.wait_for_timeout(60)
        if bands(warm) != field and numbers(warm) != before:
            return warm.layout.devices["-T3"].x == held
    return False


def test_a_shift_that_is_refused_leaves_the_temperatures_as_they_were(warm: Bench) -> None:
    page = warm.page
    heat, field = judged(warm), bands(warm)
    page.locator("table.warmth tbody tr", has_text="-T3").get_by_role("button").click()
    page.route("**/api/edit", lambda route: route.abort())
    page.locator("svg.plate").focus()
    for _ in range(12):
        warm.key("Shift+ArrowLeft")
    page.wait_for_function(
        "before => [...document.querySelectorAll('.field .band')]"
        ".map(b => b.getAttribute('d')).join() === before",
        arg=field,
    )
    page.wait_for_timeout(600)
    assert bands(warm) == field
    told_as_judged(warm, heat, "air")
    assert all("ERR_FAILED" in one for one in warm.troubles), "but for the edit that was cut off"
    warm.troubles.clear()


def test_temperatures_are_a_layer_of_every_stage(bench: Bench) -> None:
    page = bench.page
    bench.settled()
    assert page.locator(".with-heat").count() == 0
    page.get_by_label("What is shown").click()
    page.get_by_label("Temperatures", exact=True).check()
    page.locator(".with-heat .degrees").first.wait_for(state="attached")
    told_as_judged(bench, judged(bench), "air")
    page.get_by_label("Temperatures", exact=True).uncheck()
    assert page.locator(".with-heat").count() == 0
    assert not bench.thing("-T1").locator(".degrees").is_visible()
    assert bench.thing("-T1").locator(".tag").is_visible()


@pytest.mark.parametrize("light", ["light", "dark"])
def test_no_barrier(browser: Any, bench: Bench, axe: str, light: str) -> None:
    page = bench.page
    page.emulate_media(color_scheme=light)
    bench.settled()
    page.evaluate(axe)
    page.get_by_role("tab", name="How warm").click()
    page.locator(".with-heat .degrees").first.wait_for(state="attached")
    page.locator("table.warmth tbody button").first.click()
    page.get_by_text("What it rests on").click()
    for view in ("Air", "Surfaces"):
        page.get_by_role("button", name=view, exact=True).click()
        assert violations(page) == [], view
        ink = page.locator(".devices .degrees").first.evaluate("n => getComputedStyle(n).fill")
        assert ink == "rgb(21, 24, 28)", "dark ink on the colours, in the dark as well"


@pytest.mark.parametrize("size", [(1440, 900), (1024, 768), (390, 844)])
def test_the_answer_stands_in_its_column_at_three_sizes(
    browser: Any, address: str, folder: Any, size: tuple[int, int]
) -> None:
    context = browser.new_context(viewport={"width": size[0], "height": size[1]})
    bench = Bench(context.new_page(), address, folder).open()
    page = bench.page
    page.get_by_role("tab", name="How warm").click()
    page.locator(".with-heat .degrees").first.wait_for(state="attached")
    wide = page.evaluate("[document.documentElement.scrollWidth, innerWidth]")
    assert wide[0] <= wide[1]
    column = page.locator("#column").bounding_box()
    for part in (".heat-scale", "table.warmth"):
        box = page.locator(part).bounding_box()
        assert box["x"] >= column["x"]
        assert box["x"] + box["width"] <= column["x"] + column["width"] + 0.5, part
    cells = page.evaluate(
        "() => [...document.querySelectorAll('table.warmth td, table.warmth th')]"
        ".filter(c => c.scrollWidth > c.clientWidth + 1).map(c => c.innerText)"
    )
    assert cells == [], "no cell is cut off"
    assert re.search(r"K (too warm|to spare)", page.locator("#column .sum:visible").inner_text())
    context.close()
    assert bench.troubles == []
