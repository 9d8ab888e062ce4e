"""Wishes that contradict each other, told as the smallest set that does."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.geometry import Box
from platewright.model.panel import Panel
from platewright.rules.judge import breaks, holds
from platewright.rules.placed import place_of
from platewright.rules.registry import rule
from platewright.rules.wish_conflicts import Conflict, conflicts_of
from platewright.rules.wish_order import Kind, wishes_of

SOURCE: Final = Source("devices.csv", "wishes", Standing.PRACTICE)


@rule(
    id="space.wish-conflict",
    title="Wishes agree with each other",
    why="Where wishes contradict each other no plate can obey them all, and a search that tries "
    "gives up one at random. Only who wished can say which one goes.",
    source=SOURCE,
)
def check_wish_conflict(panel: Panel) -> Iterator[Reading]:
    """Look for wishes that can't be obeyed together, whatever the layout.

    Rows, order and neighbours are looked at, and the widths of a row's devices; heights are not.
    """
    count = len(wishes_of(panel.job))
    found = conflicts_of(panel.job)
    for conflict in found:
        yield _told(panel, conflict)
    if count and not found:
        yield holds("", message=f"{count} wishes do not contradict each other")


def _told(panel: Panel, conflict: Conflict) -> Reading:
    wishes = [str(wish) for wish in conflict.wishes]
    plugged = [str(fact) for fact in conflict.facts if fact.kind is Kind.PLUGGED]
    beside = f"; given that {', '.join(plugged)}" if plugged else ""
    if not conflict.wishes:
        facts = [str(fact) for fact in conflict.facts]
        return breaks(
            conflict.facts[0].device if conflict.facts else "",
            message=f"no wish can be obeyed: {', '.join([*facts, conflict.why])}",
            cure="Take a wider plate or smaller parts: run plan, it says which",
            source=SOURCE,
        )
    size = "" if conflict.is_smallest else " (a smaller set may contradict itself, too)"
    first = conflict.wishes[0].device
    return breaks(
        first,
        message=f"{_together(wishes)}{beside}: {conflict.why}{size}",
        cure=_cure(wishes),
        source=SOURCE,
        place=_place(panel, conflict),
    )


def _together(wishes: list[str]) -> str:
    if len(wishes) == 1:
        return f'the wish "{wishes[0]}" can\'t be obeyed'
    return "these wishes can't all be obeyed: " + "; ".join(wishes)


def _cure(wishes: list[str]) -> str:
    if len(wishes) == 1:
        return f'Take "{wishes[0]}" out of devices.csv'
    return "Take one of them out of devices.csv; the others then agree"


def _place(panel: Panel, conflict: Conflict) -> Box | None:
    tags = {tag for wish in conflict.wishes for tag in (wish.device, wish.other) if tag}
    boxes = [box for tag in sorted(tags) if (box := place_of(panel, tag)) is not None]
    around = boxes[0] if boxes else None
    for box in boxes[1:]:
        around = box if around is None else around.union(box)
    return around
