"""Common cut lengths against every way to share pieces out among lengths."""

from __future__ import annotations

import itertools
import random

import pytest

from platewright.arrange.equal_lengths import Piece, equal_lengths


def _cost(pieces: list[Piece], lengths: tuple[float, ...], price: float) -> float:
    change = sum(abs(p.length - length) for p, length in zip(pieces, lengths, strict=True))
    return price * len(set(lengths)) + change


def _best(pieces: list[Piece], price: float) -> float:
    """Try every length of a piece for every piece."""
    choices = [
        [q.length for q in pieces if p.least <= q.length <= p.most] or [p.length] for p in pieces
    ]
    return min(_cost(pieces, lengths, price) for lengths in itertools.product(*choices))


@pytest.mark.parametrize("seed", range(60))
def test_the_best_of_all_ways_where_every_piece_has_room(seed: int) -> None:
    dice = random.Random(seed)
    pieces = [
        Piece(length=float(dice.randint(55, 120)), least=40.0, most=200.0)
        for _ in range(dice.randint(1, 6))
    ]
    price = dice.choice((0.0, 5.0, 20.0, 60.0))
    lengths = equal_lengths(pieces, price=price)
    assert _cost(pieces, lengths, price) == pytest.approx(_best(pieces, price))


@pytest.mark.parametrize("seed", range(200))
def test_no_piece_leaves_its_room_and_nothing_gets_dearer(seed: int) -> None:
    dice = random.Random(seed)
    pieces = []
    for _ in range(dice.randint(1, 12)):
        length = float(dice.randint(55, 400))
        least, most = length - dice.choice((0, 3, 40)), length + dice.choice((0, 0, 10))
        pieces.append(Piece(length=length, least=least, most=most))
    lengths = equal_lengths(pieces, price=30.0)
    for piece, length in zip(pieces, lengths, strict=True):
        assert piece.least - 1e-6 <= length <= piece.most + 1e-6
    before = tuple(p.length for p in pieces)
    assert _cost(pieces, lengths, 30.0) <= _cost(pieces, before, 30.0) + 1e-9
    assert len(set(lengths)) <= len(set(before))


def test_a_length_that_stays_draws_the_others_to_it() -> None:
    """By hand: 293 is drilled; 300 may be cut to 293 for 7 mm, below the price of 50."""
    stays = Piece(length=293.0, least=293.0, most=293.0)
    free = Piece(length=300.0, least=250.0, most=300.0)
    assert equal_lengths([free, stays], price=50.0) == (293.0, 293.0)
    assert equal_lengths([free, stays], price=5.0) == (300.0, 293.0)
    tight = Piece(length=300.0, least=296.0, most=300.0)
    assert equal_lengths([tight, stays], price=50.0) == (300.0, 293.0)
