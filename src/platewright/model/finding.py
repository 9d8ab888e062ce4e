"""A judged statement about the panel, and what leads up to it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from platewright.foundation.sources import Source
from platewright.model.geometry import Box


class Verdict(StrEnum):
    """The outcome of one judgement."""

    FAIL = "FAIL"  # breaks a limit that a published source, the job or plain geometry sets
    CAUTION = "CAUTION"  # short of shop practice, or of a limit known from memory only
    UNDECIDED = "UNDECIDED"  # a datum is missing
    PASS = "PASS"  # noqa: S105  (a verdict, not a secret)
    NOT_APPLICABLE = "NOT_APPLICABLE"  # the rule found nothing to look at


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleInfo:
    """What a rule is, in words."""

    id: str
    title: str
    why: str
    source: Source
    place: int = 1  # 0: a cause, told before the other findings of its family

    @property
    def order(self) -> tuple[str, int, str]:
        """Where its findings stand among others of one verdict."""
        return self.id.partition(".")[0], self.place, self.id


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """What a check measured. Made only by ``rules.judge``."""

    subject: str
    verdict: Verdict
    message: str
    cure: str = ""
    measured: float | None = None
    limit: float | None = None
    unit: str = ""
    place: Box | None = None
    source: Source | None = None  # where it differs from the rule's own


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """A reading stamped with its rule."""

    rule: RuleInfo
    subject: str
    verdict: Verdict
    message: str
    cure: str
    measured: float | None
    limit: float | None
    unit: str
    place: Box | None
    source: Source
