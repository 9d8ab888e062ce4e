"""Which of many possible spots along a straight piece hold it: the fewest, the most even.

Positions count in whole micrometres from the left or lower end. Nothing here knows of rails,
ducts or plates.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import Enum
from itertools import pairwise

import numpy as np

from platewright.fabricate.kernels.ways import NONE, Ints, cheapest_ways


class Sunk(Enum):
    """What has been drilled or marked at a spot."""

    NOTHING = "new"  # a new hole
    LEFT_OVER = "left over"  # a hole that lies idle: a screw, but no drilling
    OWN = "own"  # a hole made for this very piece


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A place where the piece may be held. ``line`` None: takes part in no alternation.

    ``bare``: the piece has slots, but none here: it must be drilled itself.
    """

    at: int
    line: int | None = None
    sunk: Sunk = Sunk.NOTHING
    hole: str = ""  # tag of the hole that is there
    bare: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """A piece's length, the limits of its ends and spans, and the least gap of new spots."""

    length: int
    end: int
    span: int
    least: int = 0


def excess(chosen: Sequence[Spot], span: Span) -> int:
    """Return by how much ends and spans pass their limits; all of the piece when held nowhere."""
    if not chosen:
        return span.length
    gaps = [right.at - left.at for left, right in pairwise(chosen)]
    ends = [chosen[0].at, span.length - chosen[-1].at]
    return sum(max(0, gap - span.span) for gap in gaps) + sum(max(0, e - span.end) for e in ends)


def choose_spots(spots: Sequence[Spot], span: Span) -> tuple[Spot, ...]:
    """Return the cheapest choice of at least two spots; one where no two can be; none of none.

    Cheapest: least length beyond the limits, then fewest new holes, fewest places without a slot,
    fewest screws, most even.
    Exact: a shortest path over the spots in order, kept apart for one spot and for more.
    """
    ordered = sorted(spots, key=_order)
    if not ordered:
        return ()
    above = len(ordered) + 1
    beyond = above**3  # a length beyond the limits is dearer than all else together
    at = _whole(spot.at for spot in ordered)
    shape = (2, len(ordered))
    price, uneven, before = (
        np.empty(shape, np.int64),
        np.empty(shape, np.int64),
        np.empty(shape, np.int64),
    )
    cheapest_ways(
        at,
        _whole(_price(spot, above) for spot in ordered),
        _whole(spot.sunk is Sunk.NOTHING for spot in ordered),
        _whole(-1 if spot.line is None else spot.line for spot in ordered),
        (span.end, span.span, max(span.least, 1), beyond),
        price,
        uneven,
        before,
    )
    rest = span.length - at
    row = 1 if (price[1] < NONE).any() else 0
    whole = np.where(price[row] < NONE, price[row] + beyond * np.maximum(0, rest - span.end), NONE)
    last = int(np.lexsort((uneven[row] + rest**2, whole))[0])
    return tuple(reversed([ordered[k] for k in _trace(last, row, before)]))


def _whole(values: Iterable[int]) -> Ints:
    return np.fromiter(values, np.int64)


def _price(spot: Spot, above: int) -> int:
    """Return what using a spot costs: new holes, places without a slot, screws, dearest first.

    An own hole is there to be used. ``above``: more than there are spots.
    """
    screw = above**2 + 1 if spot.sunk is Sunk.NOTHING else 0 if spot.sunk is Sunk.OWN else 1
    return above * spot.bare + screw


def _order(spot: Spot) -> tuple[int, int, str]:
    return spot.at, -1 if spot.line is None else spot.line, spot.hole


def _trace(last: int, row: int, before: Ints) -> Iterator[int]:
    here = last
    while here >= 0:
        yield here
        here, row = divmod(int(before[row, here]), 2)
