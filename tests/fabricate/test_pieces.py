from dataclasses import replace

from platewright.fabricate.pieces import pieces_of
from platewright.model.job import DuctStock, RailStock, Stock
from platewright.model.layout import Duct, Layout, Rail, Run

STOCK = Stock(ducts=(DuctStock(name="40x60", width=40, height=60),))
DUCT = Duct(x=0, y=0, length=612.5, width=40, height=60, run=Run.ACROSS, stock="40x60")


def test_every_rail_duct_and_cover_once_and_exact() -> None:
    layout = Layout(
        rails={"R10": Rail(x=0, y=50, length=400), "R2": Rail(x=0, y=9, length=301.25)},
        ducts={"W1": DUCT},
    )
    cut = [(p.tag, p.stock, p.length) for p in pieces_of(layout, STOCK)]
    assert cut == [
        ("R2", "rail TH35-7.5", 301.25),
        ("R10", "rail TH35-7.5", 400),
        ("W1", "duct 40x60", 612.5),
        ("W1", "cover 40x60", 612.5),
    ]


def test_notes_say_where_the_slots_start() -> None:
    upright = Rail(x=0, y=0, length=200, run=Run.UPRIGHT)
    layout = Layout(rails={"R1": Rail(x=0, y=50, length=400), "R2": upright})
    stock = replace(STOCK, rail=RailStock(slot_pitch=36))
    first, second = pieces_of(layout, stock)
    assert first.note == "first slot centre 18 mm from the left end"
    assert second.note == "first slot centre 18 mm from the lower end"


def test_unnamed_duct_is_found_by_its_size() -> None:
    found = pieces_of(Layout(ducts={"W1": replace(DUCT, stock="")}), STOCK)
    other = pieces_of(Layout(ducts={"W1": replace(DUCT, stock="", width=33)}), STOCK)
    assert found[0].stock == "duct 40x60"
    assert other[0].stock == "duct 33x60"


def test_empty_layout_cuts_nothing() -> None:
    assert pieces_of(Layout(), STOCK) == ()
