"""Speeds against the drilling and tapping tables of the trade reference, depths by hand."""

import pytest

from platewright.fabricate.cutting import cut_of, spindle_speed
from platewright.foundation.units import MM_PER_INCH
from platewright.model.job import Plate
from platewright.model.steps import Pass, Work

FOOT = 0.3048


def one(work, diameter, size=""):
    return Pass(work=work, diameter=diameter, size=size, pilot=False, stands=(), way=0.0)


def plate(material="steel", thickness=2.5):
    return Plate(width=800, height=600, thickness=thickness, material=material)


@pytest.mark.parametrize(
    ("diameter", "feet", "turns"),
    [(0.5 * MM_PER_INCH, 80, 611), (0.25 * MM_PER_INCH, 55, 840)],
)
def test_turns_as_the_tables_work_them(diameter, feet, turns):
    """Check value 63: 80 ft/min with a 1/2 in drill 611, 55 ft/min with a 1/4 in tap 840."""
    assert spindle_speed(diameter, metres_per_minute=feet * FOOT) == pytest.approx(turns, abs=1)


@pytest.mark.parametrize(("diameter", "turns"), [(4.2, 1890), (8.5, 940)])
def test_drilling_steel_at_25_m_a_minute(diameter, turns):
    """The table of drill speeds: ⌀4.2 1890, ⌀8.5 940 a minute."""
    assert spindle_speed(diameter, metres_per_minute=25) == pytest.approx(turns, rel=0.01)


def test_the_slow_end_of_the_table_is_used_and_rounded_down():
    """70 ft/min on 4.2 mm: 1617 a minute; 10 turns are what a dial shows."""
    assert cut_of(one(Work.DRILL, 4.2), plate()).spindle == 1610


def test_drills_and_taps_go_through():
    drill = cut_of(one(Work.DRILL, 5.0), plate())
    tap = cut_of(one(Work.TAP, 4.2, "M5"), plate())
    assert drill.depth == pytest.approx(2.5 + 0.3 * 5.0 + 1)
    assert tap.depth == pytest.approx(2.5 + 3 * 0.8 + 1)
    assert tap.feed == 0.8
    assert cut_of(one(Work.MARK, 0.0), plate()).depth < 1


def test_hard_plates_are_drilled_slower_and_unknown_ones_as_steel():
    turns = {m: cut_of(one(Work.DRILL, 4.2), plate(m)).spindle
             for m in ("steel", "stainless", "aluminium", "oak")}  # fmt: skip
    assert turns["stainless"] < turns["steel"] < turns["aluminium"]
    assert turns["oak"] == turns["steel"]
