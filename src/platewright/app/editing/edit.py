"""Apply one edit to a layout. Pure: nothing is read or written here.

Planned holes go with what they hold; a marked hole that would have to move is given up as left
over; a drilled hole never moves.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import count

from platewright.app.editing.arranged import aligned, exchanged, spaced
from platewright.app.editing.edits import (
    AddDuct,
    AddRail,
    Align,
    Edit,
    Lock,
    Move,
    PlaceHoles,
    Put,
    Restock,
    SetHoles,
    Space,
    Stretch,
    Swap,
    Tags,
    TakeOff,
)
from platewright.app.editing.holes_after import holes_after
from platewright.app.editing.things import Thing, kept, moved, thing_of, with_things, without
from platewright.fabricate.solvers.place_holes import place_holes
from platewright.foundation.errors import PlatewrightError, nearest
from platewright.foundation.tag_order import listed
from platewright.foundation.units import Mm
from platewright.model.device import Place
from platewright.model.job import DuctStock, Job
from platewright.model.layout import Duct, HoleState, Layout, Placement, Rail, Run

SHORTEST: Mm = 10.0  # of a rail or duct that is worth cutting
FARTHEST: Mm = 20_000.0  # no plate reaches that far


class EditError(PlatewrightError):
    """An edit that can't be done: what is wrong, with what, and what to do instead."""

    def __init__(self, problem: str, *, where: str, cure: str) -> None:
        self.problem, self.where, self.cure = problem, where, cure
        super().__init__(f"{where}: {problem}. {cure}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Edited:
    """The layout after an edit, what was done in words, and what the user should know."""

    layout: Layout
    label: str
    notes: tuple[str, ...] = ()


def apply_edit(job: Job, layout: Layout, edit: Edit) -> Edited:
    """Return the layout after an edit. Raises ``EditError``; the old layout stays as it was."""
    match edit:
        case PlaceHoles():
            return Edited(layout=place_holes(job, layout), label="plan the holes anew")
        case SetHoles():
            return _set_holes(layout, edit)
        case Lock():
            return _lock(layout, edit)
        case TakeOff():
            return _take_off(job, layout, edit)
        case _:
            things, label = _changed(job, layout, edit)
            _within_reach(things)
            after, notes = holes_after(job, layout, things)
            return Edited(layout=after, label=label, notes=notes)


def _changed(job: Job, layout: Layout, edit: Edit) -> tuple[dict[str, Thing], str]:
    """Return the things an edit puts elsewhere, and its label."""
    match edit:
        case Move(dx=dx, dy=dy):
            things = dict(_free(layout, edit.tags))
            return {t: moved(thing, dx, dy) for t, thing in things.items()}, _said("move", things)
        case Put(tag=tag, x=x, y=y):
            return {tag: _put(job, layout, tag, x, y)}, f"put {tag}"
        case Swap(one=one, other=other):
            things = dict(_free(layout, (one, other)))
            return exchanged(job, _devices(things)), f"swap {one} and {other}"
        case Align(tags=tags, edge=edge):
            first = dict(_known(layout, tags[:1]))
            rest = dict(_free(layout, tags[1:]))
            return aligned(job, first | rest, edge), _said("align", first | rest)
        case Space(tags=tags, along=along):
            things = dict(_free(layout, tags))
            return spaced(job, things, along), _said("space evenly", things)
        case Stretch() | Restock():
            return _reshaped(job, layout, edit)
        case AddDuct(x=x, y=y, length=length, run=run):
            stock = _stock(job, edit.stock)
            _long_enough(length)
            tag = next_tag("D", layout)
            return {
                tag: Duct(x=kept(x), y=kept(y), length=kept(length), width=stock.width,
                          height=stock.height, run=run, stock=stock.name)
            }, f"lay duct {tag}"  # fmt: skip
        case AddRail(x=x, y=y, length=length, run=run):
            _long_enough(length)
            tag = next_tag("R", layout)
            profile = job.settings.stock.rail.profile
            rail = Rail(x=kept(x), y=kept(y), length=kept(length), profile=profile, run=run)
            return {tag: rail}, f"lay rail {tag}"
    raise TypeError(edit)


def _reshaped(job: Job, layout: Layout, edit: Stretch | Restock) -> tuple[dict[str, Thing], str]:
    thing = dict(_free(layout, (edit.tag,)))[edit.tag]
    if isinstance(thing, Placement):
        raise EditError("is a device", where=edit.tag, cure="Only rails and ducts are cut")
    if isinstance(edit, Restock):
        if not isinstance(thing, Duct):
            raise EditError("is no duct", where=edit.tag, cure="Only ducts come in sizes")
        stock = _stock(job, edit.stock)
        half = (thing.width - stock.width) / 2
        dx, dy = (0.0, half) if thing.run is Run.ACROSS else (half, 0.0)
        wider = replace(
            thing, x=kept(thing.x + dx), y=kept(thing.y + dy),
            width=stock.width, height=stock.height, stock=stock.name,
        )  # fmt: skip
        return {edit.tag: wider}, f"make {edit.tag} of {stock.name}"
    start, end = sorted((edit.start, edit.end))
    _long_enough(end - start)
    x, y = (start, thing.y) if thing.run is Run.ACROSS else (thing.x, start)
    longer: Thing = _cut(thing, kept(x), kept(y), kept(end - start))
    return {edit.tag: longer}, f"cut {edit.tag} to {end - start:g} mm"


def _cut(thing: Duct | Rail, x: Mm, y: Mm, length: Mm) -> Thing:
    if isinstance(thing, Duct):
        return replace(thing, x=x, y=y, length=length)
    return replace(thing, x=x, y=y, length=length)


def _put(job: Job, layout: Layout, tag: str, x: Mm, y: Mm) -> Thing:
    if thing_of(layout, tag) is not None:
        thing = dict(_free(layout, (tag,)))[tag]
        return moved(thing, x - thing.x, y - thing.y)
    device = job.devices.get(tag)
    if device is None:
        raise _unknown(layout, tag)
    if device.place is Place.DOOR:
        raise EditError(
            "belongs on the door", where=tag, cure="Its place is door_x, door_y in devices.csv"
        )
    return Placement(x=kept(x), y=kept(y), part=device.part)


def _set_holes(layout: Layout, edit: SetHoles) -> Edited:
    for tag in edit.tags:
        if tag not in layout.holes:
            raise EditError("no hole has this tag", where=tag, cure=nearest(tag, layout.holes))
    changed = {tag: replace(layout.holes[tag], state=edit.state) for tag in edit.tags}
    wiped = edit.state is HoleState.PLANNED  # a mark that holds nothing is off the plate then
    holes = {
        tag: changed.get(tag, hole)
        for tag, hole in layout.holes.items()
        if not (wiped and tag in changed and hole.is_idle_mark)
    }
    return Edited(
        layout=replace(layout, holes=holes), label=f"{listed(edit.tags, 3)} {edit.state.value}"
    )


def _lock(layout: Layout, edit: Lock) -> Edited:
    things = {t: replace(thing, locked=edit.locked) for t, thing in _known(layout, edit.tags)}
    word = "lock" if edit.locked else "unlock"
    return Edited(layout=with_things(layout, things), label=_said(word, things))


def _take_off(job: Job, layout: Layout, edit: TakeOff) -> Edited:
    things = dict(_free(layout, edit.tags))
    left = without(layout, frozenset(things))
    after, notes = holes_after(job, left, {}, gone=frozenset(things))
    return Edited(layout=after, label=_said("take off", things), notes=notes)


def _known(layout: Layout, tags: Tags) -> Iterator[tuple[str, Thing]]:
    for tag in tags:
        thing = thing_of(layout, tag)
        if thing is None:
            raise _unknown(layout, tag)
        yield tag, thing


def _free(layout: Layout, tags: Tags) -> Iterator[tuple[str, Thing]]:
    for tag, thing in _known(layout, tags):
        if thing.locked:
            raise EditError("is locked", where=tag, cure="Unlock it first, then move it")
        yield tag, thing


def _devices(things: dict[str, Thing]) -> dict[str, Placement]:
    found = {tag: thing for tag, thing in things.items() if isinstance(thing, Placement)}
    if len(found) != 2:
        raise EditError(
            "only two devices change places", where=listed(tuple(things), 3), cure="Choose two"
        )
    return found


def _unknown(layout: Layout, tag: str) -> EditError:
    known = {*layout.devices, *layout.ducts, *layout.rails}
    return EditError("does not stand on the plate (any more)", where=tag, cure=nearest(tag, known))


def _stock(job: Job, name: str) -> DuctStock:
    for stock in job.settings.stock.ducts:
        if stock.name == name:
            return stock
    names = [stock.name for stock in job.settings.stock.ducts]
    raise EditError("no duct of this size is in stock", where=name, cure=nearest(name, names))


def _long_enough(length: Mm) -> None:
    if not SHORTEST <= length <= FARTHEST:
        raise EditError(
            "is no length to cut", where=f"{length:g} mm", cure=f"Make it {SHORTEST:g} mm or more"
        )


def _within_reach(things: dict[str, Thing]) -> None:
    for tag, thing in things.items():
        if not (abs(thing.x) <= FARTHEST and abs(thing.y) <= FARTHEST):
            raise EditError(
                "would stand far from any plate", where=tag, cure="Give a place on the plate"
            )


def next_tag(letter: str, layout: Layout) -> str:
    """Return the first free tag of ducts (D) or rails (R)."""
    taken = {*layout.ducts, *layout.rails, *layout.devices, *layout.holes}
    return next(tag for n in count(1) if (tag := f"{letter}{n}") not in taken)


def _said(word: str, things: dict[str, Thing]) -> str:
    return f"{word} {listed(tuple(things), 3)}"
