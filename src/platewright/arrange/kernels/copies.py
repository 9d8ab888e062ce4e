"""Copy what a walk keeps twice, where it stands and where it would go: all of it, or what moved."""

from __future__ import annotations

from platewright.arrange.arrays import Floats, Ints, Placed, RowSums
from platewright.foundation.compiled import lent


@lent
def copy(source: Floats | Ints, target: Floats | Ints) -> None:
    """Copy an array; assigning to a slice would make another on the way."""
    for k in range(len(source)):
        target[k] = source[k]


@lent
def copy_run(source: Ints, target: Ints, first: int, last: int) -> None:
    """Copy the places from ``first`` to ``last``, left out."""
    for k in range(first, last):
        target[k] = source[k]


@lent
def copy_moved(moved: Ints, count: int, source: Placed, target: Placed) -> None:
    """Copy where the blocks stand that moved."""
    x, ref, row = source.x, source.ref, source.row
    to_x, to_ref, to_row = target.x, target.ref, target.row
    for k in range(count):
        b = moved[k]
        to_x[b] = x[b]
        to_ref[b] = ref[b]
        to_row[b] = row[b]


@lent
def same_zones(rows: Ints, number: int, old: Placed, new: Placed) -> bool:
    """Tell whether the voltage zones of the rows that a move touched are what they were."""
    same = True
    for q in range(number):
        for k in range(3):
            same = same and old.zone[rows[q], k] == new.zone[rows[q], k]
    return same


@lent
def copy_zones(rows: Ints, number: int, source: Placed, target: Placed) -> None:
    """Copy the voltage zones of the rows that a move touched."""
    for q in range(number):
        for k in range(3):
            target.zone[rows[q], k] = source.zone[rows[q], k]


@lent
def copy_rows(rows: Ints, number: int, source: RowSums, target: RowSums) -> None:
    """Copy what is summed up of the rows that a move touched."""
    for q in range(number):
        target.short[rows[q]] = source.short[rows[q]]
        target.rails[rows[q]] = source.rails[rows[q]]


@lent
def copy_all(source: Placed, target: Placed, sums: RowSums, to: RowSums) -> None:
    """Copy a whole placing and its sums."""
    copy(source.x, target.x)
    copy(source.ref, target.ref)
    copy(source.row, target.row)
    copy(source.row_top, target.row_top)
    copy(source.row_bottom, target.row_bottom)
    copy(source.row_axis, target.row_axis)
    copy(source.duct_axis, target.duct_axis)
    for r in range(len(source.zone)):
        for k in range(3):
            target.zone[r, k] = source.zone[r, k]
    copy(sums.above, to.above)
    copy(sums.below, to.below)
    copy(sums.tallest, to.tallest)
    copy(sums.short, to.short)
    copy(sums.rails, to.rails)
    copy(sums.wire, to.wire)
    copy(sums.ends, to.ends)
