"""Points, boxes and paths on the plate, in mm, origin lower left, x right, y up."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from platewright.foundation.units import Mm

TOUCH: Final[Mm] = 1e-6  # two edges nearer than this touch; far below what a shop can measure


@dataclass(frozen=True, slots=True)
class Point:
    """A place on the plate."""

    x: Mm
    y: Mm


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle: left, bottom, right, top."""

    left: Mm
    bottom: Mm
    right: Mm
    top: Mm

    @property
    def width(self) -> Mm:
        """Extent in x."""
        return self.right - self.left

    @property
    def height(self) -> Mm:
        """Extent in y."""
        return self.top - self.bottom

    @property
    def centre(self) -> Point:
        """Middle of the box."""
        return Point((self.left + self.right) / 2, (self.bottom + self.top) / 2)

    def grown(self, left: Mm, bottom: Mm, right: Mm, top: Mm) -> Box:
        """Return the box moved out by so much on each side."""
        return Box(self.left - left, self.bottom - bottom, self.right + right, self.top + top)

    def overlap(self, other: Box) -> tuple[Mm, Mm]:
        """Return how far two boxes reach into each other in x and y; a negative value is a gap."""
        return (
            min(self.right, other.right) - max(self.left, other.left),
            min(self.top, other.top) - max(self.bottom, other.bottom),
        )

    def overlaps(self, other: Box) -> bool:
        """Tell whether the insides of two boxes share any area (touching is not overlapping)."""
        in_x, in_y = self.overlap(other)
        return in_x > TOUCH and in_y > TOUCH

    def contains(self, point: Point) -> bool:
        """Tell whether the point lies inside or on the edge."""
        return (
            self.left - TOUCH <= point.x <= self.right + TOUCH
            and self.bottom - TOUCH <= point.y <= self.top + TOUCH
        )

    def distance_to(self, point: Point) -> Mm:
        """Return the distance from the box to a point; 0 when the point is inside."""
        dx = max(self.left - point.x, 0.0, point.x - self.right)
        dy = max(self.bottom - point.y, 0.0, point.y - self.top)
        return float((dx * dx + dy * dy) ** 0.5)

    def union(self, other: Box) -> Box:
        """Return the smallest box around both."""
        return Box(
            min(self.left, other.left),
            min(self.bottom, other.bottom),
            max(self.right, other.right),
            max(self.top, other.top),
        )


Path = tuple[Point, ...]


def path_length(path: Path) -> Mm:
    """Return the length of a path of straight pieces."""
    return sum(float(((a.x - b.x) ** 2 + (a.y - b.y) ** 2) ** 0.5) for a, b in pairwise(path))
