"""A server over a job folder of one's own, asked in the same process."""

from __future__ import annotations

import shutil
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from platewright.web.server import create_app

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
PORT, KEY = 8123, "a-key-for-the-tests"
HOST = f"127.0.0.1:{PORT}"


def copied(target: Path) -> Path:
    """The rinser laid out by hand, with the parts list it shares beside it."""
    folder = target / "bottle-rinser-by-hand"
    shutil.copytree(EXAMPLES / "bottle-rinser-by-hand", folder)
    (target / "bottle-rinser").mkdir()
    shutil.copy(EXAMPLES / "bottle-rinser" / "parts.csv", target / "bottle-rinser")
    return folder


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return copied(tmp_path)


@contextmanager
def opened(folder: Path) -> Iterator[TestClient]:
    """A client that has the key, as the page has."""
    app = create_app(folder, port=PORT, key=KEY)
    headers = {"X-Platewright-Key": KEY}
    with TestClient(app, base_url=f"http://{HOST}", headers=headers) as client:
        yield client


@pytest.fixture
def page(folder: Path) -> Iterator[TestClient]:
    with opened(folder) as client:
        yield client


def edit(page: TestClient, **what: Any) -> Any:
    return page.post("/api/edit", json={"edit": what})


def checked(page: TestClient, revision: int = 0) -> Any:
    """What the checks say, once they have caught up."""
    for _ in range(400):
        found = page.get("/api/job").json()["checked"]
        if found and found["revision"] >= revision:
            return found
        time.sleep(0.02)
    raise AssertionError("the checks never came")
