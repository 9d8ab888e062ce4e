"""Between two fixings a rail or duct bends no farther than it may."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import Final

from platewright.fabricate.beams import longest_span, sag
from platewright.fabricate.fastening import beam_of
from platewright.foundation.errors import nearest, or_else
from platewright.foundation.sources import Source, Standing
from platewright.foundation.units import Mm
from platewright.model.finding import Reading
from platewright.model.layout import Rail
from platewright.model.panel import Panel
from platewright.rules.judge import Limit, at_most, job_limit, undecided
from platewright.rules.pieces import FixedPiece, fixed_pieces
from platewright.rules.registry import rule
from platewright.rules.wording import length_of
from platewright.tables.beams import beam_practice
from platewright.tables.rails import rail_profile, rail_profiles
from platewright.tables.reader import source_of

HOLD: Final = "Hold it every {}, as is usual under heavy devices"
USUAL_SPAN: Final[Mm] = 200.0
SOURCE: Final = Source("table beam_practice", "sag between fixings", Standing.PRACTICE)


@rule(
    id="fabrication.fixing-sag",
    title="Rails and ducts stay straight",
    why="A rail that bends under the hand lets devices tilt and slip off; a duct that bends opens "
    "its cover. Each span is taken as a beam free to turn at its screws: a rail pulled off the "
    "plate, a duct pushed along it with as many wires as it may hold.",
    source=SOURCE,
)
def check_fixing_sag(panel: Panel) -> Iterator[Reading]:
    """Work out the sag of the widest span of each piece."""
    practice = beam_practice()
    stated = panel.job.settings.limits.fixing_sag
    own = Limit(value=practice.sag, source=source_of(practice))
    limit = job_limit("limits.fixing_sag", stated=stated, own=own)
    for piece in fixed_pieces(panel):
        if len(piece.fixings) > 1:
            yield _judge(panel, piece, limit)


def _judge(panel: Panel, piece: FixedPiece, limit: Limit) -> Reading:
    of = panel.layout.rails.get(piece.tag) or panel.layout.ducts[piece.tag]
    beam = beam_of(of, panel.job.settings.stock)
    span = max(end - start for start, end in pairwise(piece.fixings))
    if beam is None:
        name = of.profile if isinstance(of, Rail) else ""
        usual = HOLD.format(length_of(USUAL_SPAN, 0))
        return undecided(
            piece.tag,
            missing=f"{piece.word}: the section of profile {name} is not in the tables",
            cure=usual if rail_profile(name) else or_else(nearest(name, rail_profiles()), usual),
            place=piece.box,
        )
    return at_most(
        piece.tag,
        what=f"{piece.word}, {length_of(span, 0)} between fixings, bends under {beam.words} by",
        measured=sag(beam, span),
        limit=limit,
        cure=f"Set fixings at most {length_of(longest_span(beam, limit.value), 0)} apart",
        place=piece.box,
    )
