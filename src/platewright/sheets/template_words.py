"""Where the words of a crowded tile stand: clear of holes, outlines and each other's leaders."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import pairwise, product
from typing import Final, NamedTuple

from platewright.drawing.clip import clipped, is_crossed
from platewright.drawing.extent import text_box
from platewright.drawing.lettering import text_width
from platewright.drawing.picture import Anchor, Line, Primitive, Text
from platewright.foundation.units import Mm
from platewright.model.geometry import Box, Point

LETTERING: Final[Mm] = 2.5
STEPS: Final = (9.0, 13.0, 17.0, 22.0, 28.0)  # from a crowded hole to its words, last of all
PIECES: Final = 12  # of a leader that words keep off


def hole_tags(
    named: Iterable[tuple[tuple[str, ...], Point, Mm, Mm]],
    shows: Box,
    taken: list[Box],
    lines: list[Box],
) -> Iterator[Primitive]:
    """Yield the words of each hole (words, centre, radius, far) in the first place that is free.

    Free of outlines too where there is such a place. Of several words the first that find one.
    """
    leaders: list[Line] = []
    for ways, centre, radius, far in named:
        around = _Around(
            shows=shows, taken=taken, lines=lines, leaders=leaders, radius=radius, far=far
        )
        text = _best(ways, centre, around)
        if text is None:
            continue
        taken.append(around_words(text))
        yield text
        leader = _leader(text, centre, around)
        if leader is not None:
            leaders.append(leader)
            yield leader


def _best(ways: tuple[str, ...], centre: Point, around: _Around) -> Text | None:
    """Return the first words with a place that no leader crosses; else with any place at all."""
    crossed = None
    for words in ways:
        found = _free(words, centre, around)
        if found is not None and found[1]:
            return found[0]
        crossed = crossed or found
    return crossed[0] if crossed else None


class _Around(NamedTuple):
    """What lies about a hole: the window, what lettering must keep off and had better, leaders.

    Words farther from it than ``far`` are led to it.
    """

    shows: Box
    taken: list[Box]
    lines: list[Box]
    leaders: list[Line]
    radius: Mm
    far: Mm


def _free(words: str, centre: Point, around: _Around) -> tuple[Text, bool] | None:
    """Return words at a hole where nothing else is, sooner off outlines; ``None``: no room.

    Sooner where no leader crosses other words, too: then the second is true.
    """
    free: list[Text] = []
    for places in (_places, _far_places):
        plain: list[Text] = []
        for text in places(words, centre, around.radius):
            if not is_inside(text, around.shows) or meets(text, around.taken):
                continue
            free.append(text)
            if not _is_crossed(text, centre, around):
                plain.append(text)
                if not meets(text, around.lines):
                    return text, True
        if plain:
            return plain[0], True
    return (free[0], False) if free else None


def _is_crossed(text: Text, centre: Point, around: _Around) -> bool:
    """Tell whether words lie on a leader, or their own runs over other words, a hole, a leader."""
    box = around_words(text)
    if any(clipped(one.start, one.end, box) is not None for one in around.leaders):
        return True
    own = _leader(text, centre, around)
    if own is None:
        return False
    others = (other for other in around.taken if not other.contains(centre))
    return any(clipped(own.start, own.end, other) is not None for other in others) or any(
        is_crossed(own, one) for one in around.leaders
    )


def _leader(text: Text, centre: Point, around: _Around) -> Line | None:
    """Return the line from a hole's circle to its words; ``None``: they are near enough without.

    The middle, where the punch goes, stays clear.
    """
    box = around_words(text)
    way = box.distance_to(centre)
    if way <= around.far:
        return None
    near = Point(min(max(centre.x, box.left), box.right), min(max(centre.y, box.bottom), box.top))
    share = around.radius / way
    start = Point(centre.x + share * (near.x - centre.x), centre.y + share * (near.y - centre.y))
    return Line(layer="RULER", start=start, end=near)


def around_words(text: Text) -> Box:
    """Return the room of words, a little air round them."""
    return text_box(text).grown(1.0, 1.0, 1.0, 1.0)


def is_inside(text: Text, shows: Box) -> bool:
    """Tell whether words lie wholly in a window."""
    box = around_words(text)
    return (
        box.left > shows.left and box.right < shows.right
        and box.bottom > shows.bottom and box.top < shows.top
    )  # fmt: skip


def meets(text: Text, others: list[Box]) -> bool:
    """Tell whether words meet any box."""
    box = around_words(text)
    return any(box.overlaps(other) for other in others)


def _places(words: str, centre: Point, radius: Mm) -> Iterator[Text]:
    """Yield lettering round a hole, near places first."""
    wide = text_width(words, LETTERING)
    for ring in (1.0, 1.9, 2.8, 4.0, 5.5, 7.5, 10.0):
        off = 2.2 * ring + radius
        for dx, dy, anchor in (
            (off, off, Anchor.LEFT), (off, -off, Anchor.LEFT),
            (-off, off, Anchor.RIGHT), (-off, -off, Anchor.RIGHT),
            (-wide / 2, off + 5 * ring, Anchor.LEFT), (-wide / 2, -off - 5 * ring, Anchor.LEFT),
        ):  # fmt: skip
            at = Point(centre.x + dx, centre.y + dy)
            yield Text(layer="HOLE-TAG", at=at, text=words, size=LETTERING, anchor=anchor)


def _far_places(words: str, centre: Point, radius: Mm) -> Iterator[Text]:  # noqa: ARG001  (alike)
    """Yield lettering farther left and right of a crowded hole."""
    for aside, up, left in product(STEPS, (*STEPS, 0.0, *(-step for step in STEPS)), (False, True)):
        at = Point(centre.x + (-aside if left else aside), centre.y + up)
        anchor = Anchor.RIGHT if left else Anchor.LEFT
        yield Text(layer="HOLE-TAG", at=at, text=words, size=LETTERING, anchor=anchor)


def in_steps(words: Iterable[Primitive]) -> Iterator[Line]:
    """Yield the leaders among words in short pieces, so that their boxes hold little beside them."""
    for leader in words:
        if isinstance(leader, Line):
            a, b = leader.start, leader.end
            at = [Point(a.x + (b.x - a.x) * k / PIECES, a.y + (b.y - a.y) * k / PIECES)
                  for k in range(PIECES + 1)]  # fmt: skip
            yield from (replace(leader, start=one, end=other) for one, other in pairwise(at))
