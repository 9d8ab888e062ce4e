from pathlib import Path

import pytest
import tomlkit

from platewright.foundation.errors import InputErrors
from platewright.jobfile.folder import read_job
from platewright.jobfile.layout_file import read_layout, write_layout
from platewright.jobfile.settings import read_settings
from platewright.jobfile.settings_write import write_settings


def make_old(folder: Path) -> None:
    """Turn the example into format 0."""
    path = folder / "job.toml"
    text = path.read_text().replace("format = 1", "format = 0  # as it was")
    path.write_text(text.replace("[job]", "[panel]").replace("fixing_holes", "holes"))
    path = folder / "layout.toml"
    text = path.read_text().replace("format = 1", "format = 0")
    path.write_text(text.replace("[devices]", "[placements]  # my own"))


def test_an_old_job_reads_as_the_new_one(job_folder: Path) -> None:
    new = read_job(job_folder)
    layout = read_layout(job_folder, new)
    make_old(job_folder)
    assert read_job(job_folder) == new
    assert read_layout(job_folder, new) == layout


def test_saving_an_old_job_brings_it_up_to_date_and_keeps_comments(job_folder: Path) -> None:
    make_old(job_folder)
    job = read_job(job_folder)
    write_layout(job_folder, read_layout(job_folder, job))
    write_settings(job_folder, job.settings)
    text = (job_folder / "job.toml").read_text()
    assert "format = 1  # as it was" in text
    assert tomlkit.parse(text)["plate"]["fixing_holes"][1]["x_mm"] == 425
    assert "[panel]" not in text
    assert "# A small job, complete" in text
    assert "[placements]" not in (job_folder / "layout.toml").read_text()
    assert read_job(job_folder) == job


@pytest.mark.parametrize("number", [2, 99, -1])
def test_other_formats_are_refused(job_folder: Path, number: int) -> None:
    path = job_folder / "job.toml"
    path.write_text(path.read_text().replace("format = 1", f"format = {number}"))
    with pytest.raises(InputErrors, match="format"):
        read_settings(job_folder)


@pytest.mark.parametrize(
    ("former", "today"),
    [("sun_share_share = 0.7", "sun_share = 0.7"), ("sun_share_percent = 70", "sun_percent = 70")],
)
def test_a_former_key_is_read_and_written_under_its_name_of_today(
    job_folder: Path, former: str, today: str
) -> None:
    path = job_folder / "job.toml"
    text = path.read_text().replace("[enclosure]\n", f"[enclosure]\n{former}\n", 1)
    assert former in text
    path.write_text(text)
    settings = read_settings(job_folder)
    assert settings.enclosure.sun == pytest.approx(0.7)
    write_settings(job_folder, settings)
    saved = path.read_text()
    assert former.split(" ", maxsplit=1)[0] not in saved
    assert today.split(" ", maxsplit=1)[0] in saved
    assert read_settings(job_folder) == settings


def test_a_key_and_its_former_name_together_are_told(job_folder: Path) -> None:
    path = job_folder / "job.toml"
    both = "[enclosure]\nsun_share = 0.7\nsun_share_share = 0.3\n"
    path.write_text(path.read_text().replace("[enclosure]\n", both, 1))
    with pytest.raises(InputErrors, match="sun_share_share"):
        read_settings(job_folder)
