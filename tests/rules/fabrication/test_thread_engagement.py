"""Full threads in a tapped plate, thickness over pitch.

UL 98 6.7.2.5 asks for two. Pitches: ISO 261 and ASME B1.1. The table of cases is that of the
trade reference: M6 in 2.0 mm holds exactly 2.00; 10-24 in 14 gauge (1.897 mm) 1.79; 10-32 2.39.
"""

import pytest

from platewright.model.job import Practice
from platewright.model.layout import HoleKind
from platewright.tables.sheet_gauges import sheet_gauge

from ..builders import hole, panel, settings, told, verdict

RULE = "fabrication.thread-engagement"


def tapped(size, thickness, **fields):
    return panel(
        layout={"holes": {"H1": hole(50, 50, size=size, **fields)}},
        job=settings(plate={"thickness": thickness}),
    )


@pytest.mark.parametrize(
    ("size", "thickness", "wanted"),
    [
        ("M6", 2.0, "PASS"),
        ("M6", 2.01, "PASS"),
        ("M6", 1.99, "FAIL"),
        ("M5", 1.5, "FAIL"),
        ("M8", 2.5, "PASS"),
        ("M8", 2.0, "FAIL"),
        ("M4", 1.5, "PASS"),
    ],
)
def test_metric(size, thickness, wanted):
    assert verdict(RULE, tapped(size, thickness)) == wanted


@pytest.mark.parametrize(
    ("size", "gauge", "threads", "wanted"),
    [
        ("10-24", "14", 1.79, "FAIL"),
        ("10-32", "14", 2.39, "PASS"),
        ("10-24", "12", 2.51, "PASS"),
        ("1/4-20", "14", 1.49, "FAIL"),
        ("1/4-20", "12", 2.09, "PASS"),
        ("5/16-18", "12", 1.88, "FAIL"),
    ],
)
def test_unified_in_gauge_sheet(size, gauge, threads, wanted):
    (found,) = told(RULE, tapped(size, sheet_gauge(gauge).thickness))
    assert found.verdict == wanted
    assert found.measured == pytest.approx(threads, abs=0.006)


def test_one_finding_a_thread_names_its_holes():
    holes = {f"H{n}": hole(50 * n, 50) for n in range(1, 9)}
    (found,) = told(RULE, panel(layout={"holes": holes}))
    assert "H1, H2, H3, H4, H5, H6 and 2 more" in found.message


def test_through_holes_hold_by_their_nut():
    assert verdict(RULE, tapped("M8", 1.5, kind=HoleKind.CLEARANCE)) == "NOT_APPLICABLE"


def test_an_unknown_thread_is_undecided():
    assert verdict(RULE, tapped("W7", 2.0)) == "UNDECIDED"


def test_a_job_by_iec_is_told_that_the_limit_is_north_american():
    holes = {"layout": {"holes": {"H1": hole(50, 50, size="M5")}}}
    (found,) = told(RULE, panel(**holes, job=settings(practice=Practice.IEC)))
    assert "taken from North America" in str(found.source)
    (found,) = told(RULE, panel(**holes, job=settings(practice=Practice.NORTH_AMERICA)))
    assert str(found.source) == "UL 98 6.7.2.5"
