"""Rails and ducts keep their names from plan to plan, as far as they are the same pieces.

A label on a cut piece and a hole's tag both speak of them by name.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import count
from typing import Final, TypeVar

from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import Mm
from platewright.model.layout import Duct, HoleState, Layout, Rail, Run

SAME: Final[Mm] = 0.5  # off each other's axis by no more: the same line
MOST: Final = 0.5  # share of the longer one that both cover: the same piece, cut anew
Piece = TypeVar("Piece", Duct, Rail)


def with_former_names(former: Layout, now: Layout) -> Layout:
    """Return a planned layout whose rails and ducts are called as those that lay there before.

    Once work has begun, a piece that lay nowhere before gets a name that none had.
    """
    has_begun = any(hole.state is not HoleState.PLANNED for hole in former.holes.values())
    return replace(
        now,
        ducts=_named(former.ducts, now.ducts, "D", has_begun=has_begun),
        rails=_named(former.rails, now.rails, "R", has_begun=has_begun),
    )


def _named(
    former: Mapping[str, Piece], now: Mapping[str, Piece], letter: str, *, has_begun: bool
) -> dict[str, Piece]:
    pairs = sorted(
        (-share, old != tag, tag_order(old), old, tag)
        for tag, piece in now.items()
        for old, was in former.items()
        if (share := _shared(was, piece)) >= MOST
    )
    names: dict[str, str] = {}
    for *_, old, tag in pairs:
        if tag not in names and old not in names.values():
            names[tag] = old
    taken = {*names.values(), *(former if has_begun else ())}
    free = _free(letter, taken, above=has_begun)
    found = {names.get(tag) or next(free): now[tag] for tag in sorted(now, key=tag_order)}
    return {tag: found[tag] for tag in sorted(found, key=tag_order)}


def _free(letter: str, taken: set[str], *, above: bool) -> Iterator[str]:
    numbers = [int(tag[1:]) for tag in taken if tag[:1] == letter and tag[1:].isdigit()]
    first = max(numbers, default=0) + 1 if above else 1
    return (tag for n in count(first) if (tag := f"{letter}{n}") not in taken)


def _shared(was: Piece, now: Piece) -> float:
    """Return the share of the longer piece that both cover; 0 for pieces of two kinds or lines."""
    if was.run is not now.run or _make(was) != _make(now):
        return 0.0
    across = now.run is Run.ACROSS
    if abs(was.y - now.y if across else was.x - now.x) > SAME:
        return 0.0
    low, start = (was.x, now.x) if across else (was.y, now.y)
    both = min(low + was.length, start + now.length) - max(low, start)
    return max(0.0, both) / max(was.length, now.length)


def _make(piece: Duct | Rail) -> tuple[object, ...]:
    if isinstance(piece, Rail):
        return (piece.profile,)
    return piece.width, piece.height, piece.stock
