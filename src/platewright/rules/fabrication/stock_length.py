"""Each piece is cut from one bar."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.foundation.units import Mm
from platewright.model.finding import Reading
from platewright.model.layout import Duct, Rail
from platewright.model.panel import Panel
from platewright.rules.judge import Limit, at_most, undecided
from platewright.rules.placed import rail_box
from platewright.rules.registry import rule
from platewright.rules.wording import mm

SOURCE: Final = Source("job.toml", "stock: length less end_trim", Standing.JOB)


@rule(
    id="fabrication.stock-length",
    title="Pieces fit the bars",
    why="A piece longer than the bar in the rack cannot be cut. It is told, not split: where a "
    "rail or duct may be joined is the builder's choice.",
    source=SOURCE,
)
def check_stock_length(panel: Panel) -> Iterator[Reading]:
    """Compare each rail and duct with the length of its bar."""
    stock = panel.job.settings.stock
    for tag, rail in sorted(panel.layout.rails.items()):
        yield _judge(
            panel, tag, rail, stock.rail.length if rail.profile == stock.rail.profile else None
        )
    for tag, duct in sorted(panel.layout.ducts.items()):
        yield _judge(panel, tag, duct, _bar_of(panel, duct))


def _bar_of(panel: Panel, duct: Duct) -> Mm | None:
    """Return the length of the bar by the duct's stock name, else by its size."""
    for kept in panel.job.settings.stock.ducts:
        is_size = (kept.width, kept.height) == (duct.width, duct.height)
        if duct.stock == kept.name or (not duct.stock and is_size):
            return kept.length
    return None


def _judge(panel: Panel, tag: str, piece: Rail | Duct, bar: Mm | None) -> Reading:
    is_rail = isinstance(piece, Rail)
    name = (
        f"rail {piece.profile}"
        if isinstance(piece, Rail)
        else f"duct {piece.stock or 'of this size'}"
    )
    place = rail_box(piece) if isinstance(piece, Rail) else piece.box
    if bar is None:
        return undecided(
            tag,
            missing=f"{tag}: no {name} is in stock, so its bar's length is not known",
            cure=f"List it under stock.{'rail' if is_rail else 'ducts'} in job.toml",
            place=place,
        )
    usable = bar - panel.job.settings.stock.end_trim
    return at_most(
        tag,
        what=f"{tag}, {name}: length",
        measured=piece.length,
        limit=Limit(value=usable, source=SOURCE),
        cure=f"Split it in two pieces, each with its own fixings, or shorten it by "
        f"{mm(piece.length - usable)}",
        place=place,
    )
