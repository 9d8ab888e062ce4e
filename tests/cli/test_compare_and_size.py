"""Comparing plates and choosing the enclosure, as a user types it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from platewright.cli.main import run

from ..app.small_jobs import write_job, write_list


@pytest.fixture
def pump(tmp_path: Path) -> Path:
    return write_job(tmp_path / "pump", breakers=3)


def test_plan_tells_what_the_plate_is_worth(pump: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["plan", str(pump), "--iterations", "500"]) == 0
    out = capsys.readouterr().out
    assert "list order" in out
    assert "different cut lengths" in out
    run(["plan", str(pump), "--iterations", "500", "--json"])
    worth = json.loads(capsys.readouterr().out)["totals"]["worth"]
    assert set(worth) == {"list_order", "as_it_was", "now"}
    assert worth["as_it_was"] == worth["now"]  # same seed, same moves


def test_compare_leaves_the_layout_and_take_writes_it(
    pump: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["plan", str(pump), "--compare", "--iterations", "300"]) == 0
    out = capsys.readouterr().out
    assert "smallest-plate" in out
    assert "layout.toml is as it was" in out
    assert not (pump / "layout.toml").exists()
    assert run(["plan", str(pump), "--take", "least-wire", "--iterations", "300", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["taken"] == "least-wire"
    assert (pump / "layout.toml").exists()
    assert run(["plan", str(pump), "--take", "nothing"]) == 2
    assert "--take = 'nothing'" in capsys.readouterr().err


def test_size_names_two_and_writes_nothing(pump: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = {p.name for p in pump.iterdir()}
    path = write_list(pump.parent)
    assert run(["size", str(pump), "--enclosures", str(path), "--iterations", "300"]) == 0
    out = capsys.readouterr().out
    assert "Smallest that fits:" in out
    assert "can't fit" in out
    run(["size", str(pump), "--enclosures", str(path), "--iterations", "300", "--json"])
    told = json.loads(capsys.readouterr().out)
    assert told["smallest"] in {e["name"] for e in told["enclosures"] if e["fits"]}
    assert {p.name for p in pump.iterdir()} == before


def test_size_with_a_list_in_which_nothing_fits(
    pump: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    head = "name,width_mm,height_mm,depth_mm,door_inside_mm,plate_width_mm,plate_height_mm"
    path = write_list(pump.parent, f"{head}\nflat,400,500,120,60,340,440\n")
    assert run(["size", str(pump), "--enclosures", str(path)]) == 1
    assert "none of the list" in capsys.readouterr().out
    path.write_text(f"{head}\nflat,400,500,120,160,340,440\n", encoding="utf-8")
    assert run(["size", str(pump), "--enclosures", str(path)]) == 2
    assert "enclosures.csv, row 2, door_inside_mm = '160'" in capsys.readouterr().err
