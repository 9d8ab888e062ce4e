"""Every edit in a real browser, by mouse and by keys, held to what lies in the file."""

from __future__ import annotations

import pytest

from platewright.model.layout import HoleState, Run

from .conftest import Bench

pytestmark = pytest.mark.browser


def test_drag_snaps_beside_the_neighbour_with_the_room_both_ask_for(bench: Bench) -> None:
    # -F4 (18 wide, no room asked at its sides) to the right of -F6, which ends at 234
    bench.drag("-F4", 234 - 188 + 3.0, 2.0)
    bench.saved("move -F4")
    at = bench.layout.devices["-F4"]
    assert at.x == 234.0
    assert at.y == pytest.approx(301.9), "its rail centre went back onto the rail"


def test_drag_goes_by_the_grid_where_nothing_is_near(bench: Bench) -> None:
    bench.page.get_by_label("What is shown").click()
    bench.page.get_by_label("Grid").select_option("5")
    bench.key("Escape")
    bench.page.get_by_label("What is shown").click()
    bench.key("+", "+", "+", "+")
    bench.drag("-T3", -41.0, -17.0)
    bench.saved("move -T3")
    at = bench.layout.devices["-T3"]
    assert (at.x % 5, at.y % 5) == (0.0, 0.0)


def test_nudge_by_keys_is_one_step(bench: Bench) -> None:
    bench.choose("-Q1")
    bench.key("ArrowRight", "ArrowRight", "Shift+ArrowUp", "Alt+ArrowLeft")
    bench.saved("move -Q1")
    at = bench.layout.devices["-Q1"]
    assert (at.x, at.y) == (91.9, 915.5)
    bench.key("Control+z")
    bench.page.get_by_role("button", name="Nothing to undo").wait_for()
    assert bench.layout.devices["-Q1"].x == 90.0
    bench.key("Control+y")
    bench.saved("move -Q1")


def test_everything_by_keys_alone(bench: Bench) -> None:
    bench.page.locator("svg.plate").focus()
    bench.key(".")
    first = bench.page.locator("#ticket h2").inner_text()
    assert bench.page.locator(":focus").get_attribute("data-tag") == first
    while bench.page.locator("#ticket h2").inner_text() != "-Q1":
        bench.key(".")
    bench.key("Enter")
    bench.page.keyboard.type("100")
    bench.key("Tab")
    bench.page.keyboard.press("Control+a")
    bench.page.keyboard.type("900-1/2")
    bench.key("Enter")
    bench.saved("put -Q1")
    assert (bench.layout.devices["-Q1"].x, bench.layout.devices["-Q1"].y) == (100.0, 900.5)
    bench.key("Escape", "l")
    bench.saved("lock -Q1")
    assert bench.layout.devices["-Q1"].locked
    bench.key("ArrowRight")
    bench.page.get_by_text("-Q1 is locked: unlock it first").wait_for()
    bench.key("l")
    bench.saved("unlock -Q1")
    bench.key("Delete")
    bench.saved("take off -Q1")
    assert "-Q1" not in bench.layout.devices
    bench.page.locator('[data-waiting="-Q1"]').focus()
    bench.key("Enter")
    bench.saved("put -Q1")
    assert "-Q1" in bench.layout.devices


@pytest.mark.parametrize(
    ("edges", "x", "y"),
    [
        ("left bottom", 120.0, 900.0),
        ("right bottom", 750 - 120 - 105.0, 900.0),
        ("left top", 120.0, 1150 - 900 - 135.0),
        ("right top", 750 - 120 - 105.0, 1150 - 900 - 135.0),
    ],
)
def test_a_measured_position_from_any_edge(bench: Bench, edges: str, x: float, y: float) -> None:
    bench.choose("-Q1")
    bench.page.get_by_label("Measured from which edges of the plate").select_option(edges)
    bench.page.get_by_label("Measured from the side edge").fill("120")
    bench.page.get_by_label("Measured from the lower or upper edge").fill("900")
    bench.page.get_by_role("button", name="Put there").click()
    bench.saved("put -Q1")
    at = bench.layout.devices["-Q1"]
    assert (at.x, at.y) == (x, y)


def test_a_length_that_is_none_is_said(bench: Bench) -> None:
    bench.choose("-Q1")
    bench.page.get_by_label("Measured from the side edge").fill("far")
    bench.page.get_by_role("button", name="Put there").click()
    bench.page.get_by_text("Write a number such as 12.5 or 1-3/8").wait_for()
    assert bench.layout.devices["-Q1"].x == 90.0


def test_several_chosen_swap_align_space_and_row(bench: Bench) -> None:
    bench.choose("-Q1", "-F2")
    bench.page.get_by_role("button", name="Swap").click()
    bench.saved("swap -Q1 and -F2")
    assert bench.layout.devices["-F2"].x == 90.0
    bench.choose("-F5", "-F6")
    bench.key("s")
    bench.saved("swap -F5 and -F6")
    bench.choose("-Q1", "-X4", "-F2")
    bench.page.get_by_role("button", name="Tops").click()
    bench.saved("align -Q1, -X4, -F2")
    bench.page.get_by_role("button", name="Space evenly →").click()
    bench.page.get_by_role("button", name="Undo: space evenly").wait_for()
    bench.choose("-T2")
    bench.key("r")
    bench.page.get_by_text("things").first.wait_for()
    assert {"-T2", "-B1", "R4"} <= set(
        bench.page.evaluate(
            "[...document.querySelectorAll('.thing.chosen')].map(n => n.dataset.tag)"
        )
    )
    before = bench.layout
    bench.key("Shift+ArrowUp")
    bench.page.get_by_role("button", name="Undo: move").wait_for()
    after = bench.layout
    assert after.devices["-T2"].y == before.devices["-T2"].y + 10
    assert after.rails["R4"].y == before.rails["R4"].y + 10


def test_a_frame_chooses_and_all_move_together(bench: Bench) -> None:
    box = bench.page.locator("svg.plate").bounding_box()
    q1, x4 = bench.body_spot("-Q1"), bench.body_spot("-F2")
    k = bench.scale
    bench.page.get_by_role("button", name="Choose by a frame").click()
    bench.page.mouse.move(q1[0] - 56 * k, q1[1] - 72 * k)
    bench.page.mouse.down()
    bench.page.mouse.move(x4[0] + 30 * k, x4[1] + 76 * k, steps=4)
    bench.page.mouse.up()
    assert bench.page.locator("#ticket h2").inner_text() == "3 things"
    bench.drag("-X4", 11.0, 0.0)
    bench.page.get_by_role("button", name="Undo: move").wait_for()
    moved = {t: a.x for t, a in bench.layout.devices.items()}
    assert moved["-Q1"] - 90 == moved["-X4"] - 210 == moved["-F2"] - 310 != 0
    assert box["width"] > 0


def test_tray_by_mouse(bench: Bench) -> None:
    bench.choose("-X3")
    bench.page.get_by_role("button", name="Take off").click()
    bench.saved("take off -X3")
    waiting = bench.page.locator('[data-waiting="-X3"]')
    box = waiting.bounding_box()
    x, y = bench.body_spot("-T1")
    bench.page.mouse.move(box["x"] + 10, box["y"] + 10)
    bench.page.mouse.down()
    bench.page.mouse.move(x, y + 180 * bench.scale, steps=8)
    bench.page.locator(".live .dimension").first.wait_for(state="attached")
    bench.page.mouse.up()
    bench.saved("put -X3")
    assert "-X3" in bench.layout.devices
    assert any(h.holds == "-X3" for h in bench.layout.holes.values())


def test_ducts_and_rails_are_drawn_stretched_and_made_of_another_size(bench: Bench) -> None:
    page, k = bench.page, bench.scale
    x, y = bench.body_spot("-T3")
    for tool, step in (("Draw a duct", "lay duct D8"), ("Draw a rail", "lay rail R8")):
        page.get_by_role("button", name=tool).click()
        page.mouse.move(x - 120 * k, y + (0 if "duct" in tool else 60 * k))
        page.mouse.down()
        page.mouse.move(x + 80 * k, y + 4 + (0 if "duct" in tool else 60 * k), steps=4)
        page.mouse.up()
        bench.saved(step)
    assert bench.layout.ducts["D8"].run is Run.ACROSS
    assert bench.layout.ducts["D8"].length == pytest.approx(200, abs=2)
    assert bench.layout.rails["R8"].length == pytest.approx(200, abs=2)
    bench.page.keyboard.press("Escape")
    duct = bench.thing("D8").locator(".duct").bounding_box()
    page.mouse.click(duct["x"] + 12, duct["y"] + duct["height"] / 2)
    end = page.locator('[data-end="end"]').bounding_box()
    page.mouse.move(end["x"] + end["width"] / 2, end["y"] + end["height"] / 2)
    page.mouse.down()
    page.mouse.move(end["x"] + end["width"] / 2 - 50 * k, end["y"] + end["height"] / 2, steps=4)
    page.mouse.up()
    page.get_by_role("button", name="Undo: cut D8").wait_for()
    assert bench.layout.ducts["D8"].length == pytest.approx(150, abs=3)
    page.get_by_label("Duct size").select_option("3x3")
    bench.saved("make D8 of 3x3")
    assert bench.layout.ducts["D8"].width == pytest.approx(76.2)


def test_the_live_figures_follow_the_hand(bench: Bench) -> None:
    page, k = bench.page, bench.scale
    bench.settled()
    x, y = bench.body_spot("-X4")
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x - 25 * k, y + 3, steps=5)
    page.locator(".live .clash").first.wait_for(state="attached")
    page.locator(".cell.live").wait_for()
    assert "in hand" in page.locator("#block").inner_text()
    page.mouse.move(x, y, steps=3)
    page.mouse.up()


def test_a_finding_shows_its_place_and_does_its_cure(bench: Bench) -> None:
    bench.settled()
    page = bench.page
    row = page.locator(".finding-head", has_text="reaches into duct D4").first
    number = row.get_attribute("data-number")
    page.locator(f'[data-finding="{number}"] circle').click(force=True)
    page.locator(".measure .spot").wait_for(state="attached")
    page.locator(".finding.chosen").get_by_text("By:").wait_for()
    bad = page.locator(".cell.fails output")
    before = int(bad.inner_text())
    page.get_by_role("button", name="Do it: make D4 of 1x3").click(timeout=30_000)
    bench.saved("cure: make D4 of 1x3")
    bench.settled()
    assert bench.layout.ducts["D4"].stock == "1x3"
    assert int(bad.inner_text()) < before
    assert not page.locator(".finding-head", has_text="reaches into duct D4").count(), "it is gone"
    bench.key("Control+z")
    page.locator(".finding-head", has_text="reaches into duct D4").first.wait_for()
    assert bench.layout.ducts["D4"].stock == "2x3"
    page.locator("svg.plate").focus()
    bench.key("Escape", "n")
    page.locator(".finding.chosen").wait_for()


def test_a_cure_by_keys_alone(bench: Bench) -> None:
    bench.settled()
    page = bench.page
    page.locator("svg.plate").focus()
    while "the groups mix" not in page.locator(".finding.chosen").all_inner_texts().__str__():
        bench.key("n")
    page.get_by_text("Do it: swap").wait_for(timeout=30_000)
    bench.key("d")
    page.get_by_role("button", name="Undo: cure: swap").wait_for()
    bench.settled()
    assert not page.locator(".finding-head", has_text="the groups mix").count()


def test_a_finding_is_drawn_as_a_dimension(bench: Bench) -> None:
    bench.settled()
    row = bench.page.locator(".finding-head", has_text="bottom of -K1, free to D4")
    row.click()
    texts = bench.page.locator(".measure .dimension text").all_text_contents()
    assert texts == ["needs 40 mm", "has -7 mm"]


def test_holes_are_ticked_off(bench: Bench) -> None:
    bench.page.get_by_role("tab", name="Cut and drill").click()
    line = bench.page.locator('[data-turn="H1"]')
    line.click()
    bench.saved("H1 marked")
    line.click()
    bench.saved("H1 drilled")
    assert bench.layout.holes["H1"].state is HoleState.DRILLED
    hole = bench.page.locator('[data-hole="H2"] circle').bounding_box()
    bench.page.mouse.click(hole["x"] + hole["width"] / 2, hole["y"] + hole["height"] / 2)
    bench.saved("H2 marked")


def test_undo_by_button(bench: Bench) -> None:
    bench.drag("-X4", 0.0, 25.0)
    bench.saved("move -X4")
    bench.page.get_by_role("button", name="Undo: move -X4").click()
    bench.page.get_by_role("button", name="Redo: move -X4").click()
    bench.saved("move -X4")


def test_ducts_and_rails_by_keys_alone(bench: Bench) -> None:
    page = bench.page
    page.locator("svg.plate").focus()
    bench.key("Shift+D", "Tab")
    page.get_by_label("Size of the new duct").select_option("2x3")
    for words, value in (
        ("Left end or edge", "60"), ("Lower end or edge", "700-1/2"), ("Length of the new piece", "300"),
    ):  # fmt: skip
        bench.key("Tab", "Control+a")
        assert words in str(page.locator(":focus").get_attribute("aria-label"))
        page.keyboard.type(value)
    bench.key("Enter")
    bench.saved("lay duct D8")
    duct = bench.layout.ducts["D8"]
    assert (duct.x, duct.y, duct.length, duct.stock) == (60.0, 700.5, 300.0, "2x3")
    assert page.locator("#ticket h2").inner_text() == "D8", "it is chosen"

    bench.key("]", "]", "Shift+]", "Alt+[")
    bench.saved("cut D8 to 311 mm")
    duct = bench.layout.ducts["D8"]
    assert (duct.x, duct.length) == (61.0, 311.0)

    page.get_by_label("Length of the piece").focus()
    bench.key("Control+a")
    page.keyboard.type("250")
    page.get_by_label("Which end stays").select_option("last")
    page.get_by_label("Length of the piece").focus()
    bench.key("Enter")
    bench.saved("cut D8 to 250 mm")
    end = duct.x + duct.length
    assert bench.layout.ducts["D8"].x + bench.layout.ducts["D8"].length == pytest.approx(end)
    page.get_by_label("Duct size").select_option("3x3")
    bench.saved("make D8 of 3x3")

    page.locator("svg.plate").focus()
    bench.key("Shift+ArrowUp")
    bench.saved("move D8")
    page.locator("svg.plate").focus()
    bench.key("Shift+R")
    page.get_by_label("Which way it runs").select_option("upright")
    page.get_by_label("Length of the new piece").fill("400")
    page.get_by_label("Left end or edge").fill("650")
    page.get_by_label("Lower end or edge").fill("100")
    page.get_by_role("button", name="Lay it").focus()
    bench.key("Enter")
    bench.saved("lay rail R8")
    rail = bench.layout.rails["R8"]
    assert (rail.x, rail.y, rail.length, rail.run) == (650.0, 100.0, 400.0, Run.UPRIGHT)
    bench.key("Delete")
    bench.saved("take off R8")
    assert "R8" not in bench.layout.rails


def test_the_size_typed_is_the_size_drawn(bench: Bench) -> None:
    page, k = bench.page, bench.scale
    x, y = bench.body_spot("-T3")
    page.get_by_role("button", name="Draw a duct").click()
    page.get_by_label("Size of the new duct").select_option("3x3")
    page.mouse.move(x - 120 * k, y)
    page.mouse.down()
    page.mouse.move(x + 80 * k, y + 2, steps=4)
    page.mouse.up()
    bench.saved("lay duct D8")
    assert bench.layout.ducts["D8"].stock == "3x3"


def test_align_and_space_by_keys(bench: Bench) -> None:
    page = bench.page
    page.locator("svg.plate").focus()
    bench.key(".")
    while page.locator("#ticket h2").inner_text() != "-Q1":
        bench.key(".")
    bench.key("Space", "Space", "Enter")
    tops = page.get_by_role("button", name="Tops")
    tops.focus()
    bench.key("Enter")
    page.get_by_role("button", name="Undo: align").wait_for()
    page.get_by_role("button", name="Space evenly →").focus()
    bench.key("Enter")
    page.get_by_role("button", name="Undo: space evenly").wait_for()
    page.locator("svg.plate").focus()
    bench.key("Control+a")
    total = len(bench.layout.devices) + len(bench.layout.ducts) + len(bench.layout.rails)
    assert page.locator("#ticket h2").inner_text() == f"{total} things"
