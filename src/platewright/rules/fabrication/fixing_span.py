"""Two neighbouring fixings of a piece lie near enough to carry what is between them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.rules.judge import Limit, at_most, job_limit
from platewright.rules.pieces import FixedPiece, fixed_pieces
from platewright.rules.placed import Placed, carries, placed_devices
from platewright.rules.registry import rule
from platewright.rules.wording import bare, length_of, tightest
from platewright.tables.fixings import FixingLimits, fixing_limits
from platewright.tables.reader import source_of

SOURCE: Final = Source("table fixings", "span between fixings", Standing.PRACTICE)


@rule(
    id="fabrication.fixing-span",
    title="Fixings are near enough",
    why="Between two fixings a rail bends under the weight and the hand, and a duct bulges. Where "
    "a heavy device hangs, the rail is held closer.",
    source=SOURCE,
)
def check_fixing_span(panel: Panel) -> Iterator[Reading]:
    """Measure between neighbouring fixings of each piece."""
    stated = panel.job.settings.limits.fixing_span
    for piece in fixed_pieces(panel):
        row = fixing_limits(piece.kind)
        heavy = _heavy(panel, piece, row)
        yield from tightest(
            _span(piece, row, stated, (start, end), heavy)
            for start, end in zip(piece.fixings, piece.fixings[1:], strict=False)
        )


def _heavy(panel: Panel, piece: FixedPiece, row: FixingLimits) -> tuple[Placed, ...]:
    """Return the devices on this rail that the table calls heavy."""
    rail = panel.layout.rails.get(piece.tag)
    if rail is None or row.heavy is None:
        return ()
    return tuple(
        one
        for one in placed_devices(panel)
        if (one.part.mass or 0.0) > row.heavy and carries(rail, one)
    )


def _span(
    piece: FixedPiece,
    row: FixingLimits,
    stated: float | None,
    ends: tuple[float, float],
    heavy: tuple[Placed, ...],
) -> Reading:
    start, end = ends
    above = next((one for one in heavy if one.body.left < end and one.body.right > start), None)
    span = row.span if above is None or row.heavy_span is None else row.heavy_span
    own = Limit(value=span, source=source_of(row))
    carried = "" if above is None else f" under {above.tag}"
    return at_most(
        piece.tag,
        what=f"{piece.word}{carried}, fixings at {bare(start)} and {length_of(end)} are apart",
        measured=end - start,
        limit=job_limit("limits.fixing_span", stated=stated, own=own),
        cure=f"Add a fixing between them, about at {length_of((start + end) / 2)}",
        place=piece.box,
    )
