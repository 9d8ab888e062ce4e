"""A small sound job folder that tests may spoil."""

import shutil
from pathlib import Path

import pytest

import platewright.jobfile

EXAMPLE = Path(platewright.jobfile.__file__).parent / "example"


@pytest.fixture
def job_folder(tmp_path: Path) -> Path:
    return Path(shutil.copytree(EXAMPLE, tmp_path / "job"))
