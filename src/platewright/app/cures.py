"""Cures that are a plain move, in a form that a button can do.

The checks word their cures in one way ("Move -K1 3.2 mm left, or …"); what is offered is the
first move they name.
"""

from __future__ import annotations

import re
from typing import Final

from platewright.app.edits import Move
from platewright.app.things import thing_of
from platewright.model.finding import Finding
from platewright.model.layout import Layout

_MOVE: Final = re.compile(r"Move (\S+) (\d+(?:\.\d+)?) mm (left|right|up|down)\b")
_WAYS: Final = {"left": (-1, 0), "right": (1, 0), "up": (0, 1), "down": (0, -1)}


def move_of(finding: Finding, layout: Layout) -> Move | None:
    """Return the move a finding's cure begins with; ``None``: its cure is no single move."""
    found = _MOVE.match(finding.cure)
    if found is None:
        return None
    tag, length, way = found.groups()
    thing = thing_of(layout, tag)
    if thing is None or thing.locked or float(length) <= 0:
        return None
    x, y = _WAYS[way]
    return Move(tags=(tag,), dx=x * float(length), dy=y * float(length))
