import os
import stat
from pathlib import Path

import pytest

from platewright.foundation.errors import InputErrors
from platewright.jobfile import atomic


def test_a_failure_before_the_move_leaves_the_old_content(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "a.csv"
    path.write_bytes(b"old")

    def fail(self: Path, target: Path) -> Path:
        raise OSError(13, "Permission denied")

    monkeypatch.setattr(Path, "replace", fail)
    with pytest.raises(InputErrors, match=r"can't be saved in .*Permission denied"):
        atomic.save(path, b"new")
    assert path.read_bytes() == b"old"
    assert [each.name for each in tmp_path.iterdir()] == ["a.csv"]


def test_a_full_disk_leaves_the_old_content(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "a.csv"
    path.write_bytes(b"old")

    def full(handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(InputErrors, match="No space"):
        atomic.save(path, b"new")
    assert path.read_bytes() == b"old"
    assert [each.name for each in tmp_path.iterdir()] == ["a.csv"]


def test_content_is_on_the_disk_before_the_move(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    steps: list[str] = []
    flush, move = os.fsync, Path.replace
    monkeypatch.setattr(os, "fsync", lambda handle: (steps.append("flush"), flush(handle))[1])
    monkeypatch.setattr(Path, "replace", lambda old, new: (steps.append("move"), move(old, new))[1])
    atomic.save(tmp_path / "a.csv", b"new")
    assert steps == ["flush", "move", "flush"]


@pytest.mark.skipif(os.name == "nt", reason="modes are kept where the system has them")
def test_mode_and_link_are_kept(tmp_path: Path) -> None:
    path = tmp_path / "a.csv"
    path.write_bytes(b"old")
    path.chmod(0o664)
    link = tmp_path / "link.csv"
    link.symlink_to(path)
    atomic.save(link, b"new")
    assert link.is_symlink()
    assert path.read_bytes() == b"new"
    assert stat.S_IMODE(path.stat().st_mode) == 0o664


@pytest.mark.skipif(os.name == "nt", reason="modes are kept where the system has them")
def test_a_new_file_has_the_usual_mode(tmp_path: Path) -> None:
    atomic.save(tmp_path / "new.csv", b"x")
    (tmp_path / "usual.csv").write_bytes(b"x")
    assert (tmp_path / "new.csv").stat().st_mode == (tmp_path / "usual.csv").stat().st_mode


def test_a_folder_in_the_way_is_told(tmp_path: Path) -> None:
    (tmp_path / "a.csv").mkdir()
    with pytest.raises(InputErrors, match="not a file"):
        atomic.save(tmp_path / "a.csv", b"x")
