"""Rails and ducts as pieces with the places where they are fixed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from platewright.foundation.units import Mm
from platewright.model.geometry import Box
from platewright.model.layout import Hole, Run
from platewright.model.panel import Panel
from platewright.rules.placed import rail_box


@dataclass(frozen=True, slots=True)
class FixedPiece:
    """A rail or duct: where it starts and ends along its run, and its fixings in order."""

    tag: str
    kind: str  # rail or duct, as the table of fixings calls it
    run: Run
    start: Mm
    end: Mm
    fixings: tuple[Mm, ...]
    box: Box

    @property
    def word(self) -> str:
        """How the piece is named in a sentence."""
        return f"{self.kind} {self.tag}"


def fixed_pieces(panel: Panel) -> Iterator[FixedPiece]:
    """Yield every rail, then every duct, by tag."""
    holding: dict[str, list[Hole]] = {}
    for hole in panel.layout.holes.values():
        holding.setdefault(hole.holds, []).append(hole)
    boxes = [("rail", tag, rail.run, rail_box(rail)) for tag, rail in panel.layout.rails.items()]
    boxes += [("duct", tag, duct.run, duct.box) for tag, duct in panel.layout.ducts.items()]
    for kind, tag, run, box in sorted(boxes, key=lambda piece: (piece[0] != "rail", piece[1])):
        is_across = run is Run.ACROSS
        yield FixedPiece(
            tag=tag,
            kind=kind,
            run=run,
            start=box.left if is_across else box.bottom,
            end=box.right if is_across else box.top,
            fixings=tuple(sorted(hole.x if is_across else hole.y for hole in holding.get(tag, ()))),
            box=box,
        )
