"""Where ducts meet: which end butts against what, and which side wall is opened for it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import Mm
from platewright.model.layout import Duct, Layout, Run
from platewright.model.pieces import Notch

JOINT_GAP: Final[Mm] = 6.0  # ducts nearer than this meet: the gap is left for warmth
LOW, HIGH = 0, 1  # left or lower end; right or upper end


@dataclass(frozen=True, slots=True, kw_only=True)
class Meetings:
    """What a duct meets: the ducts at its low and high end, and openings in its side walls."""

    ends: tuple[tuple[str, ...], tuple[str, ...]]
    notches: tuple[Notch, ...]  # places along the duct, from its low end


def end_names(run: Run) -> tuple[str, str]:
    """Return what the two ends of a piece are called."""
    return ("left", "right") if run is Run.ACROSS else ("lower", "upper")


def meetings(layout: Layout) -> dict[str, Meetings]:
    """Return what every duct meets.

    A duct that ends at the side of another is cut square and butts there; the other's side wall
    loses its fingers over the branch's width, for the wires pass there. End to end: both square.
    """
    tags = sorted(layout.ducts, key=tag_order)
    ends: dict[str, tuple[list[str], list[str]]] = {tag: ([], []) for tag in tags}
    notches: dict[str, list[Notch]] = {tag: [] for tag in tags}
    for tag in tags:
        for other in tags:
            if tag == other:
                continue
            end = _end_at(layout.ducts[tag], layout.ducts[other])
            if end is None:
                continue
            ends[tag][end].append(other)
            if layout.ducts[tag].run is not layout.ducts[other].run:
                notches[other].append(_notch(layout.ducts[other], tag, layout.ducts[tag], end))
    return {
        tag: Meetings(
            ends=(tuple(ends[tag][LOW]), tuple(ends[tag][HIGH])),
            notches=tuple(
                sorted(notches[tag], key=lambda n: (n.start, n.wall, tag_order(n.branch)))
            ),
        )
        for tag in tags
    }


def _end_at(duct: Duct, other: Duct) -> int | None:
    """Return which end of a duct meets another duct; ``None``: neither does."""
    in_x, in_y = duct.box.overlap(other.box)
    along, across = (in_x, in_y) if duct.run is Run.ACROSS else (in_y, in_x)
    if across <= 0.0 or not -JOINT_GAP <= along <= 0.0:
        return None
    mine, others = duct.box, other.box
    if duct.run is Run.ACROSS:
        return LOW if others.left < mine.left else HIGH
    return LOW if others.bottom < mine.bottom else HIGH


def _notch(through: Duct, branch_tag: str, branch: Duct, end: int) -> Notch:
    """Return the opening in a duct's side wall where a branch ends at it."""
    if through.run is Run.ACROSS:
        start = max(branch.x, through.x) - through.x
        stop = min(branch.x + branch.width, through.x + through.length) - through.x
        wall = "upper" if end == LOW else "lower"
    else:
        start = max(branch.y, through.y) - through.y
        stop = min(branch.y + branch.width, through.y + through.length) - through.y
        wall = "right" if end == LOW else "left"
    return Notch(wall=wall, start=start, end=stop, branch=branch_tag)
