"""Lengths in the wrong unit, by every command: one fault, exit 2, no file changed."""

from __future__ import annotations

import shutil
from collections.abc import Sequence
from pathlib import Path

import pytest

from platewright.cli.main import run

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
IN_PARTS = ("parts.csv", ",45,110,92,", ",1.77,4.33,3.62,", "row 6, width_mm, height_mm, depth_mm")
IN_JOB = ("job.toml", "width_mm = 750\nheight_mm = 1150", "width_mm = 29.5\nheight_mm = 45.25",
          "plate.width_mm, plate.height_mm = '29.5, 45.25'")  # fmt: skip


@pytest.fixture
def rinser(tmp_path: Path) -> Path:
    ignored = shutil.ignore_patterns("out", "layout.toml")  # what the demo may have made here
    return Path(shutil.copytree(EXAMPLES / "bottle-rinser", tmp_path / "rinser", ignore=ignored))


def _files(folder: Path) -> dict[str, bytes]:
    return {str(p.relative_to(folder)): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


@pytest.mark.parametrize("wrong", [IN_PARTS, IN_JOB], ids=["parts", "job"])
@pytest.mark.parametrize(
    "command",
    [
        ("plan",), ("check",), ("check", "--json"), ("heat",), ("sheets",),
        ("size", "--enclosures", str(EXAMPLES / "enclosures.csv")), ("open", "--no-browser"),
        ("as-built", "--set=-T1=120,45.5"),
    ],
    ids=" ".join,
)  # fmt: skip
def test_every_command_says_it_once_and_changes_nothing(
    rinser: Path,
    capsys: pytest.CaptureFixture[str],
    wrong: tuple[str, str, str, str],
    command: Sequence[str],
) -> None:
    file, old, new, said = wrong
    path = rinser / file
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    before = _files(rinser)
    assert run([command[0], str(rinser), *command[1:]]) == 2
    told = capsys.readouterr()
    fault, last = told.err.splitlines()
    assert fault.startswith(f"{file}, {said}")
    assert "If these are inches" in fault
    assert last == "1 fault; no file was changed."
    assert _files(rinser) == before


def test_a_part_too_wide_is_refused_with_its_row(
    rinser: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = rinser / "parts.csv"
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace(",148.8,52,47,", ",950,52,47,", 1), encoding="utf-8")
    before = _files(rinser)
    assert run(["plan", str(rinser), "--iterations", "2000"]) == 1
    told = capsys.readouterr().err
    assert told.startswith(
        "parts.csv, row 22, width_mm = '950' (strip-control): -X2 is 950 mm wide"
    )
    room = "the plate's 750 mm (plate.width_mm) less margins of 2 × 5 mm"
    assert f"a row offers 689.2 mm: {room}" in told
    assert "clear_left_mm" not in told
    assert "in an enclosure of 1097 mm instead of 800 mm" in told
    assert told.endswith("No file was changed.\n")
    assert _files(rinser) == before
