"""Each piece is cut from one bar."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from platewright.fabricate.joints import end_names, meetings
from platewright.fabricate.slots import usable_bar
from platewright.fabricate.stretches import Stretch, stretches
from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.layout import Rail
from platewright.model.panel import Panel
from platewright.rules.judge import Limit, at_most, undecided
from platewright.rules.placed import rail_box
from platewright.rules.registry import rule
from platewright.rules.wording import bare, enough, unit_of_words

SOURCE: Final = Source("job.toml", "stock: length less end_trim, whole slots", Standing.JOB)


@rule(
    id="fabrication.stock-length",
    title="Pieces fit the bars",
    why="A piece longer than the bar in the rack cannot be cut. A rail or duct that is longer is "
    "joined from several pieces, each held by itself; the joints are told.",
    source=SOURCE,
)
def check_stock_length(panel: Panel) -> Iterator[Reading]:
    """Compare the longest piece of each rail and duct with the length of its bar."""
    layout, met = panel.layout, meetings(panel.layout)
    for tag in [*sorted(layout.rails), *sorted(layout.ducts)]:
        yield _judge(panel, tag, stretches(tag, panel.job, layout, met.get(tag)))


def _judge(panel: Panel, tag: str, parts: Sequence[Stretch]) -> Reading:
    stock = panel.job.settings.stock
    piece = panel.layout.rails.get(tag) or panel.layout.ducts[tag]
    is_rail = isinstance(piece, Rail)
    name = (
        f"rail {piece.profile}"
        if isinstance(piece, Rail)
        else f"duct {piece.stock or 'of this size'}"
    )
    place = rail_box(piece) if isinstance(piece, Rail) else piece.box
    usable = usable_bar(piece, stock)
    if usable is None:
        return undecided(
            tag,
            missing=f"{tag}: no {name} is in stock, so its bar's length is not known",
            cure=f"List it under stock.{'rail' if is_rail else 'ducts'} in job.toml",
            place=place,
        )
    longest = max(part.length for part in parts)
    low, _ = end_names(piece.run)
    joints = ", ".join(bare(part.end, None) for part in parts[:-1])
    told = (
        f", {len(parts)} pieces joined {joints} {unit_of_words().value} from its {low} end: longest"
        if joints
        else ":"
    )
    return at_most(
        tag,
        what=f"{tag}, {name}{told} length",
        measured=longest,
        limit=Limit(value=usable, source=SOURCE),
        cure=f"Shorten it by {enough(longest - usable)}, or take longer bars",
        place=place,
    )
