"""What a hand can do to a layout: one frozen record an edit. Lengths in mm, plate coordinates."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from platewright.foundation.units import Mm
from platewright.model.layout import HoleState, Run

Tags: TypeAlias = tuple[str, ...]
EdgeName: TypeAlias = Literal["left", "right", "top", "bottom", "middle", "axis"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """Shift things by so much."""

    tags: Tags
    dx: Mm
    dy: Mm
    do: Literal["move"] = "move"


@dataclass(frozen=True, slots=True, kw_only=True)
class Put:
    """Stand one thing with its lower left corner there; a device may come from the tray."""

    tag: str
    x: Mm
    y: Mm
    do: Literal["put"] = "put"


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeOff:
    """Lay devices back into the tray; take rails and ducts away."""

    tags: Tags
    do: Literal["take-off"] = "take-off"


@dataclass(frozen=True, slots=True, kw_only=True)
class Swap:
    """Let two devices change places."""

    one: str
    other: str
    do: Literal["swap"] = "swap"


@dataclass(frozen=True, slots=True, kw_only=True)
class Align:
    """Bring an edge of things onto that of the first; ``axis``: rail centres on one line."""

    tags: Tags
    edge: EdgeName
    do: Literal["align"] = "align"


@dataclass(frozen=True, slots=True, kw_only=True)
class Space:
    """Make the gaps between things equal; the outermost two stay."""

    tags: Tags
    along: Literal["x", "y"]
    do: Literal["space"] = "space"


@dataclass(frozen=True, slots=True, kw_only=True)
class Lock:
    """Lock things, or unlock them: a locked thing is moved by neither hand nor plan."""

    tags: Tags
    locked: bool
    do: Literal["lock"] = "lock"


@dataclass(frozen=True, slots=True, kw_only=True)
class AddDuct:
    """Lay a new duct of a stock size."""

    x: Mm
    y: Mm
    length: Mm
    run: Run
    stock: str
    do: Literal["add-duct"] = "add-duct"


@dataclass(frozen=True, slots=True, kw_only=True)
class AddRail:
    """Lay a new rail; x, y: its left (lower) end on the axis."""

    x: Mm
    y: Mm
    length: Mm
    run: Run
    do: Literal["add-rail"] = "add-rail"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """Make a rail or duct begin and end elsewhere along its run."""

    tag: str
    start: Mm
    end: Mm
    do: Literal["stretch"] = "stretch"


@dataclass(frozen=True, slots=True, kw_only=True)
class Restock:
    """Make a duct of another stock size; its middle line stays."""

    tag: str
    stock: str
    do: Literal["restock"] = "restock"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceHoles:
    """Plan all holes anew; marked and drilled ones stay."""

    do: Literal["place-holes"] = "place-holes"


@dataclass(frozen=True, slots=True, kw_only=True)
class SetHoles:
    """Say what was done about holes."""

    tags: Tags
    state: HoleState
    do: Literal["set-holes"] = "set-holes"


Edit: TypeAlias = (
    Move
    | Put
    | TakeOff
    | Swap
    | Align
    | Space
    | Lock
    | AddDuct
    | AddRail
    | Stretch
    | Restock
    | PlaceHoles
    | SetHoles
)
