"""The list of all rules: found by walking the folders, run and stamped here."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass
from functools import cache
from typing import Final

import platewright.rules
from platewright.foundation.errors import nearest
from platewright.foundation.sources import Source
from platewright.foundation.tag_order import tag_order
from platewright.model.finding import Finding, Reading, RuleInfo, Verdict
from platewright.model.panel import Panel
from platewright.rules.drilled import told_what_is_drilled
from platewright.rules.wording import words_in

Check = Callable[[Panel], Iterator[Reading]]

SEVERITY: Final = {
    Verdict.FAIL: 0,
    Verdict.CAUTION: 1,
    Verdict.UNDECIDED: 2,
    Verdict.PASS: 3,
    Verdict.NOT_APPLICABLE: 4,
}


@dataclass(frozen=True, slots=True)
class Rule:
    """A check with what it is in words."""

    info: RuleInfo
    check: Check


_RULES: Final[dict[str, Rule]] = {}


def rule(
    *,
    id: str,  # noqa: A002
    title: str,
    why: str,
    source: Source,
    place: int = 1,
) -> Callable[[Check], Check]:
    """Register a check. ``id`` is family.file-name; ``place`` 0: a cause, told before the rest."""

    def register(check: Check) -> Check:
        if id in _RULES:
            raise ValueError(f"two rules are called {id}")
        info = RuleInfo(id=id, title=title, why=why, source=source, place=place)
        _RULES[id] = Rule(info, check)
        return check

    return register


@cache
def all_rules() -> tuple[Rule, ...]:
    """Return every rule, by id. Imports each file of each family once."""
    walk = pkgutil.walk_packages(platewright.rules.__path__, "platewright.rules.")
    for module in sorted(found.name for found in walk):
        importlib.import_module(module)
    return tuple(_RULES[name] for name in sorted(_RULES))


def rule_infos() -> tuple[RuleInfo, ...]:
    """Return what every rule is in words, by id."""
    return tuple(one.info for one in all_rules())


def run_rules(panel: Panel, only: Collection[str] | None = None) -> tuple[Finding, ...]:
    """Judge the panel by every rule, or by those named in ``only`` (ids or whole families).

    Sorted: worst verdict first, then by family, causes before consequences, by rule, by subject. A rule that finds nothing to look
    at says so. Raises ValueError for an unknown name.
    """
    with words_in(panel.job.settings.units):
        findings = [found for one in _chosen(only) for found in _stamped(one, panel)]
    return tuple(sorted(findings, key=_order))


def _chosen(only: Collection[str] | None) -> tuple[Rule, ...]:
    rules = all_rules()
    if only is None:
        return rules
    families = {_family(one.info.id) for one in rules}
    for name in only:
        if name not in families and name not in _RULES:
            raise ValueError(f"no rule {name!r}. {nearest(name, families | set(_RULES))}")
    return tuple(one for one in rules if one.info.id in only or _family(one.info.id) in only)


def _family(rule_id: str) -> str:
    return rule_id.partition(".")[0]


def _stamped(one: Rule, panel: Panel) -> Iterator[Finding]:
    is_bare = True
    for reading in one.check(panel):
        is_bare = False
        yield Finding(
            rule=one.info,
            subject=reading.subject,
            verdict=reading.verdict,
            message=reading.message,
            cure=told_what_is_drilled(panel.layout, reading.cure),
            measured=reading.measured,
            limit=reading.limit,
            unit=reading.unit,
            place=reading.place,
            source=reading.source or one.info.source,
        )
    if is_bare:
        yield Finding(
            rule=one.info,
            subject="",
            verdict=Verdict.NOT_APPLICABLE,
            message="nothing here to look at",
            cure="",
            measured=None,
            limit=None,
            unit="",
            place=None,
            source=one.info.source,
        )


def _order(
    found: Finding,
) -> tuple[int, tuple[str, int, str], tuple[tuple[int, int, str], ...], str]:
    order = SEVERITY[found.verdict], found.rule.order
    return *order, tag_order(found.subject), found.message
