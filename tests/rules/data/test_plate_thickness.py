"""Usual plates: 16 gauge (1.519 mm, Manufacturers' Standard Gauge) to 4 mm."""

import pytest

from platewright.tables.sheet_gauges import sheet_gauge

from ..builders import panel, settings, verdict

RULE = "data.plate-thickness"


@pytest.mark.parametrize(
    ("thickness", "wanted"),
    [
        (1.5, "PASS"),
        (1.51, "PASS"),
        (1.49, "CAUTION"),
        (4.0, "PASS"),
        (3.99, "PASS"),
        (4.01, "CAUTION"),
    ],
)
def test_range(thickness, wanted):
    assert verdict(RULE, panel(job=settings(plate={"thickness": thickness}))) == wanted


@pytest.mark.parametrize("gauge", ["16", "14", "12", "10"])
def test_gauges_of_the_trade_are_usual(gauge):
    job = settings(plate={"thickness": sheet_gauge(gauge).thickness})
    assert verdict(RULE, panel(job=job)) == "PASS"


@pytest.mark.parametrize("slip", [12.0, 0.1046])
def test_a_gauge_number_or_inches_read_as_millimetres(slip):
    assert verdict(RULE, panel(job=settings(plate={"thickness": slip}))) == "CAUTION"
