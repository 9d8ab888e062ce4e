"""``platewright heat`` as a user types it: sizing, one device's gap, the deep check."""

from __future__ import annotations

import os
import re
import shutil
import signal
import sys
import threading
from pathlib import Path
from typing import Any

import pytest

from platewright.cli.main import run
from platewright.heat import deep_panel

JOB = str(Path(__file__).resolve().parents[2] / "examples" / "bottle-rinser-by-hand")


def told(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert run(["heat", JOB, *words]) == 0
    return capsys.readouterr().out


def test_sizing_answers_are_told(capsys: pytest.CaptureFixture[str]) -> None:
    text = told(capsys)
    for pattern in (
        r"Filter fan, blowing freely +\d+ m³/h",
        r"Air-to-air exchanger +[\d.]+ W/K",
        r"Cooling unit, useful power +\d+ W",
        r"Or this enclosure without any +(\d+ × \d+ × \d+ mm|none up to 2.5 times)",
        r"Heater against condensation +not looked at: air.coldest_degc",
    ):
        assert re.search(pattern, text), pattern


def test_the_list_adds_up_to_the_total(capsys: pytest.CaptureFixture[str]) -> None:
    text = told(capsys)
    total = float(re.search(r"Heat inside: (\d+) W", text).group(1))
    rows = re.findall(r"^(?:-\w+|wires) +([\d.]+) ", text, re.MULTILINE)
    summed = float(re.search(r"^in all +([\d.]+)$", text, re.MULTILINE).group(1))
    assert sum(map(float, rows)) == pytest.approx(summed, abs=0.06 * len(rows))
    assert summed == pytest.approx(total, abs=0.6)
    parts = re.search(r"plate ([\d.]+) W, of the door ([\d.]+) W, wires ([\d.]+) W", text).groups()
    assert sum(map(float, parts)) == pytest.approx(summed, abs=0.2)


def test_gap_stands_beside_what_moves_it(capsys: pytest.CaptureFixture[str]) -> None:
    text = told(capsys, "--device=-T1")
    gap = int(re.search(r"Beside it (\d+) mm in air of 40 °C", text).group(1))
    for what in ("air inside 45 °C", "true loss 91 W", "no heat into the plate", "shield"):
        line = next(line for line in text.splitlines() if what in line)
        moved, change = re.search(r"(\d+) mm +([+-]\d+) mm", line).groups()
        assert abs(int(moved) - gap - int(change)) <= 1
    assert "assumed: 0.25 W/K" in text


def test_a_job_in_inches_is_told_its_gaps_in_inches(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "inch"
    shutil.copytree(Path(JOB).parent / "bottle-rinser", folder)
    job = folder / "job.toml"
    text = job.read_text(encoding="utf-8")
    job.write_text(text.replace('units = "mm"', 'units = "in"'), encoding="utf-8")
    assert run(["heat", str(Path(JOB).parent / "bottle-rinser"), "--device=-T1"]) == 0
    metric = capsys.readouterr().out
    assert run(["heat", str(folder), "--device=-T1"]) == 0
    inch = capsys.readouterr().out
    assert " mm" not in inch
    mm = float(re.search(r"Beside it (\d+) mm in air of 40 °C", metric).group(1))
    inches = float(re.search(r"Beside it ([\d.]+) in in air of 40 °C", inch).group(1))
    assert inches == pytest.approx(mm / 25.4, abs=0.08)


def test_deep_check_is_told_beside_the_fast_model(capsys: pytest.CaptureFixture[str]) -> None:
    text = told(capsys, "--deep", "--cell", "50")
    rows = re.findall(r"^(-\w+) +([\d.]+) +(\d+) ± (\d+) +([+-][\d.]+) K", text, re.MULTILINE)
    assert len(rows) == 24
    for _, deep, fast, _, apart in rows:
        assert abs(float(deep) - float(fast) - float(apart)) < 0.6
    assert "NOT CONVERGED" not in text
    assert "extrapolated" in text
    assert "not a type test" in text


@pytest.mark.parametrize("cell", ["5", "51"])
def test_cells_out_of_range_are_refused(cell: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        run(["heat", JOB, "--deep", "--cell", cell])
    assert "between 10 and 50" in capsys.readouterr().err


@pytest.mark.skipif(sys.platform == "win32", reason="no such signal")
def test_interrupt_keeps_the_best_so_far(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    real = deep_panel.deep_check

    def interrupted(*args: Any, **keys: Any) -> Any:
        threading.Timer(0.5, os.kill, (os.getpid(), signal.SIGINT)).start()
        return real(*args, **keys)

    monkeypatch.setattr(deep_panel, "deep_check", interrupted)
    text = told(capsys, "--deep", "--cell", "12")  # to its end it would take minutes
    assert text.startswith("NOT CONVERGED")
    assert len(re.findall(r"^-\w+ +[\d.]+ ", text, re.MULTILINE)) == 24
