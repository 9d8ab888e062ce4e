"""Find steps that do cure a finding: tried on the plate, judged by the checks, nothing made worse.

A cure is offered only when, with it, the finding is gone, no limit is broken that held before,
and fewer limits are broken in all (for a finding that breaks one). Nothing is written here.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Final, TypeAlias

from platewright.app.beside.cure_candidates import Steps, candidates
from platewright.app.editing.edit import EditError, apply_edit
from platewright.app.editing.edits import Edit, Move, PlaceHoles, Put, Restock, Stretch, Swap
from platewright.app.gather import panel_of
from platewright.foundation.tag_order import listed
from platewright.model.finding import Finding, Verdict
from platewright.model.job import Job
from platewright.model.layout import Layout
from platewright.model.panel import Panel
from platewright.rules.registry import run_rules

MOST_TRIALS, LEAST_TRIALS = 36, 8  # plates judged for one finding
WORK: Final = 2_400  # devices times plates judged, between the two
BAD: Final = (Verdict.FAIL, Verdict.CAUTION, Verdict.UNDECIDED)
HOLES: Final = "fabrication."
Key: TypeAlias = tuple[str, str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cure:
    """Steps that cure a finding, in words, and how many findings there are before and after."""

    steps: Steps
    words: str
    fails: tuple[int, int]
    cautions: tuple[int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Count:
    """The findings of a plate, in the form that two plates are compared by."""

    keys: frozenset[Key]
    failing: frozenset[tuple[str, str]]
    rules: Counter[str]
    fails: int
    cautions: int


def key_of(finding: Finding) -> Key:
    """Return what a finding is about, without its figures."""
    words = re.sub(r"(?<![\w-])-?\d+(?:\.\d+)?", "#", finding.message)
    return finding.rule.id, finding.subject, words


def _count(findings: Iterable[Finding]) -> _Count:
    # what the data do not say yet is no harm that a step does, though it comes to be asked
    bad = [f for f in findings if f.verdict in BAD and not f.rule.id.startswith("data.")]
    fails = [f for f in bad if f.verdict is Verdict.FAIL]
    return _Count(
        keys=frozenset(key_of(f) for f in bad),
        failing=frozenset((f.rule.id, f.subject) for f in fails),
        rules=Counter(f.rule.id for f in bad),
        fails=len(fails),
        cautions=sum(f.verdict is Verdict.CAUTION for f in bad),
    )


def search_cure(
    panel: Panel, findings: Iterable[Finding], finding: Finding,
    go_on: Callable[[], bool] = lambda: True,
) -> Cure | None:  # fmt: skip
    """Return the least that cures a finding; ``None``: nothing tried does.

    ``go_on`` is asked before every trial; where it says no, what was found so far comes back.
    """
    if finding.verdict not in BAD or finding.rule.id.startswith("data."):
        return None
    before = _count(findings)
    allowed = WORK // max(1, len(panel.layout.devices))
    allowed = max(LEAST_TRIALS, min(MOST_TRIALS, allowed))
    best: tuple[int, int, Cure] | None = None
    trials = 0
    for one in candidates(panel, finding):
        if trials >= allowed or not go_on():
            break
        tried = (
            (one.steps, (*one.steps, PlaceHoles()))
            if one.steps != (PlaceHoles(),)
            else (one.steps,)
        )
        for steps in tried:
            layout = _applied(panel.job, panel.layout, steps)
            if layout is None:
                break
            trials += 1
            after = _count(run_rules(panel_of(panel.job, layout)))
            if _is_cured(finding, before, after):
                cure = Cure(
                    steps=steps, words=words_of(steps), fails=(before.fails, after.fails),
                    cautions=(before.cautions, after.cautions),
                )  # fmt: skip
                if after.cautions <= before.cautions:
                    return cure
                rank = (after.fails, after.cautions)
                if best is None or rank < best[:2]:
                    best = (*rank, cure)
                break
            if not _is_only_holes(before, after):
                break
    return best[2] if best else None


def _is_cured(finding: Finding, before: _Count, after: _Count) -> bool:
    if key_of(finding) in after.keys or after.failing - before.failing:
        return False
    if after.rules[finding.rule.id] >= before.rules[finding.rule.id]:
        return False
    return after.fails < before.fails or (
        finding.verdict is not Verdict.FAIL and after.fails <= before.fails
    )


def _is_only_holes(before: _Count, after: _Count) -> bool:
    """Tell whether nothing but holes is wrong with a trial: planning them anew may do."""
    new = after.failing - before.failing
    return bool(new) and all(rule.startswith(HOLES) for rule, _ in new)


def _applied(job: Job, layout: Layout, steps: Steps) -> Layout | None:
    try:
        for step in steps:
            layout = apply_edit(job, layout, step).layout
    except EditError:
        return None
    return layout


def words_of(steps: Iterable[Edit]) -> str:
    """Return steps in a builder's words."""
    return ", then ".join(_words(step) for step in steps)


def _words(step: Edit) -> str:
    match step:
        case Move(tags=tags, dx=dx, dy=dy):
            way = ("right" if dx > 0 else "left") if dx else ("up" if dy > 0 else "down")
            return f"{listed(tags, 3)} {abs(dx or dy):g} mm {way}"
        case Swap(one=one, other=other):
            return f"swap {one} and {other}"
        case Put(tag=tag, x=x, y=y):
            return f"{tag} to {x:g}, {y:g}"
        case Restock(tag=tag, stock=stock):
            return f"make {tag} of {stock}"
        case Stretch(tag=tag, start=start, end=end):
            return f"cut {tag} to {end - start:g} mm, from {start:g} to {end:g}"
        case PlaceHoles():
            return "plan the holes anew"
    raise TypeError(step)
