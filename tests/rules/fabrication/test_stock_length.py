"""Bars of 2000 mm."""

import pytest

from platewright.model.layout import Run

from ..builders import duct, panel, rail, settings, told, verdict

RULE = "fabrication.stock-length"
LENGTHS = [(2000, "PASS"), (1999.9, "PASS"), (2000.1, "FAIL")]


@pytest.mark.parametrize(("length", "wanted"), LENGTHS)
def test_rail(length, wanted):
    assert verdict(RULE, panel(layout={"rails": {"R1": rail(0, 0, length)}})) == wanted


@pytest.mark.parametrize(("length", "wanted"), LENGTHS)
@pytest.mark.parametrize("stock", ["40x60", ""])
def test_duct_by_name_or_by_size(length, stock, wanted):
    ducts = {"U1": duct(0, 0, length, Run.UPRIGHT, stock=stock)}
    assert verdict(RULE, panel(layout={"ducts": ducts})) == wanted


@pytest.mark.parametrize(("length", "wanted"), [(1990, "PASS"), (1989, "PASS"), (1991, "FAIL")])
def test_the_trimmed_end_is_lost(length, wanted):
    job = settings(stock={"end_trim": 10.0})
    assert verdict(RULE, panel(layout={"rails": {"R1": rail(0, 0, length)}}, job=job)) == wanted


@pytest.mark.parametrize(
    "layout",
    [
        {"rails": {"R1": rail(0, 0, 100, profile="TH35-15")}},
        {"ducts": {"U1": duct(0, 0, 100, stock="80x80")}},
    ],
)
def test_what_is_not_in_stock_is_undecided(layout):
    (found,) = told(RULE, panel(layout=layout))
    assert found.verdict == "UNDECIDED"
    assert "job.toml" in found.cure
