"""Turn a sequence that the search found into a layout: devices, ducts and rails with tags."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from platewright.arrange.arrays import Placed
from platewright.arrange.equal_lengths import Piece, equal_lengths
from platewright.arrange.task import RAIL_HALF, SHORTEST_RAIL, DuctSizes, Task, middle_span
from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import Mm
from platewright.model.geometry import Box
from platewright.model.job import DuctStock, RailStock
from platewright.model.layout import Duct, Layout, Placement, Rail, Run
from platewright.model.part import Mount

_JOINT: Mm = 1.0  # left at each end of a duct across, for PVC grows with warmth
_RAIL_GAP: Mm = 5.0  # from a rail's end to the duct beside it
_PLAY: Mm = 1.5  # from a rail's end to a body that is not on it: a saw cuts within 1 mm
_RAIL_END: Mm = 5.0  # a rail's reach past its outer devices where it does not run on
_TWO_SLOTS: Mm = 50.0  # of a 25 mm raster
_STEP: Mm = 0.001  # places are told to this step


def _told(value: float) -> Mm:
    """Return a length to the step that layouts are told in."""
    return round(round(value / _STEP) * _STEP, 4) + 0.0


def _device_places(task: Task, placed: Placed) -> dict[str, Placement]:
    """Return where every device's body stands, by tag."""
    places: dict[str, Placement] = {}
    for k, block in enumerate(task.blocks):
        for m in block.members:
            kept = task.standing.devices.get(m.tag)
            places[m.tag] = kept or Placement(
                x=_told(float(placed.x[k]) + m.dx), y=_told(float(placed.ref[k]) + m.dy)
            )
    return {tag: places[tag] for tag in sorted(places, key=tag_order)}


def _duct(stock: DuctStock, run: Run, *, x: float, y: float, length: float) -> Duct:
    return Duct(
        x=_told(x), y=_told(y), length=_told(length), width=stock.width, height=stock.height,
        run=run, stock=stock.name,
    )  # fmt: skip


def _ducts(task: Task, sizes: DuctSizes, placed: Placed, inner: tuple[Mm, Mm]) -> dict[str, Duct]:
    """Return the ducts, across from the top down and from the left, then upright from the left."""
    if task.standing.has_rows:
        return dict(task.standing.ducts)
    left, right = inner
    middle = middle_span(task, sizes)
    start = left + (_JOINT if sizes.left else 0.0)
    end = right - (_JOINT if sizes.right else 0.0)
    spans = [(start, middle[0] - _JOINT), (middle[1] + _JOINT, end)] if middle else [(start, end)]
    # one whole length for all ducts across: fewer cuts to set the stop for
    length = float(math.floor(min(b - a for a, b in spans) + 1e-9))
    made: list[Duct] = []
    for h, stock in enumerate(sizes.across):
        y = float(placed.duct_axis[h]) - stock.width / 2
        made += [_duct(stock, Run.ACROSS, x=a, y=y, length=length) for a, _ in spans]
    low = float(placed.duct_axis[-1]) - sizes.across[-1].width / 2
    high = float(placed.duct_axis[0]) + sizes.across[0].width / 2
    box = task.room.box
    uprights = (
        (sizes.left, box.left),
        (sizes.middle, middle[0] if middle else 0.0),
        (sizes.right, box.right - (sizes.right.width if sizes.right else 0.0)),
    )
    for upright, x in uprights:
        if upright is not None:
            made.append(_duct(upright, Run.UPRIGHT, x=x, y=low, length=high - low))
    return {f"D{number}": duct for number, duct in enumerate(made, start=1)}


@dataclass(frozen=True, slots=True)
class _Seat:
    """What one rail device asks of its rail: axis, and its body from left to right."""

    tag: str
    axis: Mm
    left: Mm
    right: Mm


def _seats(task: Task, places: Mapping[str, Placement]) -> list[_Seat]:
    seats = []
    for tag, at in places.items():
        part = task.job.part_of(tag)
        if part.mount is Mount.RAIL:
            axis = _told(at.y + (part.rail_center or 0.0))
            seats.append(_Seat(tag, axis, at.x, _told(at.x + part.width)))
    return sorted(seats, key=lambda s: (-s.axis, s.left, s.tag))


def _barriers(
    task: Task, places: Mapping[str, Placement], axis: Mm, on_axis: set[str]
) -> list[tuple[Mm, Mm]]:
    """Return what a rail on this axis must not pass: devices not on it, and zones."""
    found: list[tuple[Mm, Mm]] = []
    for tag, at in places.items():
        part = task.job.part_of(tag)
        low = at.y - (part.cover_bottom or 0.0)
        high = at.y + part.height + (part.cover_top or 0.0)
        if tag not in on_axis and low < axis + RAIL_HALF and high > axis - RAIL_HALF:
            left = at.x - (part.cover_left or 0.0)
            found.append((left, at.x + part.width + (part.cover_right or 0.0)))
    for zone in task.room.zones:
        b: Box = zone.box
        if zone.tallest < 0 and b.bottom < axis + RAIL_HALF and b.top > axis - RAIL_HALF:
            found.append((b.left, b.right))
    return found


def _stretches(span: tuple[Mm, Mm], barriers: list[tuple[Mm, Mm]]) -> Iterator[tuple[Mm, Mm]]:
    """Yield the free stretches of a span between barriers."""
    start, end = span
    for left, right in sorted(barriers):
        if right <= start:
            continue
        if left >= end:
            break
        if left > start:
            yield start, left
        start = max(start, right)
    if start < end:
        yield start, end


def _with_play(
    stretch: tuple[Mm, Mm], barriers: list[tuple[Mm, Mm]], seats: list[_Seat], *, least: Mm
) -> tuple[Mm, Mm]:
    """Return a free stretch less the play beside what ends it, where its devices leave that room.

    The rail stays as long as ``least``, which takes two screws: then the play is what is left.
    """
    start, end = stretch
    first, last = max(seats[0].left, start), min(max(s.right for s in seats), end)
    left = start + _PLAY if any(right == start for _, right in barriers) else start
    right = end - _PLAY if any(left == end for left, _ in barriers) else end
    left, right = min(left, first), max(right, last)
    lack, taken = least - (right - left), (left - start) + (end - right)
    if lack > 0 and taken > 0:
        kept = 1 - min(lack / taken, 1.0)
        left, right = start + kept * (left - start), end - kept * (end - right)
    return left, right


def _two_slots(stock: RailStock) -> Mm:
    """Return how short a rail with two screws may be cut for the sake of its play."""
    first = stock.slot_pitch / 2 if stock.first_slot is None else stock.first_slot
    return min(SHORTEST_RAIL, max(_TWO_SLOTS, first + 1.5 * stock.slot_pitch))


def _rail_between(stretch: tuple[Mm, Mm], seats: list[_Seat], *, full: bool) -> tuple[Mm, Mm]:
    """Return the two ends of the rail that carries ``seats`` within a free stretch."""
    first, last = seats[0].left, max(s.right for s in seats)
    if full:
        left, right = stretch
    else:
        reach = max(_RAIL_END, (SHORTEST_RAIL - (last - first)) / 2)
        left, right = max(stretch[0], first - reach), min(stretch[1], last + reach)
        # what one end lacks of two screws, since something stands there, the other end has more
        left = max(stretch[0], min(left, right - SHORTEST_RAIL))
        right = min(stretch[1], max(right, left + SHORTEST_RAIL))
    left = min(math.ceil(left - 1e-6), first)
    return left, max(left + math.floor(right - left + 1e-6), last)


def _rails(
    task: Task,
    places: Mapping[str, Placement],
    placed: Placed,
    spaces: tuple[tuple[Mm, Mm], tuple[Mm, Mm] | None],
    price: Mm,
) -> dict[str, Rail]:
    """Return rail pieces from the top down: the row's own rail runs its whole free stretch.

    Where it costs little, a rail gets a length that another has.
    """
    inner, middle = spaces
    standing = task.standing.rails
    seats = _seats(task, places)
    row_axes = {_told(float(a)) for a in placed.row_axis}
    cuts: list[_Cut] = []
    least = _two_slots(task.job.settings.stock.rail)
    for axis in sorted({s.axis for s in seats}, reverse=True):
        here = [s for s in seats if s.axis == axis]
        kept = [q for q in standing.values() if abs(q.y - axis) < 0.5]
        here = [s for s in here if not _carried(s, kept)]
        bodies = _barriers(task, places, axis, {s.tag for s in seats if s.axis == axis})
        near = [q for q in standing.values() if abs(q.y - axis) < 2 * RAIL_HALF]
        bodies += [(q.x, q.x + q.length) for q in near if q.run is Run.ACROSS]
        barriers = list(bodies)
        if middle:
            barriers.append((middle[0] - _RAIL_GAP, middle[1] + _RAIL_GAP))
        span = (inner[0] + _RAIL_GAP, inner[1] - _RAIL_GAP)
        for stretch in _stretches(span, barriers):
            held = [s for s in here if stretch[0] - 1e-6 <= s.left and s.left < stretch[1]]
            if not held:
                continue
            room = _with_play(stretch, bodies, held, least=least)
            ends = _rail_between(room, held, full=axis in row_axes)
            cuts.append(_Cut(axis, ends, _rail_between(room, held, full=False), room))
    return dict(standing) | _named(task, cuts, price)


@dataclass(frozen=True, slots=True)
class _Cut:
    """A rail to cut: its axis and ends, the ends it needs at least, and the room it has."""

    axis: Mm
    ends: tuple[Mm, Mm]
    least: tuple[Mm, Mm]
    room: tuple[Mm, Mm]

    @property
    def piece(self) -> Piece:
        return Piece(
            length=_told(self.ends[1] - self.ends[0]),
            least=self.least[1] - self.least[0],
            most=self.room[1] - self.room[0],
        )

    def at(self, length: Mm) -> Mm:
        """Return where the rail begins when it is cut to another length: near to where it did."""
        if length == self.piece.length:
            return self.ends[0]
        first = max(self.room[0], self.least[1] - length)
        last = min(self.least[0], self.room[1] - length)
        begin = min(max(self.ends[0], first), last)
        whole = math.ceil(begin - 1e-6)
        return whole if whole <= last + 1e-6 else begin


def _named(task: Task, cuts: list[_Cut], price: Mm) -> dict[str, Rail]:
    """Return the rails by tag, from the top down; rails that stay have a length already."""
    standing = task.standing.rails
    kept = [Piece(length=r.length, least=r.length, most=r.length) for r in standing.values()]
    lengths = equal_lengths([*(cut.piece for cut in cuts), *kept], price=price)
    rails: dict[str, Rail] = {}
    number = 0
    for cut, length in zip(cuts, lengths, strict=False):
        number += 1
        while f"R{number}" in standing:
            number += 1
        rails[f"R{number}"] = Rail(
            x=_told(cut.at(length)), y=cut.axis, length=length,
            profile=task.job.settings.stock.rail.profile,
        )  # fmt: skip
    return rails


def _carried(seat: _Seat, rails: list[Rail]) -> bool:
    return any(q.x - 0.5 <= seat.left and seat.right <= q.x + q.length + 0.5 for q in rails)


def layout_from(
    task: Task, sizes: DuctSizes, placed: Placed, inner: tuple[Mm, Mm], *, cut_length: Mm
) -> Layout:
    """Return the layout of a placed sequence; ``inner`` is the space between upright ducts.

    ``cut_length``: what one different length of rail fewer is worth, in mm of rail.
    """
    places = _device_places(task, placed)
    return Layout(
        devices=places,
        ducts=_ducts(task, sizes, placed, inner),
        rails=_rails(task, places, placed, (inner, middle_span(task, sizes)), cut_length),
    )
