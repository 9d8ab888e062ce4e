"""Inch drills against the tap and drill chart of American machine screws, printed to 0.0001 in."""

import pytest

from platewright.tables.drills import inch_drill, is_metric_drill
from platewright.tables.threads import thread

CHART = {  # screw: tap drill, its inches; free fit, its inches
    "4-40": ("#43", 0.0890, "#30", 0.1285),
    "6-32": ("#36", 0.1065, "#25", 0.1495),
    "8-32": ("#29", 0.1360, "#16", 0.1770),
    "10-24": ("#25", 0.1495, "#7", 0.2010),
    "10-32": ("#21", 0.1590, "#7", 0.2010),
    "1/4-20": ("#7", 0.2010, "H", 0.2660),
    "1/4-28": ("#3", 0.2130, "H", 0.2660),
    "5/16-18": ("F", 0.2570, "Q", 0.3320),
    "3/8-16": ("5/16", 0.3125, "X", 0.3970),
}


@pytest.mark.parametrize("screw", CHART)
def test_drills_of_the_chart_by_name(screw):
    tap, inches, free, wide = CHART[screw]
    found = thread(screw)
    assert found.tap_drill == pytest.approx(inches * 25.4, abs=0.003)
    assert inch_drill(found.tap_drill) == tap
    assert inch_drill(inches * 25.4) == tap
    assert found.clearance_medium == pytest.approx(wide * 25.4, abs=0.005)
    assert inch_drill(found.clearance_medium) == free


@pytest.mark.parametrize("metric", [2.05, 2.5, 3.3, 4.2, 4.8, 5.0, 5.5, 6.6, 6.8, 8.5, 9.0, 10.2])
def test_metric_drills_are_no_inch_drills(metric):
    """#12 is 4.8006 mm and near 4.8: a metric drill keeps its name."""
    assert is_metric_drill(metric)
    assert inch_drill(metric) is None


def test_fractions_and_strangers():
    assert inch_drill(12.7) == "1/2"
    assert inch_drill(25.4 * 3 / 16) == "3/16"
    assert inch_drill(4.386) is None  # pilot of a thread-rolling screw, 0.1727 in: no usual drill


def test_every_screw_of_the_chart_is_smaller_than_the_next():
    names = [f"#{n}" for n in range(60, 0, -1)] + [chr(c) for c in range(ord("A"), ord("Z") + 1)]
    from platewright.tables.drills import InchDrill
    from platewright.tables.reader import read_table

    rows = {row.name: row.diameter for row in read_table("inch_drills", InchDrill)}
    assert list(rows) == [f"#{n}" for n in range(1, 61)] + names[60:]
    sizes = [rows[name] for name in names]
    assert sizes == sorted(sizes)
    assert len(set(sizes)) == len(sizes)
