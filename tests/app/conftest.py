"""A job folder of one's own, as the example has it."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "bottle-rinser-by-hand"
PARTS = EXAMPLE.parent / "bottle-rinser" / "parts.csv"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The rinser laid out by hand, with the parts list it shares beside it."""
    target = tmp_path / "bottle-rinser-by-hand"
    shutil.copytree(EXAMPLE, target, ignore=shutil.ignore_patterns("out", ".*"))
    (tmp_path / "bottle-rinser").mkdir()
    shutil.copy(PARTS, tmp_path / "bottle-rinser" / "parts.csv")
    return target
