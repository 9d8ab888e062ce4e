"""Tags of holes: paper on the bench must stay right when a plate is planned again.

A sunk hole keeps its tag. A planned one keeps it while it lies at the same place for the same
thing. Any other hole gets a tag that the former layout did not use: a number that stood for
another place, or for a hole no longer wanted, would be drilled wrong by an old sheet.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from itertools import count
from math import hypot
from typing import Final

from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import Mm
from platewright.model.layout import Hole, HoleState

SAME: Final[Mm] = 0.05  # nobody marks out finer; layout.toml is told to 0.001 mm
_NUMBERED: Final = re.compile(r"H(\d+)")


def tagged(
    former: Mapping[str, Hole], sunk: Mapping[str, Hole], planned: Iterable[Hole]
) -> dict[str, Hole]:
    """Return all holes by tag, in tag order. ``former``: every hole of the layout before.

    ``sunk``: those whose tags stay: the marked and drilled ones. ``planned``: all others.
    """
    found = dict(sunk)
    left = {tag: hole for tag, hole in former.items() if tag not in sunk}
    strangers: list[Hole] = []
    for hole in planned:
        tag = _tag_of(hole, left)
        if tag is None:
            strangers.append(hole)
        else:
            found[tag] = hole
            del left[tag]
    found.update(zip(_free(former, sunk), strangers, strict=False))
    return {tag: found[tag] for tag in sorted(found, key=tag_order)}


def _tag_of(hole: Hole, left: Mapping[str, Hole]) -> str | None:
    """Return the tag of the planned hole that lay there for the same thing; the nearest."""
    near = [
        (distance, tag_order(tag), tag)
        for tag, was in left.items()
        if was.state is HoleState.PLANNED
        and was.holds == hole.holds
        and (distance := hypot(was.x - hole.x, was.y - hole.y)) <= SAME
    ]
    return min(near)[2] if near else None


def _free(former: Mapping[str, Hole], sunk: Mapping[str, Hole]) -> Iterator[str]:
    """Yield tags never used: once work has begun above all numbers, else from the lowest.

    Above all: a device taken off the lists may have left a gap that a sheet still tells of. On
    a bare plate numbers would only grow from plan to plan.
    """
    used = {*former, *sunk}
    numbers = [int(match[1]) for tag in used if (match := _NUMBERED.fullmatch(tag))]
    has_begun = any(hole.state is not HoleState.PLANNED for hole in sunk.values())
    first = max(numbers, default=0) + 1 if has_begun else 1
    return (tag for n in count(first) if (tag := f"H{n}") not in used)
