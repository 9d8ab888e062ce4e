"""Why a drilled plate takes no more: what stands in the way, and which holes to give up, tried."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import pairwise
from typing import Final

from platewright.app.gather import clear_spaces, wiring_spaces
from platewright.app.plans.cannot_fit import explain
from platewright.app.plans.no_room import proofs_of
from platewright.app.plans.open_rows import bare_heights, started, ways
from platewright.app.plans.stays import is_drilled, must_stand
from platewright.arrange.arranger import Arrangement, improve
from platewright.arrange.solvers.search import HOT
from platewright.arrange.task import Standing, Task, task_for
from platewright.foundation.errors import CannotPlan
from platewright.foundation.tag_order import in_ranges, tag_order
from platewright.model.geometry import TOUCH
from platewright.model.job import Job
from platewright.model.layout import HoleState, Layout

_MOVES: Final = 12_000  # of one try
_TRIES: Final = 16  # things given up, one by one


def refusal(found: Arrangement, layout: Layout, *, seed: int) -> CannotPlan:
    """Return why nothing was found; on a drilled plate with what stands in the way as the cause."""
    if not is_drilled(layout):
        return explain(found, seed=seed)
    cannot = explain(found, seed=seed, drilled=layout)
    head, _, rest = cannot.problem.partition(". ")
    told = [head, _said(found.task, layout)]
    given_up = tuple(_given_up(found.task.job, layout))
    told += [f"In the way: {tags}" for tags, _ in given_up]
    cures = [*(cure for _, cure in given_up), *_lower_parts(found.task)]
    return CannotPlan(". ".join([*told, rest] if rest else told), (*cures, *cannot.cures))


def _holes_of(layout: Layout) -> Mapping[str, list[str]]:
    """Return the tags of drilled holes by what they hold."""
    found: dict[str, list[str]] = {}
    for tag in sorted(layout.holes, key=tag_order):
        hole = layout.holes[tag]
        if hole.state is HoleState.DRILLED and hole.holds:
            found.setdefault(hole.holds, []).append(tag)
    return found


def _said(task: Task, layout: Layout) -> str:
    """Return what holds the plate as it is, and what is to be placed into it."""
    drilled = _holes_of(layout)
    job, rows = task.job, _row_heights(task.standing)
    kinds = ((layout.devices, "devices"), (layout.rails, "rails"), (layout.ducts, "ducts"))
    counts = [f"{n} {word}" for table, word in kinds if (n := sum(t in drilled for t in table))]
    words = f"Drilled holes keep {', '.join(counts)} where they are"
    if rows:
        words += f", and so the rows: {', '.join(f'{high:g}' for high in rows)} mm high"
        words += "".join(f"; {line}" for line in _bare(task))
    comes = [d.tag for d in job.on_plate if d.tag not in layout.devices]
    comes += [
        tag
        for tag, at in layout.devices.items()
        if tag in job.devices and at.part not in ("", job.devices[tag].part)
    ]
    if comes:
        words += f". New or of another part: {', '.join(sorted(comes, key=tag_order))}"
    tall = list(_too_tall(task, rows))
    if tall:
        words += f". Too tall for every row: {', '.join(tall)}"
    return words


def _row_heights(standing: Standing) -> list[float]:
    """Return the heights of the rows between ducts."""
    across = Standing(ducts=standing.ducts).across
    return [a.box.bottom - b.box.top for a, b in pairwise(across)]


def _bare(task: Task) -> Iterator[str]:
    """Yield how high the bare plate is above and below the ducts."""
    above, below = bare_heights(task)
    for high, where in ((above, "above the uppermost"), (below, "below the lowest")):
        if high > TOUCH:
            yield f"{high:g} mm of plate lie {where} duct"


def _too_tall(task: Task, rows: list[float]) -> Iterator[str]:
    for b in range(task.arrays.free):
        if _over(task, b, rows) > TOUCH:
            high = float(task.arrays.up[b] + task.arrays.down[b])
            yield f"{task.blocks[b].head} (needs {high:.0f} mm with its wiring)"


def _over(task: Task, b: int, rows: list[float]) -> float:
    """Return how much too tall a block is for the highest row and the bare plate; -inf: no rows."""
    if not rows:
        return -math.inf
    arrays = task.arrays
    above, below = bare_heights(task)
    up, down = float(arrays.up[b]), float(arrays.down[b])
    return min(
        up + down - max(rows),
        float(arrays.env_up[b]) + down - above,
        up + float(arrays.env_down[b]) - below,
    )


def _lower_parts(task: Task) -> Iterator[str]:
    """Yield how high a part may be that stands in the place of one too tall for every row."""
    rows = _row_heights(task.standing)
    for b in range(task.arrays.free):
        over = _over(task, b, rows)
        if over > TOUCH and len(task.blocks[b].members) == 1:
            tag = task.blocks[b].head
            high = math.floor(task.job.part_of(tag).height - over)
            if high > 0:
                yield (
                    f"a lower part in the place of {tag} ({task.job.devices[tag].part}): at most "
                    f"{high} mm for the highest row or the bare plate, with the same wiring "
                    "(reckoned, not planned); "
                    "else a new plate"
                )


def _given_up(job: Job, layout: Layout) -> Iterator[tuple[str, str]]:
    """Yield what stands in the way, tried: (tags, cure); fewest drilled holes first, one at most."""
    drilled = _holes_of(layout)
    must = must_stand(job, layout)
    singles = [tag for tag in drilled if tag in must.rails or tag in must.devices]
    tries = [{tag} for tag in sorted(singles, key=lambda t: (len(drilled[t]), tag_order(t)))]
    tries = [*tries[:_TRIES], set(must.rails) & set(drilled)]
    pieces = {tag for tag in drilled if tag in layout.ducts or tag in layout.rails}
    for tags in [t for t in tries if t] + [pieces]:
        if not _is_found(job, _without(layout, drilled, tags)):
            continue
        for tag in sorted(tags, key=lambda t: (-len(drilled[t]), tag_order(t))):
            if len(tags) > 1 and _is_found(job, _without(layout, drilled, tags - {tag})):
                tags = tags - {tag}  # noqa: PLW2901  (what need not go stays)
        named = ", ".join(sorted(tags, key=tag_order))
        holes = sorted((hole for tag in tags for hole in drilled[tag]), key=tag_order)
        yield (
            named,
            (
                f"give up {len(holes)} drilled holes of {named}: platewright as-built JOB --give-up "
                f"{in_ranges(holes)}, then plan again; they stay in the plate, left over"
            ),
        )
        return


def _without(layout: Layout, drilled: Mapping[str, list[str]], tags: set[str]) -> Layout:
    """Return the layout in which the drilled holes of some things hold nothing."""
    idle = {hole for tag in tags for hole in drilled[tag]}
    holes = {t: replace(h, holds="") if t in idle else h for t, h in layout.holes.items()}
    return replace(layout, holes=holes)


def _is_found(job: Job, layout: Layout) -> bool:
    task = task_for(
        job, clear=clear_spaces(job), wiring=wiring_spaces(job), standing=must_stand(job, layout)
    )
    for standing in (task.standing, *ways(task)):
        tried = task_for(job, clear=clear_spaces(job), wiring=wiring_spaces(job), standing=standing)
        start = None if proofs_of(tried) else started(tried, layout)
        if start is not None:
            found = improve(start, moves=_MOVES, hot=HOT, seed=1, report=lambda _d, _t: True)
            if found.is_legal:
                return True
    return False
