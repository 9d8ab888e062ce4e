"""Which pieces come out of which bar, with as few bars as can be.

A cut takes the saw's kerf; the last cut of a bar may fall together with its end, so a bar of
length L with trim t takes pieces whose lengths, each with one kerf, add up to L - t + kerf.
The trim is all that is taken off the bar's first end, its own cut included.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from math import ceil, floor
from typing import Final

import numpy as np

from platewright.fabricate.solvers.fewest_bars import fewest_bars
from platewright.fabricate.solvers.packing import Counts, packing_of
from platewright.fabricate.stock_names import bar_lengths
from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import TENTHS_PER_MM, Mm
from platewright.model.job import Stock
from platewright.model.pieces import Bar, CutPlan, Piece

HAIR: Final = 1e-6  # tenths of a millimetre: what binary fractions add to a length


def cut_stock(pieces: Iterable[Piece], stock: Stock) -> CutPlan:
    """Return the bars to cut, stock by stock, longest pieces first.

    Pieces that no bar of the rack is long enough for are told in ``too_long``, never split. A
    stock is proven when the bound equals the bars used. Lengths count to a tenth of a
    millimetre, rounded against the saw.
    """
    lengths = bar_lengths(stock)
    by_stock: dict[str, list[Piece]] = defaultdict(list)
    too_long: list[Piece] = []
    for piece in sorted(pieces, key=_saw_order):
        room = lengths.get(piece.stock, 0.0) - stock.end_trim
        fits = _tenths_up(piece.length) <= floor(room * TENTHS_PER_MM + HAIR)
        (by_stock[piece.stock] if fits else too_long).append(piece)
    bars: list[Bar] = []
    bounds: list[tuple[str, int, int]] = []
    for name in sorted(by_stock, key=tag_order):
        cut, bound = _cut_one(by_stock[name], lengths[name], stock)
        bars.extend(cut)
        bounds.append((name, len(cut), bound))
    return CutPlan(bars=tuple(bars), bounds=tuple(bounds), too_long=tuple(too_long))


def _tenths_up(length: Mm) -> int:
    return ceil(length * TENTHS_PER_MM - HAIR)


def _saw_order(piece: Piece) -> tuple[object, ...]:
    return (-piece.length, tag_order(piece.tag), piece.stock, piece.note)


def _cut_one(pieces: list[Piece], length: Mm, stock: Stock) -> tuple[list[Bar], int]:
    """Return the bars of one stock and the bound; the pieces come longest first."""
    kerf = _tenths_up(stock.kerf)
    room = floor((length - stock.end_trim) * TENTHS_PER_MM + HAIR)
    sizes = [_tenths_up(piece.length) + kerf for piece in pieces]
    packed = fewest_bars(packing_of(sizes, room + kerf))
    waiting: dict[int, list[Piece]] = defaultdict(list)
    for size, piece in zip(sizes, pieces, strict=True):
        waiting[size].append(piece)
    kinds = [waiting[size] for size in sorted(waiting, reverse=True)]
    bars = []
    for content in _saw_sorted(packed.bars):
        taken = [kinds[kind].pop(0) for kind in np.repeat(np.arange(len(content)), content)]
        used = sum(piece.length for piece in taken) + len(taken) * stock.kerf
        rest = max(0.0, round(length - stock.end_trim - used, 6))
        bars.append(Bar(stock=pieces[0].stock, length=length, pieces=tuple(taken), rest=rest))
    return bars, packed.bound


def _saw_sorted(bars: Iterable[Counts]) -> list[Counts]:
    """Return contents with the longest pieces first; equal contents follow one another."""
    return sorted(bars, key=lambda content: tuple(content.tolist()), reverse=True)
