"""What holds ducts and rails where the job does not say."""

from __future__ import annotations

from dataclasses import dataclass

from platewright.foundation.sources import Standing
from platewright.tables.reader import read_table


@dataclass(frozen=True, slots=True, kw_only=True)
class UsualFasteners:
    """One row of ``usual_fasteners.csv``: names of threads and of a blind rivet."""

    practice: str
    duct_screw: str
    rail_screw: str
    duct_rivet: str
    source: str
    standing: Standing


def usual_fasteners(practice: str) -> UsualFasteners:
    """Return what is usual where shops build to ``iec`` or ``north-america``."""
    rows = {row.practice: row for row in read_table("usual_fasteners", UsualFasteners)}
    return rows[practice]
