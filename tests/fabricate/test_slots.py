"""The slots of rails and ducts on a cut piece, by hand."""

from dataclasses import replace

import pytest

from platewright.fabricate.slots import Slots, first_cut, slots_of
from platewright.model.job import DuctStock, RailStock, Stock
from platewright.model.layout import Duct, Rail, Run

DUCT = DuctStock(name="40x60", width=40, height=60, slot_pitch=50, slot_length=15, slot_lines=20)
STOCK = Stock(ducts=(DUCT, DuctStock(name="25x60", width=25, height=60)))
ROW = Slots(pitch=25.0, first=12.5, length=15.0, lines=(0.0,))


def duct(stock: str) -> Duct:
    return Duct(x=0, y=0, length=400, width=40, height=60, run=Run.ACROSS, stock=stock)


def test_places_lie_a_pitch_apart_and_keep_off_both_ends() -> None:
    assert ROW.places(100.0, margin=12.5) == (12.5, 37.5, 62.5, 87.5)
    assert ROW.places(99.9, margin=12.5) == (12.5, 37.5, 62.5)
    assert replace(ROW, first=5.0).places(100.0, margin=10.0) == (30.0, 55.0, 80.0)
    assert ROW.places(10.0, margin=12.5) == ()


@pytest.mark.parametrize(
    ("at", "off"), [(12.5, 0.0), (20.0, 7.5), (25.1, -12.4), (0.0, -12.5), (60.0, -2.5)]
)
def test_off_centre(at: float, off: float) -> None:
    assert ROW.off_centre(at) == pytest.approx(off)


def test_a_screw_stands_off_by_half_of_what_the_slot_is_longer() -> None:
    """15 - 5 = 10, half of it to each side, and a quarter as everywhere for holes in one place."""
    assert ROW.play(5.0) == pytest.approx(5.25)
    assert ROW.missed([12.5, 17.75, 17.76, 42.7, 42.8], screw=5.0) == [17.76, 42.8]
    assert replace(ROW, length=None).play(5.0) == pytest.approx(0.25)
    assert replace(ROW, length=4.0).play(5.0) == pytest.approx(0.25)


def test_slots_follow_the_stock_a_piece_is_cut_from() -> None:
    found = slots_of(duct("40x60"), STOCK)
    assert found == Slots(pitch=50, first=25, length=15, lines=(-10, 10))
    assert slots_of(duct("25x60"), STOCK) is None
    assert slots_of(duct("of another shop"), STOCK) is None
    rail = slots_of(Rail(x=0, y=0, length=100), replace(STOCK, rail=RailStock(first_slot=8.0)))
    assert rail == Slots(pitch=25, first=8, length=15, lines=(0.0,))


@pytest.mark.parametrize(
    ("trim", "step", "start"), [(5, 0, 5), (0, 25, 0), (5, 25, 25), (25, 25, 25), (25.1, 25, 50)]
)
def test_the_first_piece_begins_at_a_whole_step_behind_the_trim(
    trim: float, step: float, start: float
) -> None:
    assert first_cut(trim, step) == pytest.approx(start)
