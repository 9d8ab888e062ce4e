"""What the cut plan says is left, against a saw that knows nothing of the plan's own arithmetic.

The saw walks along a bar in whole tenths: it goes on to the first place where a piece may begin,
saws, and what then lies on its far side is what goes back into the rack.
"""

import random
from dataclasses import dataclass

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from platewright.fabricate.solvers.cut_stock import cut_stock
from platewright.model.job import RailStock, Stock
from platewright.model.offcut import Offcut
from platewright.model.pieces import Bar, Piece

RAIL, OTHER, LENGTH = "rail TH35-7.5", "rail G32", 2000


@dataclass(frozen=True)
class Sawn:
    """Whether all pieces came out of the bar, and what is left of it."""

    is_enough: bool
    left: int


def saw(bar: Bar, kerf: int, trim: int, pitch: int, phase: int) -> Sawn:
    """Saw a bar whose slots let a piece begin at ``phase`` and every pitch from there; tenths."""
    end = round(bar.length * 10)
    at = trim
    for piece in bar.pieces:
        if pitch:
            while at % pitch != phase % pitch:
                at += 1
        at += round(piece.length * 10)
        if at > end:
            return Sawn(is_enough=False, left=0)
        at = min(end, at + kerf)
    return Sawn(is_enough=True, left=end - at)


lengths = st.lists(st.integers(400, LENGTH * 10), min_size=1, max_size=9)
store_lengths = st.lists(st.integers(300, LENGTH * 10), max_size=4)


@settings(max_examples=150, deadline=None)
@given(
    lengths, store_lengths, st.integers(0, 40), st.sampled_from([0, 50, 300]),
    st.sampled_from([0, 125, 250]), st.sampled_from([RAIL, OTHER]), st.integers(0, 99),
)  # fmt: skip
def test_what_is_left_is_what_the_saw_leaves(
    pieces: list[int], store: list[int], kerf: int, trim: int, pitch: int, name: str, seed: int
) -> None:
    """New bars begin between two slots; an off-cut's slots lie anywhere, each phase is sawn."""
    offcuts = [
        Offcut(label=f"A{n}", stock=name, length=each / 10) for n, each in enumerate(store, 1)
    ]
    stock = Stock(
        ducts=(), rail=RailStock(length=LENGTH), kerf=kerf / 10, end_trim=trim / 10,
        keep_offcut=50.0,
    )  # fmt: skip
    wanted = [
        Piece(tag=f"R{n}", stock=name, length=each / 10, step=pitch / 10)
        for n, each in enumerate(pieces, 1)
    ]
    plan = cut_stock(wanted, stock, offcuts=offcuts)
    kept = {each.label: each.length for each in plan.store_after}
    chance = random.Random(seed)
    for bar in plan.bars:
        phases = [0]
        if bar.offcut and pitch:
            phases = [0, 1, pitch - 1, chance.randrange(pitch)]
        sawn = [saw(bar, kerf, 0 if bar.offcut else trim, pitch, phase) for phase in phases]
        assert all(one.is_enough for one in sawn)
        told = round(bar.rest * 10)
        if bar.rest_label:
            assert kept[bar.rest_label] == bar.rest
        if not bar.lost:
            assert [told] == [one.left for one in sawn]
            continue
        # exact but for the cut to the first slot, which takes less than one pitch
        assert all(told <= one.left <= told + pitch for one in sawn)
        assert min(one.left for one in sawn) <= max(1, told + 1)


def test_an_off_cut_keeps_what_is_left_of_it_for_sure() -> None:
    """By hand: 640 off, less a pitch of 25, a piece of 300 and a saw cut of 3: 312 at least."""
    stock = Stock(ducts=(), rail=RailStock(length=LENGTH), kerf=3.0, keep_offcut=300.0)
    piece = Piece(tag="R1", stock=RAIL, length=300.0, step=25.0)
    plan = cut_stock([piece], stock, offcuts=[Offcut(label="A1", stock=RAIL, length=640.0)])
    (bar,) = plan.bars
    assert (bar.offcut, bar.lost, bar.rest) == ("A1", 25.0, 312.0)
    assert [o.length for o in plan.store_after] == [312.0]
    short = cut_stock([piece], stock, offcuts=[Offcut(label="A1", stock=RAIL, length=627.0)])
    assert short.store_after == ()  # it may be 324, it may be 299


@pytest.mark.parametrize(("length", "fits"), [(1998.0, False), (2000.0, True)])
def test_a_piece_as_long_as_a_trimmed_bar_gives_comes_out_of_an_off_cut_only_if_it_fits(
    length: float, fits: bool
) -> None:
    """Pitch 25: 25 lost and 1975 need 2000; a new bar gives the piece after its first slot."""
    stock = Stock(ducts=(), rail=RailStock(length=LENGTH), kerf=3.0, end_trim=5.0)
    piece = Piece(tag="R1", stock=RAIL, length=1975.0, step=25.0)
    plan = cut_stock([piece], stock, offcuts=[Offcut(label="A1", stock=RAIL, length=length)])
    assert [bar.offcut for bar in plan.bars] == ["A1" if fits else ""]


def test_rails_of_which_no_bar_is_kept_come_out_of_off_cuts_at_their_length() -> None:
    stock = Stock(ducts=(), rail=RailStock(length=LENGTH), kerf=3.0)
    rails = [Piece(tag=f"R{n}", stock=OTHER, length=300.0, step=25.0) for n in range(3)]
    plan = cut_stock(rails, stock, offcuts=[Offcut(label="A1", stock=OTHER, length=500.0)])
    assert [len(bar.pieces) for bar in plan.bars] == [1]
    assert len(plan.too_long) == 2
