"""Devices that plug into or hang under another must stand at once beside it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.foundation.units import Mm
from platewright.model.finding import Reading
from platewright.model.geometry import TOUCH
from platewright.model.panel import Panel
from platewright.rules.judge import Limit, at_most, breaks
from platewright.rules.placed import Placed, placed_devices
from platewright.rules.registry import rule
from platewright.rules.wording import enough

SOURCE: Final = Source("devices.csv", "plugs_into, hangs_under", Standing.JOB)
OPEN: Final[Mm] = 0.5  # widest gap that still counts as standing together, drawn to a tenth
TOGETHER: Final = Limit(value=OPEN, source=SOURCE)


@rule(
    id="space.partners",
    title="Linked devices stand together",
    why="A plug or a link piece has one length: a partner that stands apart, or on the wrong side, "
    "cannot be joined.",
    source=SOURCE,
)
def check_partners(panel: Panel) -> Iterator[Reading]:
    """Measure the gap between linked envelopes on the side where they join."""
    placed = {one.tag: one for one in placed_devices(panel)}
    for one in placed.values():
        if one.device.plugs_into is not None:
            yield from _beside(one, placed.get(one.device.plugs_into))
        if one.device.hangs_under is not None:
            yield from _under(one, placed.get(one.device.hangs_under))


def _beside(one: Placed, other: Placed | None) -> Iterator[Reading]:
    if other is None:
        return
    gap = one.envelope.left - other.envelope.right
    is_level = one.body.overlap(other.body)[1] > TOUCH and one.body.centre.x > other.body.centre.x
    yield _judge(one, other, gap, "at once right of" if is_level else "")


def _under(one: Placed, other: Placed | None) -> Iterator[Reading]:
    if other is None:
        return
    gap = other.envelope.bottom - one.envelope.top
    is_below = one.body.overlap(other.body)[0] > TOUCH and one.body.centre.y < other.body.centre.y
    yield _judge(one, other, gap, "at once under" if is_below else "")


def _judge(one: Placed, other: Placed, gap: Mm, where: str) -> Reading:
    wanted = "right of" if one.device.plugs_into == other.tag else "under"
    if not where:
        return breaks(
            one.tag,
            message=f"{one.tag} does not stand {wanted} {other.tag}, to which it is joined",
            cure=f"Put {one.tag} at once {wanted} {other.tag}",
            source=SOURCE,
            place=one.body,
        )
    return at_most(
        one.tag,
        what=f"{one.tag} stands {where} {other.tag}; gap",
        measured=gap,
        limit=TOGETHER,
        cure=f"Move {one.tag} {enough(gap)} towards {other.tag}",
        place=one.body.union(other.body),
    )
