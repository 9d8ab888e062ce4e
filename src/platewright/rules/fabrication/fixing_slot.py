"""Rails and ducts are held in the slots they come with."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from platewright.fabricate.holding import holding_duct, holding_rail
from platewright.fabricate.slots import ON_THE_SPOT, Slots, slots_of
from platewright.foundation.sources import Source, Standing
from platewright.foundation.units import Mm
from platewright.model.finding import Reading
from platewright.model.layout import Rail
from platewright.model.panel import Panel
from platewright.rules.judge import Limit, at_most
from platewright.rules.pieces import FixedPiece, fixed_pieces
from platewright.rules.registry import rule
from platewright.rules.wording import enough, length_of
from platewright.tables.beams import beam_practice

WIDTH_SOURCE: Final = Source("rails", "usual slot 6.2 mm wide", Standing.PRACTICE)
SOURCE: Final = Source("job.toml", "slots under [stock], pieces as the cut list", Standing.PRACTICE)


@rule(
    id="fabrication.fixing-slot",
    title="Pieces are held in their own slots",
    why="A screw beside the slot finds no hole in the rail or in the base of the duct: the piece "
    "must be drilled. Measured along the piece, cut so that its first slot lies where the cut list "
    "says; a screw may stand off a slot's middle by half of what the slot is longer than the screw.",
    source=SOURCE,
)
def check_fixing_slot(panel: Panel) -> Iterator[Reading]:
    """Measure from each fixing of each piece with slots to the nearest slot; tell the farthest.

    A rail's screw is held against the usual width of a slot where the stock states none: a stated
    one is refused with the job's file.
    """
    pieces = [piece for piece in fixed_pieces(panel) if piece.fixings]
    is_stated = panel.job.settings.stock.rail.slot_width is not None
    if not is_stated and any(piece.tag in panel.layout.rails for piece in pieces):
        yield _passes_slot(panel)
    for piece in pieces:
        of = panel.layout.rails.get(piece.tag) or panel.layout.ducts[piece.tag]
        slots = slots_of(of, panel.job.settings.stock)
        if slots is not None:
            held = (holding_rail if isinstance(of, Rail) else holding_duct)(panel.job)
            yield _judge(piece, slots, play=slots.play(held.shank))
            if not piece.part.startswith(("2", "3", "4")):  # a joined one is told once
                yield _judge_across(panel, piece, slots, held.shank)


def _passes_slot(panel: Panel) -> Reading:
    held, rail = holding_rail(panel.job), panel.job.settings.stock.rail
    return at_most(
        rail.profile,
        what=f"screw {held.size} in the rail's slots (width not stated, taken as usual), its diameter",
        measured=held.shank,
        limit=Limit(value=beam_practice().slot_width, source=WIDTH_SOURCE),
        cure="Measure a slot and state slot_width_mm of the rail in job.toml, or name a thinner "
        "rail_screw",
    )


def _judge_across(panel: Panel, piece: FixedPiece, slots: Slots, shank: Mm) -> Reading:
    """Measure how far a fixing lies beside the line of slots."""
    wide = slots.width or beam_practice().slot_width
    middle = piece.box.centre
    off = {
        tag: min(
            abs((h.y - middle.y if piece.run == "across" else h.x - middle.x) - line)
            for line in slots.lines
        )
        for tag, h in panel.layout.holes.items()
        if h.holds == piece.tag
    }
    worst = max(off, key=lambda tag: (off[tag], tag))
    taken = "" if slots.width else ", width of the slot taken as usual"
    return at_most(
        piece.tag,
        what=f"{piece.kind} {piece.tag}, hole {worst} lies beside the line of slots{taken}, by",
        measured=off[worst],
        limit=Limit(value=max(0.0, (wide - shank) / 2) + ON_THE_SPOT, source=SOURCE),
        cure=f"File the slot there, or move {piece.tag} so that all its holes lie in slots",
        place=piece.box,
    )


def _judge(piece: FixedPiece, slots: Slots, *, play: Mm) -> Reading:
    off = {at: slots.off_centre(at - piece.start) for at in piece.fixings}
    worst = max(off, key=lambda at: (abs(off[at]), at))
    missed = sum(abs(by) > play for by in off.values())
    upright = ("down", "up") if piece.run == "upright" else ("left", "right")
    way = upright[0] if off[worst] > 0 else upright[1]
    more = f" ({missed} of {len(off)} lie beside)" if missed > 1 else ""
    return at_most(
        piece.tag,
        what=f"{piece.word}{more}, fixing at {length_of(worst)} lies off the middle of a slot by",
        measured=abs(off[worst]),
        limit=Limit(value=play, source=SOURCE),
        cure=f"Move it {enough(abs(off[worst]))} {way}, or drill {piece.tag} there",
        place=piece.box,
    )
