"""Where the data of a part stand: the row of its list, for messages that ask to correct it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class PartRow:
    """The row of a part, and its numbers as they are written."""

    file: str
    row: int
    cells: Mapping[str, tuple[str, str]]  # field -> heading, cell

    def told(self, field: str) -> str:
        """Return file, row, heading and value of one field: ``parts.csv, row 3, width_mm = '9'``."""
        place = f"{self.file}, row {self.row}"
        if field not in self.cells:
            return place
        heading, cell = self.cells[field]
        return f"{place}, {heading} = {cell!r}"
