"""The page in a real Chromium, over a server in this process. No Chromium: skipped, and said why.

PLATEWRIGHT_CHROMIUM names the browser's program; PLATEWRIGHT_REQUIRE_BROWSER=1 turns the skip
into a failure.
"""

from __future__ import annotations

import os
import shutil
import socket
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
import uvicorn

from platewright.jobfile.folder import read_job
from platewright.jobfile.layout_file import read_layout
from platewright.model.layout import Layout
from platewright.web.server import create_app

ROOT = Path(__file__).resolve().parents[2]
KEY = "a-key-for-the-tests"
FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
)  # fmt: skip
MUST = os.environ.get("PLATEWRIGHT_REQUIRE_BROWSER") == "1"


def missing(reason: str) -> Any:
    """Skip, or fail where a browser is required."""
    return pytest.fail(reason) if MUST else pytest.skip(reason)


def chromium() -> str:
    named = os.environ.get("PLATEWRIGHT_CHROMIUM", "chromium")
    found = shutil.which(named) or shutil.which("chromium-browser") or shutil.which("google-chrome")
    return found or missing("no Chromium on this machine: the page's own tests are left out")


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    try:
        from playwright.sync_api import sync_playwright
    except ImportError:
        missing("playwright is not installed: the page's own tests are left out")
    path = chromium()
    with sync_playwright() as driver:
        found = driver.chromium.launch(executable_path=path, args=list(FLAGS))
        yield found
        found.close()


@contextmanager
def served(folder: Path) -> Iterator[str]:
    """Serve a folder; yield the page's address with the key."""
    with socket.socket(proto=socket.IPPROTO_TCP) as listener:
        listener.bind(("127.0.0.1", 0))
        port = listener.getsockname()[1]
        app = create_app(folder, port=port, key=KEY)
        config = uvicorn.Config(
            app, log_level="error", ws="websockets-sansio", timeout_graceful_shutdown=1
        )
        server = uvicorn.Server(config)
        thread = threading.Thread(target=server.run, kwargs={"sockets": [listener]}, daemon=True)
        thread.start()
        while not server.started:
            assert thread.is_alive(), "the server did not start"
            time.sleep(0.005)
        yield f"http://127.0.0.1:{port}/#key={KEY}"
        server.should_exit = True
        thread.join(timeout=20)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The rinser laid out by hand, with the parts list it shares beside it."""
    target = tmp_path / "bottle-rinser-by-hand"
    shutil.copytree(ROOT / "examples" / "bottle-rinser-by-hand", target)
    (tmp_path / "bottle-rinser").mkdir()
    shutil.copy(ROOT / "examples" / "bottle-rinser" / "parts.csv", tmp_path / "bottle-rinser")
    return target


@pytest.fixture
def address(folder: Path) -> Iterator[str]:
    with served(folder) as found:
        yield found


class Bench:
    """A page and what a person would do with it."""

    def __init__(self, page: Any, address: str, folder: Path) -> None:
        self.page, self.address, self.folder = page, address, folder
        self.troubles: list[str] = []
        host = address.split("/#", maxsplit=1)[0]
        page.on(
            "console", lambda m: m.type in ("error", "warning") and self.troubles.append(m.text)
        )
        page.on("pageerror", lambda error: self.troubles.append(str(error)))
        page.on(
            "request",
            lambda r: r.url.startswith((host, "blob:", "data:", "ws:")) or self.troubles.append(f"asked {r.url}"),
        )  # fmt: skip

    def open(self) -> Bench:
        self.page.goto(self.address)
        self.page.wait_for_selector("body[data-ready]")
        self.page.wait_for_selector("body[data-checked]")
        return self

    @property
    def layout(self) -> Layout:
        return read_layout(self.folder, read_job(self.folder))

    def saved(self, step: str) -> None:
        """Wait until the newest step is the one named."""
        self.page.get_by_role("button", name=f"Undo: {step}").wait_for()

    def settled(self) -> None:
        """Wait until the checks have caught up."""
        self.page.wait_for_selector('body[data-settled="yes"]')

    def thing(self, tag: str) -> Any:
        return self.page.locator(f'[data-tag="{tag}"]')

    def centre(self, tag: str) -> tuple[float, float]:
        box = self.thing(tag).locator("rect").last.bounding_box()
        return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2

    @property
    def scale(self) -> float:
        """Pixels per mm."""
        return float(
            self.page.evaluate(
                "() => { const p = document.querySelector('svg.plate');"
                " return p.getBoundingClientRect().width / p.viewBox.baseVal.width }"
            )
        )

    def choose(self, *tags: str) -> None:
        for number, tag in enumerate(tags):
            at = self.body_spot(tag)
            if number:
                self.page.keyboard.down("Control")
            self.page.mouse.click(*at)
            self.page.keyboard.up("Control")

    def body_spot(self, tag: str) -> tuple[float, float]:
        box = self.thing(tag).locator(".body, .duct, .rail").first.bounding_box()
        return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2

    def drag(self, tag: str, dx: float, dy: float, *, steps: int = 6) -> None:
        """Drag a thing by so many mm."""
        x, y = self.body_spot(tag)
        k = self.scale
        self.page.mouse.move(x, y)
        self.page.mouse.down()
        self.page.mouse.move(x + dx * k, y - dy * k, steps=steps)
        self.page.mouse.up()

    def key(self, *names: str) -> None:
        for name in names:
            self.page.keyboard.press(name)


@pytest.fixture
def bench(browser: Any, address: str, folder: Path) -> Iterator[Bench]:
    context = browser.new_context(viewport={"width": 1440, "height": 900})
    context.set_default_timeout(20_000)
    made = Bench(context.new_page(), address, folder)
    yield made.open()
    context.close()
    assert made.troubles == []
