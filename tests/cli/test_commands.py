"""The commands as a user types them."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from platewright.cli.main import run
from platewright.jobfile.settings import read_settings

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


@pytest.fixture
def rinser(tmp_path: Path) -> Path:
    target = tmp_path / "rinser"
    shutil.copytree(
        EXAMPLES / "bottle-rinser", target, ignore=shutil.ignore_patterns("out", "layout.toml")
    )
    return target


def _files(folder: Path) -> dict[str, bytes]:
    return {str(p.relative_to(folder)): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


def test_plan_check_and_sheets(rinser: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["plan", str(rinser), "--iterations", "30000", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    totals = told["totals"]
    for name in (
        "wire_m", "baseline_wire_m", "plate_used", "duct_m", "rail_m", "holes", "highest_fill",
        "devices", "rows",
    ):  # fmt: skip
        assert isinstance(totals[name], int | float), name
    assert totals["devices"] == 24
    assert totals["wire_m"] < totals["baseline_wire_m"]
    assert told["counts"]["FAIL"] == 0

    assert run(["check", str(rinser), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    keys = {
        "rule", "verdict", "subject", "measured", "limit", "unit", "source", "message", "cure", "place",
    }  # fmt: skip
    assert all(set(f) == keys for f in told["findings"])
    assert told["totals"]["wire_m"] == totals["wire_m"]

    assert run(["sheets", str(rinser)]) == 0
    out = capsys.readouterr().out
    for name in ("layout.pdf", "layout.dxf", "cuts.csv", "holes.xlsx", "package.pdf"):
        assert name in out
        assert (rinser / "out" / name).stat().st_size > 0


def test_plan_writes_the_same_bytes_again(rinser: Path, capsys: pytest.CaptureFixture[str]) -> None:
    texts = set()
    for _ in range(2):
        (rinser / "layout.toml").unlink(missing_ok=True)
        assert run(["plan", str(rinser), "--iterations", "5000"]) == 0
        texts.add((rinser / "layout.toml").read_bytes())
    capsys.readouterr()
    assert len(texts) == 1


def test_the_baseline_can_be_written_instead(
    rinser: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    run(["plan", str(rinser), "--iterations", "5000", "--baseline", "--json"])
    told = json.loads(capsys.readouterr().out)["totals"]
    assert told["is_baseline"]
    assert told["wire_m"] == told["baseline_wire_m"]


def test_check_of_the_wrong_plate_fails_with_status_1(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["check", str(EXAMPLES / "bottle-rinser-by-hand")]) == 1
    out = capsys.readouterr().out
    assert "space.door-device" in out
    assert "cure:" in out
    assert "Drafting aid, not an approval" in out


@pytest.mark.parametrize("command", ["check", "plan", "sheets"])
def test_faults_are_told_with_status_2_and_no_file_changes(
    command: str, rinser: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    devices = (rinser / "devices.csv").read_text(encoding="utf-8").splitlines()
    devices[3] = devices[3].replace(devices[3].split(",")[1], "no-such-part")
    (rinser / "devices.csv").write_text("\n".join(devices), encoding="utf-8")
    before = _files(rinser)
    assert run([command, str(rinser)]) == 2
    err = capsys.readouterr().err
    assert "devices.csv, row 4, part = 'no-such-part'" in err
    assert "no file was changed" in err
    assert _files(rinser) == before


def test_a_folder_without_a_job_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["check", str(tmp_path)]) == 2
    assert "job.toml" in capsys.readouterr().err
    assert run(["check", str(tmp_path / "nowhere")]) == 2


def test_a_plate_that_is_too_small_changes_nothing(
    rinser: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = (rinser / "job.toml").read_text(encoding="utf-8")
    before = "height_mm = 1150"
    if before not in text:
        before = next(
            line for line in text.splitlines() if line.startswith("height") and "1150" in line
        )
    (rinser / "job.toml").write_text(text.replace(before, "height_mm = 620", 1), encoding="utf-8")
    files = _files(rinser)
    status = run(["plan", str(rinser), "--iterations", "3000"])
    err = capsys.readouterr().err
    assert status in (1, 2)
    assert "cure" in err or "plate" in err
    assert _files(rinser) == files


def test_next_step_teaches(
    rinser: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(rinser.parent)
    assert run([]) == 0
    assert "platewright new" in capsys.readouterr().out
    monkeypatch.chdir(rinser)
    assert run([]) == 0
    assert "Next: platewright plan" in capsys.readouterr().out
    run(["plan", "--iterations", "3000"])
    capsys.readouterr()
    assert run([]) == 0
    assert "Next: platewright sheets" in capsys.readouterr().out
    run(["sheets"])
    capsys.readouterr()
    assert run([]) == 0
    assert "package.pdf" in capsys.readouterr().out
    (rinser / "wires.csv").write_text("nonsense\n", encoding="utf-8")
    assert run([]) == 2
    assert "wires.csv" in capsys.readouterr().err


def test_new_from_foreign_lists(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "list.csv").write_text(
        "Item,Ref des,W (in),H (in),D (in),Mounting,Rail centre (in)\n"
        '1,-Q1,1-3/8",3.5,3,rail,1.75\n2,-Q2,wide,3.5,3,rail,1.75\n3,-Q3,0.7,3.5,3,rail,1.75\n',
        encoding="utf-8",
    )
    job = tmp_path / "job"
    status = run(
        ["new", str(job), "--devices", str(tmp_path / "list.csv"), "--plate", "20x30x0.1in",
         "--enclosure", "24x36x10in", "--door-inside", "9in"]
    )  # fmt: skip
    out = capsys.readouterr().out
    assert status == 0
    assert "row 3" in out
    assert "'wide'" in out
    assert "2 devices" in out
    assert run(["plan", str(job), "--iterations", "500"]) == 0
    capsys.readouterr()
    assert run(["new", str(job), "--devices", str(tmp_path / "list.csv")]) == 2


def test_bare_sizes_of_a_new_job_are_in_its_unit(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """24x30 in a job in inches is 609.6 x 762 mm; mm can still be written, and are then taken."""
    (tmp_path / "list.csv").write_text("tag,part\n-F1,typ-breaker-3p\n", encoding="utf-8")
    job, devices = tmp_path / "job", str(tmp_path / "list.csv")
    sizes = ["--plate", "24x30x0.105", "--enclosure", "700x850x250mm", "--door-inside", "8-3/4"]
    assert run(["new", str(job), "--devices", devices, "--units", "in", *sizes]) == 0
    settings = read_settings(job)
    assert settings.plate.width == pytest.approx(609.6)
    assert settings.plate.thickness == pytest.approx(2.667)
    assert settings.enclosure.height == pytest.approx(850)
    assert settings.enclosure.door_inside == pytest.approx(222.25)
    capsys.readouterr()
    far = ["new", str(tmp_path / "far"), "--devices", devices, "--units", "in", "--plate"]
    assert run([*far, "610x762x2.5"]) == 2  # 15 m of plate: mm were meant
    assert "read in inches where no unit is written" in capsys.readouterr().err


def test_rules_columns_and_parts_are_told(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["rules", "space.depth"]) == 0
    assert "space.depth" in capsys.readouterr().out
    assert run(["rules", "space.dept"]) == 0
    assert run(["rules", "nothing"]) == 2
    assert run(["columns", "devices"]) == 0
    assert "plugs_into" in capsys.readouterr().out
    assert run(["parts", "relay"]) == 0
    assert "typ-" in capsys.readouterr().out


def test_heat_of_one_device_takes_its_designation_as_it_is(
    capsys: pytest.CaptureFixture[str],
) -> None:
    job = str(EXAMPLES / "bottle-rinser-by-hand")
    assert run(["heat", job, "--device", "-T1"]) == 0
    out = capsys.readouterr().out
    assert "-T1: 70 W" in out
    assert "Smallest gap" in out
    assert run(["heat", job]) == 0
    assert "Mean air inside" in capsys.readouterr().out
    assert run(["heat", job, "--device=-T9"]) == 2
    assert "is no device of devices.csv" in capsys.readouterr().err


def test_the_picture_of_temperature_is_written(
    rinser: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = str(EXAMPLES / "bottle-rinser-by-hand")
    for name, begin in (("warm.svg", b"<?xml"), ("warm.PNG", b"\x89PNG")):
        assert run(["heat", job, "--picture", str(rinser / name)]) == 0
        assert (rinser / name).read_bytes().startswith(begin)
    assert run(["heat", job, "--picture", str(rinser / "warm.gif")]) == 2
    assert "is neither .svg nor .png" in capsys.readouterr().err
    assert not (rinser / "warm.gif").exists()
