"""Where compiled kernels are kept: the first folder that can be written."""

from __future__ import annotations

import tempfile
from pathlib import Path

import pytest

from platewright.foundation import compiled


@pytest.fixture(autouse=True)
def _forget() -> None:
    compiled._kept_in.cache_clear()


def test_by_the_code_then_in_the_user_s_caches_then_in_a_folder_of_its_own(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    code, caches = tmp_path / "code", tmp_path / "caches"
    code.mkdir()
    monkeypatch.setattr(compiled, "_PACKAGE", code)
    monkeypatch.setenv("XDG_CACHE_HOME", str(caches))
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    assert compiled._kept_in() == code / "__pycache__"

    compiled._kept_in.cache_clear()
    (code / "__pycache__").rmdir()
    (code / "__pycache__").write_text("a file bars the way, as a missing right would")
    assert compiled._kept_in() == caches / "platewright"

    compiled._kept_in.cache_clear()
    (caches / "platewright").rmdir()
    (caches / "platewright").write_text("so does this one")
    own = compiled._kept_in()
    assert own.parent == tmp_path
    assert own.stat().st_mode & 0o077 == 0  # nobody else may put code there
