"""Which of many possible spots along a straight piece hold it: the fewest, the most even.

Positions count in whole micrometres from the left or lower end. Nothing here knows of rails,
ducts or plates.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum
from itertools import pairwise
from typing import NamedTuple


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


class _Prices(NamedTuple):
    """What each fault of a choice costs, so that one whole number ranks choices.

    Dearest first: length beyond the limits, new holes, places without a slot, screws; the rest is
    unevenness, the sum of the squares of the lengths between spots and ends, which is never above
    length squared.
    """

    excess: int
    hole: int
    bare: int
    screw: int

    def of(self, spot: Spot) -> int:
        """Return the cost of using a spot; an own hole is there to be used."""
        bare = self.bare if spot.bare else 0
        if spot.sunk is Sunk.OWN:
            return bare
        return bare + self.screw + (self.hole if spot.sunk is Sunk.NOTHING else 0)


class _State(NamedTuple):
    cost: int
    before: tuple[int, int] | None  # the spot before it, and its slot


def excess(chosen: Sequence[Spot], span: Span) -> int:
    """Return by how much ends and spans pass their limits; all of the piece when held nowhere."""
    if not chosen:
        return span.length
    gaps = [right.at - left.at for left, right in pairwise(chosen)]
    ends = [chosen[0].at, span.length - chosen[-1].at]
    return sum(max(0, gap - span.span) for gap in gaps) + sum(max(0, e - span.end) for e in ends)


def may_follow(left: Spot, right: Spot, span: Span) -> bool:
    """Tell whether two spots may be neighbours: apart, and on alternate lines."""
    if left.line is not None and left.line == right.line:
        return False
    if Sunk.NOTHING not in (left.sunk, right.sunk):
        return True  # they are where they are
    return right.at - left.at >= max(span.least, 1)


def choose_spots(spots: Sequence[Spot], span: Span) -> tuple[Spot, ...]:
    """Return the cheapest choice of at least two spots; one where no two can be; none of none.

    Cheapest: least length beyond the limits, then fewest new holes, fewest places without a slot,
    fewest screws, most even.
    Exact: a shortest path over the spots in order, kept apart for one spot and for more.
    """
    ordered = sorted(spots, key=_order)
    screw, above = span.length**2 + 1, len(spots) + 1
    prices = _Prices(screw * above**3, screw * above**2, screw * above, screw)
    states: list[tuple[_State | None, _State | None]] = []  # with one spot, with more
    for here, spot in enumerate(ordered):
        first = prices.excess * max(0, spot.at - span.end) + spot.at**2 + prices.of(spot)
        more = _best_before(here, ordered, states, span, prices.excess)
        if more is not None:
            more = _State(more.cost + prices.of(spot), more.before)
        states.append((_State(first, None), more))
    for slot in (1, 0):
        ends = []
        for here, both in enumerate(states):
            state, rest = both[slot], span.length - ordered[here].at
            if state is not None:
                ends.append((state.cost + prices.excess * max(0, rest - span.end) + rest**2, here))
        if ends:
            return tuple(reversed([*_trace(min(ends)[1], slot, ordered, states)]))
    return ()


def _order(spot: Spot) -> tuple[int, int, str]:
    return spot.at, -1 if spot.line is None else spot.line, spot.hole


def _best_before(
    here: int,
    ordered: Sequence[Spot],
    states: Sequence[tuple[_State | None, _State | None]],
    span: Span,
    excess: int,
) -> _State | None:
    """Return the cheapest way to come to a spot from one before it."""
    best: _State | None = None
    for there in range(here - 1, -1, -1):
        gap = ordered[here].at - ordered[there].at
        step = gap * gap + excess * max(0, gap - span.span)
        if best is not None and step >= best.cost:
            break  # farther ones cost more still
        if not may_follow(ordered[there], ordered[here], span):
            continue
        for slot, before in enumerate(states[there]):
            if before is not None and (best is None or before.cost + step < best.cost):
                best = _State(before.cost + step, (there, slot))
    return best


def _trace(
    here: int,
    slot: int,
    ordered: Sequence[Spot],
    states: Sequence[tuple[_State | None, _State | None]],
) -> Iterator[Spot]:
    at: tuple[int, int] | None = (here, slot)
    while at is not None:
        yield ordered[at[0]]
        state = states[at[0]][at[1]]
        at = state.before if state is not None else None
