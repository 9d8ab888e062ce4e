"""Give holes up: drilled ones stay in the plate and hold nothing more, marks are wiped off.

A drilled hole never moves and is never taken back; a plan keeps clear of it or uses it again. What
no drilled hole holds any more may move, so a lock on it goes, too. A mark that is wiped off leaves
nothing on the plate: the hole is planned again for what it was marked for, or drops out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from platewright.app.editing.things import thing_of, with_things
from platewright.foundation.tag_order import in_ranges, tag_order
from platewright.model.layout import Hole, HoleState, Layout


def why_not(layout: Layout, tag: str, drilled_now: Iterable[str] = ()) -> tuple[str, str] | None:
    """Return problem and cure where a hole can't be given up; ``None``: it can.

    ``drilled_now``: holes that the same command says are drilled.
    """
    hole = layout.holes[tag]
    if hole.state is HoleState.PLANNED and tag not in drilled_now:
        return (
            f"{tag} is neither drilled nor marked",
            "Only a drilled hole holds a thing where it is; plan moves all others as they are",
        )
    if not hole.holds and not hole.is_idle_mark:
        return f"{tag} holds nothing", f"{tag} is left over already: leave it out"
    return None


def can_give_up(layout: Layout, holds: str = "") -> tuple[str, ...]:
    """Return the drilled holes that hold something, or only those that hold one thing."""
    return tuple(
        tag
        for tag in sorted(layout.holes, key=tag_order)
        if (hole := layout.holes[tag]).state is HoleState.DRILLED
        and hole.holds
        and holds in ("", hole.holds)
    )


def given_up(layout: Layout, tags: Iterable[str]) -> tuple[Layout, tuple[str, ...]]:
    """Return the layout in which these holes hold nothing, and what to tell."""
    named = set(tags)
    layout, told = _wiped_off(layout, {t for t in named if not _is_drilled(layout.holes[t])})
    chosen = {tag for tag in named if tag in layout.holes and _is_drilled(layout.holes[tag])}
    if not chosen:
        return layout, told
    owners = sorted({layout.holes[tag].holds for tag in chosen}, key=tag_order)
    holes = {t: replace(h, holds="") if t in chosen else h for t, h in layout.holes.items()}
    loose = [owner for owner in owners if not _drilled_for(holes, owner)]
    things = {
        tag: replace(thing, locked=False)
        for tag in loose
        if (thing := thing_of(layout, tag)) is not None and thing.locked
    }
    after = replace(with_things(layout, things), holes=holes)
    return after, (*told, *_told(layout, after, chosen, owners))


def _is_drilled(hole: Hole) -> bool:
    return hole.state is HoleState.DRILLED


def _wiped_off(layout: Layout, marks: set[str]) -> tuple[Layout, tuple[str, ...]]:
    """Return the layout without these marks, and what to tell."""
    if not marks:
        return layout, ()
    held = {tag for tag in marks if layout.holes[tag].holds}
    holes = {
        tag: replace(hole, state=HoleState.PLANNED) if tag in marks else hole
        for tag, hole in layout.holes.items()
        if tag not in marks or tag in held
    }
    word = "mark" if len(marks) == 1 else "marks"
    told = [f"{len(marks)} {word} given up, to be wiped off the plate: {in_ranges(marks)}"]
    if held:
        told.append(f"planned again for what they were marked for: {in_ranges(held)}")
    return replace(layout, holes=holes), tuple(told)


def _told(before: Layout, after: Layout, chosen: set[str], owners: list[str]) -> Iterator[str]:
    word = "hole" if len(chosen) == 1 else "holes"
    yield f"{len(chosen)} drilled {word} given up, left over in the plate: {in_ranges(chosen)}"
    for owner in owners:
        still = _drilled_for(after.holes, owner)
        if still:
            yield f"{owner} is still held by {in_ranges(still)} and stays where it is"
            continue
        was, now = thing_of(before, owner), thing_of(after, owner)
        unlocked = was is not None and now is not None and was.locked and not now.locked
        yield f"plan may move {owner} now{'; its lock is taken away' if unlocked else ''}"
    ducts = [tag for tag in after.ducts if _drilled_for(after.holes, tag)]
    rails = [tag for tag in after.rails if _drilled_for(after.holes, tag)]
    if any(owner in after.ducts for owner in owners) and (ducts or rails):
        held = ", ".join(sorted((*ducts, *rails), key=tag_order))
        yield f"the ducts make the rows together: they stay while drilled holes hold {held}"


def _drilled_for(holes: Mapping[str, Hole], owner: str) -> list[str]:
    return [t for t, h in holes.items() if h.state is HoleState.DRILLED and h.holds == owner]
