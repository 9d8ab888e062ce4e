"""When no plate is found: what does not fit, and the smallest change that would cure it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Final

from platewright.app.gather import clear_spaces, wiring_spaces
from platewright.arrange.arranger import Arrangement, improve, probe
from platewright.arrange.solvers.search import HOT
from platewright.arrange.task import Task, task_for
from platewright.foundation.errors import CannotPlan
from platewright.foundation.units import Mm
from platewright.model.job import Job

_TRIES: Final = 30_000  # moves spent on one proposed change
_STEPS: Final[tuple[Mm, ...]] = (10.0, 25.0, 50.0, 100.0, 200.0, 400.0, 800.0, 1600.0)
_FINE: Final[Mm] = 10.0


def _never(task: Task) -> Iterator[str]:
    """Tell of blocks that fit nowhere on the plate, whatever the order."""
    arrays, settings = task.arrays, task.job.settings
    box = task.room.box
    for b in range(arrays.free):
        tag = task.blocks[b].head
        if arrays.front[b] > settings.enclosure.door_inside - settings.limits.door_gap:
            yield (
                f"{tag} stands {arrays.front[b]:g} mm out of the plate; the door leaves "
                f"{settings.enclosure.door_inside:g} mm. Take a deeper enclosure or a flatter part"
            )
        if arrays.width[b] > box.width:
            yield f"{tag} is {arrays.width[b]:g} mm wide; the plate offers {box.width:g} mm"
        if arrays.up[b] + arrays.down[b] > box.height:
            need = arrays.up[b] + arrays.down[b]
            yield f"{tag} needs {need:g} mm of height; the plate offers {box.height:g} mm"


def _fits(job: Job, sizes_of: Arrangement, seed: int) -> bool:
    """Tell whether a changed job is found to fit with the same duct sizes or the same count."""
    task = task_for(
        job, clear=clear_spaces(job), wiring=wiring_spaces(job), standing=sizes_of.task.standing
    )
    quiet = lambda _done, _wire: True  # noqa: E731
    stock = max(sizes_of.sizes.across, key=lambda s: s.width)
    if probe(task, stock, moves=_TRIES, seed=seed, report=quiet).is_legal:
        return True
    again = replace(sizes_of, task=task)
    return improve(again, moves=_TRIES, hot=HOT, seed=seed, report=quiet).is_legal


def _least(change: Callable[[Mm], Job], arrangement: Arrangement, seed: int) -> Mm | None:
    """Return the smallest step of a change found to make the plate fit, to 10 mm."""
    low = 0.0
    for step in _STEPS:
        if _fits(change(step), arrangement, seed):
            high = step
            while high - low > _FINE:
                middle = round((low + high) / 2 / _FINE) * _FINE
                if middle in (low, high):
                    break
                if _fits(change(middle), arrangement, seed):
                    high = middle
                else:
                    low = middle
            return high
        low = step
    return None


def _with_plate(job: Job, *, wider: Mm = 0.0, higher: Mm = 0.0) -> Job:
    """Return the job with a larger plate; fixing holes keep their distance from the edges."""
    plate = job.settings.plate
    holes = tuple(
        replace(
            h,
            x=h.x + (wider if h.x > plate.width / 2 else 0.0),
            y=h.y + (higher if h.y > plate.height / 2 else 0.0),
        )
        for h in plate.fixing_holes
    )
    changed = replace(
        plate, width=plate.width + wider, height=plate.height + higher, fixing_holes=holes
    )
    return replace(job, settings=replace(job.settings, plate=changed))


def _cures(arrangement: Arrangement, seed: int) -> Iterator[str]:
    job = arrangement.task.job
    plate = job.settings.plate
    if job.settings.limits.spare > 0:
        spare = replace(job.settings.limits, spare=0.0)
        bare = replace(job, settings=replace(job.settings, limits=spare))
        if _fits(bare, arrangement, seed):
            yield "give up the spare width: set limits.spare = 0 in job.toml"
    higher = _least(lambda mm: _with_plate(job, higher=mm), arrangement, seed)
    if higher is not None:
        yield f"a plate {higher:g} mm higher ({plate.height + higher:g} mm) was found to fit"
    wider = _least(lambda mm: _with_plate(job, wider=mm), arrangement, seed)
    if wider is not None:
        yield f"a plate {wider:g} mm wider ({plate.width + wider:g} mm) was found to fit"
    yield "or put a device on the door (place = door), or take narrower ducts into the stock list"


def explain(arrangement: Arrangement, *, seed: int) -> CannotPlan:
    """Return why the best arrangement found is not a plate one can build, with cures ranked."""
    task = arrangement.task
    never = tuple(_never(task))
    if never:
        return CannotPlan(
            "these devices fit nowhere on the plate: " + "; ".join(never),
            ["take a larger enclosure, or another part for each device named"],
        )
    missing = arrangement.found.violation
    return CannotPlan(
        f"no plate was found for {len(task.job.on_plate)} devices in {arrangement.sizes.rows} rows: "
        f"the best one found lacks {missing:.0f} mm of room. This is where the search ended, "
        "not a proof that nothing fits",
        _cures(arrangement, seed),
    )
