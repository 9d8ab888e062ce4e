"""The page's files keep the house style: types checked, short, fetched at once, nothing foreign."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

STATIC = Path(__file__).resolve().parents[2] / "src" / "platewright" / "web" / "static"
MODULES = sorted(STATIC.rglob("*.js"))
LONGEST = 300


@pytest.mark.parametrize("path", MODULES, ids=lambda p: p.name)
def test_a_module_is_checked_and_short(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert text.startswith("// @ts-check\n")
    assert len(text.splitlines()) <= LONGEST
    assert not re.search(
        r"innerHTML|outerHTML|insertAdjacentHTML|document\.write|eval\(|new Function", text
    )
    assert not re.search(r"https?://(?!www\.w3\.org/2000/svg)", text)


def test_only_one_module_asks_the_server() -> None:
    asking = {
        path.name for path in MODULES if re.search(r"\bfetch\(", path.read_text(encoding="utf-8"))
    }
    assert asking == {"api.js"}


def test_every_module_is_fetched_at_once() -> None:
    page = (STATIC / "index.html").read_text(encoding="utf-8")
    told = set(re.findall(r'rel="modulepreload" href="([^"]+)"', page))
    there = {str(path.relative_to(STATIC)) for path in MODULES} - {"main.js", "types.js"}
    assert told == there


@pytest.mark.parametrize("path", sorted((STATIC / "style").glob("*.css")), ids=lambda p: p.name)
def test_a_style_file_is_short_and_at_home(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert len(text.splitlines()) <= LONGEST
    assert not re.search(r"https?:|@import", text)
