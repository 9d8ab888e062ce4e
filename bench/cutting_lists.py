"""Cutting lists of many kinds, made anew from a seed: sizes with one kerf each, and the bar's room.

Built after published descriptions of test classes; the published lists themselves are not here.
Sources of the descriptions:
  uniform, triplets: E. Falkenauer, A hybrid grouping genetic algorithm for bin packing,
    Journal of Heuristics 2 (1996) 5-30.
  spread, narrow, long bar: A. Scholl, R. Klein, C. Jürgens, BISON, Computers & Operations
    Research 24 (1997) 627-645, data sets 1, 2, 3.
  alike: P. Schwerin, G. Wäscher, The bin-packing problem: a problem generator and some numerical
    experiments with FFD packing and MTP, Int. Trans. Operational Research 4 (1997) 377-389.
  order: T. Gau, G. Wäscher, CUTGEN1: a problem generator for the one-dimensional cutting stock
    problem, European Journal of Operational Research 84 (1995) 572-579.
  wide: J. E. Schoenfield, Fast, exact solution of open bin packing problems without linear
    programming, draft, US Army Space and Missile Defense Command (2002): sizes 1 to 800 of 1000.
  panel, many per bar, odd triplets: lists as panels have them, and whole bars cut up without rest.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from itertools import pairwise
from typing import NamedTuple

PANEL_ROOM = 20_030  # tenths: a bar of 2000 mm and one kerf of 3 mm
KERF = 30


class CuttingList(NamedTuple):
    """One list: sizes with kerf, room of a bar with kerf, the optimum where it was planted."""

    kind: str
    sizes: list[int]
    room: int
    planted: int | None = None


def panel(pieces: int, seed: int) -> CuttingList:
    """Return 3 to n/5 distinct lengths of 150 to 1700 mm, on a raster of 5 or 0.5 mm."""
    chance = random.Random(seed * 1000 + pieces)
    distinct = chance.randint(3, max(3, pieces // 5))
    raster = chance.choice((50, 5))
    lengths = [chance.randrange(1500, 17_001, raster) for _ in range(distinct)]
    sizes = [chance.choice(lengths) + KERF for _ in range(pieces)]
    return CuttingList("panel", sizes, PANEL_ROOM)


def odd_triplets(bars: int, seed: int) -> CuttingList:
    """Return bars of a panel shop cut in three without rest, all lengths odd."""
    chance, sizes = random.Random(seed), []
    for _ in range(bars):
        first = chance.randint(PANEL_ROOM // 4, PANEL_ROOM // 2)
        second = chance.randint(PANEL_ROOM // 4, PANEL_ROOM * 4 // 5 - first)
        sizes += [first, second, PANEL_ROOM - first - second]
    return CuttingList("odd triplets", sizes, PANEL_ROOM, bars)


def three_per_bar(bars: int, seed: int) -> CuttingList:
    """Return bars cut in three anywhere: raster 1, 0.5 or 0.1 mm, least 150, 300 or 400 mm."""
    chance, sizes = random.Random(seed), []
    raster, least = (10, 5, 1)[seed % 3], (1500, 3000, 4000)[seed // 3 % 3] + KERF
    free = (PANEL_ROOM - 3 * least) // raster
    for _ in range(bars):
        low, high = sorted((chance.randint(0, free), chance.randint(0, free)))
        sizes += [least + low * raster, least + (high - low) * raster]
        sizes.append(PANEL_ROOM - sizes[-1] - sizes[-2])
    return CuttingList("three per bar", sizes, PANEL_ROOM, bars)


def triplets(bars: int, seed: int) -> CuttingList:
    """Return Falkenauer's triplets: one piece of 380 to 490 of 1000, two of 250 and more."""
    chance, sizes = random.Random(seed), []
    for _ in range(bars):
        first = chance.randint(380, 490)
        second = chance.randint(250, (1000 - first) // 2)
        sizes += [first, second, 1000 - first - second]
    return CuttingList("triplets", sizes, 1000, bars)


def many_per_bar(bars: int, seed: int) -> CuttingList:
    """Return bars cut in 4 to 12 pieces without rest, none shorter than 50 mm."""
    chance, sizes = random.Random(seed), []
    for _ in range(bars):
        pieces = chance.randint(4, 12)
        free = PANEL_ROOM - pieces * (500 + KERF)
        cuts = sorted(chance.randint(0, free) for _ in range(pieces - 1))
        ends = [0, *cuts, free]
        sizes += [500 + KERF + b - a for a, b in pairwise(ends)]
    return CuttingList("many per bar", sizes, PANEL_ROOM, bars)


def uniform(pieces: int, seed: int) -> CuttingList:
    """Return sizes of 20 to 100 for a room of 150."""
    chance = random.Random(seed)
    return CuttingList("uniform", [chance.randint(20, 100) for _ in range(pieces)], 150)


def spread(pieces: int, seed: int) -> CuttingList:
    """Return sizes of 1, 20 or 30 to 100 for a room of 100, 120 or 150."""
    chance = random.Random(seed)
    least, room = (1, 20, 30)[seed % 3], (100, 120, 150)[seed // 3 % 3]
    return CuttingList("spread", [chance.randint(least, 100) for _ in range(pieces)], room)


def narrow(pieces: int, seed: int) -> CuttingList:
    """Return sizes about a third to a ninth of 1000, spread by 20, 50 or 90 percent."""
    chance = random.Random(seed)
    mean, by = 1000 / (3, 5, 7, 9)[seed % 4], (0.2, 0.5, 0.9)[seed // 4 % 3]
    low, high = round(mean * (1 - by)), round(mean * (1 + by))
    return CuttingList("narrow", [chance.randint(low, high) for _ in range(pieces)], 1000)


def long_bar(pieces: int, seed: int) -> CuttingList:
    """Return sizes of 20000 to 35000 for a room of 100000."""
    chance = random.Random(seed)
    sizes = [chance.randint(20_000, 35_000) for _ in range(pieces)]
    return CuttingList("long bar", sizes, 100_000)


def alike(pieces: int, seed: int) -> CuttingList:
    """Return sizes of 150 to 200 for a room of 1000."""
    chance = random.Random(seed)
    return CuttingList("alike", [chance.randint(150, 200) for _ in range(pieces)], 1000)


def order(pieces: int, seed: int) -> CuttingList:
    """Return orders of a room of 10000: 10 to 40 sizes, small, middling or all, by chance shares."""
    chance = random.Random(seed)
    kinds, largest = (10, 20, 40)[seed % 3], (0.25, 0.5, 0.75, 1.0)[seed // 3 % 4]
    lengths = [chance.randint(100, round(10_000 * largest)) for _ in range(kinds)]
    shares = [chance.random() for _ in lengths]
    sizes = [
        length
        for length, share in zip(lengths, shares, strict=True)
        for _ in range(max(1, round(pieces * share / sum(shares))))
    ]
    return CuttingList("order", sizes[:pieces], 10_000)


def wide(pieces: int, seed: int) -> CuttingList:
    """Return sizes of 1 to 800 for a room of 1000."""
    chance = random.Random(seed)
    return CuttingList("wide", [chance.randint(1, 800) for _ in range(pieces)], 1000)


Maker = Callable[[int, int], CuttingList]
CLASSES: tuple[tuple[Maker, tuple[int, ...]], ...] = (
    (panel, (20, 60, 150, 300)),
    (odd_triplets, (10, 20, 40, 70, 100)),
    (three_per_bar, (10, 20, 40, 70, 100)),
    (triplets, (20, 40, 83, 100)),
    (many_per_bar, (5, 12, 25, 37)),
    (uniform, (120, 250, 300)),
    (spread, (50, 100, 200)),
    (narrow, (50, 100, 200)),
    (long_bar, (100, 200)),
    (alike, (100, 120, 300)),
    (order, (60, 150, 300)),
    (wide, (160, 180, 200, 300)),
)


def lists(each: int) -> Iterator[CuttingList]:
    """Yield so many lists of every class and size."""
    for make, amounts in CLASSES:
        for amount in amounts:
            for seed in range(each):
                yield make(amount, seed)
