"""Bring things into line with each other: align, space evenly, exchange."""

from __future__ import annotations

from typing import Literal

from platewright.app.editing.edits import EdgeName
from platewright.app.editing.things import Thing, axis_of, body_of, envelope_of, moved
from platewright.foundation.units import Mm
from platewright.model.job import Job
from platewright.model.layout import Placement


def aligned(job: Job, things: dict[str, Thing], edge: EdgeName) -> dict[str, Thing]:
    """Return the things with one edge of their bodies on that of the first.

    ``middle``: centres on one upright line. ``axis``: rail centres on one height; a thing without
    a rail centre is brought there by its own middle.
    """
    lines = {tag: _line(job, tag, thing, edge) for tag, thing in things.items()}
    target = next(iter(lines.values()))
    is_upright = edge in ("left", "right", "middle")
    return {
        tag: moved(thing, target - lines[tag] if is_upright else 0.0,
                   0.0 if is_upright else target - lines[tag])
        for tag, thing in things.items()
    }  # fmt: skip


def _line(job: Job, tag: str, thing: Thing, edge: EdgeName) -> Mm:
    box = body_of(job, tag, thing)
    axis = axis_of(job, tag, thing)
    match edge:
        case "left":
            return box.left
        case "right":
            return box.right
        case "top":
            return box.top
        case "bottom":
            return box.bottom
        case "middle":
            return box.centre.x
        case "axis":
            return box.centre.y if axis is None else axis


def spaced(job: Job, things: dict[str, Thing], along: Literal["x", "y"]) -> dict[str, Thing]:
    """Return the things with equal gaps between their envelopes; the outermost two stay.

    The gaps come out below 0 where there is not room for all between the outermost.
    """
    boxes = {tag: envelope_of(job, tag, thing) for tag, thing in things.items()}
    low = {t: b.left if along == "x" else b.bottom for t, b in boxes.items()}
    size = {t: b.width if along == "x" else b.height for t, b in boxes.items()}
    order = sorted(things, key=lambda tag: (low[tag], tag))
    if len(order) < 3:
        return dict(things)
    room = low[order[-1]] + size[order[-1]] - low[order[0]]
    gap = (room - sum(size.values())) / (len(order) - 1)
    found: dict[str, Thing] = {}
    at = low[order[0]]
    for tag in order:
        shift = at - low[tag]
        found[tag] = moved(things[tag], *((shift, 0.0) if along == "x" else (0.0, shift)))
        at += size[tag] + gap
    return found


def exchanged(job: Job, devices: dict[str, Placement]) -> dict[str, Thing]:
    """Return two devices in each other's place.

    In one row the outer edges of the pair stay, so that what is beside them keeps its gap;
    else the centres are exchanged. Rail devices take over each other's rail.
    """
    (one, a), (other, b) = devices.items()
    box_a, box_b = body_of(job, one, a), body_of(job, other, b)
    is_one_row = box_a.overlap(box_b)[1] > 0
    if is_one_row:
        right_first = box_a.left > box_b.left
        x_a = box_b.left if right_first else box_b.right - box_a.width
        x_b = box_a.right - box_b.width if right_first else box_a.left
    else:
        x_a = box_b.centre.x - box_a.width / 2
        x_b = box_a.centre.x - box_b.width / 2
    axis_a, axis_b = axis_of(job, one, a), axis_of(job, other, b)
    if axis_a is not None and axis_b is not None:
        rise = axis_b - axis_a
    else:
        rise = box_b.centre.y - box_a.centre.y
    return {
        one: moved(a, x_a - a.x, rise),
        other: moved(b, x_b - b.x, -rise),
    }
