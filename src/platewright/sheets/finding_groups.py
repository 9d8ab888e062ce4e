"""Findings worst first, alike ones in groups, each group in as few words as tell it all."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby
from typing import Final, TypeAlias

from platewright.drawing.numbers import fixed, short
from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import MM_PER_INCH
from platewright.model.finding import Finding, Verdict
from platewright.model.job import DisplayUnit
from platewright.sheets.registry import Findings

WORST_FIRST: Final = (
    Verdict.FAIL,
    Verdict.CAUTION,
    Verdict.UNDECIDED,
    Verdict.PASS,
    Verdict.NOT_APPLICABLE,
)
TOLD: Final = (Verdict.FAIL, Verdict.CAUTION, Verdict.UNDECIDED)
MOST_SAID: Final = 3  # different messages told in full with a group
MOST_TAGS: Final = 150  # told with a group; a row must not outgrow its page
HEAT: Final = "heat."  # rules whose lengths are estimates with a band
ESTIMATED: Final = ("°C", "K")  # known to a tenth at best: their bands are told in tenths
THE_REST: Final = "and alike, each with its figures in the findings list (findings.csv, .xlsx)"
Group: TypeAlias = tuple[Finding, ...]
Groups: TypeAlias = tuple[Group, ...]


def in_order(findings: Findings) -> tuple[Finding, ...]:
    """Return findings worst first, then by rule and subject."""
    return tuple(
        sorted(
            findings,
            key=lambda f: (
                WORST_FIRST.index(f.verdict),
                f.rule.order,
                tag_order(f.subject),
                f.message,
            ),
        )
    )


def numbered(findings: Findings) -> Groups:
    """Return what has to be told, worst first, in groups that share a number.

    What fails shares one only with what says the very same of another subject: 24 relays with one
    fault are one row. What is short of good practice or open shares one by rule.
    """
    groups: dict[tuple[object, ...], list[Finding]] = {}
    for finding in in_order(findings):
        if finding.verdict in TOLD:
            key: tuple[object, ...] = (finding.verdict, finding.rule.id)
            if finding.verdict is Verdict.FAIL:
                key += (said(finding), finding.cure, str(finding.source), finding.measured,
                        finding.limit, finding.unit)  # fmt: skip
            groups.setdefault(key, []).append(finding)
    return tuple(tuple(group) for group in groups.values())


def said(finding: Finding) -> str:
    """Return the message without the subject in front of it."""
    return finding.message.removeprefix(f"{finding.subject}: ")


def group_words(group: Group) -> Iterator[str]:
    """Yield what a group says, line by line: what became of the rule, whom, cure, source."""
    first = group[0]
    if len(group) == 1:
        yield f"{first.headline}: {said(first)}"
    else:
        yield f"{first.headline}."
        by_words: dict[str, list[str]] = {}
        for finding in group:
            by_words.setdefault(said(finding), []).append(finding.subject)
        told = list(by_words.items())
        for words, tags in told[:MOST_SAID]:
            names = tags_words(tags)
            yield words if words.startswith(names) else f"{names}: {words}"
        rest = [tag for _, tags in told[MOST_SAID:] for tag in tags]
        if rest:
            yield f"{THE_REST}: {tags_words(dict.fromkeys(rest))}"
    for head, found in (
        ("Cure", [finding.cure for finding in group if finding.cure]),
        ("By", [str(finding.source) for finding in group]),
    ):
        different = tuple(dict.fromkeys(found))
        if different:
            more = f" (and {len(different) - 1} like it)" if len(different) > 1 else ""
            yield f"{head}: {different[0]}{more}"


def tags_words(tags: Iterable[str]) -> str:
    """Return tags in reading order, runs of three and more by their ends: -K1 to -K9."""
    ordered = sorted(tags, key=tag_order)
    words: list[str] = []
    for _, run in groupby(enumerate(ordered), key=_run_of):
        names = [name for _, name in run]
        words += [f"{names[0]} to {names[-1]}"] if len(names) >= 3 else names
    if len(words) > MOST_TAGS:
        words = [*words[:MOST_TAGS], f"and {len(words) - MOST_TAGS} more"]
    return ", ".join(words)


def _run_of(item: tuple[int, str]) -> tuple[str, int]:
    """Return what tags of one run share: what stands before the number, and number less place."""
    place, tag = item
    found = re.fullmatch(r"(.*?[^0-9])([1-9][0-9]*)", tag)
    return (found[1], int(found[2]) - place) if found else (tag, -place)


def measured_words(group: Sequence[Finding], unit: DisplayUnit) -> tuple[str, str]:
    """Return what was measured and its limit; from least to greatest where a group differs.

    Lengths are told in the job's unit, as the words beside them.
    """
    is_estimate = all(finding.rule.id.startswith(HEAT) for finding in group)
    is_inch = unit is DisplayUnit.INCH and all(finding.unit == "mm" for finding in group)
    decimals = 3 if not is_estimate else 2 if is_inch else 1
    return (
        _span([in_job_unit(f.measured, f.unit, unit) for f in group], decimals),
        _span([in_job_unit(f.limit, f.unit, unit) for f in group], decimals),
    )


def in_job_unit(value: float | None, unit: str, shown: DisplayUnit) -> tuple[float | None, str]:
    """Return a finding's value, and the unit it has then: lengths in that of the job."""
    if unit != "mm" or shown is not DisplayUnit.INCH:
        return value, unit
    return None if value is None else round(value / MM_PER_INCH, 4), shown.value


def _span(values: list[tuple[float | None, str]], decimals: int) -> str:
    known = [(value, unit) for value, unit in values if value is not None]
    if not known:
        return "–"
    if len({unit for _, unit in known}) > 1:
        return "see list"
    low, high = (_number(*pick, decimals) for pick in (min(known), max(known)))
    unit = known[0][1]
    return f"{low} {unit}".strip() if low == high else f"{low} to\n{high} {unit}".strip()


def _number(value: float, unit: str, decimals: int) -> str:
    return fixed(value, 1) if unit in ESTIMATED else short(value, decimals)
