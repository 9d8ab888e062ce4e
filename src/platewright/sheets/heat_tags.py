"""Tags of what is too small for lettering on the picture of temperature: led out to free room."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from platewright.drawing.clip import clipped
from platewright.drawing.extent import text_box
from platewright.drawing.picture import Anchor, Circle, Line, Primitive, Rect, Text
from platewright.foundation.units import Mm
from platewright.model.geometry import Box, Point
from platewright.sheets.heat_field import LETTERING
from platewright.sheets.row_series import numbered

TOUCHING: Final[Mm] = 2.0  # neighbours nearer than this are told together
SAME: Final[Mm] = 0.2  # edges nearer than this are level
DIGITS: Final = "0123456789"
OFF: Final = (1.6, 2.6, 4.0, 6.0, 8.5, 11.5)  # of the lettering, from a run to its words
ASIDE: Final = (0.0, 3.0, -3.0, 6.0, -6.0, 10.0, -10.0)
AIR: Final[Mm] = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Unnamed:
    """A device in whose box its tag found no room; ``figure``: its number, where that didn't either."""

    tag: str
    box: Box
    figure: str


def led_out(
    things: Sequence[Unnamed], area: Box, taken: list[Box], shunned: Sequence[Box]
) -> Iterator[Primitive]:
    """Yield words on a leader for each run of neighbours, clear of what is taken.

    Sooner off what is ``shunned`` too. A run without any room goes without: it is in the table.
    """
    leaders: list[Line] = []
    for run in _runs(things):
        ways = [way for way in _ways(run, area) if _is_free(way, taken, leaders)]
        clear = [way for way in ways if not any(map(_room(way).overlaps, shunned))]
        if not ways:
            continue
        text, leader = (clear or ways)[0]
        taken.append(_room((text, leader)))
        leaders.append(leader)
        yield Circle(layer="DATUM", centre=leader.start, radius=0.16 * LETTERING)
        yield leader
        yield Rect(layer="INTERRUPT", box=_room((text, leader)))
        yield text


def _runs(things: Sequence[Unnamed]) -> Iterator[tuple[Unnamed, ...]]:
    """Yield alike neighbours that touch, from the left."""
    left = sorted(things, key=lambda one: (one.box.left, one.tag))
    while left:
        run = [left.pop(0)]
        for one in tuple(left):
            if _continues(run[-1], one):
                run.append(one)
                left.remove(one)
        yield tuple(run)


def _continues(last: Unnamed, one: Unnamed) -> bool:
    """Tell whether a device is told with the one left of it: level, touching, one letter code."""
    return (
        abs(one.box.left - last.box.right) <= TOUCHING
        and abs(one.box.bottom - last.box.bottom) <= SAME
        and abs(one.box.top - last.box.top) <= SAME
        and one.tag.rstrip(DIGITS) == last.tag.rstrip(DIGITS)
        and bool(one.figure) == bool(last.figure)
    )


def _words(run: tuple[Unnamed, ...]) -> str:
    names = ", ".join(
        f"{series[0]} … {series[-1]}" if len(series) > 1 else series[0]
        for series in numbered(tuple(one.tag for one in run))
    )
    figures = [one.figure for one in run if one.figure]
    if not figures:
        return names
    low, high = min(figures, key=float), max(figures, key=float)
    return f"{names}  {low if low == high else f'{low} to {high}'}"


def _ways(run: tuple[Unnamed, ...], area: Box) -> Iterator[tuple[Text, Line]]:
    """Yield words above and below a run with a leader to its middle device, the nearest first."""
    words, body = _words(run), run[len(run) // 2].box
    middle = (run[0].box.left + run[-1].box.right) / 2
    for off in OFF:
        for side, aside in ((side, aside) for aside in ASIDE for side in (1, -1)):
            edge = body.top if side > 0 else body.bottom
            foot = Point(body.centre.x, edge - side * min(1.2, body.height / 2))
            at = Point(middle + aside * LETTERING, edge + side * off * LETTERING)
            text = Text(layer="TAG", at=at, text=words, size=LETTERING, anchor=Anchor.CENTRE)
            box = text_box(text)
            if min(box.left - area.left, area.right - box.right) < AIR:
                continue
            if min(box.bottom - area.bottom, area.top - box.top) < AIR:
                continue
            end = Point(
                min(max(foot.x, box.left), box.right),
                box.bottom - AIR if side > 0 else box.top + AIR,
            )
            yield text, Line(layer="TAG", start=foot, end=end)


def _room(way: tuple[Text, Line]) -> Box:
    return text_box(way[0]).grown(AIR, AIR, AIR, AIR)


def _is_free(way: tuple[Text, Line], taken: list[Box], leaders: list[Line]) -> bool:
    """Tell whether words and leader keep off all that is taken, and off other leaders' words.

    The leader begins within its own device, whose box is taken as well.
    """
    room, leader = _room(way), way[1]
    if any(map(room.overlaps, taken)):
        return False
    if any(clipped(one.start, one.end, room) is not None for one in leaders):
        return False
    others = (box for box in taken if not box.contains(leader.start))
    return all(clipped(leader.start, leader.end, box) is None for box in others)
