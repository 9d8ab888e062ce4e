"""Where a number comes from, and how far that carries."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Final


class Standing(StrEnum):
    """How much a limit's source can carry. Only the first three can make a finding FAIL."""

    GEOMETRY = "geometry"  # two things cannot be in one place
    JOB = "job"  # stated by the job or by a device's own data
    PUBLISHED = "published"  # seen in a published text of the standard or handbook
    MEMORY = "memory"  # from memory of a standard: open it before relying on it
    PRACTICE = "practice"  # common shop practice, no source


@dataclass(frozen=True, slots=True)
class Source:
    """A document and the place in it."""

    document: str
    clause: str = ""
    standing: Standing = Standing.PUBLISHED

    @property
    def can_fail(self) -> bool:
        """Whether missing a limit of this source is a FAIL (else a CAUTION)."""
        return self.standing in (Standing.GEOMETRY, Standing.JOB, Standing.PUBLISHED)

    def __str__(self) -> str:
        place = f"{self.document} {self.clause}".strip()
        marks = {Standing.MEMORY: " (from memory)", Standing.PRACTICE: " (shop practice)"}
        return place + marks.get(self.standing, "")


GEOMETRY: Final = Source("geometry", "two things cannot be in one place", Standing.GEOMETRY)
