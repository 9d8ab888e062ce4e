"""Distances between many boxes at once: arrays in, arrays out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import NDArray

from platewright.model.geometry import TOUCH, Box, Point

Floats: TypeAlias = NDArray[np.float64]
SIDES: Final = ("left", "right", "top", "bottom")


def boxes_array(boxes: Iterable[Box]) -> Floats:
    """Return boxes as rows of left, bottom, right, top: shape (n, 4)."""
    rows = [(box.left, box.bottom, box.right, box.top) for box in boxes]
    return np.array(rows, dtype=np.float64).reshape(-1, 4)


def shared(one: Floats, other: Floats) -> tuple[Floats, Floats]:
    """Return how far each of ``one`` reaches into each of ``other``, in x and in y: (n, m) each."""
    in_x = np.minimum(one[:, None, 2], other[None, :, 2]) - np.maximum(
        one[:, None, 0], other[None, :, 0]
    )
    in_y = np.minimum(one[:, None, 3], other[None, :, 3]) - np.maximum(
        one[:, None, 1], other[None, :, 1]
    )
    return in_x, in_y


def overlaps(one: Sequence[Box], other: Sequence[Box]) -> Iterator[tuple[int, int]]:
    """Yield the places (in ``one``, in ``other``) of boxes that share area."""
    in_x, in_y = shared(boxes_array(one), boxes_array(other))
    for i, j in np.argwhere((in_x > TOUCH) & (in_y > TOUCH)):
        yield int(i), int(j)


def overlaps_within(boxes: Sequence[Box]) -> Iterator[tuple[int, int]]:
    """Yield each pair of places of one list whose boxes share area, once."""
    return ((i, j) for i, j in overlaps(boxes, boxes) if i < j)


def free_distances(boxes: Sequence[Box], others: Sequence[Box]) -> dict[str, Floats]:
    """Return, side by side, the free distance from each box to each other one: (n, m).

    Infinite where the other does not face that side. Boxes that share area face each other on the
    side where they reach in least, with a negative distance.
    """
    return free_between(boxes_array(boxes), boxes_array(others))


def free_between(one: Floats, other: Floats) -> dict[str, Floats]:
    """Return ``free_distances`` of boxes given as arrays."""
    in_x, in_y = shared(one, other)
    distance = {
        "left": one[:, None, 0] - other[None, :, 2],
        "right": other[None, :, 0] - one[:, None, 2],
        "top": other[None, :, 1] - one[:, None, 3],
        "bottom": one[:, None, 1] - other[None, :, 3],
    }
    is_inside = (in_x > TOUCH) & (in_y > TOUCH)
    nearest_way = np.maximum.reduce(list(distance.values()))
    across = {"left": in_y, "right": in_y, "top": in_x, "bottom": in_x}
    return {
        side: np.where(
            (across[side] > TOUCH)
            & ((distance[side] >= -TOUCH) | (is_inside & (distance[side] == nearest_way))),
            distance[side],
            np.inf,
        )
        for side in SIDES
    }


def inside(points: Sequence[Point], boxes: Sequence[Box]) -> Iterator[tuple[int, int]]:
    """Yield the places (in ``points``, in ``boxes``) of points that lie within a box's edges."""
    x, y = points_array(points)
    box = boxes_array(boxes)
    within_x = (x[:, None] > box[:, 0] + TOUCH) & (x[:, None] < box[:, 2] - TOUCH)
    within_y = (y[:, None] > box[:, 1] + TOUCH) & (y[:, None] < box[:, 3] - TOUCH)
    for i, j in np.argwhere(within_x & within_y):
        yield int(i), int(j)


def nearest_pairs(points: Sequence[Point], within: float) -> Iterator[tuple[int, int, float]]:
    """Yield each pair of points no farther apart than ``within``, with their distance."""
    x, y = points_array(points)
    apart = np.hypot(x[:, None] - x, y[:, None] - y)
    for i, j in np.argwhere(np.triu(apart <= within, k=1)):
        yield int(i), int(j), float(apart[i, j])


def points_array(points: Sequence[Point]) -> tuple[Floats, Floats]:
    """Return the x and the y of points."""
    return (
        np.array([point.x for point in points], dtype=np.float64),
        np.array([point.y for point in points], dtype=np.float64),
    )
