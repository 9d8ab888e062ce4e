"""The page's own tests and types, run where node is: else left out, and said why."""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).resolve().parents[2]
NODE = shutil.which("node")
TSC = ROOT / "node_modules" / "typescript" / "bin" / "tsc"


def needed(there: object, reason: str) -> Any:
    if not there:
        must = os.environ.get("PLATEWRIGHT_REQUIRE_BROWSER") == "1"
        return pytest.fail(reason) if must else pytest.skip(reason)
    return there


def test_state_modules() -> None:
    node = needed(NODE, "no node on this machine: the page's state tests are left out")
    files = sorted(str(path) for path in (ROOT / "tests" / "js").glob("*.test.mjs"))
    done = subprocess.run(
        [node, "--test", *files], capture_output=True, text=True, cwd=ROOT, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr


def test_types() -> None:
    node = needed(NODE, "no node on this machine: the page's types are not checked")
    needed(TSC.is_file(), "typescript is not installed (npm ci): the page's types are not checked")
    done = subprocess.run(
        [node, str(TSC), "-p", str(ROOT)], capture_output=True, text=True, cwd=ROOT, check=False
    )
    assert done.returncode == 0, done.stdout
