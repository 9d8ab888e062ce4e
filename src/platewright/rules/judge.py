"""The only place where a measured value meets a limit.

Exactly at the limit passes. A missed limit is a FAIL when its source can carry one, else a
CAUTION (``Source.can_fail``). Numbers that are not finite are a mistake of ours: refused.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from platewright.foundation.sources import Source, Standing
from platewright.foundation.units import MM_PER_INCH
from platewright.model.finding import Reading, Verdict
from platewright.model.geometry import Box
from platewright.model.heat import Banded
from platewright.model.job import DisplayUnit
from platewright.rules.wording import unit_of_words

TOLERANCE: Final = 1e-6  # relative above 1, absolute below: far finer than any shop can measure
MOST_DIGITS: Final = 7  # after the point; two numbers further apart than TOLERANCE differ there


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """One limit: value, unit, who sets it, and which limit it stands in for."""

    value: float
    source: Source
    unit: str = "mm"
    instead_of: str = ""

    @property
    def miss(self) -> Verdict:
        """What missing this limit is worth."""
        return _miss(self.source)


def job_limit(field: str, *, stated: float | None, own: Limit) -> Limit:
    """Return the job's limit where it states one (naming the rule's own), else the rule's own."""
    if stated is None:
        return own
    return Limit(
        value=stated,
        source=Source("job.toml", field, Standing.JOB),
        unit=own.unit,
        instead_of=f"{_told(own.value, own.unit)} by {own.source}",
    )


def at_most(
    subject: str,
    *,
    what: str,
    measured: float,
    limit: Limit,
    cure: str,
    place: Box | None = None,
) -> Reading:
    """Judge that ``measured`` does not exceed the limit."""
    _finite(what, measured, limit.value)
    passes = measured <= limit.value + _slack(limit.value)
    return _reading(subject, _Compared(what, measured, limit, "at most", passes), cure, place)


def at_least(
    subject: str,
    *,
    what: str,
    measured: float,
    limit: Limit,
    cure: str,
    place: Box | None = None,
) -> Reading:
    """Judge that ``measured`` does not fall short of the limit."""
    _finite(what, measured, limit.value)
    passes = measured >= limit.value - _slack(limit.value)
    return _reading(subject, _Compared(what, measured, limit, "at least", passes), cure, place)


def at_most_banded(
    subject: str,
    *,
    what: str,
    measured: Banded,
    limit: Limit,
    cure: str,
    place: Box | None = None,
) -> Reading:
    """Judge that an estimate does not exceed the limit; undecided where its band straddles it."""
    _finite(what, measured.value, measured.band, limit.value)
    slack = _slack(limit.value)
    passes = measured.high <= limit.value + slack
    misses = measured.low > limit.value + slack
    return _estimated(subject, (what, "at most", measured, limit), (passes, misses), cure, place)


def at_least_banded(
    subject: str,
    *,
    what: str,
    measured: float,
    limit: Limit,
    band: float,
    cure: str,
    place: Box | None = None,
) -> Reading:
    """Judge that a measure does not fall short of an estimated limit with a band."""
    _finite(what, measured, band, limit.value)
    slack = _slack(limit.value)
    passes = measured >= limit.value + band - slack
    misses = measured < limit.value - band - slack
    seen = (what, "at least", Banded(measured, band), limit)
    return _estimated(subject, seen, (passes, misses), cure, place)


def _estimated(
    subject: str,
    seen: tuple[str, str, Banded, Limit],
    outcome: tuple[bool, bool],
    cure: str,
    place: Box | None,
) -> Reading:
    what, word, measured, limit = seen
    passes, misses = outcome
    verdict = Verdict.PASS if passes else limit.miss if misses else Verdict.UNDECIDED
    factor, unit, digits = _shown(limit.unit)
    spread = f" ± {_number(measured.band * factor, digits)}"
    before, behind = (spread, "") if word == "at most" else ("", spread)
    value = _number(measured.value * factor, digits)
    bound = _number(limit.value * factor, digits)
    said = f"{what} {value}{before} {unit}, {word} {bound}{behind} {unit}"
    if verdict is Verdict.UNDECIDED:
        said += "; the estimate is not sharp enough to decide"
    return Reading(
        subject=subject,
        verdict=verdict,
        message=said,
        cure="" if passes else cure,
        measured=measured.value,
        limit=limit.value,
        unit=limit.unit,
        place=place,
        source=limit.source,
    )


def between(
    subject: str,
    *,
    what: str,
    measured: float,
    limits: tuple[Limit, Limit],
    cure: str,
    place: Box | None = None,
) -> Reading:
    """Judge that ``measured`` lies between two limits; the reading names the nearer one."""
    low, high = limits
    if low.value > high.value:
        raise ValueError(f"{what}: lower limit {low.value} lies above upper limit {high.value}")
    if measured - low.value < high.value - measured:
        return at_least(subject, what=what, measured=measured, limit=low, cure=cure, place=place)
    return at_most(subject, what=what, measured=measured, limit=high, cure=cure, place=place)


def holds(
    subject: str, *, message: str, place: Box | None = None, source: Source | None = None
) -> Reading:
    """State that a yes-or-no matter is as it should be."""
    return Reading(
        subject=subject, verdict=Verdict.PASS, message=message, place=place, source=source
    )


def breaks(
    subject: str, *, message: str, cure: str, source: Source, place: Box | None = None
) -> Reading:
    """State that a yes-or-no matter is not as it should be, by ``source``."""
    return Reading(
        subject=subject,
        verdict=_miss(source),
        message=message,
        cure=cure,
        place=place,
        source=source,
    )


def told_elsewhere(subject: str, *, message: str) -> Reading:
    """State that what was looked at is judged under another rule, which the message names."""
    return Reading(subject=subject, verdict=Verdict.NOT_APPLICABLE, message=message)


def undecided(
    subject: str, *, missing: str, cure: str, place: Box | None = None, source: Source | None = None
) -> Reading:
    """State that a datum is missing, so that nothing can be said. Never a pass."""
    return Reading(
        subject=subject,
        verdict=Verdict.UNDECIDED,
        message=missing,
        cure=cure,
        place=place,
        source=source,
    )


@dataclass(frozen=True, slots=True)
class _Compared:
    """A measured value beside its limit."""

    what: str
    measured: float
    limit: Limit
    word: str
    passes: bool


def _reading(subject: str, seen: _Compared, cure: str, place: Box | None) -> Reading:
    limit = seen.limit
    return Reading(
        subject=subject,
        verdict=Verdict.PASS if seen.passes else limit.miss,
        message=_sentence(seen),
        cure="" if seen.passes else cure,
        measured=seen.measured,
        limit=limit.value,
        unit=limit.unit,
        place=place,
        source=limit.source,
    )


def _sentence(seen: _Compared) -> str:
    factor, word, digits = _shown(seen.limit.unit)
    measured, limit = apart(
        seen.measured * factor, seen.limit.value * factor, are_equal=seen.passes, digits=digits
    )
    unit = f" {word}" if word else ""
    instead = f" (instead of {seen.limit.instead_of})" if seen.limit.instead_of else ""
    return f"{seen.what} {measured}{unit}, {seen.word} {limit}{unit}{instead}"


def _shown(unit: str) -> tuple[float, str, int]:
    """Return by what a number is multiplied to be told, the unit it has then, and its digits."""
    if unit == "mm" and unit_of_words() is DisplayUnit.INCH:
        return 1 / MM_PER_INCH, DisplayUnit.INCH.value, 2
    return 1.0, unit, 1


def _told(value: float, unit: str) -> str:
    factor, word, digits = _shown(unit)
    return f"{_number(value * factor, digits)} {word}"


def apart(
    measured: float, limit: float, *, are_equal: bool = False, digits: int = 1
) -> tuple[str, str]:
    """Return both numbers with as few digits as tell them apart, ``digits`` at least.

    Where the judgement found them equal within ``TOLERANCE``, two alike are right.
    """
    while True:
        pair = _number(measured, digits), _number(limit, digits)
        is_told = pair[0] != pair[1] or (are_equal and abs(measured - limit) <= _slack(limit))
        if is_told or measured == limit or digits >= MOST_DIGITS:
            return pair
        digits += 1


def _number(value: float, digits: int) -> str:
    text = f"{value:.{digits}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text in ("-0", "") else text


def _slack(limit: float) -> float:
    return TOLERANCE * max(1.0, abs(limit))


def _finite(what: str, *values: float) -> None:
    for value in values:
        if not math.isfinite(value):
            raise ValueError(f"{what}: {value} is not a finite number")


def _miss(source: Source) -> Verdict:
    return Verdict.FAIL if source.can_fail else Verdict.CAUTION
