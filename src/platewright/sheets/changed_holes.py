"""Which holes of two revisions are one hole, and what differs of it: each is told once.

A planned hole is known by its place, for its tag may be given anew by every plan. A drilled one
keeps its tag, but lies where it was measured and not where it was planned; a new hole may then be
planned at that very place, so drilled holes are looked up before places are compared.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from math import hypot
from typing import Final, TypeAlias

from platewright.drawing.numbers import short
from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import Mm
from platewright.model.job import DisplayUnit
from platewright.model.layout import Hole, HoleState
from platewright.sheets.changed_lists import WIPE_OFF, Change, at_said, shift_said

SAME: Final[Mm] = 0.05
NEAR: Final[Mm] = 5.0  # a hole of the same tag and holder this near is the same one
MEASURED: Final[Mm] = 25.0  # a drilled hole lies at most this far from where it was planned
Holes: TypeAlias = Mapping[str, Hole]
_Alike: TypeAlias = Callable[[str, Hole, str, Hole], bool]  # new tag and hole, old tag and hole


def hole_changes(before: Holes, after: Holes, unit: DisplayUnit) -> Iterator[Change]:
    """Yield one change for each hole that is new, left over, moved, changed, drilled or gone."""
    same = matched(before, after)
    for tag, hole in after.items():
        if tag in same:
            yield from _differs(tag, hole, same[tag], before[same[tag]], unit)
        else:
            yield _new(tag, hole, unit)
    taken = set(same.values())
    for tag, hole in before.items():
        if tag not in taken:
            words = f"no longer wanted at {at_said(hole, unit)} for {hole.holds or 'nothing'}"
            if hole.state is not HoleState.PLANNED:
                words += f"; it was {hole.state.value}"
            if hole.is_idle_mark:
                words = f"mark wiped off at {at_said(hole, unit)}"
            yield Change(kind="hole", tag=tag, what="gone", words=words, was=hole.centre)


def matched(before: Holes, after: Holes) -> dict[str, str]:
    """Return the earlier tag of each hole of ``after`` that was there before, by its tag now."""
    free = sorted(before, key=tag_order)
    found: dict[str, str] = {}
    for alike in _PASSES:
        for tag in sorted(after, key=tag_order):
            if tag in found:
                continue
            hole = after[tag]
            near = [old for old in free if alike(tag, hole, old, before[old])]
            if near:
                found[tag] = min(near, key=lambda old: _apart(hole, before[old]))
                free.remove(found[tag])
    return found


def _apart(one: Hole, other: Hole) -> Mm:
    return hypot(one.x - other.x, one.y - other.y)


def _is_drilled(hole: Hole) -> bool:
    return hole.state is HoleState.DRILLED


def _may_be(tag: str, hole: Hole, old: str, was: Hole) -> bool:
    """Tell whether a drilled hole may be one that was planned for the same thing beside it."""
    reach = MEASURED if tag == old else NEAR
    return _is_drilled(hole) and hole.holds in ("", was.holds) and _apart(hole, was) <= reach


# From the surest to the least sure; each takes its holes out of what the next ones may find.
_PASSES: Final[tuple[_Alike, ...]] = (
    lambda tag, hole, old, was: tag == old and _apart(hole, was) <= SAME,
    lambda tag, hole, old, was: tag == old and _is_drilled(hole) and _apart(hole, was) <= NEAR,
    lambda _tag, hole, _old, was: _is_drilled(hole) and _apart(hole, was) <= SAME,
    _may_be,
    lambda _tag, hole, _old, was: _apart(hole, was) <= SAME,
    lambda tag, hole, old, was: (
        tag == old and hole.holds == was.holds and _apart(hole, was) <= NEAR
    ),
)


def _new(tag: str, hole: Hole, unit: DisplayUnit) -> Change:
    what, at = "new", at_said(hole, unit)
    if hole.is_idle_mark:
        what, words = WIPE_OFF, f"marked at {at}, holds nothing: not to be drilled"
    elif not _is_drilled(hole):
        words = f"to drill at {at} for {hole.holds or 'nothing'}"
    elif hole.holds:
        words = f"drilled at {at} for {hole.holds}, was not planned there"
    else:
        what, words = "left over", f"drilled at {at}, was not planned there, holds nothing"
    return Change(kind="hole", tag=tag, what=what, words=words, now=hole.centre)


def _differs(tag: str, hole: Hole, old: str, was: Hole, unit: DisplayUnit) -> Iterator[Change]:
    """Yield all that differs of one hole as one change, named by what matters most at the bench."""
    what, words = "", [f"at {at_said(hole, unit)}"]
    if hole.state is not was.state:
        what = hole.state.value
        words.append(f"{was.state.value} before, {hole.state.value} now")
    if (hole.drill, hole.kind, hole.size) != (was.drill, was.kind, was.size):
        what = "changed"
        words.append(f"{_drill(was)} to {_drill(hole)}")
    if hole.holds != was.holds:
        what = "changed"
        words.append(f"held {was.holds or 'nothing'}, holds {hole.holds or 'nothing'} now")
    is_moved = _apart(hole, was) > SAME
    if is_moved:
        what = "moved"
        words[0] = (
            f"{at_said(was, unit)} to {at_said(hole, unit)}: "
            f"{shift_said(hole.x - was.x, hole.y - was.y, unit)}"
        )
    if hole.is_idle_mark and not was.is_idle_mark:
        what = WIPE_OFF
        words.append("its mark is wiped off, it is not drilled")
    elif was.holds and not hole.holds:
        what = "left over"
    if not what:
        return
    if tag != old:
        words.append(f"on the earlier sheet it is {old}")
    yield Change(
        kind="hole", tag=tag, what=what, words="; ".join(words),
        was=was.centre if is_moved else None, now=hole.centre,
    )  # fmt: skip


def _drill(hole: Hole) -> str:
    return f"⌀{short(hole.drill, 2)} {hole.size} {hole.kind}"
