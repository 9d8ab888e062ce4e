"""A rail-mounted device must sit on a rail that reaches under its whole width."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.foundation.units import Mm
from platewright.model.finding import Reading
from platewright.model.layout import Rail, Run
from platewright.model.panel import Panel
from platewright.model.part import Mount
from platewright.rules.judge import Limit, at_least, at_most, breaks, undecided
from platewright.rules.placed import OFF_AXIS, Placed, placed_devices
from platewright.rules.registry import rule
from platewright.rules.wording import enough, length_of, tightest

SOURCE: Final = Source("geometry", "a foot hooks on where the rail is", Standing.GEOMETRY)
ON_AXIS: Final = Limit(value=OFF_AXIS, source=SOURCE)
COVERED: Final = Limit(value=0.0, source=SOURCE)


@rule(
    id="space.on-rail",
    title="Rail devices sit on a rail",
    why="The foot hooks on at one height only. A rail that ends under the device lets it tip, and "
    "a rail elsewhere does not hold it at all.",
    source=SOURCE,
)
def check_on_rail(panel: Panel) -> Iterator[Reading]:
    """Measure from each device's rail centre to the nearest rail, and how far the rail reaches."""
    rails = [
        (tag, rail) for tag, rail in sorted(panel.layout.rails.items()) if rail.run is Run.ACROSS
    ]
    for one in placed_devices(panel):
        if one.part.mount is not Mount.RAIL:
            continue
        if one.part.rail_center is None:
            yield undecided(
                one.tag,
                missing=f"the rail centre of part {one.part.part} is not stated",
                cure="State rail_center_mm of the part in parts.csv",
                place=one.body,
            )
            continue
        yield _judge(one, one.body.bottom + one.part.rail_center, rails)


def _judge(one: Placed, axis: Mm, rails: list[tuple[str, Rail]]) -> Reading:
    under = [
        (abs(rail.y - axis), tag, rail)
        for tag, rail in rails
        if rail.x < one.body.right
        and rail.x + rail.length > one.body.left
        and one.body.bottom <= rail.y <= one.body.top
    ]
    if not under:
        return breaks(
            one.tag,
            message=f"no rail runs under {one.tag}; it needs one at y {length_of(axis)}",
            cure=f"Put a rail with its axis at y {length_of(axis)} under it, or move {one.tag} to one",
            source=SOURCE,
            place=one.body,
        )
    off, tag, rail = min(under, key=lambda found: found[:2])
    spare = min(one.body.left - rail.x, rail.x + rail.length - one.body.right)
    way = "up" if rail.y > axis else "down"
    told = (
        at_most(
            one.tag,
            what=f"{one.tag} sits off the axis of rail {tag} by",
            measured=off,
            limit=ON_AXIS,
            cure=f"Move {one.tag} {enough(off)} {way} so that its rail centre meets {tag}",
            place=one.body,
        ),
        at_least(
            one.tag,
            what=f"rail {tag} reaches past the end of {one.tag} by",
            measured=spare,
            limit=COVERED,
            cure=f"Make {tag} {enough(-spare)} longer, or move {one.tag} along it",
            place=one.body,
        ),
    )
    return tightest(told)[0]
