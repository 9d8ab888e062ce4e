import math

import pytest

from platewright.foundation.sources import Standing
from platewright.tables.threads import thread, thread_names

EVERY = [pytest.param(name, id=name) for name in thread_names()]


@pytest.mark.parametrize(
    ("spelling", "name"),
    [
        ("M5", "M5"),
        ("m5", "M5"),
        (" M 5 ", "M5"),
        ("10-32", "10-32"),
        ("#10-32", "10-32"),
        ("1/4-20", "1/4-20"),
        ("¼-20", "1/4-20"),
    ],
)
def test_spellings(spelling: str, name: str) -> None:
    found = thread(spelling)
    assert found is not None
    assert found.name == name


@pytest.mark.parametrize("spelling", ["", "M7", "M5x0.5", "5", "10-20", "screw"])
def test_what_is_no_thread_of_the_table_is_none(spelling: str) -> None:
    assert thread(spelling) is None


@pytest.mark.parametrize("name", EVERY)
def test_holes_grow_from_tap_drill_to_clearance(name: str) -> None:
    found = thread(name)
    assert found is not None
    minor = found.major - 1.0825 * found.pitch  # ISO 68-1 basic minor diameter
    assert minor - 0.02 < found.tap_drill < found.major < found.clearance_fine
    assert found.clearance_fine < found.clearance_medium
    for row in found.forming_pilots:
        assert found.tap_drill < row.pilot < found.major


@pytest.mark.parametrize("name", EVERY)
def test_stress_area_follows_from_pitch(name: str) -> None:
    # π/4 · (d − k · p)²; k is 0.9382 in ISO 898-1, which prints 3 digits, 0.9743 in ASME B1.1
    found = thread(name)
    assert found is not None
    factor = 0.9382 if name.startswith("M") else 0.9743
    area = math.pi / 4 * (found.major - factor * found.pitch) ** 2
    assert found.stress_area == pytest.approx(area, rel=0.005)


def test_unified_diameter_is_that_of_its_number() -> None:
    # ASME B1.1: D = 0.060 + 0.013 · number, in inches
    for name, number in (("4-40", 4), ("6-32", 6), ("8-32", 8), ("10-24", 10), ("10-32", 10)):
        found = thread(name)
        assert found is not None
        assert found.major == pytest.approx((0.060 + 0.013 * number) * 25.4)


def test_forming_pilot_follows_the_plate() -> None:
    found = thread("10-32")
    assert found is not None
    thin, thick = found.forming_pilot_in(1.9), found.forming_pilot_in(3.0)
    assert thin is not None
    assert thick is not None
    assert thin.pilot < thick.pilot
    assert thin.standing is Standing.PUBLISHED
    assert found.forming_pilot == thin.pilot
    too_thick = found.forming_pilot_in(6.0)
    assert too_thick is not None
    assert too_thick.standing is Standing.MEMORY
    assert found.forming_pilot_in(100.0) is None


def test_no_pilot_where_a_nut_is_used() -> None:
    found = thread("M12")
    assert found is not None
    assert found.forming_pilot is None


def test_what_is_known_from_memory_says_so() -> None:
    inch, metric = thread("10-32"), thread("M5")
    assert inch is not None
    assert metric is not None
    assert not inch.clearance_source.can_fail
    assert metric.clearance_source.can_fail
    assert inch.source.can_fail
