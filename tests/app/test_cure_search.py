"""What "do it" does: the finding is gone, nothing that held is broken, and undo brings all back."""

from __future__ import annotations

from pathlib import Path

import pytest

from platewright.app.beside.cure_search import Cure, key_of, search_cure
from platewright.app.editing.edit import apply_edit
from platewright.app.editing.edits import Edit, Lock, Move, PlaceHoles, Restock, Stretch, Swap
from platewright.app.editing.session import Session, Snapshot
from platewright.app.live.checked import checked
from platewright.model.finding import Finding, Verdict

BAD = (Verdict.FAIL, Verdict.CAUTION, Verdict.UNDECIDED)


def after(now: Snapshot, *steps: Edit) -> Snapshot:
    layout = now.layout
    for step in steps:
        layout = apply_edit(now.job, layout, step).layout
    return Snapshot(revision=now.revision + 1, job=now.job, layout=layout)


def found(now: Snapshot, rule: str, subject: str) -> tuple[Finding, Cure | None]:
    done = checked(now)
    finding = next(
        f for f in done.findings if f.rule.id == rule and f.subject == subject and f.verdict in BAD
    )
    return finding, search_cure(done.panel, done.findings, finding)


def cured(now: Snapshot, rule: str, subject: str) -> Cure:
    """The cure offered, after the checks have judged the plate with it once more."""
    finding, cure = found(now, rule, subject)
    assert cure is not None, finding.cure
    before, then = checked(now).findings, checked(after(now, *cure.steps)).findings
    assert key_of(finding) not in {key_of(f) for f in then if f.verdict in BAD}
    fails = [
        {(f.rule.id, f.subject) for f in one if f.verdict is Verdict.FAIL} for one in (before, then)
    ]
    assert fails[1] <= fails[0], "nothing that held is broken"
    counts = tuple(sum(f.verdict is Verdict.FAIL for f in one) for one in (before, then))
    assert cure.fails == counts
    assert counts[1] < counts[0] or finding.verdict is not Verdict.FAIL
    return cure


@pytest.fixture
def now(folder: Path) -> Snapshot:
    return Session(folder).snapshot()


def test_another_size(now: Snapshot) -> None:
    cure = cured(now, "space.duct-overlap", "-K1")
    assert any(isinstance(step, Restock) for step in cure.steps)
    assert cure.words == "make D4 of 1x3"


def test_a_swap(now: Snapshot) -> None:
    cure = cured(now, "space.voltage-zones", "-F6")
    assert isinstance(cure.steps[0], Swap)


def test_a_piece_cut_shorter_and_its_holes_anew(now: Snapshot) -> None:
    cure = cured(now, "space.fixing-hole", "D1")
    assert isinstance(cure.steps[0], Stretch)


def test_holes_planned_anew(now: Snapshot) -> None:
    assert cured(now, "fabrication.fixing-count", "D3").steps == (PlaceHoles(),)


def test_partners_move_together(now: Snapshot) -> None:
    moved = after(now, Move(tags=("-Q2", "-Q3"), dx=0.0, dy=60.0))
    for rule, subject in sorted(
        {(f.rule.id, f.subject) for f in checked(moved).findings if f.verdict is Verdict.FAIL}
        - {(f.rule.id, f.subject) for f in checked(now).findings if f.verdict is Verdict.FAIL}
    ):
        finding, cure = found(moved, rule, subject)
        if cure is not None and rule.startswith("space."):
            tags = {t for step in cure.steps if isinstance(step, Move) for t in step.tags}
            assert {"-Q2", "-Q3"} <= tags or "-Q2" not in tags, finding.message
            cured(moved, rule, subject)
            return
    pytest.fail("no space finding was cured")


def test_several_things_are_pushed(now: Snapshot) -> None:
    """-F2 pushed 10 mm into -F3, which stands at its right: the two must part again."""
    moved = after(now, Move(tags=("-F2",), dx=10.0, dy=0.0))
    rules = [f for f in checked(moved).findings if f.verdict is Verdict.FAIL and f.subject == "-F2"]
    assert [f.rule.id for f in rules] == ["space.device-overlap"]
    cure = cured(moved, "space.device-overlap", "-F2")
    assert all(isinstance(step, Move) for step in cure.steps)


def test_what_is_locked_is_left_where_it_is(now: Snapshot) -> None:
    every = (*now.layout.devices, *now.layout.ducts, *now.layout.rails)
    locked = after(now, Lock(tags=every, locked=True))
    assert found(locked, "space.duct-overlap", "-K1")[1] is None


def test_a_missing_datum_has_no_such_cure(now: Snapshot) -> None:
    assert found(now, "data.clear-space", "-T1")[1] is None


def test_done_as_one_step_and_undone_after_a_new_start(folder: Path) -> None:
    session = Session(folder)
    before = session.snapshot()
    cure = cured(before, "space.duct-overlap", "-K1")
    session.apply_all(cure.steps, f"cure: {cure.words}", revision=before.revision)
    assert session.undo_label == "cure: make D4 of 1x3"
    again = Session(folder)
    assert again.snapshot().layout.ducts["D4"].stock == "1x3"
    again.undo()
    assert Session(folder).snapshot().layout == before.layout
