"""The page as a whole: seen, zoomed, printed, shared by two tabs, safe, and usable by everyone."""

from __future__ import annotations

import io
import json
import os
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from PIL import Image, ImageDraw

from platewright.app.beside import comparing
from platewright.app.plans.compare import Comparison, compare
from platewright.app.plans.plan import Progress
from platewright.model.job import Job
from platewright.model.layout import Layout

from ..web.hostile import TAG, hostile_job
from .conftest import ROOT, Bench, missing, served

pytestmark = pytest.mark.browser
AXE = ROOT / "node_modules" / "axe-core" / "axe.min.js"
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]


def view_box(bench: Bench) -> list[float]:
    return [float(v) for v in bench.page.locator("svg.plate").get_attribute("viewBox").split()]


def test_the_plate_is_drawn_true_to_scale(bench: Bench) -> None:
    bench.page.locator(".ground .face").wait_for(state="visible")
    bench.thing("-Q1").locator(".body").wait_for(state="visible")
    face = bench.page.locator(".ground .face").bounding_box()
    body = bench.thing("-Q1").locator(".body").bounding_box()
    k = bench.scale
    # the stroke of 2.5 (face) and 2 pixels (body) counts to the box
    assert face["width"] == pytest.approx(750 * k, abs=3)
    assert face["height"] == pytest.approx(1150 * k, abs=3)
    assert body["x"] - face["x"] == pytest.approx(90 * k, abs=1)
    assert face["y"] + face["height"] - body["y"] - body["height"] == pytest.approx(
        905.5 * k, abs=1
    )
    assert bench.page.locator(".devices .thing").count() == len(bench.layout.devices)
    assert bench.page.locator(".ground .dimension text").first.text_content() == "750 mm"


def test_zoom_and_pan_by_wheel_keys_and_mouse(bench: Bench) -> None:
    page = bench.page
    x, y = bench.body_spot("-T3")
    before = view_box(bench)
    page.mouse.move(x, y)
    page.mouse.wheel(0, -600)
    page.wait_for_timeout(50)
    closer = view_box(bench)
    assert closer[2] < before[2]
    assert bench.body_spot("-T3") == pytest.approx((x, y), abs=1.5), "what lies under it stays"
    page.mouse.move(120, 700)
    page.mouse.down()
    page.mouse.move(180, 640, steps=3)
    page.mouse.up()
    assert view_box(bench)[0] == pytest.approx(closer[0] - 60 / bench.scale, abs=0.2)
    page.locator("svg.plate").focus()
    bench.key("Escape", "0")
    assert view_box(bench) == pytest.approx(before)
    bench.key("+", "ArrowRight")
    assert view_box(bench)[2] < before[2]


def test_fingers_drag_a_device_and_pinch(bench: Bench) -> None:
    touch = bench.page.context.new_cdp_session(bench.page)

    def send(kind: str, *points: tuple[float, float]) -> None:
        touch.send("Input.dispatchTouchEvent", {
            "type": kind, "touchPoints": [{"x": x, "y": y, "id": i} for i, (x, y) in enumerate(points)],
        })  # fmt: skip

    x, y = bench.body_spot("-T3")
    send("touchStart", (x, y))
    for step in range(1, 7):
        send("touchMove", (x - 5 * step, y + 3 * step))
    send("touchEnd")
    bench.saved("move -T3")
    assert bench.layout.devices["-T3"].x < 375
    before = view_box(bench)
    send("touchStart", (300, 300), (400, 300))
    for step in range(1, 6):
        send("touchMove", (300 - 12 * step, 300), (400 + 12 * step, 300))
    send("touchEnd")
    bench.page.wait_for_timeout(50)
    assert view_box(bench)[2] < before[2] * 0.7


def test_a_tablet_by_fingers_alone(browser: Any, address: str, folder: Path) -> None:
    """Pan with one finger, draw a duct, take a device off, put it back from the tray, undo."""
    context = browser.new_context(
        viewport={"width": 1024, "height": 768}, has_touch=True, is_mobile=True
    )
    bench = Bench(context.new_page(), address, folder).open()
    page = bench.page
    touch = context.new_cdp_session(page)

    def stroke(start: tuple[float, float], end: tuple[float, float]) -> None:
        def send(kind: str, *points: tuple[float, float]) -> None:
            touch.send("Input.dispatchTouchEvent", {
                "type": kind, "touchPoints": [{"x": x, "y": y} for x, y in points],
            })  # fmt: skip

        send("touchStart", start)
        for part in range(1, 7):
            send(
                "touchMove", tuple(a + (b - a) * part / 6 for a, b in zip(start, end, strict=True))
            )
        send("touchEnd")
        page.wait_for_timeout(500)  # as a hand takes; a tap at once would count to the stroke

    before = view_box(bench)
    box = page.locator("svg.plate").bounding_box()
    free = (box["x"] + 130.0, box["y"] + box["height"] - 20)
    stroke(free, (free[0] + 70, free[1] - 40))
    assert view_box(bench)[0] == pytest.approx(before[0] - 70 / bench.scale, abs=1.0)
    x, y = bench.body_spot("-T3")
    page.get_by_role("button", name="Draw a duct").tap()
    page.locator('#drawing[data-tool="duct"]').wait_for()
    stroke((x - 60, y + 4), (x + 40, y + 6))
    bench.saved("lay duct D8")
    page.get_by_role("button", name="Undo: lay duct D8").tap()
    page.get_by_role("button", name="Nothing to undo").wait_for()
    page.touchscreen.tap(*bench.body_spot("-X4"))
    page.get_by_role("button", name="Take off").tap()
    bench.saved("take off -X4")
    waiting = page.locator('[data-waiting="-X4"]').bounding_box()
    stroke((waiting["x"] + 20, waiting["y"] + 20), bench.body_spot("-T1"))
    bench.saved("put -X4")
    assert "-X4" in bench.layout.devices
    context.close()
    assert bench.troubles == []


def test_layers(bench: Bench) -> None:
    bench.page.get_by_label("What is shown").click()
    for word, what in (
        ("Side view", ".side:not(.field)"),
        ("Covers, plugs, levers", ".devices .cover"),
        ("Findings", ".balloons"),
    ):
        assert bench.page.locator(what).first.is_visible()
        bench.page.get_by_label(word, exact=True).uncheck()
        assert not bench.page.locator(what).first.is_visible()
    bench.page.get_by_label("Holes to drill").check()
    assert bench.page.locator(".hole").first.is_visible()
    bench.page.get_by_label("Clear space").check()
    assert bench.page.locator(".clear").count() == len(bench.layout.devices)


def test_wires_and_their_ways(bench: Bench) -> None:
    bench.page.get_by_role("tab", name="How it’s wired").click()
    bench.page.get_by_label("Find a wire").fill("-T1")
    bench.page.locator(".wire-line").first.click()
    assert bench.page.locator(".wire.chosen").count() == 1
    bench.page.get_by_role("tab", name="How warm").click()
    bench.page.get_by_text("236 W in all").wait_for()


def test_two_tabs_lose_no_edit(bench: Bench) -> None:
    other = Bench(bench.page.context.new_page(), bench.address, bench.folder).open()
    bench.drag("-X4", 0.0, 25.0)
    other.saved("move -X4")
    other.page.bring_to_front()
    other.drag("-T3", -41.0, 0.0)
    other.saved("move -T3")
    bench.saved("move -T3")
    at = bench.layout.devices
    assert at["-X4"].y != 936.0
    assert at["-T3"].x != 375.0
    assert other.troubles == []


def test_a_change_from_outside_is_told(bench: Bench) -> None:
    path = bench.folder / "layout.toml"
    path.write_text(
        path.read_text(encoding="utf-8").replace("x_mm = 210.0", "x_mm = 222.0"), encoding="utf-8"
    )
    note = bench.page.locator(".note", has_text="was changed outside")
    note.wait_for()
    bench.page.locator('[data-tag="-X4"][aria-label*="at 222, 936"]').wait_for(state="attached")
    note.get_by_role("button", name="Undo").click()
    bench.page.locator('[data-tag="-X4"][aria-label*="at 210, 936"]').wait_for(state="attached")
    assert bench.layout.devices["-X4"].x == 210.0


def test_a_plan_is_compared_taken_and_undone(bench: Bench) -> None:
    page = bench.page
    bench.settled()
    page.get_by_role("button", name="Plan…").click()
    page.get_by_role("button", name="Plan anew").click()
    page.get_by_text("not judged yet").first.wait_for(timeout=60_000)
    assert page.locator("#beside [data-beside]").count() > 20, "shown within the first search"
    page.locator(".compare").wait_for(timeout=60_000)
    assert "wire, m" in page.locator(".compare").inner_text()
    page.locator("#beside .moved").first.wait_for()
    page.get_by_role("button", name="Side by side").click()
    page.locator(".ghost-device").first.wait_for(state="attached")
    stop = page.get_by_role("button", name="Stop", exact=True)
    if stop.is_visible():
        stop.click()
    page.get_by_text(re.compile("Ended")).wait_for(timeout=30_000)
    assert bench.layout.devices["-Q1"].x == 90.0
    page.get_by_role("button", name="Take it").click()
    bench.saved("plan (anew)")
    bench.settled()
    assert page.locator(".cell.fails output").inner_text() == "0"
    bench.page.get_by_role("button", name="Undo: plan (anew)").click()
    page.get_by_role("button", name="Nothing to undo").wait_for()
    assert bench.layout.devices["-Q1"].x == 90.0


def test_presets_are_compared_and_one_is_taken(
    bench: Bench, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(comparing, "MOVES", 2_000)
    page = bench.page
    bench.settled()
    page.get_by_role("button", name="Plan…").click()
    assert page.get_by_label("Weigh the aims by").locator("option").count() > 4
    page.get_by_role("button", name="Compare the presets").click()
    page.locator(".plates .compare").wait_for(timeout=60_000)
    other = page.locator("[data-plate]").nth(1)
    other.click()
    name = other.get_attribute("data-plate")
    assert other.get_attribute("aria-pressed") == "true"
    page.get_by_label(f"Plate on offer: {name}").wait_for()
    page.get_by_role("button", name=f"Take {name}").click()
    bench.saved(f"plan (preset {name})")
    page.get_by_role("button", name="Undo: plan").click()
    page.get_by_role("button", name="Nothing to undo").wait_for()
    assert bench.layout.devices["-Q1"].x == 90.0


def test_a_list_is_edited_pasted_and_told_its_faults(
    browser: Any, address: str, folder: Path
) -> None:
    context = browser.new_context(
        viewport={"width": 1440, "height": 900}, permissions=["clipboard-read", "clipboard-write"]
    )
    bench = Bench(context.new_page(), address, folder).open()
    page = bench.page
    page.get_by_role("tab", name="What’s in it").click()
    cell = page.get_by_label("row 4, function")
    assert cell.input_value() == "protects the carousel drive"
    page.evaluate("navigator.clipboard.writeText('guards one\\ncarousel\\nguards two')")
    cell.focus()
    bench.key("Control+v")
    assert page.get_by_label("row 6, function").input_value() == "guards two"
    page.get_by_label("row 4, part").fill("no-such-part")
    page.get_by_role("button", name="Save").click()
    fault = page.locator(".faults button").first
    assert "devices.csv, row 4, part = 'no-such-part'" in fault.inner_text()
    fault.click()
    assert page.locator(":focus").input_value() == "no-such-part"
    page.locator(":focus").fill("fuse-3p-15a")
    page.get_by_role("button", name="Save").click()
    page.get_by_text("Saved; Undo takes it back").wait_for()
    assert "guards two" in (folder / "devices.csv").read_text(encoding="utf-8")
    # the browser itself writes the refused save (status 422) into its console
    assert [t for t in bench.troubles if "422" not in t] == []
    context.close()


def test_sheets_are_shown_taken_away_and_printed(bench: Bench) -> None:
    page = bench.page
    bench.settled()
    page.get_by_role("tab", name="Build").click()
    page.get_by_role("button", name="Hole schedule", exact=True).click()
    image = page.get_by_alt_text(re.compile("Hole schedule, page 1")).first
    image.wait_for()
    assert image.evaluate("node => node.decode().then(() => node.naturalWidth)") > 100
    with page.expect_download(timeout=30_000) as waited:
        page.get_by_role("button", name="Hole schedule: PDF").click()
    assert waited.value.suggested_filename == "holes.pdf"
    assert Path(waited.value.path()).read_bytes().startswith(b"%PDF")
    page.emulate_media(media="print")
    assert not page.locator("#head").is_visible()
    assert image.is_visible()
    page.emulate_media(media="screen")


def slanted_photo(path: Path) -> list[tuple[float, float]]:
    """A plate seen aslant; returns where its corners are in the picture."""
    corners = [(180.0, 1120.0), (820.0, 1040.0), (760.0, 160.0), (240.0, 90.0)]
    image = Image.new("RGB", (1000, 1200), (90, 80, 70))
    ImageDraw.Draw(image).polygon(corners, fill=(200, 205, 210))
    out = io.BytesIO()
    image.save(out, "JPEG")
    path.write_bytes(out.getvalue())
    return corners


def test_a_photo_lies_under_the_drawing(bench: Bench, tmp_path: Path) -> None:
    page = bench.page
    corners = slanted_photo(tmp_path / "phone.jpg")
    page.get_by_label("What is shown").click()
    page.get_by_role("button", name="Photo of the plate…").click()
    page.get_by_label("Picture of the plate").set_input_files(tmp_path / "phone.jpg")
    page.get_by_role("button", name="lower left corner of the plate").wait_for()
    for name, (x, y) in zip(
        ("lower left", "lower right", "upper right", "upper left"), corners, strict=True
    ):
        mark = page.get_by_role("button", name=f"{name} corner of the plate")
        box = mark.locator("circle").bounding_box()
        at = page.evaluate(
            "([x, y]) => { const p = new DOMPoint(x, y).matrixTransform("
            "document.querySelector('svg.corners').getScreenCTM()); return [p.x, p.y] }", [x, y],
        )  # fmt: skip
        page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
        page.mouse.down()
        page.mouse.move(*at, steps=3)
        page.mouse.up()
    mark.focus()
    bench.key("ArrowLeft", "ArrowRight")
    page.get_by_role("button", name="Lay it under the drawing").click()
    page.get_by_text("One pixel beside a corner is").wait_for()
    page.get_by_role("button", name="Close").last.click()
    photo = page.locator("image.photo[href^='blob:']")
    photo.wait_for(state="attached")
    assert photo.get_attribute("width") == "750"
    assert (bench.folder / "photo.jpg").exists()


def clicked_photo(bench: Bench, tmp_path: Path) -> None:
    """Choose a picture, click its four corners, lay it under the drawing."""
    page = bench.page
    corners = slanted_photo(tmp_path / "phone.jpg")
    page.get_by_label("What is shown").click()
    page.get_by_role("button", name="Photo of the plate…").click()
    page.get_by_label("Picture of the plate").set_input_files(tmp_path / "phone.jpg")
    for name, (x, y) in zip(
        ("lower left", "lower right", "upper right", "upper left"), corners, strict=True
    ):
        page.get_by_text(f"Click the {name} corner of the plate.").wait_for()
        page.mouse.click(*on_picture(page, x, y))
    page.get_by_role("button", name="Lay it under the drawing").click()
    page.get_by_text("Assumed: the lens draws straight lines straight").wait_for()
    page.locator("image.photo[href^='blob:']").wait_for(state="attached")


def on_picture(page: Any, x: float, y: float) -> tuple[float, float]:
    """Where a pixel of the picture is on the screen."""
    return tuple(page.evaluate(
        "([x, y]) => { const p = new DOMPoint(x, y).matrixTransform("
        "document.querySelector('svg.corners').getScreenCTM()); return [p.x, p.y] }", [x, y],
    ))  # fmt: skip


def test_a_photos_errors_are_measured(bench: Bench, tmp_path: Path) -> None:
    page = bench.page
    clicked_photo(bench, tmp_path)
    page.get_by_role("button", name="Check the edges").click()
    page.get_by_role("button", name="middle of the left edge").focus()
    bench.key("Shift+ArrowLeft")  # 20 pixels off the straight edge
    page.get_by_role("button", name="Add a known distance").click()
    page.get_by_label("Length of known distance 1").fill("200")
    page.get_by_role("button", name="start of known distance 1").focus()
    bench.key("Shift+ArrowUp", "ArrowRight")
    page.get_by_role("button", name="Lay it under the drawing").click()
    page.get_by_text("The left edge bends").wait_for()
    said = page.locator(".fit").inner_text()
    assert re.search(r"The left edge bends [1-9]\d*(\.\d)? mm outwards", said)
    assert re.search(r"Known distance 1 comes out \d+(\.\d)? mm too", said)
    assert "Bending by the lens is told, not corrected" in said
    kept = json.loads((bench.folder / "photo.json").read_text())
    assert len(kept["edges"]) == 4
    assert kept["known"][0]["length"] == 200


def test_devices_are_taken_over_from_the_photo(bench: Bench, tmp_path: Path) -> None:
    page = bench.page
    clicked_photo(bench, tmp_path)
    page.get_by_role("button", name="Compare and take over…").click()
    page.locator(".trace-row", has_text="-Q1").click()
    face, k = page.locator(".ground .face").bounding_box(), bench.scale
    left, bottom = face["x"] + 1.25, face["y"] + face["height"] - 1.25
    page.mouse.click(left + 120 * k, bottom - 890 * k)
    page.locator(".trace-row", has_text=re.compile(r"-Q1.*right.*down")).wait_for()
    assert bench.layout.devices["-Q1"].x == 90.0, "compared first, taken over when asked"
    bench.key("Shift+ArrowRight", "ArrowUp")
    page.wait_for_timeout(600)
    seen = json.loads((bench.folder / "photo.json").read_text())["seen"]["-Q1"]
    assert seen == pytest.approx([130.0, 891.0], abs=1.0)
    bench.key("Enter")
    bench.saved("take over -Q1 from the photo")
    at = bench.layout.devices["-Q1"]
    assert [at.x, at.y] == pytest.approx(seen, abs=0.06)
    assert at.locked
    page.get_by_role("button", name="Undo: take over -Q1").click()
    page.get_by_role("button", name="Nothing to undo").wait_for()
    assert bench.layout.devices["-Q1"].x == 90.0


def test_a_hostile_folder_runs_no_script(browser: Any, tmp_path: Path) -> None:
    folder = hostile_job(tmp_path / "harm")
    context = browser.new_context(viewport={"width": 1200, "height": 800})
    with served(folder) as address:
        bench = Bench(context.new_page(), address, folder).open()
        for stage in (
            "What’s in it",
            "How it’s wired",
            "How warm",
            "Cut and drill",
            "Build",
            "Where it goes",
        ):
            bench.page.get_by_role("tab", name=stage).click()
            bench.page.wait_for_timeout(150)
        bench.page.get_by_role("tab", name="What’s in it").click()
        for name in ("Parts", "Wires", "The job"):
            bench.page.get_by_role("button", name=name, exact=True).click()
            bench.page.wait_for_timeout(150)
        bench.page.get_by_role("button", name="As text").click()
        bench.page.get_by_label("job.toml as text").wait_for()
        bench.page.get_by_role("tab", name="Where it goes").click()
        bench.page.get_by_role("button", name="Plan…").click()
        bench.page.get_by_role("button", name="Close the plan").click()
        bench.page.locator("svg.plate").focus()
        bench.key("Control+a", "Escape", ".", "n")
        bench.page.wait_for_timeout(200)
        assert bench.page.evaluate("window.harmed") is None
        assert bench.page.locator(f'[data-tag="{TAG}"] .tag').text_content() == TAG
        assert bench.page.locator("script").count() == 2
        assert bench.page.locator("#sheet img[src=x]").count() == 0
        assert bench.troubles == []
        context.close()


def test_without_the_key_nothing_is_shown(browser: Any, address: str) -> None:
    context = browser.new_context()
    page = context.new_page()
    page.goto(address.split("#", maxsplit=1)[0])
    page.get_by_text("Start the page from a terminal").wait_for()
    context.close()


@pytest.fixture(scope="module")
def axe() -> str:
    if not AXE.is_file():
        missing("axe-core is not installed (npm ci): the accessibility check is left out")
    return AXE.read_text(encoding="utf-8")


def violations(page: Any) -> list[str]:
    """Every rule of WCAG 2.2 AA and of good practice that is broken, with where and why."""
    found = page.evaluate(
        "only => axe.run(document, { runOnly: only }).then(r =>"
        " r.violations.map(v => v.id + ': ' + v.nodes.slice(0, 3).map(n => n.html.slice(0, 160)"
        " + ' | ' + n.failureSummary).join(' || ')))",
        {"type": "tag", "values": RULES},
    )
    return list(found)


def every_state(bench: Bench) -> Iterator[str]:
    """Bring the page into each state a person meets, one after the other."""
    page = bench.page
    page.locator(".finding-head").first.click()
    page.locator("svg.plate").first.focus()
    bench.key(".")
    yield "a finding and a device chosen"
    bench.key("Escape", "Control+a")
    yield "everything chosen"
    bench.key("Escape", "Shift+D")
    yield "a new duct"
    bench.key("Escape")
    page.get_by_role("button", name="Zoom in").or_(page.locator("svg.plate")).first.focus()
    page.get_by_label("What is shown").click()
    yield "what is shown"
    page.get_by_label("What is shown").click()
    for stage in ("How it’s wired", "How warm", "Cut and drill", "What’s in it", "Build"):
        page.get_by_role("tab", name=stage).click()
        page.wait_for_timeout(250)
        yield stage
    page.get_by_role("tab", name="What’s in it").click()
    page.get_by_role("button", name="The job").click()
    page.locator('[data-path="plate.width_mm"]').wait_for()
    yield "the job's settings"
    page.get_by_role("button", name="As text").click()
    page.get_by_label("job.toml as text").wait_for()
    yield "the job as text"
    page.get_by_role("button", name="As a form").click()
    page.get_by_role("tab", name="Where it goes").click()
    page.get_by_role("button", name="Plan…").click()
    yield "ways to plan"
    page.get_by_role("button", name="Compare the presets").click()
    page.locator(".plates .compare").wait_for(timeout=90_000)
    yield "presets compared"
    page.get_by_role("button", name="Leave as it was").click()
    page.get_by_role("button", name="Keys").click()
    yield "the keys"
    bench.key("Escape")


@pytest.fixture(scope="module")
def compared_once() -> Callable[..., Comparison]:
    """The comparison itself, worked out once for the same question: only its looks differ here."""
    made: dict[str, Comparison] = {}

    def once(job: Job, layout: Layout, *, progress: Progress, **how: Any) -> Comparison:
        asked = repr((job, layout, how))
        if asked not in made:
            made[asked] = compare(job, layout, progress=progress, **how)
        return made[asked]

    return once


@pytest.mark.parametrize("light", ["light", "dark"])
@pytest.mark.parametrize("size", [(1440, 900), (1024, 768), (390, 844)])
def test_no_barrier_at_any_stage(
    browser: Any, address: str, folder: Path, axe: str, light: str, size: tuple[int, int],
    compared_once: Callable[..., Comparison], monkeypatch: pytest.MonkeyPatch,
) -> None:  # fmt: skip
    monkeypatch.setattr(comparing, "MOVES", 1_000)
    monkeypatch.setattr("platewright.app.plans.compare.compare", compared_once)
    context = browser.new_context(
        viewport={"width": size[0], "height": size[1]}, color_scheme=light
    )
    bench = Bench(context.new_page(), address, folder).open()
    bench.settled()
    bench.page.evaluate(axe)
    shots = os.environ.get("PLATEWRIGHT_SHOTS")
    found = {}
    for number, state in enumerate(every_state(bench)):
        if shots:
            bench.page.screenshot(path=f"{shots}/{size[0]}-{light}-{number:02}.png")
        if broken := violations(bench.page):
            found[state] = broken
    context.close()
    assert not found, "\n".join(f"{state}: {broken}" for state, broken in found.items())
    assert bench.troubles == []


@pytest.mark.parametrize("size", [(1440, 900), (1024, 768), (390, 844)])
def test_nothing_is_cut_off_at_three_sizes(
    browser: Any, address: str, folder: Path, size: tuple[int, int]
) -> None:
    context = browser.new_context(viewport={"width": size[0], "height": size[1]})
    bench = Bench(context.new_page(), address, folder).open()
    wide = bench.page.evaluate("[document.documentElement.scrollWidth, innerWidth]")
    assert wide[0] <= wide[1]
    for button in bench.page.locator("#head .doing button, #tools > button, #tools summary").all():
        box = button.bounding_box()
        if not box:
            continue
        assert min(box["width"], box["height"]) >= 44, "large enough for a glove"
        assert box["x"] >= 0
        assert box["x"] + box["width"] <= size[0] + 0.5
        assert box["y"] + box["height"] <= size[1]
    context.close()
    assert bench.troubles == []
