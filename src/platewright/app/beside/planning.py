"""Plan while the page looks on: rounds of growing length, the best plate so far kept.

Every round is a whole plan with its own seed, so what is shown is always a plate that the checks
have judged. Better: fewer FAIL findings, then fewer CAUTION, then less wire. Within a round the
search's own best plate is shown as it improves; it is not judged yet, and said to be so.
"""

from __future__ import annotations

import math
import threading
import time
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Any, Final, TypeVar

from platewright.app.beside.under_way import UnderWay
from platewright.app.editing.session import Snapshot
from platewright.app.plans.plan import Budget, plan
from platewright.app.plans.plan_or_explain import plan_or_explain
from platewright.app.plans.worth import Worth, worth_of
from platewright.app.report import counts, totals
from platewright.foundation.errors import CannotPlan, PlatewrightError
from platewright.model.job import Aims, Job
from platewright.model.layout import Duct, HoleState, Layout, Placement, Rail
from platewright.model.panel import Panel
from platewright.rules.registry import run_rules
from platewright.tables.presets import preset

ROUNDS: Final = (15_000, 60_000, 200_000, 400_000, 800_000)  # moves, one plan a round
SHOW_EVERY: Final = 0.25  # seconds between two plates shown while a search goes on
Thing = TypeVar("Thing", Placement, Duct, Rail)


class How(StrEnum):
    """What a plan may move."""

    REST = "rest"  # what stands stays; what waits in the tray finds a place
    POLISH = "polish"  # goes on from what stands; kept only if better
    ANEW = "anew"  # everything but what is locked or drilled


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """A plate, with what the checks say and what it amounts to."""

    layout: Layout
    counts: Mapping[str, int]
    totals: Mapping[str, Any]
    worth: Worth | None = None

    @property
    def rank(self) -> tuple[float, ...]:
        """Lower is better."""
        missing = self.totals["devices"] - self.totals["placed"]
        return (missing, self.counts["FAIL"], self.counts["CAUTION"], self.totals["wire_m"])


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """How far a plan is, and the best plate so far."""

    how: How
    share: float
    text: str
    before: Candidate
    best: Candidate | None
    ended: bool
    problem: str = ""
    cures: tuple[str, ...] = ()
    trying: Layout | None = None  # better than all before, of the search under way; not judged


def held_for(how: How, layout: Layout) -> Layout:
    """Return the layout as the search must see it: what stays is locked."""
    if how is not How.REST:
        return layout
    return replace(
        layout,
        devices=_locked(layout.devices),
        ducts=_locked(layout.ducts),
        rails=_locked(layout.rails),
    )


def with_own_locks(planned: Layout, before: Layout) -> Layout:
    """Return a planned layout with the locks as the user set them."""
    return replace(
        planned,
        devices=_as_before(planned.devices, before.devices),
        ducts=_as_before(planned.ducts, before.ducts),
        rails=_as_before(planned.rails, before.rails),
    )


def candidate_of(panel: Panel) -> Candidate:
    """Judge a plate and say what it is worth."""
    findings = run_rules(panel)
    return Candidate(
        layout=panel.layout, counts=counts(findings), totals=totals(panel), worth=worth_of(panel)
    )


def weighed_by(job: Job, name: str) -> Job:
    """Return the job with a preset's weights; what a wish is worth stays as the job says."""
    row = preset(name)
    if row is None:
        return job
    aims = Aims(**row.weights, wish=job.settings.aims.wish)
    return replace(job, settings=replace(job.settings, aims=aims))


def _locked(things: Mapping[str, Thing]) -> Mapping[str, Thing]:
    return {tag: replace(thing, locked=True) for tag, thing in things.items()}


def _as_before(things: Mapping[str, Thing], before: Mapping[str, Thing]) -> Mapping[str, Thing]:
    return {
        tag: replace(thing, locked=tag in before and before[tag].locked)
        for tag, thing in things.items()
    }


class Planning(UnderWay):
    """One plan under way. ``tell`` is called from the worker's thread."""

    def __init__(
        self, now: Snapshot, before: Candidate, *, how: How, seed: int,
        tell: Callable[[Progress], None], preset: str = "",
    ) -> None:  # fmt: skip
        super().__init__("plan")
        self.now = replace(now, job=weighed_by(now.job, preset))
        self.before, self.how, self.seed, self.tell = before, how, seed, tell
        self.best: Candidate | None = None
        self._least, self._shown = math.inf, 0.0
        self._trying: Layout | None = None
        self._look = threading.Lock()

    def _said(self, share: float, text: str, *, ended: bool = False, **more: Any) -> None:
        with self._look:
            trying, self._trying = self._trying, None
        self.tell(
            Progress(
                how=self.how, share=share, text=text, before=self.before, best=self.best,
                ended=ended, trying=None if ended else trying, **more,
            )
        )  # fmt: skip

    def _seen(self, layout: Layout, price: float) -> None:
        """Keep a plate under way for the next telling, if it is the best so far."""
        with self._look:
            if price >= self._least:
                return
            self._least = price
            now = time.monotonic()
            if now - self._shown >= SHOW_EVERY:
                self._trying, self._shown = layout, now

    def _work(self) -> None:
        try:
            for number, moves in enumerate(ROUNDS):
                if self._stop.is_set():
                    break
                self._round(number, moves)
        except CannotPlan as cannot:
            if self.best is None and not self._stop.is_set():
                self._said(1.0, "", ended=True, problem=cannot.problem, cures=cannot.cures)
                return
        except PlatewrightError as refused:
            self._said(1.0, "", ended=True, problem=str(refused))
            return
        except Exception as fault:  # noqa: BLE001  (the page must hear of it, whatever it is)
            self._said(1.0, "", ended=True, problem=f"the plan ended by a fault of ours: {fault!r}")
            return
        if self.best is None and not self._stop.is_set():
            self._said(1.0, "", ended=True, problem="no better plate was found")
        else:
            self._said(1.0, "stopped" if self._stop.is_set() else "done", ended=True)

    def _round(self, number: int, moves: int) -> None:
        total = sum(ROUNDS)
        start = sum(ROUNDS[:number]) / total

        def report(share: float, text: str) -> bool:
            self._said(start + share * moves / total, text)
            return not self._stop.is_set()

        job, layout = self.now.job, self.now.layout
        polish = self.how is How.POLISH
        begin = self.best.layout if polish and self.best else layout
        begin = replace(begin, holes=layout.holes)  # tags go by the plate that was there
        budget = Budget(moves=moves, polish=polish)
        search = plan if number else plan_or_explain
        found = search(
            job, held_for(self.how, begin), seed=self.seed + number, budget=budget,
            progress=report, seen=self._seen,
        )  # fmt: skip
        self._keep(with_own_locks(found.panel.layout, layout), found.panel)

    def _keep(self, layout: Layout, panel: Panel) -> None:
        made = candidate_of(replace(panel, layout=layout))
        known = self.best or (self.before if self.how is How.POLISH else None)
        if known is None or made.rank < known.rank:
            self.best = made


def differences(before: Layout, after: Layout) -> Iterator[tuple[str, str]]:
    """Yield what a plan would change, in words a builder uses: (what, how many)."""
    moved = sum(
        tag in after.devices and (after.devices[tag].x, after.devices[tag].y) != (at.x, at.y)
        for tag, at in before.devices.items()
    )
    yield "devices moved", str(moved)
    yield "devices placed", str(sum(tag not in before.devices for tag in after.devices))
    old = {(h.x, h.y, h.size) for h in before.holes.values()}
    new = {(h.x, h.y, h.size) for h in after.holes.values()}
    yield "holes new", str(len(new - old))
    sunk = [h for h in after.holes.values() if h.state is not HoleState.PLANNED]
    yield "holes left over", str(sum(not h.holds for h in sunk))
