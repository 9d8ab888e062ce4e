"""Sizes of paper and scales of drawings."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from platewright.foundation.units import MM_PER_INCH, Mm


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper as it lies: width across, height upright."""

    name: str
    width: Mm
    height: Mm

    @property
    def turned(self) -> Paper:
        """The same sheet turned by a quarter."""
        return Paper(self.name, self.height, self.width)


# ISO 216 trimmed sizes; ANSI/ASME Y14.1 sizes, lying
A4: Final = Paper("A4", 297.0, 210.0)
A3: Final = Paper("A3", 420.0, 297.0)
A2: Final = Paper("A2", 594.0, 420.0)
A1: Final = Paper("A1", 841.0, 594.0)
A0: Final = Paper("A0", 1189.0, 841.0)
LETTER: Final = Paper("Letter", 11.0 * MM_PER_INCH, 8.5 * MM_PER_INCH)
TABLOID: Final = Paper("Tabloid", 17.0 * MM_PER_INCH, 11.0 * MM_PER_INCH)
ANSI_C: Final = Paper("ANSI C", 22.0 * MM_PER_INCH, 17.0 * MM_PER_INCH)
ANSI_D: Final = Paper("ANSI D", 34.0 * MM_PER_INCH, 22.0 * MM_PER_INCH)
ANSI_E: Final = Paper("ANSI E", 44.0 * MM_PER_INCH, 34.0 * MM_PER_INCH)

METRIC: Final = (A3, A2, A1, A0)
INCH: Final = (TABLOID, ANSI_C, ANSI_D, ANSI_E)

READABLE: Final = 5  # 1:5; below it a 12 mm device can no longer hold its lettering
SCALES: Final = (1, 2, 5, 10, 20, 50)  # 1:n, ISO 5455 table 1, reductions


def trials(papers: tuple[Paper, ...]) -> Iterator[tuple[Paper, int]]:
    """Yield paper and scale in order of liking: small paper first while it stays readable."""
    for paper in papers:
        for scale in SCALES:
            if scale <= READABLE and (paper is papers[0] or scale == READABLE):
                yield paper, scale
    for scale in SCALES:
        if scale > READABLE:
            for paper in papers:
                yield paper, scale
