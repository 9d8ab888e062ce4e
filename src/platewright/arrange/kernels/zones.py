"""Voltage zones: runs of blocks of one group, in a row and from row to row."""

from __future__ import annotations

from platewright.arrange.arrays import Blocks, Ints, Placed
from platewright.foundation.compiled import lent


@lent
def zone_step(zone: int, closed: int, groups: int) -> tuple[int, int, int, int]:
    """Go on to a block of these groups: (zone, closed groups, zone changed, group mixed in).

    A zone is what the present run of blocks may still be, as bits; a group whose run has ended
    in this row is closed and must not start again.
    """
    if groups == 0:
        return zone, closed, 0, 0
    both = zone & groups
    if both != 0:
        return both, closed, 0, 0
    closed |= zone & -zone
    both = groups & ~closed
    if both != 0:
        return both, closed, 1, 0
    return groups, closed, 1, 1


@lent
def zones_between(
    start: float, end: float, row: int, at: tuple[int, int, int], blocks: Blocks, placed: Placed
) -> tuple[int, int, int, int]:
    """Go on over the fixed blocks that stand between two places of a row.

    ``at``: zone, closed groups, first zone (0 while it lasts); the same come back, and what mixed.
    """
    zone, closed, first = at
    mixed = 0
    for f in range(blocks.free, len(blocks.width)):
        if placed.row[f] == row and start <= placed.x[f] < end:
            before = zone
            zone, closed, changed, bad = zone_step(zone, closed, blocks.groups[f])
            if changed == 1 and first == 0:
                first = before
            mixed += bad
    return zone, closed, first, mixed


@lent
def tell_zones(row: int, zone: int, closed: int, first: int, placed: Placed) -> None:
    """Keep what a row's zones are to the rows above and below it."""
    if zone == -1:  # nothing of any group stands in it
        placed.zone[row, 0] = 0
        placed.zone[row, 1] = 0
        placed.zone[row, 2] = 0
    elif first == 0:  # one zone from end to end
        placed.zone[row, 0] = zone
        placed.zone[row, 1] = zone
        placed.zone[row, 2] = 0
    else:
        lowest = first & -first
        between = closed & ~lowest
        placed.zone[row, 0] = lowest | (first & ~(between | zone))
        placed.zone[row, 1] = zone
        placed.zone[row, 2] = between


@lent
def _through(
    at: tuple[int, int, int], enter: int, between: int, leave: int
) -> tuple[int, int, int]:
    """Go on through one row: ``at`` and the result are groups that came back, zone, closed."""
    again, zone, closed = at
    both = zone & enter
    if both == 0:
        closed |= zone & -zone
        both = enter & ~closed
        if both == 0:
            again += 1
            both = enter
    if enter == leave and between == 0:
        return again, both, closed
    closed |= both & -both
    back = between & closed
    while back != 0:
        again += 1
        back &= back - 1
    closed |= between
    both = leave & ~closed
    if both == 0:
        again += 1
        both = leave
    return again, both, closed


@lent
def zones_again(zone: Ints) -> int:
    """Count the voltage groups that start again in a later row, rows from the top down.

    A zone goes on in the next row from either end: ducts run up and down at both, and the duct
    between two rows serves both. So each row is read in the direction that breaks fewer zones;
    the two ways to have come through the last row are carried along.
    """
    right = (0, -1, 0)  # through the last row from left to right, and from right to left
    left = (0, -1, 0)
    for r in range(zone.shape[0]):
        first, last, between = zone[r, 0], zone[r, 1], zone[r, 2]
        if first == 0:
            continue
        best = _through(right, first, between, last)
        other = _through(left, first, between, last)
        to_right = other if other[0] < best[0] else best
        best = _through(left, last, between, first)
        other = _through(right, last, between, first)
        left = other if other[0] < best[0] else best
        right = to_right
    return min(right[0], left[0])
