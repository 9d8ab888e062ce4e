"""Bars of 2000 mm."""

import pytest

from platewright.model.job import RailStock
from platewright.model.layout import Run

from ..builders import duct, panel, rail, settings, told, verdict

RULE = "fabrication.stock-length"


@pytest.mark.parametrize(("length", "pieces"), [(2000, 1), (1999.9, 1), (2000.1, 2), (4000.1, 3)])
@pytest.mark.parametrize("stock", ["40x60", ""])
def test_what_is_longer_than_its_bar_is_joined_and_told(length, pieces, stock):
    layout = {
        "rails": {"R1": rail(0, 0, length)},
        "ducts": {"U1": duct(0, 50, length, Run.UPRIGHT, stock=stock)},
    }
    found = told(RULE, panel(layout=layout))
    assert [f.verdict for f in found] == ["PASS", "PASS"]
    assert all((f"{pieces} pieces joined" in f.message) == (pieces > 1) for f in found)
    assert all(f.measured <= 2000 for f in found)


def test_the_joint_is_told_with_its_place():
    (found,) = told(RULE, panel(layout={"rails": {"R1": rail(0, 0, 3000)}}))
    assert "2 pieces joined 1500 mm from its left end: longest length 1500 mm" in found.message


@pytest.mark.parametrize(
    ("kind", "length", "pieces"),
    [
        ("ducts", 1990, 1),
        ("ducts", 1990.1, 2),
        ("rails", 1975, 1),  # it begins between two slots: at 25, not at 10
        ("rails", 1975.1, 2),
    ],
)
def test_the_trimmed_end_is_lost(kind, length, pieces):
    job = settings(stock={"end_trim": 10.0})
    piece = rail(0, 0, length) if kind == "rails" else duct(0, 0, length)
    (found,) = told(RULE, panel(layout={kind: {"P1": piece}}, job=job))
    assert ("joined" in found.message) == (pieces > 1)


@pytest.mark.parametrize(("length", "wanted"), [(100, "PASS"), (99.9, "PASS"), (100.1, "FAIL")])
def test_bars_too_short_to_join(length, wanted):
    """A piece of 100 mm has no room for two fixings and their ends."""
    job = settings(stock={"rail": RailStock(length=100.0)})
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
