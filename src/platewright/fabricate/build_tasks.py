"""Everything that is done at the bench as tasks, and what must come before what, by geometry.

Precedence has these causes and no other: chips get into what is mounted; a tool would touch what
stands there; a thing lies over another's screw; a thing hangs on, plugs into or lies on another.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from platewright.fabricate.access import Standing, driver_for, footprint, standing
from platewright.fabricate.door_work import door_work
from platewright.fabricate.precedence import Before, Task
from platewright.fabricate.stands_already import (
    StoodBefore,
    can_stand,
    comes_off,
    idle_marks,
    is_partly_drilled,
    left_over,
    stood_before,
)
from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import Mm
from platewright.model.geometry import Box
from platewright.model.job import Job
from platewright.model.layout import Layout, Run
from platewright.model.part import HoleForm, Mount
from platewright.model.steps import Pass, Work
from platewright.tables.tools import tool

ON_THE_AXIS: Final[Mm] = 0.5  # a device hangs on the rail whose axis is this near
CHIPS: Final = "chips get into what is mounted, so all drilling comes before"
HUNG: Final = (HoleForm.OPEN_SLOT, HoleForm.KEYHOLE)  # pass over screws that stand there


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """What the tasks are made from: things as they stand, their screws, what hangs on what."""

    job: Job
    layout: Layout
    things: tuple[str, ...]
    standing: Mapping[str, Standing]
    screws: Mapping[str, tuple[str, ...]]  # thing -> holes of its screws
    rail_of: Mapping[str, str]  # device -> rail it hangs on
    removed: Mapping[str, tuple[str, ...]]  # what comes off before drilling -> why
    idle_marks: tuple[str, ...]  # marked for what is not there any more: never drilled
    left_over: tuple[str, ...]  # drilled holes of former things, while others are to be drilled
    moved: Mapping[str, StoodBefore]  # device -> left-over holes that it hung on, by their pattern


def bench_of(job: Job, layout: Layout) -> Bench:
    """Return the bench of a layout."""
    things = tuple(
        tag
        for table in (layout.rails, layout.ducts, layout.devices)
        for tag in sorted(table, key=tag_order)
    )
    screws: dict[str, list[str]] = {tag: [] for tag in things}
    for tag in sorted(layout.holes, key=tag_order):
        holder = layout.holes[tag].holds
        if holder in screws:
            screws[holder].append(tag)
    stands = {tag: standing(job, layout, tag) for tag in things}
    rail_of = dict(hung_on(job, layout))
    is_open = is_partly_drilled(layout)
    return Bench(
        job=job,
        layout=layout,
        things=things,
        standing=stands,
        screws={tag: tuple(found) for tag, found in screws.items()},
        rail_of=rail_of,
        removed=dict(comes_off(job, layout, can_stand(job, layout, rail_of), stands)),
        idle_marks=idle_marks(layout),
        left_over=left_over(layout) if is_open else (),
        moved=stood_before(job, layout) if is_open else {},
    )


def tasks_of(bench: Bench, passes: tuple[Pass, ...]) -> tuple[dict[str, Task], tuple[Before, ...]]:
    """Return all tasks by name, and all that must come before something."""
    tasks: dict[str, Task] = {
        "check": Task(group="check", rank=(0,)),
        "deburr": Task(group="deburr", rank=(50,)),
        "clean": Task(group="clean", rank=(51,)),
        "label": Task(group="label", rank=(90,)),
        "wire": Task(group="wire", rank=(91,)),
        "set in": Task(group="set in", rank=(92,)),
        "inspect": Task(group="inspect", rank=(99,)),
    }
    if not passes:
        tasks.pop("deburr")
    if bench.removed or bench.left_over:
        tasks["take off"] = Task(group="take off", rank=(1,))
    if bench.idle_marks:
        tasks["wipe off"] = Task(group="wipe off", rank=(2,))
    for name, rank in (("rails", 10), ("ducts", 11)):
        if getattr(bench.layout, name):
            tasks[f"cut {name}"] = Task(group=f"cut {name}", rank=(rank,))
    if bench.layout.ducts:
        tasks["cover"] = Task(group="cover", rank=(95,))
    if door_work(bench.job, bench.layout):
        tasks["cut door"] = Task(group="cut door", rank=(12,))
    if bench.job.on_door:
        tasks["door"] = Task(group="door", rank=(93,))
    for number in range(len(passes)):
        tasks[f"pass {number}"] = Task(group=f"pass {number}", rank=(20, number))
    for tag in bench.things:
        tasks |= _thing_tasks(bench, tag)
    return tasks, tuple(_befores(bench, passes, tasks))


def _thing_tasks(bench: Bench, tag: str) -> dict[str, Task]:
    """Return the tasks of one thing: start its screws, fit it, tighten it."""
    layout, job, place = bench.layout, bench.job, bench.things.index(tag)
    if tag in layout.rails:
        fit = Task(group="fit rails", rank=(60, place))
        tight = Task(group="tighten", rank=(62, place))
    elif tag in layout.ducts:
        fit = Task(group="fit ducts", rank=(61, place))
        tight = Task(group="tighten", rank=(63, place))
    elif tag in bench.rail_of or job.part_of(tag).mount is Mount.RAIL:
        rail = bench.rail_of.get(tag, "")
        top = -layout.rails[rail].y if rail else 0.0
        fit = Task(group=f"fit on {rail}", rank=(80, top, layout.devices[tag].x))
        tight = Task(group="tighten devices", rank=(81, place))
    else:
        heavy = -(job.part_of(tag).mass or 0.0)
        fit = Task(group="fit devices", rank=(70, heavy, place))
        tight = Task(group="tighten devices", rank=(71, heavy, place))
    found = {f"fit {tag}": fit}
    if bench.screws[tag]:
        found[f"tighten {tag}"] = tight
    if tag in layout.devices and bench.screws[tag] and job.part_of(tag).hole_form in HUNG:
        found[f"start {tag}"] = Task(group="start", rank=(65, place))
    return found


def _befores(bench: Bench, passes: tuple[Pass, ...], tasks: Mapping[str, Task]) -> Iterator[Before]:
    yield from _of_the_plate(bench, passes, tasks)
    for tag in bench.things:
        yield from _of_a_thing(bench, tag, tasks)
    yield from _between_things(bench)


def _of_the_plate(
    bench: Bench, passes: tuple[Pass, ...], tasks: Mapping[str, Task]
) -> Iterator[Before]:
    """Yield what holds for the plate as a whole."""
    drilled_by: dict[str, list[str]] = {}
    for number, one in enumerate(passes):
        name = f"pass {number}"
        for tag in one.holes:
            for earlier in drilled_by.get(tag, ()):
                yield Before(first=earlier, then=name, why=_tool_words(one))
            drilled_by.setdefault(tag, []).append(name)
        yield Before(first="check", then=name, why="a wrong plate is found before it is drilled")
        if "take off" in tasks:
            yield Before(first="take off", then=name, why="nothing is drilled with devices on")
        if "wipe off" in tasks:
            yield Before(first="wipe off", then=name, why="a mark left on the plate gets drilled")
        yield Before(first=name, then="deburr", why="burrs are there once all holes are")
    if "wipe off" in tasks:
        yield Before(first="check", then="wipe off", why="a wrong plate is found first")
        yield Before(first="wipe off", then="clean", why="what stands over a mark hides it")
        if "take off" in tasks:
            yield Before(first="take off", then="wipe off", why="what stands over a mark hides it")
    if passes:
        yield Before(first="deburr", then="clean", why="deburring makes chips too")
    if "cut door" in tasks:
        yield Before(first="cut door", then="clean", why="cutting the door makes chips too")
    for name in ("cut rails", "cut ducts", "cut door", "take off"):
        if name in tasks:
            yield Before(first="check", then=name, why="a wrong part is found before it is cut")
    for tag in bench.layout.ducts:
        yield Before(first="cut ducts", then=f"fit {tag}", why="it is cut first")
    for tag in bench.layout.rails:
        yield Before(first="cut rails", then=f"fit {tag}", why="it is cut first")
    for name in tasks:
        if name.startswith(("fit ", "tighten ", "start ")):
            yield Before(first="clean", then=name, why=CHIPS)
            yield Before(first=name, then="label", why="labels go where things stand")
    yield Before(first="clean", then="label", why=CHIPS)
    yield Before(first="label", then="wire", why="who wires reads the labels")
    yield Before(first="wire", then="set in", why="it is wired on the bench first")
    if "door" in tasks:
        yield Before(first="set in", then="door", why="the door's wires come from the plate")
    if "cover" in tasks:
        last = "door" if "door" in tasks else "wire"
        yield Before(first=last, then="cover", why="wires go into the ducts first")
    for name in ("door", "cover", "wire", "set in"):
        if name in tasks:
            yield Before(first=name, then="inspect", why="inspection looks at the finished panel")


def _tool_words(one: Pass) -> str:
    if one.work is Work.TAP:
        return "a hole is drilled before it is tapped"
    return "a hole is marked, then drilled from small to large"


def _of_a_thing(bench: Bench, tag: str, tasks: Mapping[str, Task]) -> Iterator[Before]:
    """Yield what a thing waits for: its screws, the rail it hangs on, what it plugs into."""
    if f"start {tag}" in tasks:
        yield Before(
            first=f"start {tag}", then=f"fit {tag}",
            why=f"{tag} has open holes: its screws are started, then it is hung on them",
        )  # fmt: skip
    if f"tighten {tag}" in tasks:
        yield Before(first=f"fit {tag}", then=f"tighten {tag}", why=f"{tag} stands there first")
    if tag not in bench.layout.devices:
        return
    rail, device = bench.rail_of.get(tag), bench.job.devices[tag]
    if rail:
        needed = f"tighten {rail}" if f"tighten {rail}" in tasks else f"fit {rail}"
        yield Before(first=needed, then=f"fit {tag}", why=f"{tag} hangs on {rail}")
    for other, how in ((device.plugs_into, "plugs into"), (device.hangs_under, "hangs under")):
        if other in bench.layout.devices:
            yield Before(first=f"fit {other}", then=f"fit {tag}", why=f"{tag} {how} {other}")


def _between_things(bench: Bench) -> Iterator[Before]:
    """Yield what geometry asks for: screws that another thing would bar, things over others."""
    wide = tool("handle diameter") / 2 + tool("blade air")
    feet = {tag: footprint(bench.layout, bench.job, tag) for tag in bench.things}
    for tag in bench.things:
        for screw in bench.screws[tag]:
            centre = bench.layout.holes[screw].centre
            for other in bench.things:
                if other == tag or feet[other].distance_to(centre) >= wide:
                    continue
                if driver_for(centre, (bench.standing[other],)) is None:
                    yield Before(
                        first=f"tighten {tag}", then=f"fit {other}",
                        why=f"{other} would bar the screwdriver at {screw} of {tag}",
                    )  # fmt: skip
    yield from _one_over_another(bench, feet)


def _one_over_another(bench: Bench, feet: Mapping[str, Box]) -> Iterator[Before]:
    """Yield that the lower of two things that share a place goes on first."""
    ordered = sorted(bench.things, key=lambda tag: feet[tag].left)
    for at, tag in enumerate(ordered):
        for other in ordered[at + 1 :]:
            if feet[other].left >= feet[tag].right:
                break
            if not feet[tag].overlaps(feet[other]):
                continue
            low, high = sorted((tag, other), key=lambda name: (bench.standing[name].height, name))
            if bench.rail_of.get(high) == low or bench.standing[low].height == (
                bench.standing[high].height
            ):
                continue
            yield Before(first=f"fit {low}", then=f"fit {high}", why=f"{high} lies over {low}")


def hung_on(job: Job, layout: Layout) -> Iterator[tuple[str, str]]:
    """Yield each device that hangs on a rail, with the rail."""
    for tag, at in layout.devices.items():
        part = job.part_of(tag)
        if part.mount is not Mount.RAIL or part.rail_center is None:
            continue
        for name in sorted(layout.rails, key=tag_order):
            rail = layout.rails[name]
            beside = at.x >= rail.x + rail.length or at.x + part.width <= rail.x
            near = abs(at.y + part.rail_center - rail.y) <= ON_THE_AXIS
            if rail.run is Run.ACROSS and near and not beside:
                yield tag, name
                break
