"""What the system refuses is told in one line, and no traceback is shown."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from platewright.app import check as check_module
from platewright.cli.main import run

# the one that comes with a layout: the others get theirs from the demo, if it was ever run
EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "bottle-rinser-by-hand"


def test_a_file_where_sheets_should_go_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shutil.copytree(EXAMPLE.parent, tmp_path / "examples", ignore=shutil.ignore_patterns("out"))
    job = tmp_path / "examples" / EXAMPLE.name  # beside the one whose parts list it takes
    taken = tmp_path / "taken"
    taken.write_text("mine")
    assert run(["sheets", str(job), "--out", str(taken)]) == 2
    told = capsys.readouterr().err
    assert str(taken) in told
    assert "name another place" in told
    assert "Traceback" not in told
    assert taken.read_text() == "mine"


def test_a_folder_that_may_not_be_read_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(_folder: Path) -> object:
        raise PermissionError(13, "Permission denied", str(tmp_path / "job.toml"))

    monkeypatch.setattr(check_module, "read_job_with_notes", lambda *_a, **_k: refuse(tmp_path))
    shutil.copy(EXAMPLE / "job.toml", tmp_path)
    assert run(["check", str(tmp_path)]) == 2
    told = capsys.readouterr().err
    assert f"{tmp_path / 'job.toml'}: permission denied. Allow reading" in told


def test_a_fault_of_the_program_is_not_taken_for_the_user_s(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_a: object, **_k: object) -> object:
        raise OSError

    monkeypatch.setattr(check_module, "read_job_with_notes", fail)
    shutil.copy(EXAMPLE / "job.toml", tmp_path)
    with pytest.raises(OSError):  # noqa: PT011 (raised just above)
        run(["check", str(tmp_path)])
