"""Clear space that is not stated was derived or assumed: the room is shown with its reason."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.need import ClearSpace
from platewright.model.panel import Panel
from platewright.rules.distances import SIDES
from platewright.rules.judge import breaks, holds
from platewright.rules.placed import placed_devices
from platewright.rules.registry import rule
from platewright.rules.wording import length_of

SOURCE: Final = Source("assumption", "clear space not stated is derived", Standing.PRACTICE)


@rule(
    id="data.clear-space",
    title="Clear space is stated",
    why="Some data sheets ask for no room on a side, some say nothing. Blank is not zero: where "
    "nothing is said, room was taken from heat or shop practice, and the data sheet may ask more.",
    source=SOURCE,
)
def check_clear_space_data(panel: Panel) -> Iterator[Reading]:
    """Tell each device's assumed rooms and their reasons."""
    placed = [one for one in placed_devices(panel) if one.tag in panel.clear]
    lacking = 0
    for one in placed:
        assumed = _assumed(panel.clear[one.tag])
        if assumed:
            lacking += 1
            yield breaks(
                one.tag,
                message=f"{one.tag}: clear space not stated; assumed {assumed}",
                cure="Read the data sheet and state clear_… of the part in parts.csv (0: none)",
                source=SOURCE,
                place=one.envelope,
            )
    if placed and not lacking:
        yield holds("", message=f"clear space stated for all {len(placed)} devices placed")


def _assumed(needs: ClearSpace) -> str:
    """Return the assumed sides, those of one room and reason together."""
    sides: dict[tuple[float, str], list[str]] = {}
    for side in SIDES:
        need = getattr(needs, side)
        if not need.stated:
            sides.setdefault((need.room, need.reason), []).append(side)
    return "; ".join(
        f"{', '.join(names)} {length_of(room, None)}" + (f" ({reason})" if reason else "")
        for (room, reason), names in sides.items()
    )
