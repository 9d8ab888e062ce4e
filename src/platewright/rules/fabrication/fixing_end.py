"""The first and last fixing of a piece lie near its ends."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.rules.judge import Limit, at_most, job_limit
from platewright.rules.pieces import FixedPiece, fixed_pieces
from platewright.rules.registry import rule
from platewright.rules.wording import enough
from platewright.tables.fixings import fixing_limits
from platewright.tables.reader import source_of

SOURCE: Final = Source("table fixings", "first fixing from the end", Standing.PRACTICE)


@rule(
    id="fabrication.fixing-end",
    title="Ends are held",
    why="The end of a rail that stands free dips under the hand that snaps a device on; the end of "
    "a duct opens when its cover is pulled.",
    source=SOURCE,
)
def check_fixing_end(panel: Panel) -> Iterator[Reading]:
    """Measure from each end of each piece to the nearest fixing."""
    stated = panel.job.settings.limits.fixing_end
    for piece in fixed_pieces(panel):
        if piece.fixings:
            row = fixing_limits(piece.kind)
            own = Limit(value=row.end, source=source_of(row))
            yield _judge(piece, job_limit("limits.fixing_end", stated=stated, own=own))


def _judge(piece: FixedPiece, limit: Limit) -> Reading:
    low, high = piece.fixings[0] - piece.start, piece.end - piece.fixings[-1]
    ends = ("left", "right") if piece.run == "across" else ("lower", "upper")
    distance, end = max((low, ends[0]), (high, ends[1]))
    return at_most(
        piece.tag,
        what=f"{piece.word}, from its {end} end to the nearest fixing",
        measured=distance,
        limit=limit,
        cure=f"Move that fixing {enough(distance - limit.value)} towards the {end} end, or add one",
        place=piece.box,
    )
