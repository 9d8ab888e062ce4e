"""The steps of the build, in an order that geometry allows."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import Final

from platewright.fabricate.build_tasks import Bench, bench_of, tasks_of
from platewright.fabricate.precedence import Before, in_order
from platewright.fabricate.step_words import (
    CHIPS,
    DEAD,
    EDGES,
    EYES,
    check_words,
    cut_duct_words,
    door_wire_words,
    fit_cautions,
    fit_words,
    lifting,
    lifting_built,
    pass_cautions,
    pass_title,
    pass_words,
    runs,
    set_in_words,
    start_words,
    take_off_words,
    tighten_words,
    wipe_off_words,
    wire_words,
)
from platewright.foundation.tag_order import tag_order
from platewright.model.job import Job
from platewright.model.layout import Layout
from platewright.model.steps import BuildOrder, Pass, Step, Work

MOST_WHY: Final = 4  # reasons told with a step
PLAIN: Final = (
    "chips get",
    "deburring makes",
    "cutting the door makes",
    "it is cut",
    "burrs are",
    "a hole is",
    "a wrong",
    "a mark left",
    "stands over a mark",
    "stands there first",
)


def build_order(job: Job, layout: Layout, passes: tuple[Pass, ...]) -> BuildOrder:
    """Return all steps from the bare plate to the finished panel.

    What can't be put in order is left out and its circle told: two things that bar each other.
    """
    bench = bench_of(job, layout)
    tasks, befores = tasks_of(bench, passes)
    ordered = in_order(tasks, befores)
    steps = []
    for number, group in enumerate(ordered.groups, start=1):
        step = _step(bench, passes, group)
        steps.append(replace(step, number=number, why=_why(group, befores)))
    return BuildOrder(steps=tuple(steps), cycle=_told(ordered.cycle))


def _told(cycle: tuple[Before, ...]) -> tuple[str, ...]:
    return tuple(f"{one.first} before {one.then}: {one.why}" for one in cycle)


def _why(group: tuple[str, ...], befores: Iterable[Before]) -> tuple[str, ...]:
    """Return the reasons that geometry gives for coming this late or this early."""
    names = set(group)
    found = dict.fromkeys(
        one.why
        for one in befores
        if (one.first in names) != (one.then in names)
        and one.then not in ("label", "wire", "inspect")
        and not any(words in one.why for words in PLAIN)
        and (one.then in names or "bar the screwdriver" in one.why)
    )
    told = [why for why in found if " hangs on " not in why]
    return tuple(told[:MOST_WHY])


def _step(bench: Bench, passes: tuple[Pass, ...], group: tuple[str, ...]) -> Step:
    name = group[0]
    if name.startswith("pass "):
        one = passes[int(name.removeprefix("pass "))]
        return Step(
            number=0, work=one.work, title=pass_title(one, bench.job.settings.units), drills=one,
            does=tuple(pass_words(bench, one)), cautions=pass_cautions(bench, one),
        )  # fmt: skip
    for word, make in _OF_THINGS.items():
        if name.startswith(word):
            return make(bench, tuple(task.removeprefix(word) for task in group))
    return _ALONE[name](bench)


def _fit(bench: Bench, tags: tuple[str, ...]) -> Step:
    rail = bench.rail_of.get(tags[0])
    if tags[0] in bench.layout.rails:
        title = f"Fit {_count(tags, 'rail')}"
    elif tags[0] in bench.layout.ducts:
        title = f"Fit {_count(tags, 'duct')}"
    elif rail:
        title = f"Snap {_count(tags, 'device')} on {rail}"
    else:
        title = f"Fit {_count(tags, 'device')}: {', '.join(tags)}"
    return Step(
        number=0, work=Work.FIT, title=title, fits=tags, does=tuple(fit_words(bench, tags)),
        cautions=tuple(fit_cautions(bench, tags)),
    )  # fmt: skip


def _tighten(bench: Bench, tags: tuple[str, ...]) -> Step:
    screws = tuple(screw for tag in tags for screw in bench.screws[tag])
    return Step(
        number=0, work=Work.FASTEN, title=f"Tighten and mark {_count(screws, 'screw')}",
        screws=screws, does=tuple(tighten_words(bench, tags)),
    )  # fmt: skip


def _start(bench: Bench, tags: tuple[str, ...]) -> Step:
    return Step(
        number=0, work=Work.START, title=f"Start the screws of {', '.join(tags)}",
        starts=tuple(screw for tag in tags for screw in bench.screws[tag]),
        does=tuple(start_words(bench, tags)),
    )  # fmt: skip


def _take_off(bench: Bench) -> Step:
    return Step(
        number=0, work=Work.TAKE_OFF, title="Take off what is in the way of drilling",
        takes_off=tuple(bench.removed), does=tuple(take_off_words(bench)),
        cautions=("Isolate and prove dead first, if the panel was ever connected.",),
    )  # fmt: skip


def _wipe_off(bench: Bench) -> Step:
    marks = bench.idle_marks
    return Step(
        number=0, work=Work.WIPE_OFF,
        title=f"Wipe off the mark{'' if len(marks) == 1 else 's'} at {runs(marks)}",
        does=tuple(wipe_off_words(bench)),
    )  # fmt: skip


def _cut(bench: Bench, what: str) -> Step:
    return Step(
        number=0, work=Work.CUT, title=f"Cut {what}",
        does=(
            "By the cut list, long pieces first; ends square and de-burred; a tag on each piece.",
            *(cut_duct_words(bench) if what == "ducts" else ()),
            "Label what is left of each bar and put it back into the rack.",
        ),
        cautions=(EYES, EDGES),
    )  # fmt: skip


def _door(bench: Bench) -> Step:
    tags = tuple(sorted((device.tag for device in bench.job.on_door), key=tag_order))
    return Step(
        number=0, work=Work.FIT, title=f"Fit the door's devices: {', '.join(tags)}", fits=tags,
        does=(
            "In the cut-outs made before; seals fitted, nuts tight.",
            *door_wire_words(bench),
            "Close the door slowly: nothing on the plate is touched, no wire is pinched.",
        ),
    )  # fmt: skip


def _count(things: tuple[str, ...], word: str) -> str:
    return f"{len(things)} {word}{'' if len(things) == 1 else 's'}"


_OF_THINGS: Final[Mapping[str, Callable[[Bench, tuple[str, ...]], Step]]] = {
    "fit ": _fit,
    "tighten ": _tighten,
    "start ": _start,
}
_ALONE: Final[Mapping[str, Callable[[Bench], Step]]] = {
    "check": lambda bench: Step(
        number=0, work=Work.CHECK, title="Check the plate and the parts",
        does=tuple(check_words(bench)), cautions=(lifting(bench), EDGES),
    ),
    "take off": _take_off,
    "wipe off": _wipe_off,
    "cut rails": lambda bench: _cut(bench, "rails"),
    "cut ducts": lambda bench: _cut(bench, "ducts"),
    "cut door": lambda _bench: Step(
        number=0, work=Work.CUT, title="Cut and drill the door",
        does=(
            "By the door sheet, measured on the door itself; compare with each device's drawing.",
            "Door off, or the enclosure empty; paint masked. De-burr and paint the cut edges.",
        ),
        cautions=(EYES, EDGES),
    ),
    "deburr": lambda _bench: Step(
        number=0, work=Work.DEBURR, title="De-burr both faces",
        does=(
            "Every hole on front and back: burrs behind keep the plate off its studs.",
            "Film off; touch up paint or zinc; bare metal where conductors are bonded.",
        ),
        cautions=(EYES, EDGES),
    ),
    "clean": lambda _bench: Step(
        number=0, work=Work.CLEAN, title="Take every chip off before anything goes on",
        does=("Vacuum, wipe, magnet over both faces; look into every thread.",),
        cautions=(CHIPS,),
    ),
    "label": lambda _bench: Step(
        number=0, work=Work.LABEL, title="Label devices, rails of terminals and ducts",
        does=(
            "On the plate beside each device, not on its cover: the label stays when it is changed.",
            "Measure the bond from the plate to each rail, and write it down.",
            "Covers on once: compare every gap with the drawing.",
        ),
    ),
    "wire": lambda bench: Step(
        number=0, work=Work.WIRE, title=f"Wire: {len(bench.job.wires)} wires",
        does=tuple(wire_words(bench)), cautions=(DEAD,),
    ),
    "set in": lambda bench: Step(
        number=0, work=Work.SET_IN, title="Set the plate into the enclosure",
        does=tuple(set_in_words(bench)), cautions=(DEAD, lifting_built(bench)),
    ),
    "door": _door,
    "cover": lambda bench: Step(
        number=0, work=Work.COVER, title=f"Put {_count(tuple(bench.layout.ducts), 'cover')} on",
        fits=(),
        does=("Vacuum the ducts first. Covers go on without force; no wire above the walls.",),
    ),
    "inspect": lambda _bench: Step(
        number=0, work=Work.INSPECT, title="Inspect, and hand over for testing",
        does=(
            "Every screw on the torque sheet signed and marked; every count agrees.",
            "Nothing loose, no chip, no tool left inside; photographs taken.",
            "Tests are done by a qualified person.",
        ),
        cautions=(DEAD,),
    ),
}  # fmt: skip
