"""The store of off-cuts, in and out."""

from pathlib import Path
from shutil import copytree

import pytest

from platewright.foundation.errors import InputErrors
from platewright.jobfile import folder as jobfolder
from platewright.jobfile.folder import read_job
from platewright.jobfile.offcuts import OFFCUTS, write_offcuts
from platewright.model.offcut import Offcut

EXAMPLE = Path(jobfolder.__file__).parent / "example"


@pytest.fixture
def job(tmp_path):
    return Path(copytree(EXAMPLE, tmp_path / "job"))


def test_the_list_in_the_job_folder_is_read(job):
    (job / OFFCUTS).write_text("label,stock,length_mm\nA1,duct 40x60,455\nA2,rail TH35-7.5,25 in\n")
    assert read_job(job).offcuts == (
        Offcut(label="A1", stock="duct 40x60", length=455),
        Offcut(label="A2", stock="rail TH35-7.5", length=635),
    )


def test_no_list_is_an_empty_store(job):
    (job / OFFCUTS).unlink()
    assert read_job(job).offcuts == ()


def test_the_shops_own_list(job):
    text = (job / "job.toml").read_text()
    (job / "job.toml").write_text(text.replace("[stock]\n", '[stock]\noffcuts = "../rack.csv"\n'))
    (job.parent / "rack.csv").write_text("label;stock;length_mm\nB7;rail TH35-7.5;812,5\n")
    assert read_job(job).offcuts == (Offcut(label="B7", stock="rail TH35-7.5", length=812.5),)


def test_a_list_that_is_named_must_be_there(job):
    text = (job / "job.toml").read_text()
    (job / "job.toml").write_text(text.replace("[stock]\n", '[stock]\noffcuts = "none.csv"\n'))
    with pytest.raises(InputErrors, match=r"stock.offcuts = 'none.csv': is no file"):
        read_job(job)


@pytest.mark.parametrize(
    ("rows", "told"),
    [
        ("A1,duct 40x60,-3\n", r"offcuts.csv, row 2, length_mm = '-3'"),
        ("A1,duct 40x60,400\nA1,duct 40x60,500\n", r"offcuts.csv, row 3.*A1"),
        ("A1,duct 40x60,\n", r"offcuts.csv, row 2, length_mm"),
    ],
)
def test_faults_are_told_with_their_row(job, rows, told):
    (job / OFFCUTS).write_text("label,stock,length_mm\n" + rows)
    with pytest.raises(InputErrors, match=told):
        read_job(job)


def test_what_is_written_reads_back_the_same(job):
    store = (
        Offcut(label="EX-1", stock="duct 40x60", length=455.5),
        Offcut(label='6" bit', stock="cover 40x60", length=320),
    )
    write_offcuts(job / OFFCUTS, store)
    assert read_job(job).offcuts == store
    before = (job / OFFCUTS).read_bytes()
    write_offcuts(job / OFFCUTS, store)
    assert (job / OFFCUTS).read_bytes() == before


@pytest.mark.parametrize(
    ("heading", "cell", "is_fault"),
    [
        ("length_mm", "2000", False),
        ("length_mm", "2000.5", True),
        ("length_in", "78.74", False),
        ("length_in", "3000", True),
        ("length_mm", "3000 in", True),
    ],
)
@pytest.mark.parametrize("stock", ["duct 40x60", "cover 40x60", "rail TH35-7.5"])
def test_an_off_cut_longer_than_its_bar_is_a_fault_as_typed(job, stock, heading, cell, is_fault):
    """Bars of the example are 2000 mm long; nothing longer can be left of one."""
    (job / OFFCUTS).write_text(f"label,stock,{heading}\nA1,elsewhere,99999\nA2,{stock},{cell}\n")
    if not is_fault:
        assert len(read_job(job).offcuts) == 2
        return
    with pytest.raises(InputErrors) as caught:
        read_job(job)
    (fault,) = caught.value.faults
    assert (fault.file, fault.row, fault.field, fault.value) == (OFFCUTS, 3, heading, cell)
    assert f"whole bar of {stock}, 2000 mm" in fault.problem
