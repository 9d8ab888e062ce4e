"""The job's settings in a real browser: by form, by keys alone, as text; faults at their field."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest

from .conftest import Bench, served

pytestmark = pytest.mark.browser


def stated(bench: Bench) -> dict[str, Any]:
    return tomllib.loads((bench.folder / "job.toml").read_text(encoding="utf-8"))


def opened(bench: Bench) -> Any:
    bench.page.get_by_role("tab", name="What’s in it").click()
    bench.page.get_by_role("button", name="The job").click()
    return bench.page


def test_a_setting_by_keys_alone_and_undo(bench: Bench) -> None:
    page = opened(bench)
    before = stated(bench)
    field = page.locator('[data-path="plate.width_mm"]')
    field.focus()
    bench.key("Control+a")
    page.keyboard.type("745")
    save = page.get_by_role("button", name="Save settings")
    save.focus()
    bench.key("Enter")
    page.get_by_text("Saved; Undo takes it back").wait_for()
    assert stated(bench)["plate"]["width_mm"] == 745
    bench.saved("edit job.toml: plate.width_mm")
    page.get_by_role("button", name="Undo: edit job.toml").click()
    page.locator('[data-path="plate.width_mm"][value="750"]').wait_for()
    assert stated(bench) == before


def test_faults_lead_to_their_field(browser: Any, address: str, folder: Any) -> None:
    context = browser.new_context(viewport={"width": 1440, "height": 900})
    bench = Bench(context.new_page(), address, folder).open()
    page = opened(bench)
    page.locator('[data-path="enclosure.width_mm"]').fill("700")
    page.get_by_role("button", name="Save settings").click()
    page.get_by_text("is more than the enclosure's width of 700 mm").wait_for()
    at = page.locator(":focus")
    assert at.get_attribute("data-path") == "plate.width_mm"
    assert at.get_attribute("aria-invalid") == "true"
    assert stated(bench)["enclosure"]["width_mm"] == 800
    # the browser itself writes the refused save (status 422) into its console
    assert [t for t in bench.troubles if "422" not in t] == []
    context.close()


def test_rows_are_added_and_taken_out(bench: Bench) -> None:
    page = opened(bench)
    page.locator('[data-add="plate.keep_outs"]').click()
    count = len(stated(bench)["plate"].get("keep_outs", [])) + 1
    for key, value in (
        ("x_mm", "600"),
        ("y_mm", "20"),
        ("width_mm", "30"),
        ("height_mm", "1-1/2 in"),
        ("reason", "hose"),
    ):
        page.locator(f'[data-path="plate.keep_outs[{count}].{key}"]').fill(value)
    page.get_by_role("button", name="Save settings").click()
    bench.saved("edit job.toml: plate.keep_outs")
    assert stated(bench)["plate"]["keep_outs"][-1]["reason"] == "hose"
    page.get_by_role("tab", name="Where it goes").click()
    assert page.locator(".ground .keep-out:not(.fixing)").count() == count
    opened(bench).get_by_role("button", name=f"Take row {count} out of plate.keep_outs").click()
    page.get_by_role("button", name="Save settings").click()
    page.get_by_text("Saved; Undo takes it back").wait_for()
    assert len(stated(bench)["plate"].get("keep_outs", [])) == count - 1


def test_as_text_and_undone_after_a_new_start(browser: Any, folder: Any) -> None:
    before = (folder / "job.toml").read_bytes()
    context = browser.new_context(viewport={"width": 1440, "height": 900})
    with served(folder) as address:
        bench = Bench(context.new_page(), address, folder).open()
        page = opened(bench)
        page.get_by_role("button", name="As text").click()
        text = page.get_by_label("job.toml as text")
        text.fill(text.input_value() + "# a word to the bench\n")
        page.get_by_role("button", name="Save settings").click()
        page.get_by_text("Saved; Undo takes it back").wait_for()
        assert (folder / "job.toml").read_bytes() == before + b"# a word to the bench\n"
        assert bench.troubles == []
    with served(folder) as address:
        bench = Bench(context.new_page(), address, folder).open()
        bench.page.get_by_role("button", name="Undo: edit job.toml").click()
        bench.page.get_by_role("button", name="Redo: edit job.toml").wait_for()
        assert (folder / "job.toml").read_bytes() == before
        assert bench.troubles == []
    context.close()
