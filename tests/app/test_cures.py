"""A cure that is offered as a button does cure its finding."""

from __future__ import annotations

from pathlib import Path

from platewright.app.checked import checked
from platewright.app.cures import move_of
from platewright.app.edit import apply_edit
from platewright.app.edits import Lock
from platewright.app.session import Session, Snapshot
from platewright.model.finding import Finding, Verdict


def missed(now: Snapshot) -> list[Finding]:
    return [f for f in checked(now).findings if f.verdict in (Verdict.FAIL, Verdict.CAUTION)]


def test_every_offered_move_cures(folder: Path) -> None:
    now = Session(folder).snapshot()
    offered = [(f, move) for f in missed(now) if (move := move_of(f, now.layout))]
    assert len({f.rule.id for f, _ in offered}) >= 2
    for finding, move in offered:
        after = apply_edit(now.job, now.layout, move).layout
        left = missed(Snapshot(revision=2, job=now.job, layout=after))
        same = [f for f in left if (f.rule.id, f.subject) == (finding.rule.id, finding.subject)]
        assert finding.message not in {f.message for f in same}, finding.cure


def test_nothing_is_offered_for_what_is_locked(folder: Path) -> None:
    now = Session(folder).snapshot()
    finding, move = next((f, m) for f in missed(now) if (m := move_of(f, now.layout)))
    locked = apply_edit(now.job, now.layout, Lock(tags=move.tags, locked=True)).layout
    assert move_of(finding, locked) is None
