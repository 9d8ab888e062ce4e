import pytest

from platewright.foundation.sources import Standing
from platewright.model.wire import SizeSystem, WireSize
from platewright.tables.reader import read_table
from platewright.tables.wires import ConductorRow, WireRow, conductor_row, wire_row, wire_types
from platewright.wiring.copper import conductor_area


def awg(number: str) -> WireSize:
    return WireSize(number, SizeSystem.AWG)


def mm2(number: str) -> WireSize:
    return WireSize(number, SizeSystem.MM2)


@pytest.mark.parametrize(
    ("size", "kind", "number"),
    [
        (awg("14"), "mtw", "14"),
        (awg("00"), "THHN", "2/0"),
        (awg("0"), "THHN", "1/0"),
        (awg("14"), "THHN/THWN", "14"),
        (mm2("1.0"), "H05V-K", "1"),
        (mm2("0.50"), "h05v-k", "0.5"),
        (mm2("2.5"), "H07V-K", "2.5"),
    ],
)
def test_spellings(size: WireSize, kind: str, number: str) -> None:
    row = wire_row(size, kind)
    assert row is not None
    assert row.number == number


@pytest.mark.parametrize(
    ("size", "kind"),
    [
        (awg("14"), "H07V-K"),
        (mm2("1.5"), "MTW"),
        (mm2("1.5"), "H05V-K"),
        (awg("24"), "MTW"),
        (awg("14"), "no such wire"),
        (mm2("1,5"), "H07V-K"),
    ],
)
def test_what_the_table_has_not_is_none(size: WireSize, kind: str) -> None:
    assert wire_row(size, kind) is None


def test_same_outside() -> None:
    assert wire_row(awg("12"), "THW") == wire_row(awg("12"), "MTW")
    assert {"MTW", "THWN-2", "H07V-K"} <= set(wire_types())


@pytest.mark.parametrize("kind", ["MTW", "THHN", "H05V-K", "H07V-K"])
def test_more_copper_is_thicker_outside_and_covers_the_copper(kind: str) -> None:
    rows = [row for row in read_table("wires", WireRow) if row.type == kind]
    areas = [conductor_area(WireSize(row.number, SizeSystem(row.system))) for row in rows]
    assert areas == sorted(areas)
    outer = [row.outer_diameter for row in rows]
    assert outer == sorted(set(outer))
    for row, area in zip(rows, areas, strict=True):
        assert 3.1416 / 4 * row.outer_diameter**2 > 1.2 * area
        assert (row.outer_diameter_min or 0.0) < row.outer_diameter


def test_conductor_areas_are_those_of_the_gauge_formula() -> None:
    for row in read_table("conductors", ConductorRow):
        area = conductor_area(WireSize(row.number, SizeSystem(row.system)))
        assert row.area == pytest.approx(area, rel=1e-3)


def test_resistance_falls_as_copper_grows() -> None:
    for system in SizeSystem:
        rows = [row for row in read_table("conductors", ConductorRow) if row.system == system]
        rows.sort(key=lambda row: row.area)
        ohms = [row.resistance for row in rows]
        assert ohms == sorted(ohms, reverse=True)


def test_lower_limits_of_metric_diameters() -> None:
    # EN 50525-2-31 lower limits, from memory
    rows = [row for row in read_table("wires", WireRow) if row.system == "mm2"]
    assert [row.outer_diameter_min for row in rows] == [
        *(2.1, 2.2, 2.4),
        *(2.8, 3.4, 3.9, 4.4, 5.7, 6.7, 8.4, 9.7, 11.5, 13.2, 15.1),
    ]


def test_every_resistance_is_that_of_its_temperature() -> None:
    for row in read_table("conductors", ConductorRow):
        assert row.temperature == (75 if row.system == "AWG" else 20)


def test_no_resistance_above_the_table() -> None:
    assert conductor_row(awg("4/0")) is None


def test_diameters_from_memory_say_so() -> None:
    row = wire_row(mm2("16"), "H07V-K")
    assert row is not None
    assert row.standing is Standing.MEMORY
