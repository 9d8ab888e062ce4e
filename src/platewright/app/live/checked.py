"""The panel and its findings, worked out beside the editing: always for the newest layout."""

from __future__ import annotations

import threading
from collections.abc import Callable
from dataclasses import dataclass

from platewright.app.editing.session import Session, Snapshot
from platewright.app.gather import panel_of
from platewright.app.live.drag import Base
from platewright.model.finding import Finding
from platewright.model.panel import Panel
from platewright.rules.registry import run_rules


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """What follows from the layout of one revision."""

    revision: int
    panel: Panel
    findings: tuple[Finding, ...]
    base: Base


def checked(now: Snapshot) -> Checked:
    """Work out and judge one state of the job."""
    panel = panel_of(now.job, now.layout)
    return Checked(revision=now.revision, panel=panel, findings=run_rules(panel), base=Base(panel))


class Checker:
    """A worker that checks the newest state whenever it is nudged, and tells when it is done."""

    def __init__(self, session: Session, tell: Callable[[Checked | Exception], None]) -> None:
        self.session, self.tell = session, tell
        self.latest: Checked | None = None
        self._nudge = threading.Event()
        self._ended = False
        self._thread = threading.Thread(target=self._work, name="checks", daemon=True)

    def start(self) -> None:
        """Begin with the state as it is."""
        self._nudge.set()
        self._thread.start()

    def nudge(self) -> None:
        """Say that the state changed."""
        self._nudge.set()

    def end(self) -> None:
        """Stop; a check under way is not waited for long (nothing it makes is written)."""
        self._ended = True
        self._nudge.set()
        if self._thread.is_alive():
            self._thread.join(timeout=2)

    def _work(self) -> None:
        while True:
            self._nudge.wait()
            self._nudge.clear()
            if self._ended:
                return
            now = self.session.snapshot()
            if self.latest is not None and self.latest.revision == now.revision:
                continue
            try:
                self.latest = checked(now)
            except Exception as fault:  # noqa: BLE001  (told to the page; the worker must live on)
                self.tell(fault)
            else:
                self.tell(self.latest)
