"""Cut plans against hand-worked lists, and the law that nothing is lost at the saw."""

import random
from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from platewright.fabricate.solvers.cut_stock import cut_stock
from platewright.model.job import DuctStock, RailStock, Stock
from platewright.model.pieces import Piece

RAIL = "rail TH35-7.5"
STOCK = Stock(ducts=(DuctStock(name="40x60", width=40, height=60),), kerf=3.0)


def rails(*lengths: float) -> list[Piece]:
    return [Piece(tag=f"R{n}", stock=RAIL, length=each) for n, each in enumerate(lengths, 1)]


def bars_used(lengths: list[float], *, kerf: float, trim: float = 0.0) -> int:
    plan = cut_stock(rails(*lengths), replace(STOCK, kerf=kerf, end_trim=trim))
    assert plan.is_proven
    return len(plan.bars)


# all worked by hand: pieces and the cuts between them against the bar
@pytest.mark.parametrize(
    ("lengths", "kerf", "bars"),
    [
        ([620] * 4 + [300] * 2, 2, 2),
        ([397] * 5, 3, 1),  # 5 x 397 + 5 x 3 = 2000
        ([398] * 5, 3, 2),  # 5 x 398 + 4 x 3 = 2002: one too long
        ([497] * 12, 4, 3),  # 4 x 497 + 3 x 4 = 2000: the last cut falls on the bar's end
        ([498] * 12, 4, 4),
        ([2000], 3, 1),  # a whole bar needs no cut
        ([1000, 1000], 0, 1),  # a shear takes nothing
        ([1000, 1000], 0.1, 2),
    ],
)
def test_hand_worked_lists(lengths: list[float], kerf: float, bars: int) -> None:
    assert bars_used(lengths, kerf=kerf) == bars


def test_trim_is_taken_off_each_bar() -> None:
    assert bars_used([997, 990], kerf=3, trim=10) == 1  # 10 + 997 + 3 + 990 = 2000
    assert bars_used([997, 990.1], kerf=3, trim=10) == 2


def test_rest_after_the_last_cut() -> None:
    plan = cut_stock(rails(500, 400), replace(STOCK, kerf=3, end_trim=10))
    assert plan.bars[0].rest == 2000 - 10 - 500 - 3 - 400 - 3


def test_inch_lengths_count_in_tenths_against_the_saw() -> None:
    inch = 25.4
    pieces = rails(*[20 * inch] * 3)  # 508.0 each
    bar = replace(STOCK, rail=RailStock(length=72 * inch), kerf=0.125 * inch)
    plan = cut_stock(pieces, bar)
    assert len(plan.bars) == 1
    assert plan.bars[0].rest == pytest.approx((72 - 60 - 3 / 8) * inch)


def test_too_long_is_told_and_never_split() -> None:
    plan = cut_stock(rails(2000.1, 1999.9, 300), STOCK)
    assert [p.length for p in plan.too_long] == [2000.1]
    assert sorted(p.length for bar in plan.bars for p in bar.pieces) == [300, 1999.9]
    assert not plan.is_proven


def test_too_long_because_of_the_trim() -> None:
    assert cut_stock(rails(1995), replace(STOCK, end_trim=10)).too_long


def test_stock_that_is_not_in_the_rack_is_told() -> None:
    stranger = Piece(tag="W1", stock="duct 33x33", length=100)
    assert cut_stock([stranger], STOCK).too_long == (stranger,)


def test_longest_first_as_the_saw_wants() -> None:
    plan = cut_stock(rails(300, 900, 450, 1200, 900, 450), STOCK)
    firsts = [bar.pieces[0].length for bar in plan.bars]
    assert firsts == sorted(firsts, reverse=True)
    for bar in plan.bars:
        lengths = [piece.length for piece in bar.pieces]
        assert lengths == sorted(lengths, reverse=True)


def test_stocks_do_not_mix() -> None:
    pieces = [
        Piece(tag="R1", stock=RAIL, length=100),
        Piece(tag="W1", stock="duct 40x60", length=100),
        Piece(tag="W1", stock="cover 40x60", length=100),
    ]
    plan = cut_stock(pieces, STOCK)
    assert plan.bounds == (("cover 40x60", 1, 1), ("duct 40x60", 1, 1), (RAIL, 1, 1))
    assert all(piece.stock == bar.stock for bar in plan.bars for piece in bar.pieces)


def test_nothing_to_cut() -> None:
    plan = cut_stock([], STOCK)
    assert plan.bars == ()
    assert plan.is_proven


def test_planted_bars_are_found() -> None:
    """Bars of 2000 cut in three with kerf 3: the optimum is the bars drawn."""
    chance, lengths = random.Random(4), []
    for _ in range(8):
        first, second = chance.randint(500, 900), chance.randint(450, 600)
        lengths += [first, second, 2000 - 6 - first - second]
    assert bars_used(lengths, kerf=3) == 8


tenths = st.integers(1, 20500).map(lambda n: n / 10)


@settings(max_examples=60, deadline=None)
@given(st.lists(tenths, max_size=25), st.integers(0, 40), st.integers(0, 300))
def test_nothing_is_lost_at_the_saw(lengths: list[float], kerf: int, trim: int) -> None:
    stock = replace(STOCK, kerf=kerf / 10, end_trim=trim / 10)
    pieces = rails(*lengths)
    plan = cut_stock(pieces, stock)
    cut = [piece for bar in plan.bars for piece in bar.pieces]
    assert Counter(cut) + Counter(plan.too_long) == Counter(pieces)
    for bar in plan.bars:
        used = stock.end_trim + sum(p.length for p in bar.pieces)
        inner = used + (len(bar.pieces) - 1) * stock.kerf
        last = min(stock.kerf, bar.length - inner)  # the last cut may run out of the bar
        assert last >= -1e-6
        assert inner + last + bar.rest == pytest.approx(bar.length, abs=1e-5)
    for _, used_bars, bound in plan.bounds:
        assert bound <= used_bars


@settings(max_examples=20, deadline=None)
@given(st.lists(tenths, max_size=15), st.randoms(use_true_random=False))
def test_order_of_pieces_changes_nothing(lengths: list[float], chance: random.Random) -> None:
    pieces = rails(*lengths)
    mixed = pieces.copy()
    chance.shuffle(mixed)
    assert cut_stock(mixed, STOCK) == cut_stock(pieces, STOCK)


def test_rails_begin_between_two_slots_and_the_strips_are_counted() -> None:
    """By hand: pitch 25, kerf 3. 334 + 3 -> 350, 203 + 3 -> 225, so the third begins at 575."""
    rails = [
        Piece(tag=f"R{n}", stock="rail TH35-7.5", length=length, step=25.0)
        for n, length in enumerate((334.0, 203.0, 195.0), start=1)
    ]
    stock = Stock(ducts=(), rail=RailStock(length=1000.0), kerf=3.0)
    (bar,) = cut_stock(rails, stock).bars
    assert bar.starts == (0.0, 350.0, 575.0)
    assert bar.rest == 1000.0 - 575.0 - 195.0 - 3.0


def test_a_rail_as_long_as_its_bar_is_cut() -> None:
    rail = Piece(tag="R1", stock="rail TH35-7.5", length=1000.0, step=25.0)
    plan = cut_stock([rail], Stock(ducts=(), rail=RailStock(length=1000.0), kerf=3.0))
    assert plan.too_long == ()
    assert plan.bounds == (("rail TH35-7.5", 1, 1),)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.integers(40, 900), min_size=1, max_size=14))
def test_every_rail_piece_lies_on_the_grid_of_its_bar(lengths: list[int]) -> None:
    rails = [
        Piece(tag=f"R{n}", stock="rail TH35-7.5", length=float(length), step=25.0)
        for n, length in enumerate(lengths)
    ]
    plan = cut_stock(rails, Stock(ducts=(), rail=RailStock(length=1000.0), kerf=3.0))
    assert sorted(p.tag for bar in plan.bars for p in bar.pieces) == sorted(p.tag for p in rails)
    for bar in plan.bars:
        end = 0.0
        for piece, start in zip(bar.pieces, bar.starts, strict=True):
            assert start % 25.0 == 0.0
            assert start >= end + (3.0 if end else 0.0)
            end = start + piece.length
        assert end <= bar.length
    ((_, used, bound),) = plan.bounds
    assert bound <= used


@pytest.mark.parametrize(("length", "fits"), [(975.0, True), (976.0, False), (995.0, False)])
def test_a_trimmed_bar_gives_less_to_pieces_with_slots(length: float, fits: bool) -> None:
    """Trim 5, pitch 25: the first piece begins at 25, so a bar of 1000 gives 975."""
    rail = Piece(tag="R1", stock="rail TH35-7.5", length=length, step=25.0)
    stock = Stock(ducts=(), rail=RailStock(length=1000.0), kerf=3.0, end_trim=5.0)
    plan = cut_stock([rail], stock)
    assert (plan.too_long == ()) is fits
    assert all(b.starts[-1] + b.pieces[-1].length <= b.length for b in plan.bars)
