"""Changes taken back give the very same layout, order included."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from platewright.app.editing.difference import (
    ChangedSinceError,
    applied,
    changes_between,
    line_changes,
    text_applied,
)
from platewright.app.editing.edit import apply_edit
from platewright.app.editing.edits import Move, TakeOff
from platewright.jobfile.folder import read_job
from platewright.jobfile.layout_file import layout_text, read_layout
from platewright.model.layout import Layout, Placement


def test_taken_back_to_the_byte(folder: Path) -> None:
    job = read_job(folder)
    before = read_layout(folder, job)
    after = apply_edit(job, before, TakeOff(tags=("-Q1", "-F2", "D3"))).layout
    changes = changes_between(before, after)
    assert layout_text(applied(after, changes, back=True)) == layout_text(before)
    assert layout_text(applied(before, changes)) == layout_text(after)


def test_what_others_changed_since_is_not_run_over(folder: Path) -> None:
    job = read_job(folder)
    before = read_layout(folder, job)
    after = apply_edit(job, before, Move(tags=("-Q1",), dx=1, dy=0)).layout
    later = apply_edit(job, after, Move(tags=("-Q1",), dx=1, dy=0)).layout
    with pytest.raises(ChangedSinceError, match="-Q1"):
        applied(later, changes_between(before, after), back=True)


lines = st.lists(st.sampled_from(["a\n", "b\r\n", "c,d\n", "é\n", "\n"]), max_size=12)


@given(lines, lines)
def test_texts_go_forth_and_back(old: list[str], new: list[str]) -> None:
    one, other = "".join(old).encode(), "".join(new).encode()
    changes = line_changes(one, other)
    assert text_applied(one, changes) == other
    assert text_applied(other, changes, back=True) == one


def test_a_history_from_before_a_field_came_can_still_be_taken_back() -> None:
    was, now = Placement(x=1.0, y=2.0), Placement(x=5.0, y=2.0, part="a part")
    layout = Layout(devices={"-A1": now})
    old = {
        "was": {"x": 1.0, "y": 2.0, "locked": False},
        "is": {"x": 5.0, "y": 2.0, "locked": False},
        "at": 0,
    }
    assert applied(layout, {"devices": {"-A1": old}}, back=True).devices["-A1"] == was
    other = {"devices": {"-A1": {**old, "is": {**old["is"], "x": 6.0}}}}
    with pytest.raises(ChangedSinceError):
        applied(layout, other, back=True)
