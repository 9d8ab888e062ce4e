"""A tapped hole holds enough threads in this plate."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.fabricate.threads import fewest_threads
from platewright.foundation.sources import Source
from platewright.foundation.tag_order import listed
from platewright.model.finding import Reading
from platewright.model.job import Practice
from platewright.model.layout import HoleKind
from platewright.model.panel import Panel
from platewright.rules.drilled import hole_box, holes_of
from platewright.rules.judge import Limit, at_least, undecided
from platewright.rules.registry import rule
from platewright.rules.wording import length_of
from platewright.tables.threads import thread, thread_names

SOURCE: Final = Source("UL 98", "6.7.2.5")
BORROWED: Final = Source(
    "UL 98", "6.7.2.5, taken from North America: the tables hold no IEC clause"
)


@rule(
    id="fabrication.thread-engagement",
    title="Tapped holes hold",
    why="In a thin plate a coarse thread has less than two full turns: it strips when tightened, "
    "and a stronger screw does not help. The limit was written for terminal plates; shops hold "
    "every plate screw to it.",
    source=SOURCE,
)
def check_thread_engagement(panel: Panel) -> Iterator[Reading]:
    """Count full threads as thickness over pitch, once for each thread used."""
    plate = panel.job.settings.plate
    fewest, source = fewest_threads(plate.material)
    if source == SOURCE and panel.job.settings.practice is Practice.IEC:
        source = BORROWED
    limit = Limit(value=fewest, source=source, unit="threads")
    tapped = [(tag, hole) for tag, hole in holes_of(panel) if hole.kind is HoleKind.TAPPED]
    for size in sorted({hole.size for _, hole in tapped}):
        using = [(tag, hole) for tag, hole in tapped if hole.size == size]
        used = f"{size} in {length_of(plate.thickness, 3)} {plate.material} ({listed([tag for tag, _ in using])})"
        place = hole_box(using[0][1])
        row = thread(size)
        if row is None:
            yield undecided(
                size,
                missing=f"{used}: the tables have no such thread",
                cure=f"Name one of {', '.join(thread_names())}",
                place=place,
                source=source,
            )
            continue
        yield at_least(
            size,
            what=f"{used}: holds",
            measured=plate.thickness / row.pitch,
            limit=limit,
            cure=f"Take a finer thread, a nut behind, a rivet nut, or a plate of at least "
            f"{length_of(fewest * row.pitch, 2)}",
            place=place,
        )
