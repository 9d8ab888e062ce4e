from dataclasses import dataclass
from typing import Annotated

import pytest
from annotated_types import Gt, Le

from platewright.foundation.units import DegC, Mm
from platewright.jobfile.columns import Kind, column, columns_of, names, spellings
from platewright.jobfile.tables_csv import read_table
from platewright.jobfile.tables_write import table_bytes
from platewright.model.device import Device
from platewright.model.layout import Layout, Placement
from platewright.model.wire import Wire


@dataclass(frozen=True, slots=True, kw_only=True)
class Thing:
    """A record this test alone knows."""

    name: Annotated[str, "What it is called"]
    reach: Annotated[Mm, Gt(0), Le(900), "How far it reaches"]
    warmest: Annotated[DegC | None, "Warmest air"] = None
    steady: Annotated[bool, "Whether it stands by itself"] = False


def test_all_follows_from_the_record() -> None:
    reach = column(Thing, "reach")
    assert (reach.name, reach.needed, reach.meaning) == ("reach_mm", True, "How far it reaches")
    assert reach.range == "above 0, at most 900"
    warmest = column(Thing, "warmest")
    assert (warmest.name, warmest.needed, warmest.default) == ("warmest_degc", False, None)
    assert column(Thing, "steady").kind is Kind.YES_NO


def test_a_new_field_is_read_and_written_without_more_ado() -> None:
    table = read_table(Thing, b"name,reach_in,warmest_degf,steady\na,2,104,yes\n", file="t.csv")
    assert table.records == (Thing(name="a", reach=50.8, warmest=40.0, steady=True),)
    assert table_bytes(Thing, table.records) == (
        b"name,reach_mm,warmest_degc,steady\na,50.8,40,yes\n"
    )


def test_wire_ends_are_called_from_and_to() -> None:
    assert names(Wire)[:4] == ("number", "from", "to", "size")


def test_headings_in_other_units() -> None:
    known = spellings(Device)
    assert known["door_x_in"][0] is column(Device, "door_x")
    assert "door_x" not in known


def test_tables_by_tag() -> None:
    devices = column(Layout, "devices")
    assert (devices.kind, devices.record) == (Kind.MAP, Placement)


@dataclass(frozen=True)
class Odd:
    """A record with a field no file can hold."""

    strange: complex


def test_a_type_without_a_column_is_our_mistake() -> None:
    with pytest.raises(TypeError, match="no column"):
        columns_of(Odd)
