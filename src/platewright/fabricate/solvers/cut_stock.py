"""Which pieces come out of which bar, off-cuts first, with as few new bars as can be.

A cut takes the saw's kerf; the last cut of a bar may fall together with its end, so a bar of
length L with trim t takes pieces whose lengths, each with one kerf, add up to L - t + kerf.
The trim is all that is taken off a new bar's first end, its own cut included; an off-cut's
ends are sawn already.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import count
from math import ceil, floor
from typing import Final

import numpy as np

from platewright.fabricate.slots import first_cut
from platewright.fabricate.solvers.fewest_bars import fewest_bars
from platewright.fabricate.solvers.from_store import cut_with_store
from platewright.fabricate.solvers.packing import Counts, packing_of
from platewright.fabricate.solvers.tidy_bars import tidy
from platewright.fabricate.stock_names import bar_lengths
from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import TENTHS_PER_MM, Mm
from platewright.model.job import Stock
from platewright.model.offcut import Offcut
from platewright.model.pieces import Bar, CutPlan, Piece

HAIR: Final = 1e-6  # tenths of a millimetre: what binary fractions add to a length


def cut_stock(
    pieces: Iterable[Piece], stock: Stock, *, offcuts: Sequence[Offcut] = (), label: str = ""
) -> CutPlan:
    """Return the bars to cut, stock by stock, off-cuts first, longest pieces first.

    Pieces that neither a bar nor an off-cut is long enough for are told in ``too_long``. A
    stock is proven when the bound equals the new bars used. Lengths count to a tenth of a
    millimetre, rounded against the saw. ``label``: begins what is written on new off-cuts.
    """
    lengths = bar_lengths(stock)
    by_stock: dict[str, list[Piece]] = defaultdict(list)
    too_long: list[Piece] = []
    for piece in sorted(pieces, key=_saw_order):
        rooms = [lengths.get(piece.stock, 0.0) - first_cut(stock.end_trim, piece.step)]
        rooms += [offcut.length for offcut in offcuts if offcut.stock == piece.stock]
        fits = _tenths_up(piece.length) <= max(_tenths_down(room) for room in rooms)
        (by_stock[piece.stock] if fits else too_long).append(piece)
    bars: list[Bar] = []
    bounds: list[tuple[str, int, int]] = []
    for name in sorted(by_stock, key=tag_order):
        store = [offcut for offcut in offcuts if offcut.stock == name]
        cut, missed, bound = _cut_one(by_stock[name], lengths.get(name), stock, store)
        too_long += missed
        bars += cut
        bounds.append((name, sum(not bar.offcut for bar in cut), bound))
    used = {(bar.stock, bar.offcut) for bar in bars if bar.offcut}
    return CutPlan(
        bars=tuple(_labelled(bars, stock.keep_offcut, {o.label for o in offcuts}, label)),
        bounds=tuple(bounds),
        too_long=tuple(too_long),
        unused=tuple(o for o in offcuts if (o.stock, o.label) not in used),
    )


def _labelled(bars: Sequence[Bar], keep: Mm, taken: set[str], label: str) -> Iterable[Bar]:
    """Yield the bars with a label for what is left, where that is long enough to keep."""
    start = f"{label}-" if label else "L"
    free = (name for n in count(1) if (name := f"{start}{n}") not in taken)
    for bar in bars:
        rest = round(bar.rest, 1)
        yield replace(bar, rest_label=next(free)) if rest >= keep else bar


def _tenths_up(length: Mm) -> int:
    return ceil(length * TENTHS_PER_MM - HAIR)


def _tenths_down(length: Mm) -> int:
    return floor(length * TENTHS_PER_MM + HAIR)


def _saw_order(piece: Piece) -> tuple[object, ...]:
    return (-piece.length, tag_order(piece.tag), piece.stock, piece.part, piece.note)


def _cut_one(
    pieces: list[Piece], length: Mm | None, stock: Stock, store: Sequence[Offcut]
) -> tuple[list[Bar], list[Piece], int]:
    """Return bars of one stock, pieces that came out of none, the bound; longest piece first."""
    kerf = _tenths_up(stock.kerf)
    step = _tenths_up(pieces[0].step)
    room = 0 if length is None else _tenths_down(length - first_cut(stock.end_trim, pieces[0].step))
    true = [_tenths_up(piece.length) + kerf for piece in pieces]
    sizes = [_on_grid(size, step, room + kerf) for size in true]
    # an off-cut's slots lie anywhere: up to one pitch is lost before the first piece
    rooms = [_tenths_down(offcut.length) + kerf - step for offcut in store]
    longest = max((size for size in true if _takes_all(size, step, room + kerf)), default=0)
    if longest:  # counts as less than it is long
        rooms = [_room_beside_none(each, longest, step) for each in rooms]
    missed: list[Piece] = []
    while True:
        problem = packing_of(sizes, room + kerf)
        grain = sizes[0] // int(problem.sizes[0])
        if not store:
            packed = fewest_bars(problem)
            from_store: tuple[Counts | None, ...] = ()
            break
        try:
            cut = cut_with_store(problem, [each // grain for each in rooms])
        except ValueError:  # a long piece that an off-cut would take, but another took it
            missed.append(pieces.pop(0))
            sizes.pop(0)
            if not pieces:
                return [], missed, 0
            continue
        packed, from_store = cut.packed, cut.offcuts
        break
    waiting: dict[int, list[Piece]] = defaultdict(list)
    for size, piece in zip(sizes, pieces, strict=True):
        waiting[size].append(piece)
    kinds = [waiting[size] for size in sorted(waiting, reverse=True)]
    bars = []
    for offcut, content in zip(store, from_store, strict=bool(from_store)):
        if content is not None:
            bars.append(_bar(_taken(kinds, content), offcut.length, stock, offcut.label))
    new_demand = np.array([len(kind) for kind in kinds], dtype=np.int64)
    if packed.bars and length is not None:
        rest = replace(problem, demand=new_demand)
        tidied = _saw_sorted(tidy(rest, packed.bars))
        bars += [_bar(_taken(kinds, content), length, stock) for content in tidied]
    bound = packed.bound
    if step and any(_overhangs(p, kerf, step, room + kerf) for p in pieces):
        # the last piece of a bar may end beyond the grid: one more place bounds that
        wider = replace(problem, capacity=problem.capacity + max(1, step // grain))
        bound = min(bound, fewest_bars(replace(wider, demand=new_demand)).bound)
    return bars, missed, bound


def _on_grid(size: int, step: int, room: int) -> int:
    """Return what a piece takes of a bar on whose grid every piece begins; never more than all."""
    if not step:
        return size
    return size // step * step if _takes_all(size, step, room) else -(-size // step) * step


def _takes_all(size: int, step: int, room: int) -> bool:
    """Tell whether a piece ends in its bar, but beyond the last place where one can begin."""
    return step > 0 and size <= room < -(-size // step) * step


def _room_beside_none(room: int, longest: int, step: int) -> int:
    """Return an off-cut's room, so that it takes a piece that takes all only if it does in truth.

    Then without another one beside it.
    """
    last = longest // step * step
    return min(room, last + step - 1) if room >= longest else min(room, last - 1)


def _overhangs(piece: Piece, kerf: int, step: int, room: int) -> bool:
    """Tell whether a piece, last on its bar, could use what lies beyond the grid's last place."""
    size = _tenths_up(piece.length) + kerf
    return -(-size // step) * step - size >= step - room % step


def _taken(kinds: list[list[Piece]], content: Counts) -> list[Piece]:
    """Take the pieces of a content out of those that wait."""
    return [kinds[kind].pop(0) for kind in np.repeat(np.arange(len(content)), content)]


def _bar(taken: list[Piece], length: Mm, stock: Stock, offcut: str = "") -> Bar:
    trim = 0.0 if offcut else stock.end_trim
    lost = taken[0].step if offcut else 0.0
    bar = Bar(
        stock=taken[0].stock,
        length=length,
        pieces=tuple(taken),
        rest=0.0,
        trim=trim,
        kerf=stock.kerf,
        lost=lost,
        offcut=offcut,
    )
    used = lost + bar.starts[-1] + taken[-1].length + stock.kerf
    return replace(bar, rest=max(0.0, round(length - used, 6)))


def _saw_sorted(bars: Iterable[Counts]) -> list[Counts]:
    """Return contents with the longest pieces first; equal contents follow one another."""
    return sorted(bars, key=lambda content: tuple(content.tolist()), reverse=True)
