"""What is cut from bars, as the fabrication stage hands it on."""

from __future__ import annotations

import math
from dataclasses import dataclass

from platewright.foundation.units import Mm
from platewright.model.offcut import Offcut


@dataclass(frozen=True, slots=True, kw_only=True)
class Notch:
    """An opening in a duct's side wall: fingers taken off down to the base, where wires pass."""

    wall: str  # upper, lower, left or right
    start: Mm  # from the left or lower end
    end: Mm
    branch: str  # the duct that meets there


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One length to cut."""

    tag: str  # the rail or duct it becomes; covers carry the duct's tag
    stock: str  # name of the bar it is cut from, e.g. "duct 40x60", "cover 40x60", "rail TH35-7.5"
    length: Mm
    note: str = ""
    part: str = ""  # which of several pieces, e.g. "1 of 2"; blank: the only one
    ends: tuple[str, str] = ("square", "square")  # left or lower end, right or upper end
    notches: tuple[Notch, ...] = ()  # measured on this piece
    step: Mm = 0.0  # its left end lies on a multiple of this from the bar's end: between slots

    @property
    def mark(self) -> str:
        """What is written on the piece."""
        return f"{self.tag} ({self.part})" if self.part else self.tag


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """One bar and the pieces cut from it, in order."""

    stock: str
    length: Mm
    pieces: tuple[Piece, ...]
    rest: Mm  # what is left after the last cut; at least, where ``lost`` is not known
    trim: Mm = 0.0  # taken off its first end, the saw's cut included
    kerf: Mm = 0.0  # width of each cut
    lost: Mm = 0.0  # at most: cut off an off-cut's end so that its first piece begins at a slot
    offcut: str = ""  # label of the off-cut it is; blank: a new bar
    rest_label: str = ""  # what to write on what is left, where that is worth keeping

    @property
    def starts(self) -> tuple[Mm, ...]:
        """Where each piece begins, from the bar's first end; strips between pieces are waste.

        An off-cut's count from the cut to its first slot.
        """
        places: list[Mm] = []
        x = self.trim
        for piece in self.pieces:
            if piece.step:
                x = math.ceil(x / piece.step - 1e-6) * piece.step
            places.append(x)
            x += piece.length + self.kerf
        return tuple(places)


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPlan:
    """New bars and off-cuts for every stock, and how few new bars would do at least."""

    bars: tuple[Bar, ...]
    bounds: tuple[tuple[str, int, int], ...]  # (stock, new bars used, lower bound on them)
    too_long: tuple[Piece, ...] = ()  # pieces longer than the bar
    unused: tuple[Offcut, ...] = ()  # off-cuts that stay in store

    @property
    def new_bars(self) -> tuple[Bar, ...]:
        """Bars that are not off-cuts from the store."""
        return tuple(bar for bar in self.bars if not bar.offcut)

    @property
    def is_proven(self) -> bool:
        """Whether no stock could do with fewer bars."""
        return all(used == bound for _, used, bound in self.bounds) and not self.too_long

    @property
    def store_after(self) -> tuple[Offcut, ...]:
        """The store once all is cut: off-cuts not used, then what is left and worth keeping."""
        left = (
            Offcut(label=bar.rest_label, stock=bar.stock, length=bar.rest)
            for bar in self.bars
            if bar.rest_label
        )
        return (*self.unused, *left)
