"""The arrangement problem as plain arrays, the form the search's inner loop reads.

A *block* is what moves as one: a device, or devices that plug into or hang under each other.
Every block has a reference line: the rail axis for rail blocks, a line of its own for
screw-mounted ones. ``up`` and ``down`` say how much room the block needs above and below that
line, wiring and clear space included; ``env_up``/``env_down`` how far its envelope reaches.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


class Blocks(NamedTuple):
    """Blocks 0..free-1 are placed by the search; the rest stand where ``x``/``ref`` say."""

    free: int
    width: Floats  # (n,) envelope width, mm
    clear_left: Floats
    clear_right: Floats
    up: Floats
    down: Floats
    env_up: Floats
    env_down: Floats
    front: Floats  # (n,) how far it stands out of the plate, mm
    on_rail: Ints  # (n,) 1 for rail blocks
    groups: Ints  # (n,) voltage groups as bits; 0: any
    pull: Floats  # (n,) cost per mm of height above the plate's lower edge (heavy +, hot -)
    draw: Floats  # (n,) cost per mm to the right (terminals whose cables come in at a side)
    x: Floats  # (n,) left edge of fixed blocks' envelopes
    ref: Floats  # (n,) reference line of fixed blocks


class Wiring(NamedTuple):
    """Wires as pairs of ends. End b of a door wire has block -1."""

    ends: Ints  # (w,4) block of end a, of end b; duct side of a, of b (0 above the row, 1 below)
    spans: Floats  # (w,5) terminal a, b from the left edge of its block's envelope; a, b above its
    # block's reference line (door wires: height where they leave for the hinge); fixed length
    first: Ints  # (n+1,) slices of ``partner``: blocks wired to each block
    partner: Ints
    wire_first: Ints  # (n+1,) slices of ``wire_of``: wires at each block
    wire_of: Ints


class Frame(NamedTuple):
    """Ducts, rows and what stands in the way. Rows count from the top."""

    rows: int
    left: float  # space between the upright ducts (or the margins)
    right: float
    top: float  # upper edge of the uppermost duct
    bottom: float  # lowest the lowest duct may reach
    duct: Floats  # (rows+1,) duct widths
    upright_x: Floats  # axes of the upright ducts; where there is none, a large penalty applies
    hinge_x: float  # axis of the upright duct that door wires leave from
    side_gap: float
    group_gap: float
    rail_min: float  # shortest rail that takes two screws
    usable: float  # share of a row's width that may be used
    fixed: int  # 1: rows lie where row_top/row_bottom/row_axis say
    row_top: Floats
    row_bottom: Floats
    row_axis: Floats  # nan: free
    # left, bottom, right, top, tallest thing allowed, stops ducts, is a duct (1) or rail (2)
    box: Floats  # (k,7)
    shifts: int  # 1: room above a row may grow, since something stands in the way
    wish: Ints  # (q,3) kind, block, other block
    w_wire: float
    w_height: float
    w_wish: float
    w_rail: float
    w_uprights: float  # cost of one mm of height in upright ducts
    base: float  # cost of the ducts across
    w_zone: float  # cost of a voltage group that starts again in a later row
    w_cool: float  # cost of one kelvin of the warmest housing; 0: not looked at
    hot: Floats  # (k,11) warm devices, as ``kernels.warmth`` reads them
    air: Floats  # (7,)
    rail: Floats  # (r,3) rails that stay: axis, left and right end


BESIDE, SAME_ROW, BEFORE, NOT_BESIDE, AT_TOP, AT_BOTTOM = range(6)


class Start(NamedTuple):
    """A point of the search: blocks in reading order with row ends between, and room added."""

    tokens: Ints  # (free+rows-1,) block numbers; free and above: end of a row
    extra: Floats  # (rows,) room added above each row, mm


class Placed(NamedTuple):
    """Where an evaluation put everything."""

    x: Floats  # (n,) left edge of each block's envelope
    ref: Floats  # (n,) its reference line
    row: Ints  # (n,)
    row_top: Floats  # (rows,)
    row_bottom: Floats
    row_axis: Floats
    duct_axis: Floats  # (rows+1,)
    zone: Ints  # (rows,3) voltage groups as bits: first run, last run, those between; 0: none


class RowSums(NamedTuple):
    """What an evaluation sums up, row by row and wire by wire."""

    above: Floats  # (rows,) reach above the rail axis
    below: Floats
    tallest: Floats  # tallest screw-mounted block
    short: Floats  # mm missing in width
    rails: Ints  # rail pieces
    ends: Ints  # places of the row-end tokens, length of the sequence last
    wire: Floats  # (w,) length of each wire
    mark: Ints  # (w,) scratch
    place: Ints  # (n,) scratch: place of each block in the sequence
    wire_slope: Floats  # (w,2) by how much a wire grows for a mm that its end a, b goes right
    slope: Floats  # (n,) the same, of all wires at a block


def sums_for(blocks: Blocks, wiring: Wiring, frame: Frame) -> RowSums:
    """Return the arrays an evaluation sums into."""
    rows, wires = frame.rows, len(wiring.ends)
    return RowSums(
        above=np.zeros(rows),
        below=np.zeros(rows),
        tallest=np.zeros(rows),
        short=np.zeros(rows),
        rails=np.zeros(rows, dtype=np.int64),
        ends=np.zeros(rows, dtype=np.int64),
        wire=np.zeros(wires),
        mark=np.zeros(wires, dtype=np.int64),
        place=np.zeros(len(blocks.width), dtype=np.int64),
        wire_slope=np.zeros((wires, 2)),
        slope=np.zeros(len(blocks.width)),
    )


def room_for(blocks: Blocks, frame: Frame) -> Placed:
    """Return the arrays an evaluation fills."""
    n, rows = len(blocks.width), frame.rows
    return Placed(
        x=blocks.x.copy(),
        ref=blocks.ref.copy(),
        row=np.zeros(n, dtype=np.int64),
        row_top=np.zeros(rows),
        row_bottom=np.zeros(rows),
        row_axis=np.zeros(rows),
        duct_axis=np.zeros(rows + 1),
        zone=np.zeros((rows, 3), dtype=np.int64),
    )
