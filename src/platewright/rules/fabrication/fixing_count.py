"""Each piece of rail or duct is held at two places at least."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.model.finding import Reading
from platewright.model.panel import Panel
from platewright.rules.judge import Limit, at_least, undecided
from platewright.rules.pieces import fixed_pieces
from platewright.rules.registry import rule

SOURCE: Final = Source("geometry", "a piece on one screw turns about it", Standing.GEOMETRY)
FEWEST: Final = Limit(value=2.0, source=SOURCE, unit="")


@rule(
    id="fabrication.fixing-count",
    title="Rails and ducts are held twice",
    why="A piece on one screw turns about it, and one without any falls off.",
    source=SOURCE,
)
def check_fixing_count(panel: Panel) -> Iterator[Reading]:
    """Count the holes of each piece."""
    pieces = list(fixed_pieces(panel))
    if pieces and not panel.layout.holes:
        yield undecided(
            "", missing="the layout has no holes yet", cure="Run plan, or list holes in layout.toml"
        )
        return
    for piece in pieces:
        yield at_least(
            piece.tag,
            what=f"fixings of {piece.word}:",
            measured=len(set(piece.fixings)),
            limit=FEWEST,
            cure=f"Fix {piece.tag} at one place near each end, or join it to its neighbour as one "
            "piece",
            place=piece.box,
        )
