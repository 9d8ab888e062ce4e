"""Numbers the heat model takes where the job does not state them, with their ranges."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from platewright.foundation.sources import Source, Standing
from platewright.tables.reader import read_table, source_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Practice:
    """One row of ``heat_practice.csv``: a value and its range."""

    name: str
    value: float
    low: float
    high: float
    unit: str
    source: str
    standing: Standing


def heat_practice(name: str) -> Practice:
    """Return one of the numbers by its name; a name not in the table is a mistake of ours."""
    return _rows()[name]


def taken(name: str) -> float:
    """Return the value of one of the numbers."""
    return _rows()[name].value


def practice_source(name: str) -> Source:
    """Return where one of the numbers comes from."""
    return source_of(_rows()[name])


@cache
def _rows() -> dict[str, Practice]:
    return {row.name: row for row in read_table("heat_practice", Practice)}
