"""Tools, torques, fasteners: compared with the collections of trade values they were taken from."""

import pytest

from platewright.foundation.sources import Standing
from platewright.model.job import Practice
from platewright.tables.fasteners import box_of, grip, screw_lengths
from platewright.tables.feeds import feed_per_turn, tapping_speed
from platewright.tables.strengths import rivet
from platewright.tables.threads import thread
from platewright.tables.tools import drill_length, tool, tool_row
from platewright.tables.torques import clamp_torques, fixing_torque, wire_torque
from platewright.tables.usual_fasteners import usual_fasteners


def test_tools_are_practice_and_say_so() -> None:
    assert tool("chuck diameter") == 48
    assert tool_row("reach").standing is Standing.PRACTICE
    with pytest.raises(KeyError):
        tool("hammer")


@pytest.mark.parametrize(
    ("diameter", "length"), [(4.2, 75), (5.0, 86), (4.0386, 65), (1.0, 57), (12.0, 117)]
)
def test_a_drill_not_listed_is_taken_as_the_next_thinner(diameter: float, length: float) -> None:
    """DIN 338: 4.2 is 75 long, 5.0 86, 3.3 65."""
    assert drill_length(diameter) == length


def test_clamping_screws_as_iec_60947_1_has_them() -> None:
    found = {row.screw: row.torque for row in clamp_torques()}
    assert (found["M3"], found["M4"], found["M5"], found["M8"]) == (0.5, 1.2, 2.0, 3.5)


def test_torque_by_wire_as_ul_486a_has_it() -> None:
    """NEC Annex I: 14 AWG 20 and 35 lb-in, 6 AWG 35 and 45 (0.113 N·m each)."""
    small = wire_torque("14")
    large = wire_torque("6")
    assert small is not None and large is not None  # noqa: PT018
    assert (small.narrow_slot, small.wide_slot) == pytest.approx((20 * 0.113, 35 * 0.113), abs=0.01)
    assert large.wide_slot == pytest.approx(45 * 0.113, abs=0.01)
    assert wire_torque("4/0") is None


def test_fixing_screws_by_what_they_hold() -> None:
    duct, rail = fixing_torque("duct", "M5"), fixing_torque("rail", "#10-32")
    assert duct is not None and 0.8 <= duct.torque <= 1.2  # noqa: PT018
    assert rail is not None and rail.torque == pytest.approx(22 * 0.113, abs=0.05)  # noqa: PT018
    assert fixing_torque("duct", "M12") is None


@pytest.mark.parametrize("practice", [str(each) for each in Practice])
def test_usual_fasteners_are_in_the_tables_and_alike(practice: str) -> None:
    """Trade values: M5 and 10-32 are plate hardware; rivets 4.8 and 3/16 (4.9 and 4.85 holes)."""
    usual = usual_fasteners(practice)
    assert usual.standing is Standing.PRACTICE
    for name in (usual.duct_screw, usual.rail_screw):
        size = thread(name)
        assert size is not None
        assert size.major == pytest.approx(4.9, abs=0.1)
        assert size.name.startswith("M") == (practice == "iec")
    for holds, name in (("duct", usual.duct_screw), ("rail", usual.rail_screw)):
        assert fixing_torque(holds, name) is not None
    pin = rivet(usual.duct_rivet)
    assert pin is not None
    assert pin.hole == pytest.approx(4.88, abs=0.03)


def test_feeds_and_tapping() -> None:
    """A table in inches: up to 1/8 in 0.001 to 0.003, up to 1/4 in 0.002 to 0.006 a turn."""
    assert 0.0254 <= feed_per_turn(3.0) <= 0.0762
    assert 0.0508 <= feed_per_turn(4.2) <= 0.1524
    assert 0.1016 <= feed_per_turn(8.5) <= 0.254
    assert feed_per_turn(20) == feed_per_turn(12)
    assert tapping_speed("steel") == pytest.approx(30 * 0.3048)
    assert tapping_speed("wood") is None


def test_fasteners() -> None:
    assert screw_lengths(metric=True)[:3] == (6, 8, 10)
    assert screw_lengths(metric=False)[2] == pytest.approx(12.7)
    assert grip("rail").held < grip("device").held
    assert box_of("screw").in_box == 100
