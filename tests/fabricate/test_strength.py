"""Torque and strength of threads against published tables and worked values.

Sources: ISO 898-1 (stress areas, proof loads); FED-STD-H28/2 by way of a handbook (stripping
area); the collections of trade values, which worked torques out of these by hand.
"""

import pytest

from platewright.fabricate.strength import (
    engagement_for_full_strength,
    greatest_pitch_diameter,
    least_major,
    most_torque,
    preload,
    proof_load,
    stress_area,
    stripped_area,
    stripping_load,
    torque_for,
)
from platewright.fabricate.threads import known_thread
from platewright.foundation.units import MM_PER_INCH


@pytest.mark.parametrize(
    ("major", "pitch", "area"), [(4, 0.7, 8.78), (5, 0.8, 14.2), (8, 1.25, 36.6), (10, 1.5, 58.0)]
)
def test_stress_area_of_iso_898_1(major: float, pitch: float, area: float) -> None:
    assert stress_area(major, pitch) == pytest.approx(area, rel=0.005)


@pytest.mark.parametrize(
    ("screw", "name", "load"),
    [("M5", "4.8", 4400), ("M4", "4.8", 2720), ("M6", "8.8", 11600), ("M8", "8.8", 21200)],
)
def test_proof_loads_of_iso_898_1(screw: str, name: str, load: float) -> None:
    """Printed loads, rounded there to three digits."""
    assert proof_load(known_thread(screw), name) == pytest.approx(load, rel=0.006)


def test_torque_and_force() -> None:
    """K 0.2: M5 4.8 at 0.75 of 4400 N 3.30 N·m; M6 8.8 at 11 600 N 10.44; M4 1.2 N·m 1500 N."""
    assert torque_for(0.75 * 4400, major=5, friction=0.2) == pytest.approx(3.30, abs=0.005)
    assert torque_for(0.75 * 11600, major=6, friction=0.2) == pytest.approx(10.44, abs=0.005)
    assert preload(1.2, major=4, friction=0.2) == pytest.approx(1500)


@pytest.mark.parametrize(
    ("screw", "thickness", "torque"),
    [
        ("M3", 2.0, 0.70), ("M4", 2.0, 1.61), ("M4", 2.5, 1.63), ("M5", 2.0, 2.59),
        ("M5", 2.5, 3.24), ("M5", 3.0, 3.30), ("M6", 2.0, 3.79), ("M6", 2.5, 4.74),
        ("M6", 3.0, 5.61), ("M8", 2.0, 6.98), ("M8", 2.5, 8.72), ("M8", 3.0, 10.5),
    ],
)  # fmt: skip
def test_torque_in_tapped_mild_steel(screw: str, thickness: float, torque: float) -> None:
    """Worked table: least of 0.75 proof 4.8 and 0.6 of what strips (216 N/mm²), K 0.2.

    1 %: that table took tolerances as printed, here they come from the standard's formulas,
    unrounded.
    """
    found = most_torque(known_thread(screw), thickness=thickness, material="steel")
    assert found == pytest.approx(torque, rel=0.01)


@pytest.mark.parametrize(
    ("screw", "least", "pitch_diameter"),
    [("M5", 4.826, 4.605), ("M6", 5.794, 5.500), ("M8", 7.760, 7.348), ("M4", 3.838, 3.663)],
)
def test_limits_of_iso_965(screw: str, least: float, pitch_diameter: float) -> None:
    """ISO 965-2 limits of 6g screws and 6H nuts; tolerances are rounded to a series there."""
    assert least_major(known_thread(screw)) == pytest.approx(least, abs=0.006)
    assert greatest_pitch_diameter(known_thread(screw)) == pytest.approx(pitch_diameter, abs=0.006)


@pytest.mark.parametrize(
    ("screw", "least", "pitch_diameter"), [("1/4-20", 0.2408, 0.2224), ("10-32", 0.1831, 0.1736)]
)
def test_limits_of_asme_b1_1(screw: str, least: float, pitch_diameter: float) -> None:
    """ASME B1.1: least major 2A and greatest pitch diameter 2B, inches."""
    size = known_thread(screw)
    assert least_major(size) / MM_PER_INCH == pytest.approx(least, abs=0.0003)
    assert greatest_pitch_diameter(size) / MM_PER_INCH == pytest.approx(pitch_diameter, abs=0.0003)


def test_a_thicker_plate_strips_later_and_a_softer_one_sooner() -> None:
    m5 = known_thread("M5")
    assert stripped_area(m5, 4.0) == pytest.approx(2 * stripped_area(m5, 2.0))
    steel = stripping_load(m5, thickness=2.0, material="steel")
    soft = stripping_load(m5, thickness=2.0, material="aluminium")
    assert steel is not None and soft == pytest.approx(steel / 2)  # noqa: PT018
    assert stripping_load(m5, thickness=2.0, material="wood") is None
    assert most_torque(m5, thickness=2.0, material="wood") is None


def test_full_strength_takes_more_than_half_a_diameter() -> None:
    """Handbook rule: in a plate as strong as the screw about half to 0.6 of the diameter."""
    for screw in ("M4", "M5", "M6", "M8", "1/4-20", "10-32"):
        size = known_thread(screw)
        assert 0.45 < engagement_for_full_strength(size) / size.major < 0.65
