"""What one running server holds: the session, its checks, a plan under way, the pages that look on.

Worker threads tell their news here; the event loop passes them on to every page.
"""

from __future__ import annotations

import asyncio
import logging
from pathlib import Path
from typing import Final

from platewright.app.beside.comparing import Compared, Comparing
from platewright.app.beside.cure_search import Cure, search_cure
from platewright.app.beside.planning import Candidate, How, Planning, Progress, candidate_of
from platewright.app.editing.session import Session
from platewright.app.live.checked import Checked, Checker
from platewright.web.wire_format import (
    TOLD,
    Json,
    checked_record,
    compared_record,
    job_record,
    progress_record,
    state_record,
)

LOOK_EVERY: Final = 1.0  # seconds between looks for changes from outside
LOG: Final = logging.getLogger("platewright")


class Desk:
    """One job on the bench."""

    def __init__(self, folder: Path) -> None:
        self.session = Session(folder)
        self.checker = Checker(self.session, self._told_check)
        self.plan: Planning | None = None
        self.progress: Progress | None = None
        self.comparison: Comparing | None = None
        self.compared: Compared | None = None
        self.asked: tuple[int, int] | None = None  # revision and finding of the newest question
        self.cures: dict[tuple[int, int], Cure | None] = {}
        self.pages: set[asyncio.Queue[Json]] = set()
        self._loop: asyncio.AbstractEventLoop | None = None
        self._looking: asyncio.Task[None] | None = None
        self._job_seen: object = self.session.job

    # --- life ----------------------------------------------------------------------------------

    async def open(self) -> None:
        """Start the workers."""
        self._loop = asyncio.get_running_loop()
        self.checker.start()
        self._looking = asyncio.create_task(self._look())

    async def close(self) -> None:
        """Stop the workers; what is saved is saved already."""
        if self._looking:
            self._looking.cancel()
        for work in (self.plan, self.comparison):
            if work:
                work.stop()
                await asyncio.to_thread(work.join, 30.0)
        await asyncio.to_thread(self.checker.end)

    # --- news ----------------------------------------------------------------------------------

    def everything(self) -> Json:
        """Return all a page needs to begin."""
        now, done = self.session.snapshot(), self.checker.latest
        return {
            "job": job_record(now.job),
            "state": state_record(self.session, now),
            "checked": checked_record(done) if done else None,
            "plan": self._plan_record(self.progress, with_layout=True),
            "compared": compared_record(self.compared) if self.compared else None,
        }

    def hello(self) -> Json:
        """Return what a page that comes (back) compares with what it has."""
        done = self.checker.latest
        checked = done.revision if done else None
        return {"revision": self.session.revision, "checked": checked}

    def changed(self, client: str = "") -> Json:
        """Tell every page of a step; return what the page that did it is answered."""
        now = self.session.snapshot()
        state = state_record(self.session, now)
        if now.job is not self._job_seen:
            self._job_seen = now.job
            self.send({"type": "job", "job": job_record(now.job), "state": state, "by": client})
        else:
            self.send({"type": "state", "state": state, "by": client})
        self.checker.nudge()
        return state

    def send(self, message: Json) -> None:
        """Hand a message to every page. May be called from any thread."""
        loop = self._loop
        if loop is None or loop.is_closed():
            return
        loop.call_soon_threadsafe(self._deliver, message)

    def _deliver(self, message: Json) -> None:
        for queue in self.pages:
            queue.put_nowait(message)

    async def _look(self) -> None:
        while True:
            await asyncio.sleep(LOOK_EVERY)
            try:
                if await asyncio.to_thread(self.session.look_outside):
                    self.changed()
            except OSError as fault:
                LOG.warning("the job folder can't be read: %s", fault)

    def _told_check(self, news: Checked | Exception) -> None:
        if isinstance(news, Exception):
            LOG.error("the checks ended by a fault of ours", exc_info=news)
            self.send({"type": "trouble", "problem": "the checks can't judge this layout",
                       "where": "checks", "cure": "Undo the last step; the terminal tells more"})  # fmt: skip
        else:
            self.send({"type": "checked", "checked": checked_record(news)})

    # --- plan ----------------------------------------------------------------------------------

    def _before(self) -> Candidate | None:
        """Return the plate as it stands; ``None`` while a plan runs or nothing is checked yet."""
        done = self.checker.latest
        busy = any(work and work.is_running for work in (self.plan, self.comparison))
        return None if done is None or busy else candidate_of(done.panel)

    def cure(self, revision: int, number: int) -> Cure | None:
        """Return steps that cure a finding of a check; looked for once.

        The newest question goes first: who steps through the findings waits for the last alone.
        """
        done = self.checker.latest
        if done is None or done.revision != revision:
            return None
        key = (revision, number)
        if key not in self.cures:
            told = [f for f in done.findings if f.verdict in TOLD]
            if not 1 <= number <= len(told):
                return None
            self.cures = {k: v for k, v in self.cures.items() if k[0] == revision}
            self.asked = key
            cure = search_cure(
                done.panel, done.findings, told[number - 1], lambda: self.asked == key
            )
            if self.asked != key:
                return None
            self.cures[key] = cure
        return self.cures[key]

    def start_plan(self, how: How, seed: int, preset: str) -> bool:
        """Begin a plan; ``False`` while another one runs or nothing is checked yet."""
        now, before = self.session.snapshot(), self._before()
        if before is None:
            return False
        self.plan = Planning(now, before, how=how, seed=seed, tell=self._told_plan, preset=preset)
        self.progress = None
        self.plan.start()
        return True

    def start_comparison(self, seed: int) -> bool:
        """Begin to plan by every preset; ``False`` as above."""
        now, before = self.session.snapshot(), self._before()
        if before is None:
            return False
        self.comparison = Comparing(now, before, seed=seed, tell=self._told_comparison)
        self.compared = None
        self.comparison.start()
        return True

    def stop(self) -> None:
        """End what searches; the best plate so far stays on offer."""
        for work in (self.plan, self.comparison):
            if work:
                work.stop()

    def take_compared(self, name: str) -> bool:
        """Replace the layout by a plate of the comparison, as one step that can be undone."""
        plates = self.compared.plates if self.compared else ()
        found = next((plate for plate in plates if plate.name == name), None)
        if found is None:
            return False
        self.session.take_plan(found.layout, f"plan (preset {name})")
        self.drop_plan()
        return True

    @property
    def was_edited(self) -> bool:
        """Whether the plate was edited after the plan on offer began."""
        work = self.plan or self.comparison
        return work is not None and work.now.layout != self.session.snapshot().layout

    def take_plan(self) -> bool:
        """Replace the layout by the best plate so far, as one step that can be undone."""
        best = self.progress.best if self.progress else None
        if best is None or self.plan is None:
            return False
        self.plan.stop()
        self.session.take_plan(best.layout, f"plan ({self.plan.how.value})")
        self.drop_plan()
        return True

    def drop_plan(self) -> None:
        """Forget the plan."""
        self.stop()
        self.plan = self.progress = None
        self.comparison = self.compared = None
        self.send({"type": "plan", "plan": None})
        self.send({"type": "compared", "compared": None})

    def _told_comparison(self, compared: Compared) -> None:
        if self.comparison is None:
            return  # dropped meanwhile
        self.compared = compared
        self.send({"type": "compared", "compared": compared_record(compared)})

    def _told_plan(self, progress: Progress) -> None:
        if self.plan is None:
            return  # dropped meanwhile
        is_new = self.progress is None or progress.best is not self.progress.best
        self.progress = progress
        self.send({"type": "plan", "plan": self._plan_record(progress, with_layout=is_new)})

    def _plan_record(self, progress: Progress | None, *, with_layout: bool) -> Json | None:
        unit = self.session.job.settings.units
        if progress is None:
            return None
        return progress_record(progress, with_layout=with_layout, unit=unit)
