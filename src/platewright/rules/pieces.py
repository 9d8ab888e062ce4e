"""Rails and ducts as pieces with the places where they are fixed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from platewright.fabricate.joints import meetings
from platewright.fabricate.stretches import stretches
from platewright.foundation.units import Mm
from platewright.model.geometry import Box
from platewright.model.layout import Hole, Run
from platewright.model.panel import Panel
from platewright.rules.placed import rail_box


@dataclass(frozen=True, slots=True)
class FixedPiece:
    """A piece of rail or duct: where it starts and ends along its run, and its fixings in order."""

    tag: str
    kind: str  # rail or duct, as the table of fixings calls it
    run: Run
    start: Mm
    end: Mm
    fixings: tuple[Mm, ...]
    box: Box
    part: str = ""  # which of several pieces

    @property
    def word(self) -> str:
        """How the piece is named in a sentence."""
        return f"{self.kind} {self.tag}" + (f", piece {self.part}" if self.part else "")


def fixed_pieces(panel: Panel) -> Iterator[FixedPiece]:
    """Yield every rail, then every duct, by tag; of a joined one each piece."""
    holding: dict[str, list[Hole]] = {}
    for hole in panel.layout.holes.values():
        holding.setdefault(hole.holds, []).append(hole)
    layout, met = panel.layout, meetings(panel.layout)
    boxes = [("rail", tag, rail.run, rail_box(rail)) for tag, rail in layout.rails.items()]
    boxes += [("duct", tag, duct.run, duct.box) for tag, duct in layout.ducts.items()]
    for kind, tag, run, box in sorted(boxes, key=lambda piece: (piece[0] != "rail", piece[1])):
        is_across = run is Run.ACROSS
        low = box.left if is_across else box.bottom
        places = sorted(hole.x if is_across else hole.y for hole in holding.get(tag, ()))
        for part in stretches(tag, panel.job, layout, met.get(tag)):
            start, end = low + part.start, low + part.end
            here = places if part.of == 1 else [at for at in places if start <= at <= end]
            yield FixedPiece(
                tag=tag,
                kind=kind,
                run=run,
                start=start,
                end=end,
                fixings=tuple(here),
                box=(
                    Box(start, box.bottom, end, box.top)
                    if is_across
                    else Box(box.left, start, box.right, end)
                ),
                part="" if part.of == 1 else f"{part.number} of {part.of}",
            )
