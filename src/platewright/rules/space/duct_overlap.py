"""No device may stand on a duct, no duct on another."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import GEOMETRY
from platewright.foundation.units import Mm
from platewright.model.finding import Reading
from platewright.model.geometry import TOUCH, Box
from platewright.model.layout import Duct
from platewright.model.panel import Panel
from platewright.rules.distances import overlaps, overlaps_within
from platewright.rules.judge import Limit, at_most, holds
from platewright.rules.placed import placed_devices
from platewright.rules.registry import rule
from platewright.rules.wording import common, way_out

TOUCHING: Final = Limit(value=0.0, source=GEOMETRY)


@rule(
    id="space.duct-overlap",
    title="Ducts keep their place",
    why="A cover that reaches over a duct keeps the duct from being closed, even where the body "
    "stands clear of it. Two ducts may meet wall to wall or in a mitred corner, not cross.",
    source=GEOMETRY,
)
def check_duct_overlap(panel: Panel) -> Iterator[Reading]:
    """Measure how far devices and ducts reach into ducts."""
    ducts = sorted(panel.layout.ducts.items())
    placed = placed_devices(panel)
    told = [
        _reading(placed[i].tag, placed[i].envelope, ducts[j][0], ducts[j][1].box)
        for i, j in overlaps([one.envelope for one in placed], [duct.box for _, duct in ducts])
    ]
    told += [
        _reading(ducts[i][0], ducts[i][1].box, ducts[j][0], ducts[j][1].box)
        for i, j in overlaps_within([duct.box for _, duct in ducts])
        if not _is_mitred_corner(ducts[i][1], ducts[j][1])
    ]
    yield from told
    if ducts and not told:
        yield holds("", message=f"{len(ducts)} ducts, nothing reaches into them")


def _reading(tag: str, box: Box, duct: str, channel: Box) -> Reading:
    return at_most(
        tag,
        what=f"{tag} (covers on) reaches into duct {duct} by",
        measured=min(box.overlap(channel)),
        limit=TOUCHING,
        cure=f"Move {tag} {way_out(box, channel)}, or shift or shorten {duct}",
        place=common(box, channel),
    )


def _is_mitred_corner(one: Duct, other: Duct) -> bool:
    """Tell whether two ducts at right angles share exactly the corner square at an end of both."""
    if one.run is other.run:
        return False
    corner = common(one.box, other.box)
    return _is_end(one, corner) and _is_end(other, corner)


def _is_end(duct: Duct, corner: Box) -> bool:
    box, across = duct.box, duct.run == "across"
    ends = (
        (corner.left - box.left, box.right - corner.right)
        if across
        else (corner.bottom - box.bottom, box.top - corner.top)
    )
    breadth: Mm = corner.height if across else corner.width
    return min(abs(end) for end in ends) <= TOUCH and abs(breadth - duct.width) <= TOUCH
