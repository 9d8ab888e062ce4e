"""What is cut from bars, as the fabrication stage hands it on."""

from __future__ import annotations

from dataclasses import dataclass

from platewright.foundation.units import Mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One length to cut."""

    tag: str  # the rail or duct it becomes; covers carry the duct's tag
    stock: str  # name of the bar it is cut from, e.g. "duct 40x60", "cover 40x60", "rail TH35-7.5"
    length: Mm
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """One bar and the pieces cut from it, in order."""

    stock: str
    length: Mm
    pieces: tuple[Piece, ...]
    rest: Mm  # what is left after the last cut


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPlan:
    """Bars for every stock; ``proven`` tells which stocks are proven to need no fewer bars."""

    bars: tuple[Bar, ...]
    bounds: tuple[tuple[str, int, int], ...]  # (stock, bars used, lower bound on bars)
    too_long: tuple[Piece, ...] = ()  # pieces longer than the bar

    @property
    def is_proven(self) -> bool:
        """Whether no stock could do with fewer bars."""
        return all(used == bound for _, used, bound in self.bounds) and not self.too_long
