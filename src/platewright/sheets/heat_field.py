"""A field of temperature on paper: bands of colour, lines between them, and their scale."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise
from typing import Final, TypeAlias

import numpy as np

from platewright.drawing.contours import Floats, lines, regions
from platewright.drawing.extent import text_box
from platewright.drawing.picture import Anchor, Line, Polyline, Primitive, Rect, Text
from platewright.drawing.temperature_colours import BANDS
from platewright.foundation.units import DegC, Mm
from platewright.model.geometry import Box, Path, Point, path_length
from platewright.model.heat import Field

STEPS: Final = (1.0, 2.0, 2.5, 4.0, 5.0, 10.0, 15.0, 20.0, 25.0, 50.0)
FINE: Final = 2  # cells drawn for one that was worked out
LETTERING: Final[Mm] = 2.5
LINE_ROOM: Final[Mm] = 1.0  # a line stops this far from its own number
TURN: Final = 0.97  # how straight a line is where its number stands: chord over length
NEAR: Final[Mm] = 0.03  # a point of a line nearer than this to its chord is left out
LONGEST: Final[Mm] = 3.0  # chord for points of a bend, so that many small ones do not add up
LEGEND: Final[Mm] = 17.0  # height of a scale with its words
_Spot: TypeAlias = tuple[Text, Mm, Mm]  # a number; where its line stops and goes on


@dataclass(frozen=True, slots=True)
class Scale:
    """Bands of equal width from ``low`` up; the first reaches down, the last up without end."""

    low: DegC
    step: float

    @staticmethod
    def over(values: Iterable[DegC]) -> Scale:
        """Return the finest scale of round numbers that holds all values."""
        known = list(values)
        lowest, highest = min(known), max(known)
        for step in STEPS:
            low = math.floor(lowest / step) * step
            if low + BANDS * step >= highest:
                return Scale(low, step)
        return Scale(math.floor(lowest / STEPS[-1]) * STEPS[-1], STEPS[-1])

    @property
    def borders(self) -> tuple[DegC, ...]:
        """Temperatures between the bands."""
        return tuple(self.low + band * self.step for band in range(1, BANDS))

    def layer(self, value: DegC) -> str:
        """Return the layer whose colour a temperature has."""
        band = math.floor((value - self.low) / self.step)
        return f"HEAT-{min(BANDS - 1, max(0, band))}"


def extremes(*fields: Field) -> tuple[DegC, ...]:
    """Return lowest and highest value of each field."""
    return tuple(float(pick(field.values)) for field in fields for pick in (np.nanmin, np.nanmax))


def bands(field: Field, scale: Scale, at: Point, size: float) -> Iterator[Primitive]:
    """Yield the bands from cool to warm, each drawn over the last.

    Loops of a band are joined to one by slits of no width: holes stay open.
    """
    x, y, values = _nodes(field, at, size)
    lowest = scale.layer(float(values.min()))
    yield Rect(layer=lowest, box=_area(x, y))
    for border in scale.borders:
        loops = [loop for loop in map(_thinned, regions(x, y, values, border)) if len(loop) > 2]
        if loops:
            joined = [loops[0][0]]
            for loop in loops:
                joined += [*loop, loop[0], loops[0][0]]
            yield Polyline(layer=scale.layer(border), points=tuple(joined), closed=True)


def labelled_lines(
    field: Field,
    scale: Scale,
    at: Point,
    size: float,
    taken: list[Box],
    shunned: Sequence[Box] = (),
) -> Iterator[Primitive]:
    """Yield the lines between the bands with their temperatures, clear of what is taken.

    A number that was set is added to ``taken``. On what is ``shunned`` one stands only where its
    line has no other room.
    """
    x, y, values = _nodes(field, at, size)
    area = _area(x, y)
    for border in scale.borders:
        paths = [_thinned(path) for path in lines(x, y, values, border)]
        for path in sorted(paths, key=path_length, reverse=True):
            words = f"{border:g}"
            spot = _spot(path, words, area, [*taken, *shunned]) or _spot(path, words, area, taken)
            yield from _labelled(path, spot, taken)


def legend(corner: Point, width: Mm, scale: Scale, words: str) -> Iterator[Primitive]:
    """Yield the scale lying below a picture, its upper left corner given."""
    wide = min(14.0, width / BANDS)
    top = corner.y - LETTERING * 1.8
    yield Text(
        layer="TEXT", at=Point(corner.x, corner.y - LETTERING), text=words, size=LETTERING,
        bold=True, on_base=True,
    )  # fmt: skip
    for band in range(BANDS):
        box = Box(corner.x + band * wide, top - 5, corner.x + (band + 1) * wide, top)
        yield Rect(layer=f"HEAT-{band}", box=box)
        yield Rect(layer="HEAT-BODY", box=box)
    for band, border in enumerate(scale.borders, start=1):
        x = corner.x + band * wide
        yield Line(layer="HEAT-BODY", start=Point(x, top - 5), end=Point(x, top - 6))
        yield Text(
            layer="TEXT", at=Point(x, top - 6.6 - LETTERING / 2), text=f"{border:g}",
            size=LETTERING, anchor=Anchor.CENTRE,
        )  # fmt: skip


def _area(x: Floats, y: Floats) -> Box:
    return Box(float(x[0]), float(y[0]), float(x[-1]), float(y[-1]))


def _nodes(field: Field, at: Point, size: float) -> tuple[Floats, Floats, Floats]:
    """Return places on the paper and values, out to the edges of the area.

    Linear between the middles of the cells that were worked out, and on to the edges.
    """
    area = field.area
    rows, columns = field.values.shape

    def places(count: int, low: float, high: float) -> Floats:
        return low + (high - low) * np.arange(count * FINE + 1) / (count * FINE)

    values = _finer(_finer(np.asarray(field.values, dtype=np.float64)).T).T
    x, y = places(columns, area.left, area.right), places(rows, area.bottom, area.top)
    return at.x + x * size, at.y + y * size, values


def _finer(values: Floats) -> Floats:
    """Return the values at the edges and the steps between, along the first axis."""
    count = len(values)
    first, last = (3 * values[0] - values[1]) / 2, (3 * values[-1] - values[-2]) / 2
    known = np.concatenate((first[None], values, last[None]))
    at = np.concatenate(([0.0], np.arange(count) + 0.5, [count]))
    wanted = np.arange(count * FINE + 1) / FINE
    low = np.clip(np.searchsorted(at, wanted, side="right") - 1, 0, count)
    share = (wanted - at[low]) / (at[low + 1] - at[low])
    return np.asarray(known[low] + share[:, None] * (known[low + 1] - known[low]))


def _thinned(path: Path) -> Path:
    """Return the path without points that lie on the line between their neighbours."""
    if len(path) < 3:
        return path
    kept = [path[0]]
    for here, after in pairwise(path[1:]):
        before = kept[-1]
        chord = math.dist((before.x, before.y), (after.x, after.y))
        cross = (after.x - before.x) * (here.y - before.y)
        cross -= (after.y - before.y) * (here.x - before.x)
        beside = abs(cross) / chord if chord else NEAR
        if beside > (NEAR if chord < LONGEST else NEAR / 100):
            kept.append(here)
    return (*kept, path[-1])


def _reach(one: Point, other: Point) -> Mm:
    return math.dist((one.x, one.y), (other.x, other.y))


def _labelled(path: Path, spot: _Spot | None, taken: list[Box]) -> Iterator[Primitive]:
    """Yield a line with its number in it where there is room, or the line alone."""
    if spot is None:
        yield Polyline(layer="HEAT-LINE", points=path)
        return
    number, first, last = spot
    taken.append(text_box(number))
    yield number
    for piece in (_part(path, 0.0, first), _part(path, last, path_length(path))):
        if len(piece) > 1:
            yield Polyline(layer="HEAT-LINE", points=piece)


def _spot(path: Path, words: str, area: Box, taken: list[Box]) -> _Spot | None:
    """Return the number where it stands straight, free and nearest the middle; from, to."""
    room = text_box(Text(layer="TEXT", at=Point(0, 0), text=words, size=LETTERING)).width
    room += 2 * LINE_ROOM
    length = path_length(path)
    starts = np.arange(0.0, max(0.0, length - room), 1.5)
    for first in sorted(starts.tolist(), key=lambda start: abs(start + room / 2 - length / 2)):
        piece = _part(path, first, first + room)
        a, b = piece[0], piece[-1]
        if _reach(a, b) < TURN * room:
            continue
        turn = math.degrees(math.atan2(b.y - a.y, b.x - a.x))
        turn = turn - 180 if turn > 90 else turn + 180 if turn <= -90 else turn
        number = Text(
            layer="TEXT", at=Point((a.x + b.x) / 2, (a.y + b.y) / 2), text=words,
            size=LETTERING, anchor=Anchor.CENTRE, rotation=round(turn, 1),
        )  # fmt: skip
        box = text_box(number).grown(0.6, 0.6, 0.6, 0.6)
        corners = Point(box.left, box.bottom), Point(box.right, box.top)
        if all(map(area.contains, corners)) and not any(map(box.overlaps, taken)):
            return number, first, first + room
    return None


def _part(path: Path, first: Mm, last: Mm) -> Path:
    """Return what of a path lies between two distances along it."""
    steps = [_reach(a, b) for a, b in pairwise(path)]
    far = list(accumulate(steps, initial=0.0))

    def at(distance: Mm) -> Point:
        index = min(len(steps) - 1, max(0, int(np.searchsorted(far, distance)) - 1))
        share = (distance - far[index]) / steps[index] if steps[index] else 0.0
        a, b = path[index], path[index + 1]
        return Point(a.x + share * (b.x - a.x), a.y + share * (b.y - a.y))

    inner = [point for point, here in zip(path, far, strict=True) if first < here < last]
    if last - first < NEAR:
        return ()
    return (at(first), *inner, at(last))
