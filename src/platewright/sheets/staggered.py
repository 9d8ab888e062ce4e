"""Words on leaders beside a row, at staggered heights, where one line of them has no room.

Everything is told in heights of the lettering away from the row: ``up`` grows from the row, for
names above it as for numbers below it. Leaders keep the order of what they name and rise upright
from where they jog, so none crosses another.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Final, TypeAlias

from platewright.foundation.units import Mm, Ratio
from platewright.model.geometry import Box, Path, Point
from platewright.sheets.lettering_rules import AIR, PITCH

GAP: Final = 0.4  # between a leader's end and its words, in heights of the lettering
KNEE: Final = 0.3  # where leaders jog above a row
JOGS: Final = (0.5, 1.2)  # heights of jogs tried
LEADERS: Final = 0.45  # least between leaders that jog
BESIDE: Final = 0.3  # least between a leader and the words it passes
BESIDE_UPRIGHT: Final = 0.35  # least between upright words side by side
BLOCKED: Final = 0.15  # least between words and what they may not lie on
MOVES: Final = tuple(way * step for step in (0.0, 0.5, 1.0, 1.6, 2.3, 3.1, 4.0, 5.0, 6.2, 7.6, 9.2, 11.0)
                     for way in ((1.0, -1.0) if step else (1.0,)))  # fmt: skip
NEAR_MOVES: Final = 13  # of them, tried first
HEIGHTS: Final = 5  # of words above each other, tried at most
KEPT: Final = 40  # of ways that go on with the next word

# what a way costs, by the look of it
FARTHER: Final = 0.25  # each height that words are moved along the row
FARTHER_YET: Final = 0.06  # its square
HIGHER: Final = 0.45  # each line above the first
TURNED: Final = 0.7  # words written upright
SERIES_TURNED: Final = 1.6
FLAG: Final = 0.25  # a leader at an end of its words, not at their middle
IN_DUCT: Final = 1.2
OVER_EDGE: Final = 2.5  # the edge of a duct has to be interrupted


class Hang(StrEnum):
    """Where a leader meets its words."""

    MIDDLE = "middle"
    LEFT = "left"
    RIGHT = "right"
    UPRIGHT = "upright"


_Key: TypeAlias = tuple[int, int, Hang]  # of ways whose last words stand alike the best goes on


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """Words and where along the row they want to be."""

    foot: Mm
    width: Mm
    is_series: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """Where words stand: their leader, how far up it ends, and the room they take."""

    at: Mm
    end: Mm
    hang: Hang
    words: Box
    is_straight: bool  # its leader does not jog


@dataclass(frozen=True, slots=True, kw_only=True)
class Around:
    """What is around: bounds along the row, what words may not lie on, the ducts across."""

    left: Mm
    right: Mm
    blocked: tuple[Box, ...]
    ducts: tuple[Box, ...]
    flags: bool = True  # words may hang on an end of their leader


@dataclass(frozen=True, slots=True, kw_only=True)
class Stands:
    """Words that stand, in order."""

    stands: tuple[Stand, ...]
    knee: Mm  # where leaders begin to jog
    start: Mm  # where they are past it
    cost: Ratio

    def leader(self, foot: Point, stand: Stand, *, way: int = 1) -> Path:
        """Return the leader of words from its foot. ``way``: -1 below the row."""
        end = Point(stand.at, way * stand.end)
        if stand.is_straight:
            return (foot, end)
        past = (Point(stand.at, way * self.start),) if stand.end > self.start else ()
        return (foot, Point(foot.x, way * self.knee), *past, end)


@dataclass(frozen=True, slots=True)
class _Way:
    """Words put so far, the last first."""

    cost: Ratio
    last: Stand | None = None
    before: _Way | None = None

    def stands(self) -> Iterator[Stand]:
        """Yield what has been put, from the last."""
        way: _Way | None = self
        while way is not None and way.last is not None:
            yield way.last
            way = way.before


def beside_row(
    wanted: Sequence[Wanted], around: Around, levels: Iterable[Mm], size: Mm
) -> Stands | None:
    """Return the best stands for words, which are in order, past one of several levels.

    ``None``: none is found where nothing lies on anything else.
    """
    for moves in (MOVES[:NEAR_MOVES], MOVES):  # words far from their feet only where there must be
        found: list[Stands] = []
        for level in sorted(set(levels)):
            knee = level + KNEE * size
            for jog in JOGS:
                start = knee + jog * size
                stands = _stands(wanted, around, (knee, start), moves, size)
                if stands is not None:
                    higher = HIGHER * len(wanted) * (start - min(levels)) / size
                    found.append(replace(stands, cost=stands.cost + higher))
        if found:
            return min(found, key=lambda one: one.cost)
    return None


def _stands(
    wanted: Sequence[Wanted],
    around: Around,
    jogs: tuple[Mm, Mm],
    moves: Sequence[float],
    size: Mm,
) -> Stands | None:
    """Search for the best stands, keeping the ``KEPT`` best ways from word to word."""
    ways = [_Way(0.0)]
    for word in wanted:
        offers = list(_offers(word, around, jogs, moves, size))
        best: dict[_Key, _Way] = {}
        for way in ways:
            recent = tuple(way.stands())
            least = way.last.at if way.last else -math.inf
            for cost, stand, key in offers:
                if stand.at < least:
                    continue
                total = way.cost + cost
                known = best.get(key)
                if (known is None or total < known.cost) and _goes(stand, recent, size):
                    best[key] = _Way(total, stand, way)
        ways = sorted(best.values(), key=lambda way: way.cost)[:KEPT]
        if not ways:
            return None
    stands = tuple(reversed(tuple(ways[0].stands())))
    return Stands(stands=stands, knee=jogs[0], start=jogs[1], cost=ways[0].cost)


def _offers(
    word: Wanted, around: Around, jogs: tuple[Mm, Mm], moves: Sequence[float], size: Mm
) -> Iterator[tuple[Ratio, Stand, _Key]]:
    """Yield where words can stand for all that is drawn already, what that costs, and its key."""
    knee, start = jogs
    hangs = (Hang.MIDDLE, Hang.LEFT, Hang.RIGHT) if around.flags else (Hang.MIDDLE,)
    room = BLOCKED * size
    near = [box for box in around.blocked if box.top > knee]
    for move in moves:
        at = word.foot + move * size
        farther = FARTHER * abs(move) + FARTHER_YET * move * move
        jog = Box(min(word.foot, at), knee, max(word.foot, at), start)
        if move and _hits(jog, near, 0.0):
            continue
        for line in range(HEIGHTS):
            end = start + PITCH * size * line
            pole = Box(at, start, at, end).grown(0.1 * size, 0.0, 0.1 * size, 0.0)
            if line and _hits(pole, near, 0.0):
                break
            for hang in (*hangs, Hang.UPRIGHT):
                words = _words(word, at, end + GAP * size, hang, size)
                if words.left < around.left + room or words.right > around.right - room:
                    continue
                if _hits(words, near, room):
                    continue
                cost = farther + HIGHER * line + _look(word, hang) + _in_ducts(words, around.ducts)
                straight = not move
                stand = Stand(at=at, end=end, hang=hang, words=words, is_straight=straight)
                yield cost, stand, (round(2 * at / size), line, hang)


def _look(word: Wanted, hang: Hang) -> Ratio:
    if hang is Hang.UPRIGHT:
        return SERIES_TURNED if word.is_series else TURNED
    return 0.0 if hang is Hang.MIDDLE else FLAG


def _in_ducts(words: Box, ducts: Sequence[Box]) -> Ratio:
    over = [duct for duct in ducts if duct.overlaps(words)]
    crossed = any(words.bottom < edge < words.top for d in over for edge in (d.bottom, d.top))
    return OVER_EDGE if crossed else IN_DUCT if over else 0.0


def _words(word: Wanted, at: Mm, foot: Mm, hang: Hang, size: Mm) -> Box:
    if hang is Hang.UPRIGHT:
        return Box(at - size / 2, foot, at + size / 2, foot + word.width)
    left = {Hang.MIDDLE: word.width / 2, Hang.LEFT: 0.0, Hang.RIGHT: word.width}[hang]
    return Box(at - left, foot, at - left + word.width, foot + size)


def _hits(box: Box, others: Sequence[Box], air: Mm) -> bool:
    left, bottom, right, top = box.left - air, box.bottom - air, box.right + air, box.top + air
    for one in others:  # no generator: this is where the time goes
        if one.left < right and one.right > left and one.bottom < top and one.top > bottom:
            return True
    return False


def _goes(stand: Stand, before: Sequence[Stand], size: Mm) -> bool:
    """Tell whether a stand keeps clear of those before it, at its left."""
    if not before:
        return True
    both_straight = stand.is_straight and before[0].is_straight  # as near as what they name
    if before[0].at > stand.at - (0.0 if both_straight else LEADERS * size):
        return False
    words, upright = stand.words, stand.hang is Hang.UPRIGHT
    for other in before:
        beside = BESIDE_UPRIGHT if upright and other.hang is Hang.UPRIGHT else AIR
        theirs = other.words
        if (
            theirs.right > words.left - beside * size
            and theirs.left < words.right + beside * size
            and theirs.top > words.bottom - 0.3 * size
            and theirs.bottom < words.top + 0.3 * size
        ):
            return False
        # their leader past these words, this leader past theirs
        if other.end > words.bottom and words.left - BESIDE * size < other.at < words.right:
            return False
        if stand.end > theirs.bottom and theirs.left < stand.at < theirs.right + BESIDE * size:
            return False
    return True
