"""A list that ends in the middle of a row: told first and as what it is, what follows summed up."""

import csv
import io
from pathlib import Path
from shutil import copytree

import pytest

from platewright.foundation.errors import InputErrors
from platewright.jobfile import folder as jobfolder
from platewright.jobfile.folder import read_job

EXAMPLE = Path(jobfolder.__file__).parent / "example"


@pytest.fixture
def job(tmp_path):
    return Path(copytree(EXAMPLE, tmp_path / "job"))


def whole_rows(path):
    """Fill rows up to the row of headings, as spreadsheets write them; return the text."""
    rows = list(csv.reader(io.StringIO(path.read_text("utf-8"))))
    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerows(
        [r + [""] * (len(rows[0]) - len(r)) for r in rows]
    )
    path.write_text(out.getvalue(), "utf-8")
    return out.getvalue()


def faults(job):
    try:
        read_job(job)
    except InputErrors as refused:
        return refused.faults
    return ()


@pytest.mark.parametrize("file", ["parts.csv", "devices.csv", "wires.csv"])
def test_cut_anywhere_in_a_row_the_first_fault_says_so_and_others_are_few(job, file):
    """A row is lost in part where a plain count of its dividers falls short of the headings'."""
    text = whole_rows(job / file)
    assert not faults(job)
    lines = text.splitlines(keepends=True)
    dividers = len(next(csv.reader(lines[:1]))) - 1
    tried = 0
    for kept in (2, len(lines) // 2, len(lines) - 1):
        start = sum(map(len, lines[:kept]))
        for end in range(start + 1, start + len(lines[kept]), 7):
            part = text[start:end]
            if part.count('"') % 2 or len(next(csv.reader([part]))) - 1 >= dividers:
                continue
            if not part.strip(","):
                continue
            (job / file).write_text(text[:end], "utf-8")
            found = faults(job)
            assert (found[0].file, found[0].row) == (file, kept + 1), found
            assert "is cut off" in found[0].problem
            assert len(found) <= 3, found
            assert all(f"{file} first" in fault.cure for fault in found[1:])
            tried += 1
    assert tried > 6


def test_short_rows_or_no_last_line_end_alone_are_read(job):
    text = whole_rows(job / "devices.csv")
    short = "".join(line.rstrip("\n").rstrip(",") + "\n" for line in text.splitlines(keepends=True))
    for content in (short, short.rstrip("\n"), text.rstrip("\n")):
        (job / "devices.csv").write_text(content, "utf-8")
        assert not faults(job)


def test_the_sum_names_how_many_and_the_first(job):
    text = whole_rows(job / "parts.csv")
    lines = text.splitlines(keepends=True)
    kept = [row[0] for row in csv.reader(lines[1:3])]
    rows = list(csv.DictReader(io.StringIO((job / "devices.csv").read_text("utf-8"))))
    lost = [row for row in rows if row["part"] not in kept and not row["part"].startswith("typ-")]
    (job / "parts.csv").write_text("".join(lines[:3]).rstrip("\n,")[:-12], "utf-8")
    found = faults(job)
    assert [fault.file for fault in found] == ["parts.csv", "devices.csv"]
    assert f"{len(lost)} devices name parts" in found[1].problem
    assert f"first {lost[0]['tag']}: {lost[0]['part']}" in found[1].problem


@pytest.mark.parametrize(
    ("more", "key", "value", "problem"),
    [
        ("length_in = -72", "length_in", "-72", "must be above 0"),
        ('length_mm = "-72 in"', "length_mm", "-72 in", "must be above 0"),
        ("slot_pitch_in = 0.1", "slot_pitch_in", "0.1", "must be at least 5 mm"),
        ("slot_pitch_in = 1, slot_length_in = 1.5", "slot_length_in", "1.5",
         "leaves nothing between two slots"),
    ],
)  # fmt: skip
def test_a_fault_shows_key_and_value_as_typed(job, more, key, value, problem):
    text = (job / "job.toml").read_text("utf-8")
    old = "width_mm = 25, height_mm = 60"
    assert old in text
    (job / "job.toml").write_text(text.replace(old, f"{old}, {more}", 1), "utf-8")
    (fault,) = faults(job)
    assert (fault.field, fault.value) == (f"stock.ducts[1].{key}", value)
    assert problem in fault.problem


def test_a_rail_above_its_body_is_told_in_the_units_of_the_list(job):
    """Whole rows apart, the example's parts in inches are the same parts."""
    text = whole_rows(job / "parts.csv")
    rows = list(csv.DictReader(io.StringIO(text)))
    at = next(n for n, row in enumerate(rows) if row["rail_center_mm"])
    for row in rows:
        for name in ("height_mm", "rail_center_mm"):
            cell = row.pop(name)
            row[name.replace("_mm", "_in")] = f"{float(cell) / 25.4:.4f}" if cell else ""
    rows[at]["rail_center_in"] = "25"
    out = io.StringIO()
    writer = csv.DictWriter(out, list(rows[0]), lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    (job / "parts.csv").write_text(out.getvalue(), "utf-8")
    (fault,) = faults(job)
    assert (fault.row, fault.field, fault.value) == (at + 2, "rail_center_in", "25")
    assert f"height_in = {rows[at]['height_in']}" in fault.problem
