"""Shop practice: compared with the two collections of trade values it was taken from."""

import pytest

from platewright.foundation.sources import Standing
from platewright.model.wire import SizeSystem, WireSize
from platewright.tables.bending_space import bending_space
from platewright.tables.cutting_speeds import cutting_speed
from platewright.tables.ferrules import ferrule_colour, ferrule_length
from platewright.tables.fixings import fixing_limits
from platewright.tables.heat_gaps import heat_gap
from platewright.tables.hole_spacing import hole_spacing
from platewright.tables.sheet_gauges import sheet_gauge


def test_fixings_take_the_safer_of_both_collections() -> None:
    rail, duct = fixing_limits("rail"), fixing_limits("duct")
    assert (rail.end, rail.span, rail.heavy, rail.heavy_span) == (50, 300, 1, 200)
    assert (duct.end, duct.span, duct.two_lines) == (50, 300, 80)
    assert rail.standing is duct.standing is Standing.PRACTICE
    with pytest.raises(KeyError):
        fixing_limits("door")


@pytest.mark.parametrize(
    ("heat", "gaps"),
    [
        (0.0, (0, 0, 0)),
        (5.0, (0, 0, 0)),
        (5.01, (0, 10, 10)),
        (20.0, (0, 10, 10)),
        (20.01, (25, 50, 50)),
        (50.0, (25, 50, 50)),
        (50.01, (50, 100, 50)),
        (1000.0, (50, 100, 50)),
    ],
)
def test_heat_gaps(heat: float, gaps: tuple[float, float, float]) -> None:
    row = heat_gap(heat)
    assert (row.side, row.above, row.below) == gaps


def test_no_plastic_right_above_what_is_hot() -> None:
    assert [heat_gap(heat).plastic_above for heat in (5, 20, 50, 51)] == [None, None, None, 50]


def test_hole_spacing() -> None:
    spacing = hole_spacing()
    assert (spacing.edge, spacing.edge_least, spacing.centres) == (2, 1.5, 3)


def test_a_gauge_is_another_thickness_in_each_material() -> None:
    rows = [sheet_gauge("14", material) for material in ("aluminium", "steel", "galvanised")]
    thickness = [row.thickness for row in rows if row is not None]
    assert thickness == sorted(set(thickness))
    assert len(thickness) == 3
    assert sheet_gauge("14 gauge") == sheet_gauge("14ga") == sheet_gauge("14")
    assert sheet_gauge("14", "stainless") is None
    assert sheet_gauge("13") is None


def test_ferrules_by_awg_are_not_smaller_than_their_conductor_by_much() -> None:
    blue = ferrule_colour(WireSize("14", SizeSystem.AWG))
    assert blue is not None
    assert (blue.number, blue.colour) == ("2.5", "blue")
    length = ferrule_length(WireSize("1.0", SizeSystem.MM2))
    assert length is not None
    assert length.barrel < length.strip < length.total
    assert ferrule_length(WireSize("30", SizeSystem.AWG)) is None
    assert ferrule_colour(WireSize("120", SizeSystem.MM2)) is None


@pytest.mark.parametrize(
    ("number", "awg", "barrel", "total", "strip"),
    [
        ("0.5", "20", 8, 14, 10),
        ("0.75", "18", 8, 14, 10),
        ("1", "17", 8, 14, 10),
        ("1.5", "16", 8, 14, 10),
        ("2.5", "14", 8, 15, 10),
        ("4", "12", 10, 17, 12),
        ("6", "10", 12, 20, 14),
        ("10", "8", 12, 22, 15),
        ("16", "6", 12, 24, 15),
        ("25", "4", 16, 30, 18),
        ("35", "2", 16, 30, 18),
        ("50", "1/0", 20, 36, 22),
    ],
)
def test_ferrule_lengths(number: str, awg: str, barrel: float, total: float, strip: float) -> None:
    # DIN 46228-4, from memory
    row = ferrule_length(WireSize(number, SizeSystem.MM2))
    assert row is not None
    assert row == ferrule_length(WireSize(awg, SizeSystem.AWG))
    assert (row.barrel, row.total, row.strip) == (barrel, total, strip)
    assert row.standing is Standing.MEMORY


def test_no_bending_space_for_metric_sizes() -> None:
    assert bending_space(WireSize("6", SizeSystem.MM2)) is None


def test_cutting_speeds() -> None:
    # surface feet per minute of a drilling table for high-speed steel
    for material, slowest, fastest in (
        ("steel", 70, 100),
        ("stainless", 30, 50),
        ("aluminium", 200, 300),
        ("plastic", 100, 300),
    ):
        row = cutting_speed(material)
        assert row is not None
        assert row.slowest / 0.3048 == pytest.approx(slowest, rel=0.002)
        assert row.fastest / 0.3048 == pytest.approx(fastest, rel=0.002)
    assert cutting_speed("wood") is None
