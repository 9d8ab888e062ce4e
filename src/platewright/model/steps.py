"""What is done at the bench, in order: passes of one tool over the holes, and steps of the build."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from platewright.foundation.units import Mm


class Work(StrEnum):
    """What kind of work a step is."""

    CHECK = "check"
    TAKE_OFF = "take off"
    WIPE_OFF = "wipe off"
    CUT = "cut"
    MARK = "mark"
    DRILL = "drill"
    TAP = "tap"
    DEBURR = "deburr"
    CLEAN = "clean"
    START = "start screws"
    FIT = "fit"
    FASTEN = "tighten"
    LABEL = "label"
    WIRE = "wire"
    SET_IN = "set in"
    COVER = "cover"
    INSPECT = "inspect"


class StandAt(StrEnum):
    """The edge of the plate that a person stands at."""

    BOTTOM = "bottom"
    TOP = "top"
    LEFT = "left"
    RIGHT = "right"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """Holes done from one edge of the plate, in order. ``beyond``: those out of reach from it."""

    edge: StandAt
    holes: tuple[str, ...]
    beyond: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Pass:
    """One tool led over all holes that need it, in order."""

    work: Work  # mark, drill or tap
    diameter: Mm  # of the drill; of a tap its drill's
    size: str  # thread of a tap; blank for drills
    pilot: bool  # whether larger drills follow in the same holes
    stands: tuple[Stand, ...]
    way: Mm  # from hole to hole, the way to the first one included

    @property
    def holes(self) -> tuple[str, ...]:
        """All holes, in order."""
        return tuple(tag for stand in self.stands for tag in stand.holes)


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One thing to do. ``fits``, ``takes_off``: things; ``screws``: holes whose screws are turned."""

    number: int
    work: Work
    title: str
    fits: tuple[str, ...] = ()
    takes_off: tuple[str, ...] = ()
    drills: Pass | None = None
    screws: tuple[str, ...] = ()
    starts: tuple[str, ...] = ()  # holes whose screws are turned in a little
    does: tuple[str, ...] = ()  # what to do, line by line
    why: tuple[str, ...] = ()  # why not earlier
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class BuildOrder:
    """Steps in order. ``cycle``: what can't be put in order, and why; then steps are missing."""

    steps: tuple[Step, ...]
    cycle: tuple[str, ...] = ()
