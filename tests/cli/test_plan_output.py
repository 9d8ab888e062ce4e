"""What ``platewright plan`` says beside the findings."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from platewright.cli.main import run

from ..app.small_jobs import write_job

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "bottle-rinser"


def test_a_preset_is_taken_for_one_run_and_said(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = write_job(tmp_path / "pump")
    before = (folder / "job.toml").read_bytes()
    plan = ["plan", str(folder), "--iterations", "600"]
    run([*plan, "--preset", "smallest-plate"])
    assert "Weights of the preset smallest-plate, for this run alone" in capsys.readouterr().out
    assert (folder / "job.toml").read_bytes() == before
    by_preset = (folder / "layout.toml").read_bytes()
    (folder / "job.toml").write_bytes(b'preset = "smallest-plate"\n' + before)
    run(plan)
    assert (folder / "layout.toml").read_bytes() == by_preset
    capsys.readouterr()
    run([*plan, "--preset", "coolest", "--json"])
    assert json.loads(capsys.readouterr().out)["totals"]["preset"] == "coolest"


@pytest.mark.parametrize(
    ("more", "said"),
    [(["--preset", "coolst"], "--take coolest|coolest"), (["--preset", "coolest", "--compare"], "--take coolest")],
)  # fmt: skip
def test_a_preset_that_cannot_be_taken_is_one_clear_error(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], more: list[str], said: str
) -> None:
    folder = write_job(tmp_path / "pump")
    assert run(["plan", str(folder), *more]) == 2
    told = capsys.readouterr().err
    assert "--preset" in told
    assert any(word in told for word in said.split("|"))
    assert not (folder / "layout.toml").exists()


def test_room_that_was_made_for_heat_is_said_but_not_of_the_list_order(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "rinser"
    shutil.copytree(EXAMPLE, folder, ignore=shutil.ignore_patterns("out", "layout.toml", ".*"))
    with (folder / "job.toml").open("a", encoding="utf-8") as job:
        job.write("\n[air]\noutside_degc = 30\nfan_m3_per_h = 40\n")
    plan = ["plan", str(folder), "--iterations", "20000"]
    run([*plan, "--json"])
    lines = json.loads(capsys.readouterr().out)["totals"]["for_heat"]
    assert "would have FAILed; room was made" in lines[0]
    run(plan)
    assert "\n".join(lines) in capsys.readouterr().out
    run([*plan, "--baseline"])
    assert lines[0] not in capsys.readouterr().out
