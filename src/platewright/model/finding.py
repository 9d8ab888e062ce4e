"""A judged statement about the panel, and what leads up to it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from platewright.foundation.sources import Source
from platewright.model.geometry import Box


class Verdict(StrEnum):
    """The outcome of one judgement."""

    FAIL = "FAIL"  # breaks a limit that a published source, the job or plain geometry sets
    CAUTION = "CAUTION"  # short of shop practice, or of a limit known from memory only
    UNDECIDED = "UNDECIDED"  # a datum is missing
    PASS = "PASS"  # noqa: S105  (a verdict, not a secret)
    NOT_APPLICABLE = "NOT_APPLICABLE"  # the rule found nothing to look at


_OUTCOME: Final = {
    Verdict.FAIL: "Not kept",
    Verdict.CAUTION: "Not fully kept",
    Verdict.UNDECIDED: "Open",
}


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

    @property
    def headline(self) -> str:
        """The rule's title with what became of it, so that it can't be read as the opposite.

        A title says how things should be; alone above a finding it reads as if they were.
        """
        outcome, title = _OUTCOME.get(self.verdict), self.rule.title
        if outcome is None:
            return title
        is_word = title[:1].isupper() and not title[1:2].isupper()
        return f"{outcome}: {title[:1].lower() + title[1:] if is_word else title}"
