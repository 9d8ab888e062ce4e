"""The page on a plate of 300 devices and 1000 wires, in a real headless Chromium.

Frames are the times between two pictures of the browser while one device is dragged for four
seconds with all live results on (the mouse is moved between any two pictures). First picture:
from the start of loading until the plate is drawn. Re-check: one live answer inside the server,
each place asked three times and the quickest counted, so that other work on the machine does not.
Without Chromium only the last is measured, and that is said.

The longest task is the longest piece of work of the page's own thread in one more drag, in that
thread's time, so that other work on the machine does not count. The server is a process of its
own, as for a user.

Heat: one drag more with the temperatures shown and followed (``drag_heat_…``); and one answer of
heat for 150 devices inside the server, as sent, in this thread's own time.

Baselines are the limits the work is held to: 16.7 ms, 50 ms, 1000 ms, 10 ms.
"""

from __future__ import annotations

import contextlib
import json
import os
import random
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np

from generated_jobs import generated_job
from page_trace import CATEGORIES, longest_task

DEVICES, WIRES = 300, 1000
SECONDS = 4.0
FRAMES = """
() => { const times = []; let last = 0;
  window.benchFrames = times;
  const tick = now => { if (last) times.push(now - last); last = now;
    window.benchTimer = requestAnimationFrame(tick); };
  requestAnimationFrame(tick); }
"""
FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
)  # fmt: skip
HEARD = """
() => { window.benchWarm = 0;
  new MutationObserver(() => { window.benchWarm += 1; }).observe(
    document.querySelector('.field .band:nth-of-type(4)'), { attributeFilter: ['d'] }); }
"""
Row = dict[str, str | float]


def rows(data: Path | None = None) -> list[Row]:  # noqa: ARG001  (one form for all)
    """Return the measured rows."""
    with tempfile.TemporaryDirectory() as parent:
        folder = written_job(Path(parent) / "generated")
        found = [recheck(folder), heat_answer()]
        path = shutil.which(os.environ.get("PLATEWRIGHT_CHROMIUM", "chromium"))
        if path is None:
            print(
                "no Chromium on this machine: the page's frames were not measured", file=sys.stderr
            )
            return found
        return [*in_browser(folder, path), *found]


def written_job(folder: Path) -> Path:
    """Plan the generated job for a short while and write it as a folder."""
    from platewright.app.plans.plan import Budget, plan
    from platewright.jobfile.folder import write_devices, write_parts, write_wires
    from platewright.jobfile.layout_file import write_layout
    from platewright.jobfile.settings_write import write_settings
    from platewright.model.layout import Layout

    job = generated_job(DEVICES, seed=1, wires=WIRES)
    quiet = lambda _share, _text: True  # noqa: E731
    planned = plan(job, Layout(), seed=1, budget=Budget(moves=60_000), progress=quiet)
    folder.mkdir()
    write_settings(folder, job.settings)
    write_parts(folder, job.parts.values())
    write_devices(folder, job.devices.values())
    write_wires(folder, job.wires)
    write_layout(folder, planned.panel.layout)
    return folder


def recheck(folder: Path) -> Row:
    """Return the 99th percentile of a live answer, over 30 devices and 50 places each."""
    from platewright.app.gather import panel_of
    from platewright.app.live.drag import Base, Drag
    from platewright.jobfile.folder import read_job
    from platewright.jobfile.layout_file import read_layout

    job = read_job(folder)
    layout = read_layout(folder, job)
    panel = panel_of(job, layout)
    base = Base(panel)
    chance = random.Random(1)
    spent: list[float] = []
    for tag in chance.sample(sorted(layout.devices), 30):
        drag, at = Drag(panel, base, (tag,)), layout.devices[tag]
        for _ in range(50):
            place = (at.x + chance.uniform(-300, 300), at.y + chance.uniform(-200, 200))
            spent.append(1000 * min(timed(drag, place) for _ in range(3)))
    return row("recheck_p99_ms", float(np.percentile(spent, 99)), "ms", 10.0)


def heat_answer() -> Row:
    """Return the median time of a followed answer of heat, 150 devices, ready to be sent."""
    from bench_heat import panel
    from platewright.app.live.heat import LiveHeat
    from platewright.web.wire_heat import live_record

    here = panel()
    tag = sorted(here.layout.devices)[len(here.layout.devices) // 2]
    at, spent = here.layout.devices[tag], []
    hand = LiveHeat(here, (tag,))
    for step in range(60):
        begin = time.thread_time()
        json.dumps(live_record(hand.at([(at.x + step, at.y - step)]), "air"))
        spent.append(1000 * (time.thread_time() - begin))
    return row("live_heat_150_ms", float(np.median(spent[10:])), "ms", 10.0)


def timed(drag: Any, place: tuple[float, float]) -> float:
    """Return how long one live answer takes."""
    begin = time.perf_counter()
    drag.frame([place])
    return time.perf_counter() - begin


@contextlib.contextmanager
def served(folder: Path) -> Iterator[str]:
    """Serve the folder from a process of its own; yield the page's address."""
    command = [sys.executable, "-m", "platewright.web", str(folder), "--no-browser"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as server:
        assert server.stdout is not None
        try:
            yield server.stdout.readline().rsplit(" ", 1)[1].strip()
        finally:
            server.terminate()


def in_browser(folder: Path, chromium: str) -> list[Row]:
    """Measure the first picture (the median of five) and the frames of one drag."""
    from playwright.sync_api import sync_playwright

    with served(folder) as address, sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=chromium, args=list(FLAGS))
        first = sorted(first_picture(browser, address) for _ in range(5))[2]
        frames = dragged(browser, address)
        warm = dragged(browser, address, warm=True)
        trace = folder.parent / "trace.json"
        dragged(browser, address, trace=trace)
        browser.close()
    return [
        row("drag_frame_median_ms", float(np.median(frames)), "ms", 16.7),
        row("drag_frame_worst_ms", float(np.max(frames)), "ms", 50.0),
        row("drag_heat_frame_median_ms", float(np.median(warm)), "ms", 16.7),
        row("drag_heat_frame_worst_ms", float(np.max(warm)), "ms", 50.0),
        row("drag_longest_task_ms", longest_task(trace), "ms", 50.0),
        row("first_picture_300_ms", first, "ms", 1000.0),
    ]


def opened(browser: Any, address: str) -> tuple[Any, Any]:
    """Return a context and its page, the plate drawn."""
    context = browser.new_context(viewport={"width": 1440, "height": 900})
    page = context.new_page()
    page.goto(address)
    page.wait_for_selector("body[data-ready]")
    return context, page


def first_picture(browser: Any, address: str) -> float:
    """Return the time from the start of loading until 300 devices are painted."""
    context, page = opened(browser, address)
    drawn = page.evaluate("performance.getEntriesByName('plate-drawn')[0].startTime")
    assert page.locator(".devices .thing").count() == DEVICES
    context.close()
    return float(drawn)


def dragged(
    browser: Any, address: str, *, warm: bool = False, trace: Path | None = None
) -> list[float]:
    """Drag a device about for some seconds; return the times between pictures."""
    context, page = opened(browser, address)
    page.wait_for_selector('body[data-settled="yes"]')
    if warm:
        page.get_by_role("tab", name="How warm").click()
        page.wait_for_selector(".with-heat .degrees", state="attached")
        page.evaluate(HEARD)
    tag = page.evaluate("document.querySelectorAll('.devices .thing')[150].dataset.tag")
    box = page.locator(f'[data-tag="{tag}"] .body').bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 12, y + 12, steps=4)
    page.locator(".live .dimension").first.wait_for(state="attached")
    if trace:
        browser.start_tracing(page=page, path=trace, categories=CATEGORIES)
    page.evaluate(FRAMES)
    begin, n = time.perf_counter(), 0
    while (spent := time.perf_counter() - begin) < SECONDS:
        n += 1
        page.mouse.move(x + 180 * np.sin(spent * 2.1), y + 120 * np.cos(spent * 1.7))
    frames: list[float] = page.evaluate("benchFrames")
    if trace:
        browser.stop_tracing()
    assert page.locator(".cell.live").count() == 1, "the live results were on"
    assert n > 2 * SECONDS, "the hand moved"
    if warm:
        times = page.evaluate("benchWarm")
        print(f"heat was drawn {times} times in {SECONDS:g} s", file=sys.stderr)
        assert times > SECONDS, "the temperatures followed"
    page.mouse.up()
    page.locator('.doing [aria-label^="Undo: move"]').click()  # the next drag begins as this one
    page.locator('.doing [aria-label^="Redo: move"]').wait_for()
    context.close()
    return frames[2:]


def row(name: str, value: float, unit: str, baseline: float) -> Row:
    """Return one row as the bench prints it."""
    return {
        "name": name,
        "value": value,
        "unit": unit,
        "baseline": baseline,
        "ratio": value / baseline,
    }


if __name__ == "__main__":
    for each in rows(None):
        print(each)
