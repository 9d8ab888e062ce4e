"""What a plan changes of the plate that was there, in words for the bench."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from platewright.app.plans.open_rows import outside_ducts
from platewright.app.plans.stays import is_drilled
from platewright.foundation.tag_order import tag_order
from platewright.model.job import Job
from platewright.model.layout import HoleState, Layout


def bench_changes(job: Job, before: Layout, dropped: Layout, after: Layout) -> Iterator[str]:
    """Yield what came, went and was swapped; once work has begun also rails, ducts and holes.

    Rails and ducts are told once a hole is marked or drilled: on a bare plate nothing is cut yet.

    ``dropped``: devices and holes of the former layout that the lists no longer know. A device
    whose former part is not written down in the layout can't be told as swapped.
    """
    if not before.devices:
        return
    drilled = is_drilled(before)
    new = [tag for tag in after.devices if tag not in before.devices]
    swapped = [
        f"{tag} ({at.part} to {job.devices[tag].part})"
        for tag, at in before.devices.items()
        if tag in after.devices and at.part not in ("", job.devices[tag].part)
    ]
    for words, tags in (
        ("devices new", new),
        ("devices gone", list(dropped.devices)),
        ("devices of another part", swapped),
    ):
        if tags or drilled:
            yield _line(words, tags)
    if any(hole.state is not HoleState.PLANNED for hole in before.holes.values()):
        yield from _pieces(before, after)
    marks = [tag for tag, hole in after.holes.items() if hole.is_idle_mark]
    if marks:
        yield _line("marks to wipe off", marks)
    if drilled:
        yield from _at_the_bench(before, dropped, after)
        outside = [tag for tag in outside_ducts(job, after) if tag not in before.devices]
        if outside:
            yield (
                f"new above or below all ducts: {', '.join(outside)}; the wires of the far side run "
                "past the device itself, as no duct lies there"
            )


def _pieces(before: Layout, after: Layout) -> Iterator[str]:
    """Yield rails and ducts that came or went; those that changed keep their name."""
    for words, old, new in (
        ("rails", set(before.rails), set(after.rails)),
        ("ducts", set(before.ducts), set(after.ducts)),
    ):
        for what, tags in (("new", new - old), ("gone", old - new)):
            if tags:
                yield _line(f"{words} {what}", tuple(tags))


def _at_the_bench(before: Layout, dropped: Layout, after: Layout) -> Iterator[str]:
    known = {**dropped.holes, **before.holes}
    fresh = [tag for tag in after.holes if tag not in known]
    left_over = [t for t, h in after.holes.items() if h.state is HoleState.DRILLED and not h.holds]
    unwanted = [tag for tag in known if tag not in after.holes]
    moved = [
        tag
        for tag, at in after.devices.items()
        if tag in before.devices and (at.x, at.y) != (before.devices[tag].x, before.devices[tag].y)
    ]
    yield _line("devices moved", moved)
    yield _line("new holes to drill", fresh)
    yield _line("holes no longer to drill", unwanted)
    yield _line("drilled holes left over, holding nothing", left_over)


def _line(words: str, tags: Sequence[str]) -> str:
    return f"{words}: {', '.join(sorted(tags, key=tag_order)) if tags else 'none'}"
