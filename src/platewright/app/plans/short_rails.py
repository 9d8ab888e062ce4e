"""A rail that is new on a drilled plate is no longer than it need be, where that saves a hole.

One that lay there before keeps its ends where it can (``rails_stay``).
"""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace
from typing import Final

from platewright.app.plans.rails_stay import as_they_were
from platewright.fabricate.solvers.place_holes import place_holes
from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import Mm
from platewright.model.job import Job
from platewright.model.layout import Layout, Rail, Run
from platewright.model.part import Mount

_SCREWS: Final = 2  # a rail is held by no fewer
_SHORTEST: Final[Mm] = 55.0  # two slots of a 25 mm raster and their ends
_REACH: Final[Mm] = 5.0  # past the outer devices
_ON_IT: Final[Mm] = 0.5


def shortened(job: Job, before: Layout, layout: Layout) -> Layout:
    """Return a planned layout with new rails cut to what they carry where that takes fewer holes.

    ``before``: the drilled plate, by whose holes the new ones are counted.
    """
    layout = as_they_were(job, before, layout)
    asked: Counter[str] | None = None  # of the layout as it is now: placing holes takes its time
    for tag in sorted(layout.rails, key=tag_order):
        rail = layout.rails[tag]
        if rail in before.rails.values() or rail.run is not Run.ACROSS:
            continue
        asked = _asked(job, before, layout) if asked is None else asked
        if asked[tag] <= _SCREWS:
            continue
        short = _cut(job, layout, rail)
        if short == rail:
            continue
        tried = replace(layout, rails={**layout.rails, tag: short})
        then = _asked(job, before, tried)
        if then[tag] < asked[tag]:
            layout, asked = tried, then
    return layout


def _asked(job: Job, before: Layout, layout: Layout) -> Counter[str]:
    """Return how many holes each thing asks for beside those that are there."""
    after = place_holes(job, replace(layout, holes=before.holes))
    return Counter(hole.holds for tag, hole in after.holes.items() if tag not in before.holes)


def _cut(job: Job, layout: Layout, rail: Rail) -> Rail:
    """Return a rail cut to the devices that hang on it, within what it was."""
    spans = [
        (at.x, at.x + part.width)
        for tag, at in layout.devices.items()
        if (part := job.part_of(tag)).mount is Mount.RAIL
        and abs(at.y + (part.rail_center or 0.0) - rail.y) <= _ON_IT
        and rail.x - _ON_IT <= at.x
        and at.x + part.width <= rail.x + rail.length + _ON_IT
    ]
    if not spans:
        return rail
    end = rail.x + rail.length
    first, last = min(a for a, _ in spans), max(b for _, b in spans)
    reach = max(_REACH, (_SHORTEST - (last - first)) / 2)
    left = max(rail.x, min(math.floor(first - reach), math.floor(end - _SHORTEST)))
    right = min(end, max(math.ceil(last + reach), left + _SHORTEST))
    return replace(rail, x=left, length=right - left)
