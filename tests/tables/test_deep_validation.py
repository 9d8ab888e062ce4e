"""The told errors of the flow solver: those of the page of the long runs, one of them run anew."""

from pathlib import Path

import pytest

from platewright.heat.solvers.cavity import extrapolated, square_cavity
from platewright.tables.deep_validation import validation

PAGE = (Path(__file__).parents[2] / "docs" / "heat-validation.md").read_text(encoding="utf-8")


@pytest.mark.parametrize("row", validation(), ids=lambda row: f"{row.check} {row.cells}")
def test_numbers_are_those_of_the_page(row):
    if row.check.startswith("square"):
        rayleigh = row.check.rsplit(" ", 1)[1]
        line = next(x for x in PAGE.splitlines() if x.startswith(f"| {rayleigh} | {row.cells} "))
        assert f"| {row.found:.4f} | {row.expected:g} |" in line
        assert row.error in line.replace("**", "") or row.unit != "Nu" or _close(row, line)
    else:
        assert f"{row.found:.2f}" in PAGE
        assert f"{row.expected:.2f}" in PAGE


def _close(row, line):
    """The page works its percents out of unrounded numbers: the last digit may differ."""
    told = float(row.error.split()[0])
    shown = [
        float(cell.strip(" *%"))
        for cell in line.split("|")
        if cell.strip(" *").endswith("%") and cell.strip(" *")[0] in "+-"
    ]
    return any(abs(told - each) < 0.015 for each in shown)


def test_one_case_run_anew():
    runs = [square_cavity(1e3, cells=n)[0] for n in (32, 64)]
    limit = extrapolated(runs[0].nusselt, runs[1].nusselt, 2.0)
    rows = [row for row in validation() if row.check.endswith("Ra 1e3")]
    assert runs[1].nusselt == pytest.approx(rows[0].found, abs=2e-4)
    assert limit == pytest.approx(rows[1].found, abs=2e-4)


def test_what_misses_its_aim_is_among_the_rows():
    third = next(row for row in validation() if "0.3" in row.check)
    assert third.error == "-1.54 K"
