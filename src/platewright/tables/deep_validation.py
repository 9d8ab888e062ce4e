"""What the flow solver of the deep check gave for cases whose answer is published or measured."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from platewright.foundation.sources import Standing
from platewright.tables.reader import read_table


@dataclass(frozen=True, slots=True, kw_only=True)
class ValidationRow:
    """One row of ``deep_validation.csv``."""

    check: str
    cells: str
    found: float
    expected: float
    unit: str
    allowed: str  # error that was set as the aim beforehand
    source: str
    standing: Standing

    @property
    def error(self) -> str:
        """The error in words: in percent for pure numbers, in kelvin for temperatures."""
        off = self.found - self.expected
        return f"{100 * off / self.expected:+.2f} %" if self.unit == "Nu" else f"{off:+.2f} K"


@cache
def validation() -> tuple[ValidationRow, ...]:
    """Return every case."""
    return read_table("deep_validation", ValidationRow)
