"""Left edges of the bodies of a row and ends of its rails, written under the row (ISO 129-1)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

from platewright.drawing.extent import text_box
from platewright.drawing.flatten import flat_ordinate
from platewright.drawing.lettering import text_width
from platewright.drawing.picture import Axis, Ordinate, Polyline, Primitive, Text
from platewright.drawing.spread import spread
from platewright.drawing.table import length_text
from platewright.foundation.units import Mm
from platewright.model.geometry import Box, Path, Point
from platewright.model.layout import Run
from platewright.model.panel import Panel, body_box, envelope_box
from platewright.sheets.lettering_rules import AIR, PITCH, SAME, interruption
from platewright.sheets.plate_ordinates import unlike
from platewright.sheets.plate_tags import Room, compartments, rows
from platewright.sheets.rail_footprint import rail_box
from platewright.sheets.row_series import BRACKET, LEAST, alike, bodies_of, bracket
from platewright.sheets.staggered import Around, Hang, Wanted, beside_row
from platewright.sheets.word_faults import Drawn, bodies, drawn, word_faults

GAP: Final = 0.25  # between feature and leader, in heights of the lettering
JOG: Final = 1.2  # height of a leader's jog
LOW_JOG: Final = 0.5  # the same of level numbers, which stand where there is little room
NEAR: Final = 4.0  # a number stands no farther from its edge where that can be
FAR: Final = 25.0  # a duct farther below a row is not its own


@dataclass(frozen=True, slots=True, kw_only=True)
class _Number:
    """What is written under a row, and where its leader begins."""

    words: str
    foot: Point
    series: Box | None = None  # of equal neighbours told as count × width

    def room(self, size: Mm, *, is_level: bool) -> Mm:
        """Return the room it takes along the row."""
        return text_width(self.words, size) + AIR * size if is_level else PITCH * size


def row_ordinates(panel: Panel, lettering: Mm, before: Drawn) -> Iterator[Primitive]:
    """Yield the x ordinates of each row, written under the row. ``before``: what they keep clear of.

    Equal neighbours too narrow for a number each get that of the first, and how many of what
    width follow: 471 and 8 × 6.2.
    """
    for whole in rows(panel):
        for row, left, right in compartments(panel, whole):
            room = Room(row=row, left=left, right=right)
            found = _under_row(panel, room, lettering, before)
            before = before.with_more(found)
            yield from found


@dataclass(frozen=True, slots=True, kw_only=True)
class _Bunch:
    """Numbers that stand side by side and share the levels of their leaders."""

    numbers: tuple[_Number, ...]
    places: tuple[Mm, ...]
    knee: Mm
    end: Mm
    is_level: bool
    has_room: bool  # between the row and the duct below it


def _under_row(panel: Panel, room: Room, size: Mm, before: Drawn) -> tuple[Primitive, ...]:
    """Return the numbers of a row in one line, upright or level, whichever has room above the duct.

    Where they would lie on one another so, at staggered heights.
    """
    outlines = bodies(panel)
    choices = [_numbers(panel, room, size, widest) for widest in (PITCH * size, float("inf"))]
    ways = [way for numbers in choices for way in _ways(panel, room, numbers, size)]
    tried = []
    for way in ways:
        parts = tuple(_parts(panel, way, size))
        tried.append(((word_faults(drawn(parts), before, outlines), *_faults(way, size)), parts))
    (lying, *_), best = min(tried, key=lambda one: one[0])
    if lying:
        found = (_staggered(panel, room, numbers, size, before) for numbers in choices)
        return next(filter(None, found), best)
    return best


def _parts(panel: Panel, way: list[_Bunch], size: Mm) -> Iterator[Primitive]:
    """Yield the numbers of a way with their leaders."""
    for bunch in way:
        for number, place in zip(bunch.numbers, bunch.places, strict=True):
            path = (
                number.foot,
                Point(number.foot.x, min(bunch.knee, number.foot.y)),
                Point(place, bunch.end),
            )
            yield from _drawn(panel, number, path, size, is_level=bunch.is_level)


def _staggered(
    panel: Panel, room: Room, numbers: tuple[_Number, ...], size: Mm, before: Drawn
) -> tuple[Primitive, ...]:
    """Return the numbers at staggered heights; none: that has no room."""
    wanted = [
        Wanted(foot=one.foot.x, width=text_width(one.words, size), is_series=one.series is not None)
        for one in numbers
    ]
    low = [_envelope(panel, tag).bottom for tag in room.row] + [one.foot.y for one in numbers]
    across = [duct.box for duct in panel.layout.ducts.values() if duct.run is Run.ACROSS]
    around = Around(
        left=room.left,
        right=room.right,
        blocked=tuple(map(_mirrored, (*bodies(panel), *before.boxes()))),
        ducts=tuple(map(_mirrored, across)),
        flags=False,
    )
    found = beside_row(wanted, around, (-min(low),), size)
    if found is None:
        return ()
    return tuple(
        part
        for number, stand in zip(numbers, found.stands, strict=True)
        for part in _drawn(
            panel,
            number,
            found.leader(number.foot, stand, way=-1),
            size,
            is_level=stand.hang is not Hang.UPRIGHT,
        )
    )


def _mirrored(box: Box) -> Box:
    return Box(box.left, -box.top, box.right, -box.bottom)


def _envelope(panel: Panel, tag: str) -> Box:
    return envelope_box(panel.job.part_of(tag), panel.layout.devices[tag])


def _ways(
    panel: Panel, room: Room, numbers: tuple[_Number, ...], size: Mm
) -> tuple[list[_Bunch], ...]:
    """Return the numbers all upright, all level, and upright but for bunches without room."""
    upright = _bunches(panel, room, numbers, size, is_level=False)
    level = _bunches(panel, room, numbers, size, is_level=True)
    return upright, level, _levelled(panel, room, upright, size)


def _levelled(panel: Panel, room: Room, upright: list[_Bunch], size: Mm) -> list[_Bunch]:
    """Return the bunches with those level that have no room upright, between their neighbours."""
    half = PITCH * size / 2
    found: list[_Bunch] = []
    for index, bunch in enumerate(upright):
        if bunch.has_room:
            found.append(bunch)
            continue
        left, right = room.left, room.right
        if found:
            last = found[-1]
            left = last.places[-1] + last.numbers[-1].room(size, is_level=last.is_level) / 2
        if index + 1 < len(upright):
            right = upright[index + 1].places[0] - half
        between = Room(row=room.row, left=left, right=right)
        level = _bunches(panel, between, bunch.numbers, size, is_level=True)
        found += level if all(one.has_room for one in level) else [bunch]
    return found


def _faults(way: list[_Bunch], size: Mm) -> tuple[int, Mm]:
    """Return how many bunches have no room, and how much too far a number stands from its edge."""
    moves = (
        abs(number.foot.x - place)
        for bunch in way
        for number, place in zip(bunch.numbers, bunch.places, strict=True)
    )
    return sum(not bunch.has_room for bunch in way), max(0.0, max(moves) - NEAR * size)


def _numbers(panel: Panel, room: Room, size: Mm, widest: Mm) -> tuple[_Number, ...]:
    """Return what is written under a row, from left to right.

    ``widest``: equal neighbours narrower than this are told together.
    """
    unit = panel.job.settings.units
    bodies = {tag: body_box(panel.job.part_of(tag), panel.layout.devices[tag]) for tag in room.row}
    told: list[_Number] = []
    corners: list[tuple[Mm, Mm, Point]] = []
    for run in alike(panel, room.row):
        box, first = bodies_of(panel, run), bodies[run[0]]
        together = len(run) >= LEAST and first.width < widest
        for tag in run[: 1 if together else None]:
            body = bodies[tag]
            corners.append((body.left, body.bottom, Point(body.left, body.bottom)))
        if together:
            words = f"{len(run)} × {length_text(first.width, unit)}"
            foot = Point(box.centre.x, box.bottom - BRACKET * size)
            told.append(_Number(words=words, foot=foot, series=box))
    low = min(body.bottom for body in bodies.values())
    high = max(body.top for body in bodies.values())
    for rail in panel.layout.rails.values():
        box = rail_box(rail)
        here = room.left < box.centre.x < room.right
        if rail.run is Run.ACROSS and here and low < rail.y < high:
            corners += [(x, box.bottom, Point(x, box.bottom)) for x in (box.left, box.right)]
    told += [
        _Number(words=length_text(at.x, unit), foot=Point(at.x, at.y - GAP * size))
        for at in unlike(corners)
    ]
    return tuple(sorted(told, key=lambda number: (number.foot.x, number.words)))


def _bunches(
    panel: Panel, room: Room, numbers: tuple[_Number, ...], size: Mm, *, is_level: bool
) -> list[_Bunch]:
    """Return the numbers spread along the row, as bunches with their levels."""
    rooms = [number.room(size, is_level=is_level) for number in numbers]
    places = spread(
        [number.foot.x for number in numbers],
        rooms,
        low=room.left + rooms[0] / 2,
        high=room.right - rooms[-1] / 2,
    )
    is_apart = sum(rooms) <= room.right - room.left
    starts = [0]
    for index in range(1, len(numbers)):
        apart = places[index] - places[index - 1]
        if apart > 0.65 * (rooms[index] + rooms[index - 1]):
            starts.append(index)
    return [
        _bunch(panel, room, numbers[a:b], places[a:b], size, (is_level, is_apart))
        for a, b in zip(starts, [*starts[1:], len(numbers)], strict=True)
    ]


def _bunch(
    panel: Panel,
    room: Room,
    numbers: tuple[_Number, ...],
    places: tuple[Mm, ...],
    size: Mm,
    how: tuple[bool, bool],
) -> _Bunch:
    is_level, is_apart = how
    halves = [number.room(size, is_level=is_level) / 2 for number in numbers]
    feet = [number.foot.x for number in numbers]
    low = min(*(at - half for at, half in zip(places, halves, strict=True)), *feet)
    high = max(*(at + half for at, half in zip(places, halves, strict=True)), *feet)
    envelopes = [
        envelope_box(panel.job.part_of(tag), panel.layout.devices[tag]) for tag in room.row
    ]
    bottoms = [box.bottom for box in envelopes if box.right > low and box.left < high]
    bottom = min(bottoms + [number.foot.y for number in numbers])
    longest = max(text_width(number.words, size) for number in numbers)
    duct = _duct_below(panel, bottom, size)
    straight = all(abs(at - x) <= SAME for at, x in zip(places, feet, strict=True))
    jog = (0.15 if is_level else 0.3) if straight else LOW_JOG if is_level else JOG
    need = (size if is_level else longest) + 0.45 * size  # less the gap after the leader
    knee, end, has_room = _levels(duct, bottom, size, need, jog * size)
    return _Bunch(
        numbers=numbers,
        places=places,
        knee=knee,
        end=end,
        is_level=is_level,
        has_room=has_room and is_apart,
    )


def _drawn(
    panel: Panel, number: _Number, path: Path, size: Mm, *, is_level: bool
) -> Iterator[Primitive]:
    ordinate = Ordinate(
        layer="DIM",
        axis=Axis.X,
        path=path,
        text=number.words,
        size=size,
        is_level=is_level,
    )
    (text,) = [part for part in flat_ordinate(ordinate) if isinstance(part, Text)]
    yield from interruption(panel, text_box(text), 0.2 * size)
    if number.series is None:
        yield ordinate
        return
    yield bracket(number.series, size, is_below=True)
    yield Polyline(layer="TAG", points=path)
    yield replace(text, layer="TAG")


def _duct_below(panel: Panel, bottom: Mm, size: Mm) -> Box | None:
    near = [
        duct.box
        for duct in panel.layout.ducts.values()
        if duct.run is Run.ACROSS and bottom - FAR * size <= duct.box.top <= bottom + SAME
    ]
    return max(near, key=lambda box: (box.top, box.width), default=None)


def _levels(duct: Box | None, bottom: Mm, size: Mm, need: Mm, jog: Mm) -> tuple[Mm, Mm, bool]:
    """Return where the leaders of a row begin to jog, where they end, and whether that has room.

    The numbers stand between row and duct where there is room, else inside the duct, so that
    no edge of a duct crosses them; where both are too narrow an edge has to be interrupted.
    """
    knee = bottom - 0.05 * size
    near = knee - jog
    if duct is None or near - need >= duct.top:
        return knee, near, True
    edge = duct.top + 0.1 * size
    if need <= duct.height and knee - edge >= 0.5 * jog:
        return min(knee, edge + 2 * jog), edge, False
    return knee, near, False
