"""The slots that rails and ducts come with: where they lie on a cut piece, what a screw finds there.

Every piece is cut alike: its first slot lies as far from its left or lower end as a new bar's
first slot from the bar's end, so that the fixing holes can be drilled before anything is cut.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import count, takewhile
from math import ceil
from typing import Final

from platewright.fabricate.stock_names import bar_of, stock_of
from platewright.foundation.units import Mm
from platewright.model.job import Stock
from platewright.model.layout import Duct, Rail

ON_THE_SPOT: Final[Mm] = 0.25  # a hole this near to where one is wanted lies there
FOOT_OFF: Final[Mm] = 0.5  # what a hand-marked hole may be off and the screw still goes in
OWN_OFF: Final[Mm] = 1.5  # a hole drilled for it still holds it: foot or slot is filed that far
HAIR: Final[Mm] = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Slots:
    """The slots of a piece. ``length`` ``None``: not stated, a screw sits in the middle then.

    ``width`` ``None``: not stated.
    """

    pitch: Mm
    first: Mm  # centre of the first slot, from the left or lower end of the piece
    length: Mm | None
    lines: tuple[Mm, ...]  # of slots, across the axis
    width: Mm | None = None

    def places(self, piece: Mm, *, margin: Mm) -> tuple[Mm, ...]:
        """Return the centres along a piece of this length, none nearer to an end than the margin."""
        centres = (self.first + n * self.pitch for n in count())
        on_it = takewhile(lambda at: at <= piece - margin + HAIR, centres)
        return tuple(at for at in on_it if at >= margin - HAIR)

    def play(self, screw: Mm) -> Mm:
        """Return how far a screw of this diameter may stand from a slot's middle, along it."""
        return ON_THE_SPOT + max(0.0, ((self.length or 0.0) - screw) / 2)

    def off_centre(self, at: Mm) -> Mm:
        """Return how far a place lies from the nearest slot's centre: above 0, beyond it."""
        return at - (self.first + max(0, round((at - self.first) / self.pitch)) * self.pitch)

    def missed(self, places: Sequence[Mm], *, screw: Mm) -> list[Mm]:
        """Return those of some places along a piece at which a screw finds no slot."""
        play = self.play(screw)
        return [at for at in places if abs(self.off_centre(at)) > play + HAIR]


def slots_of(piece: Rail | Duct, stock: Stock) -> Slots | None:
    """Return the slots of a rail or duct; ``None``: a duct whose slots are not stated.

    A rail's are taken as in the rack's rail where it is of another profile.
    """
    if isinstance(piece, Rail):
        rail = stock.rail
        return Slots(
            pitch=rail.slot_pitch,
            first=rail.slot_pitch / 2 if rail.first_slot is None else rail.first_slot,
            length=rail.slot_length,
            lines=(0.0,),
            width=rail.slot_width,
        )
    kept = stock_of(piece, stock)
    if kept is None or kept.slot_pitch is None:
        return None
    apart = kept.slot_lines
    return Slots(
        pitch=kept.slot_pitch,
        first=kept.slot_pitch / 2 if kept.first_slot is None else kept.first_slot,
        length=kept.slot_length,
        lines=(0.0,) if apart is None else (-apart / 2, apart / 2),
        width=kept.slot_width,
    )


def usable_bar(piece: Rail | Duct, stock: Stock) -> Mm | None:
    """Return how long a piece a bar gives, its trim and first slot kept; ``None``: no bar is kept."""
    bar, slots = bar_of(piece, stock), slots_of(piece, stock)
    if bar is None:
        return None
    return bar - first_cut(stock.end_trim, 0.0 if slots is None else slots.pitch)


def first_cut(trim: Mm, step: Mm) -> Mm:
    """Return where the first piece begins on a bar: at the trim, or at the next whole step."""
    return ceil(trim / step - HAIR) * step if step else trim
