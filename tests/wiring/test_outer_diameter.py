import dataclasses

import pytest

from platewright.model.job import Practice
from platewright.model.wire import End, SizeSystem, Wire, WireSize
from platewright.wiring.outer_diameter import outer_diameter, outer_diameter_row

AWG14 = WireSize("14", SizeSystem.AWG)
WIRE = Wire(number="1", start=End("-A1", "1"), end=End("-A2", "1"), size=AWG14)


def test_a_measured_diameter_comes_first() -> None:
    wire = dataclasses.replace(WIRE, type="MTW", outer_diameter=3.9)
    assert outer_diameter(wire, Practice.NORTH_AMERICA) == 3.9


@pytest.mark.parametrize("practice", list(Practice))
@pytest.mark.parametrize(
    ("number", "system", "kind"),
    [
        ("14", "AWG", "MTW"),
        ("0.5", "mm2", "H05V-K"),
        ("1", "mm2", "H05V-K"),
        ("1.5", "mm2", "H07V-K"),
        ("16", "mm2", "H07V-K"),
    ],
)
def test_a_blank_type_is_the_usual_one_of_the_size(
    practice: Practice, number: str, system: str, kind: str
) -> None:
    wire = dataclasses.replace(WIRE, size=WireSize(number, SizeSystem(system)), type=" ")
    row = outer_diameter_row(wire, practice)
    assert row is not None
    assert row.type == kind
    assert outer_diameter(wire, practice) == row.outer_diameter


def test_what_the_tables_have_not_is_not_guessed() -> None:
    for wire in (
        dataclasses.replace(WIRE, type="H07V-K"),
        dataclasses.replace(WIRE, type="something else"),
        dataclasses.replace(WIRE, size=WireSize("30", SizeSystem.AWG)),
    ):
        assert outer_diameter(wire, Practice.IEC) is None
