"""The folder is the truth: saved at once, undone over sessions, never overwritten, never lost."""

from __future__ import annotations

import os
import subprocess
import sys
import threading
from pathlib import Path

import pytest

from platewright.app.editing.edit import EditError
from platewright.app.editing.edits import Move, TakeOff
from platewright.app.editing.session import Session
from platewright.foundation.errors import InputErrors
from platewright.jobfile.folder import read_job
from platewright.jobfile.layout_file import read_layout

KILLS = 60
RUNNER = Path(__file__).resolve().parents[2] / "bench" / "killed_saves.py"


def x_in_file(folder: Path, tag: str) -> float:
    return read_layout(folder, read_job(folder)).devices[tag].x


def test_a_step_is_in_the_file_at_once(folder: Path) -> None:
    session = Session(folder)
    session.apply(Move(tags=("-Q1",), dx=5, dy=0))
    assert x_in_file(folder, "-Q1") == 95.0
    assert "# wrong: 207 deep" in (folder / "layout.toml").read_text(encoding="utf-8")


def test_undo_and_redo_over_sessions_to_the_byte(folder: Path) -> None:
    before = (folder / "layout.toml").read_bytes()
    session = Session(folder)
    session.apply(Move(tags=("-Q1",), dx=5, dy=0))
    session.apply(TakeOff(tags=("-F2", "D1")))
    after = (folder / "layout.toml").read_bytes()
    again = Session(folder)
    assert again.undo_label == "take off -F2, D1"
    again.undo()
    again.undo()
    assert Session(folder).layout == read_layout(folder, read_job(folder))
    assert x_in_file(folder, "-Q1") == 90.0
    assert set(read_layout(folder, read_job(folder)).ducts) == {f"D{n}" for n in range(1, 8)}
    third = Session(folder)
    third.redo()
    third.redo()
    assert (folder / "layout.toml").read_bytes() == after
    assert before != after
    with pytest.raises(EditError, match="nothing to redo"):
        third.redo()


def test_a_change_from_outside_is_taken_over_told_and_can_be_undone(folder: Path) -> None:
    session = Session(folder)
    session.apply(Move(tags=("-Q1",), dx=5, dy=0))
    text = (folder / "layout.toml").read_text(encoding="utf-8")
    changed = text.replace('"-X4" = {x_mm = 210.0', '"-X4" = {x_mm = 222.0')
    assert changed != text
    (folder / "layout.toml").write_text(changed, encoding="utf-8")
    session.apply(Move(tags=("-Q1",), dx=1, dy=0))  # a page that has not looked yet
    assert (x_in_file(folder, "-Q1"), x_in_file(folder, "-X4")) == (96.0, 222.0)
    assert "changed outside" in session.notices[0]
    session.undo()
    session.undo()
    assert (x_in_file(folder, "-Q1"), x_in_file(folder, "-X4")) == (95.0, 210.0)


def test_a_list_changed_outside_is_read(folder: Path) -> None:
    session = Session(folder)
    with (folder / "devices.csv").open("a", encoding="utf-8") as file:
        file.write("-F99,fuse-3p-15a" + "," * 12 + "\n")
    assert session.look_outside()
    assert "-F99" in session.snapshot().job.devices
    assert not session.look_outside()


def test_a_broken_file_from_outside_is_kept_and_asked_about(folder: Path) -> None:
    session = Session(folder)
    good = (folder / "layout.toml").read_bytes()
    (folder / "layout.toml").write_bytes(good + b'\n[devices]\n"-Q1" = {\n')
    assert session.look_outside()
    assert session.faults
    with pytest.raises(EditError, match="has faults now"):
        session.apply(Move(tags=("-Q1",), dx=5, dy=0))
    assert (folder / "layout.toml").read_bytes().endswith(b"{\n"), "never overwritten unasked"
    kept = session.put_back()
    assert (folder / kept[0]).read_bytes().endswith(b"{\n")
    assert (folder / "layout.toml").read_bytes() == good
    session.apply(Move(tags=("-Q1",), dx=5, dy=0))


def test_a_broken_file_mended_outside_goes_on(folder: Path) -> None:
    session = Session(folder)
    good = (folder / "devices.csv").read_bytes()
    (folder / "devices.csv").write_bytes(b"nonsense\n")
    assert session.look_outside()
    (folder / "devices.csv").write_bytes(good)
    assert session.look_outside()
    assert not session.faults


def test_lists_are_changed_with_the_files_own_faults(folder: Path) -> None:
    session = Session(folder)
    old = session.content("devices.csv")
    with pytest.raises(InputErrors) as refused:
        session.change_file("devices.csv", old.replace(b"fuse-3p-15a", b"no-such"), "edit")
    assert any(f.field == "part" and f.value == "no-such" for f in refused.value.faults)
    assert (folder / "devices.csv").read_bytes() == old
    new = old.replace(b"protects the carousel drive", b"guards the drive")
    session.change_file("devices.csv", new, "edit -F2")
    assert session.snapshot().job.devices["-F2"].function == "guards the drive"
    Session(folder).undo()
    assert (folder / "devices.csv").read_bytes() == old


def test_a_row_of_a_standing_device_can_not_vanish(folder: Path) -> None:
    session = Session(folder)
    lines = session.content("devices.csv").splitlines(keepends=True)
    less = b"".join(line for line in lines if not line.startswith(b"-B1,"))
    with pytest.raises(InputErrors):
        session.change_file("devices.csv", less, "delete -B1")


def test_two_pages_of_one_server_lose_no_edit(folder: Path) -> None:
    session = Session(folder)

    def push(tag: str) -> None:
        for _ in range(20):
            session.apply(Move(tags=(tag,), dx=1, dy=0))

    threads = [threading.Thread(target=push, args=(tag,)) for tag in ("-Q1", "-X4")]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert (x_in_file(folder, "-Q1"), x_in_file(folder, "-X4")) == (110.0, 230.0)


def test_two_servers_on_one_folder_lose_no_edit(folder: Path) -> None:
    one, other = Session(folder), Session(folder)
    for _ in range(10):
        one.apply(Move(tags=("-Q1",), dx=1, dy=0))
        other.apply(Move(tags=("-Q1",), dx=1, dy=0))
    assert x_in_file(folder, "-Q1") == 110.0
    for _ in range(20):
        other.undo()
    assert x_in_file(folder, "-Q1") == 90.0
    assert not one.notices


def test_a_cut_off_last_line_is_dropped(folder: Path) -> None:
    session = Session(folder)
    session.apply(Move(tags=("-Q1",), dx=5, dy=0))
    with (folder / "edits.jsonl").open("ab") as file:
        file.write(b'{"kind":"edit","la')
    again = Session(folder)
    again.apply(Move(tags=("-Q1",), dx=5, dy=0))
    third = Session(folder)
    assert third.undo_label == "move -Q1"
    third.undo()
    third.undo()
    assert x_in_file(folder, "-Q1") == 90.0


def test_a_step_the_files_lack_is_made_good(folder: Path) -> None:
    session = Session(folder)
    before = (folder / "layout.toml").read_bytes()
    session.apply(Move(tags=("-Q1",), dx=5, dy=0))
    (folder / "layout.toml").write_bytes(before)  # as if the end came between the two
    assert Session(folder).snapshot().layout.devices["-Q1"].x == 95.0


@pytest.mark.skipif(not hasattr(os, "fork"), reason="no fork on this system")
def test_killed_in_the_middle_of_saves_the_job_always_opens(folder: Path) -> None:
    """In a process of its own, which forks: see bench/killed_saves.py (a thousand there)."""
    done = subprocess.run(
        [sys.executable, str(RUNNER), str(folder), str(KILLS)],
        capture_output=True, text=True, check=False,
        env=dict(os.environ, PYTHONPATH=os.pathsep.join(sys.path)),
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith(f"survived {KILLS},")
    steps = int(done.stdout.split()[-1])
    assert steps > KILLS / 4, "the kills must have met a process that saves"
