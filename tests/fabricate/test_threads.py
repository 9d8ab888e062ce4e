"""Threads in plates against published and handbook values.

Sources: UL 98 6.7.2.5 (two full threads, metal of 1.27 mm at least); ISO 273 (clearance
holes, medium fit); tap drills and percentages of thread: handbook drill and tap charts;
sheet gauges: manufacturers' standard gauge (14 ga 1.897 mm, 12 ga 2.657 mm).
"""

import pytest

from platewright.fabricate.threads import (
    FEWEST_THREADS,
    THINNEST_TAPPED,
    engaged_threads,
    hole_choice,
    known_thread,
    percent_thread,
    rivet_choice,
    spindle_speed,
    takes_combined,
    tap_drill,
)
from platewright.foundation.errors import InputErrors
from platewright.foundation.sources import Standing
from platewright.foundation.units import MM_PER_INCH
from platewright.model.layout import HoleKind

GA14, GA12 = 1.897, 2.657


# thickness over pitch, worked by hand; the two marks of the trade's own table
@pytest.mark.parametrize(
    ("screw", "thickness", "threads", "kind"),
    [
        ("M5", 2.0, 2.50, HoleKind.TAPPED),
        ("M6", 2.0, 2.00, HoleKind.TAPPED),  # on the limit: passes
        ("M8", 2.0, 1.60, HoleKind.CLEARANCE),
        ("M5", 1.5, 1.88, HoleKind.CLEARANCE),
        ("M6", GA14, 1.90, HoleKind.CLEARANCE),
        ("M8", 2.5, 2.00, HoleKind.TAPPED),
        ("#10-24", GA14, 1.79, HoleKind.SELF_TAPPING),
        ("#10-32", GA14, 2.39, HoleKind.TAPPED),
        ("10-24", GA12, 2.51, HoleKind.TAPPED),
        ("1/4-20", GA14, 1.49, HoleKind.SELF_TAPPING),
        ("1/4-20", 2.5, 1.97, HoleKind.SELF_TAPPING),
        ("1/4-28", GA14, 2.09, HoleKind.TAPPED),
        ("5/16-18", GA12, 1.88, HoleKind.CLEARANCE),
        ("5/16-18", 3.0, 2.13, HoleKind.TAPPED),
        ("3/8-16", GA12, 1.67, HoleKind.CLEARANCE),
    ],
)
def test_threads_held_and_what_follows(
    screw: str, thickness: float, threads: float, kind: HoleKind
) -> None:
    assert engaged_threads(known_thread(screw), thickness) == pytest.approx(threads, abs=0.0051)
    assert hole_choice(screw, thickness=thickness, material="steel").kind is kind


@pytest.mark.parametrize(
    ("screw", "drill"),
    [("M4", 3.3), ("M5", 4.2), ("M6", 5.0), ("M8", 6.8), ("10-32", 4.04), ("1/4-20", 5.11)],
)
def test_tapped_holes_take_the_chart_drill(screw: str, drill: float) -> None:
    choice = hole_choice(screw, thickness=4.0, material="steel")
    assert choice.kind is HoleKind.TAPPED
    assert choice.drill == pytest.approx(drill, abs=0.01)


@pytest.mark.parametrize(("screw", "drill"), [("M5", 5.5), ("M6", 6.6), ("M8", 9.0)])
def test_through_holes_take_the_medium_clearance(screw: str, drill: float) -> None:
    """ISO 273, medium."""
    choice = hole_choice(screw, thickness=1.5, material="steel")
    assert choice.kind is HoleKind.CLEARANCE
    assert choice.drill == drill


@pytest.mark.parametrize(
    ("major", "drill", "pitch", "percent"),
    [
        (5.0, 4.2, 0.8, 77.0),
        (0.250 * MM_PER_INCH, 0.201 * MM_PER_INCH, MM_PER_INCH / 20, 75.4),
        (0.164 * MM_PER_INCH, 0.136 * MM_PER_INCH, MM_PER_INCH / 32, 69.0),
    ],
)
def test_percent_of_thread(major: float, drill: float, pitch: float, percent: float) -> None:
    """Drill and tap charts: n (D - d) / 0.01299 (inch), 76.98 (D - d) / P (metric)."""
    assert 100 * percent_thread(major, drill=drill, pitch=pitch) == pytest.approx(percent, abs=0.1)


def test_chart_drills_leave_a_usual_thread() -> None:
    for screw in ("M3", "M4", "M5", "M6", "M8", "6-32", "10-32", "1/4-20"):
        size = known_thread(screw)
        share = percent_thread(size.major, drill=size.tap_drill, pitch=size.pitch)
        assert 0.65 < share < 0.85, screw


def test_limit_of_two_threads_at_and_beside() -> None:
    m6 = known_thread("M6")
    at = FEWEST_THREADS * m6.pitch
    kinds = [
        hole_choice("M6", thickness=t, material="steel").kind for t in (at - 0.01, at, at + 0.01)
    ]
    assert kinds == [HoleKind.CLEARANCE, HoleKind.TAPPED, HoleKind.TAPPED]


def test_thinner_than_the_thinnest_tapped_sheet() -> None:
    at = hole_choice("M3", thickness=THINNEST_TAPPED, material="steel")
    below = hole_choice("M3", thickness=THINNEST_TAPPED - 0.01, material="steel")
    assert at.kind is HoleKind.TAPPED
    assert below.kind is HoleKind.CLEARANCE
    assert "1.27 mm" in below.reason


def test_aluminium_needs_more_threads_by_practice() -> None:
    choice = hole_choice("M6", thickness=2.5, material="aluminium")
    assert choice.kind is HoleKind.CLEARANCE
    assert choice.source.standing is Standing.PRACTICE
    assert hole_choice("M6", thickness=3.0, material="aluminium").kind is HoleKind.TAPPED


def test_the_reason_says_how_many_and_how_many_are_needed() -> None:
    reason = hole_choice("M6", thickness=1.9, material="steel").reason
    assert reason == "M6 in 1.9 mm steel: 1.90 threads, 2 needed; bolt and nut"


def test_unknown_thread_is_told_with_its_cure() -> None:
    with pytest.raises(InputErrors, match=r"M55.*not have.*M5"):
        hole_choice("M55", thickness=2.0, material="steel")


@pytest.mark.parametrize(("screw", "inches"), [("10-32", 0.1717), ("8-32", 0.1467)])
def test_thread_forming_holes_are_those_of_the_bulletin(screw: str, inches: float) -> None:
    """Thread-rolling screw bulletin, cold-rolled steel of 14 gauge (0.0747 in), in inches."""
    pilot = known_thread(screw).forming_pilot_in(GA14)
    assert pilot is not None
    assert pilot.pilot == pytest.approx(inches * MM_PER_INCH, abs=0.003)


def test_thread_forming_where_the_plate_is_too_thin_to_tap() -> None:
    choice = hole_choice("#10-24", thickness=GA14, material="steel")
    assert choice.drill == pytest.approx(0.1656 * MM_PER_INCH, abs=0.003)
    assert choice.reason.endswith("thread-forming screw")
    assert hole_choice("#10-24", thickness=GA14, material="aluminium").kind is HoleKind.CLEARANCE
    assert hole_choice("#10-24", thickness=GA14, material="stainless").kind is HoleKind.CLEARANCE
    assert hole_choice("10-24", thickness=0.97, material="steel").kind is HoleKind.CLEARANCE


def test_a_torque_that_strips_the_plate_asks_for_a_nut() -> None:
    """M6 in 2 mm steel strips above 3.8 N·m; in 3 mm the screw is the weaker."""
    most = hole_choice("M6", thickness=2.0, material="steel").most_torque
    assert most == pytest.approx(3.79, rel=0.01)
    kinds = [
        hole_choice("M6", thickness=2.0, material="steel", torque=torque).kind
        for torque in (most - 0.01, most, most + 0.01)
    ]
    assert kinds == [HoleKind.TAPPED, HoleKind.TAPPED, HoleKind.CLEARANCE]
    told = hole_choice("M6", thickness=2.0, material="steel", torque=5.0)
    assert "strips above 3.8" in told.reason
    assert hole_choice("M6", thickness=3.0, material="steel", torque=5.0).kind is HoleKind.TAPPED


@pytest.mark.parametrize("screw", ["M3", "M4", "M5", "M6", "M8", "10-32", "1/4-20", "8-32"])
def test_stainless_takes_a_drill_for_50_to_60_percent(screw: str) -> None:
    size = known_thread(screw)
    share = percent_thread(size.major, drill=tap_drill(size, "stainless"), pitch=size.pitch)
    assert 0.45 <= share <= 0.601
    assert tap_drill(size, "steel") == size.tap_drill


@pytest.mark.parametrize(
    ("screw", "thickness", "material", "can"),
    [
        ("M4", 3.0, "steel", True),
        ("M4", 3.3, "steel", False),
        ("M5", 4.0, "steel", True),
        ("M5", 4.1, "steel", False),
        ("M6", 4.8, "steel", True),
        ("M6", 5.0, "steel", False),
        ("M5", 2.0, "stainless", False),
    ],
)
def test_combined_bits_only_in_thin_plates(
    screw: str, thickness: float, material: str, can: bool
) -> None:
    """Shop practice: about 0.8 of the screw's diameter (M4 3, M5 4, M6 5), never stainless."""
    assert takes_combined(known_thread(screw), thickness=thickness, material=material) is can


@pytest.mark.parametrize(
    ("speed", "diameter", "rpm"),
    [
        (80 * 0.3048, 0.5 * MM_PER_INCH, 611),
        (55 * 0.3048, 0.25 * MM_PER_INCH, 840),
        (25.0, 4.2, 1895),
    ],
)
def test_spindle_speed(speed: float, diameter: float, rpm: float) -> None:
    """Drilling tables: 80 ft/min and 1/2 in 611, 55 ft/min and 1/4 in 840 turns a minute."""
    assert spindle_speed(speed, diameter) == pytest.approx(rpm, abs=1)


@pytest.mark.parametrize(
    ("name", "least", "most"),
    [("1/8", 0.128, 0.132), ("5/32", 0.160, 0.164), ("1/4", 0.257, 0.261)],
)
def test_rivet_holes_lie_in_their_window(name: str, least: float, most: float) -> None:
    """Army technical manual, rivet table, inches."""
    drill = rivet_choice(name).drill / MM_PER_INCH
    assert least - 1e-4 <= drill <= most
    assert rivet_choice(name).kind is HoleKind.RIVET


def test_metric_rivets_and_unknown_ones() -> None:
    assert [rivet_choice(n).drill for n in ("3.2", "4.0", "4.8", "6.4")] == [3.3, 4.1, 4.9, 6.5]
    with pytest.raises(InputErrors, match=r"duct_rivet.*5.5.*not have"):
        rivet_choice("5.5")
