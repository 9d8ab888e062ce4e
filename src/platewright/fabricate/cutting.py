"""How fast a tool turns, how fast and how far it goes down."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

from platewright.foundation.units import MM_PER_M, Mm, Rpm
from platewright.model.job import Plate
from platewright.model.steps import Pass, Work
from platewright.tables.cutting_speeds import cutting_speed
from platewright.tables.feeds import feed_per_turn, tapping_speed
from platewright.tables.threads import thread
from platewright.tables.tools import tool

USUAL = "steel"  # what a material that is not in the tables is taken for: the machine runs slower
ROUND: Rpm = 10.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """One tool on a machine. ``depth``: of its point below the plate's face."""

    spindle: Rpm
    feed: Mm  # way down in one turn
    depth: Mm


def spindle_speed(diameter: Mm, *, metres_per_minute: float) -> Rpm:
    """Return turns a minute for a cutting speed: 1000 · v / (π · d)."""
    return metres_per_minute * MM_PER_M / (pi * diameter)


def cut_of(one: Pass, plate: Plate) -> Cut:
    """Return speed, feed and depth of a pass through a plate, at the slow end of the tables.

    A drill goes through by its point and a little; a tap by its chamfer. A mark is a spot.
    """
    speeds = cutting_speed(plate.material) or cutting_speed(USUAL)
    assert speeds is not None  # noqa: S101  (the table has steel)
    if one.work is Work.MARK:
        spot = tool("pilot")
        turns = spindle_speed(spot, metres_per_minute=speeds.slowest)
        return Cut(spindle=_rounded(turns), feed=feed_per_turn(spot), depth=tool("spot depth"))
    size = thread(one.size) if one.work is Work.TAP else None
    if size is not None:
        speed = tapping_speed(plate.material) or tapping_speed(USUAL) or 0.0
        depth = plate.thickness + tool("tap lead") * size.pitch + tool("break through")
        turns = spindle_speed(size.major, metres_per_minute=speed)
        return Cut(spindle=_rounded(turns), feed=size.pitch, depth=depth)
    point = tool("point allowance") * one.diameter
    return Cut(
        spindle=_rounded(spindle_speed(one.diameter, metres_per_minute=speeds.slowest)),
        feed=feed_per_turn(one.diameter),
        depth=plate.thickness + point + tool("break through"),
    )


def _rounded(turns: Rpm) -> Rpm:
    """Return a speed rounded down to what a dial shows."""
    return max(ROUND, turns // ROUND * ROUND)
