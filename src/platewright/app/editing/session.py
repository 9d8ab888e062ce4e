"""One job folder held open for editing: the files are the truth, every step is saved at once.

Steps from any number of pages come one after the other and each is applied to the newest
layout, so none is lost. A change made to the files from outside becomes a step of its own: it
is noticed before the next step, taken over, told, and can be undone.
"""

from __future__ import annotations

import hashlib
import threading
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from itertools import count
from pathlib import Path
from typing import Final

from platewright.app.editing.difference import (
    Changes,
    LineChange,
    applied,
    changes_between,
    line_changes,
    text_applied,
)
from platewright.app.editing.edit import EditError, apply_edit
from platewright.app.editing.edits import Edit
from platewright.app.editing.journal import FILE as JOURNAL
from platewright.app.editing.journal import Entry, Journal, folder_lock
from platewright.foundation.errors import InputError, InputErrors
from platewright.foundation.tag_order import tag_order
from platewright.jobfile.atomic import save
from platewright.jobfile.folder import DEVICES, PARTS, SETTINGS, WIRES, read_job
from platewright.jobfile.layout_file import FILE as LAYOUT
from platewright.jobfile.layout_file import read_layout_with_notes, write_layout
from platewright.model.job import Job
from platewright.model.layout import Layout

FILES: Final = (SETTINGS, PARTS, DEVICES, WIRES, LAYOUT)


@dataclass(frozen=True, slots=True, kw_only=True)
class Snapshot:
    """The job as it stands after so many steps."""

    revision: int
    job: Job
    layout: Layout


class Session:
    """A job folder being edited. Every method may be called from any thread."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder.resolve()
        self.revision = 1
        self.faults: tuple[
            InputError, ...
        ] = ()  # of files changed outside; the last good job stays
        self.notices: list[str] = []
        self._lock = threading.RLock()
        inside_only(self.folder, [*FILES, JOURNAL])
        with folder_lock(self.folder):
            self.journal = Journal(self.folder)
            self._make_good()
            self.job = read_job(self.folder)
            self.layout, self.dropped = self._read_layout()
            self._contents = self._read_contents()
            self._stamps = self._read_stamps()

    # --- reading -----------------------------------------------------------------------------

    def snapshot(self) -> Snapshot:
        """Return the newest state."""
        with self._lock:
            return Snapshot(revision=self.revision, job=self.job, layout=self.layout)

    def content(self, name: str) -> bytes:
        """Return the bytes of one of the job's files as last read or written."""
        with self._lock:
            return self._contents.get(name, b"")

    @property
    def undo_label(self) -> str | None:
        """What undo would take back."""
        return self.journal.done[-1].label if self.journal.done else None

    @property
    def redo_label(self) -> str | None:
        """What redo would do again."""
        return self.journal.undone[-1].label if self.journal.undone else None

    # --- steps -------------------------------------------------------------------------------

    def apply(self, edit: Edit) -> tuple[str, ...]:
        """Do one edit and save it; return what the user should know. Raises ``EditError``."""
        with self._step():
            edited = apply_edit(self.job, self.layout, edit)
            self._save(edited.label, edited.layout)
            return edited.notes

    def apply_all(self, edits: Iterable[Edit], label: str, *, revision: int) -> None:
        """Do several edits as one step. Raises ``EditError`` when the plate is another by now."""
        with self._step():
            if self.revision != revision:
                raise EditError(
                    "the plate was changed since", where="cure", cure="Look at the finding again"
                )
            layout = self.layout
            for edit in edits:
                layout = apply_edit(self.job, layout, edit).layout
            self._save(label, layout)

    def change(
        self, label: str, make: Callable[[Job, Layout], tuple[Layout, tuple[str, ...]]]
    ) -> tuple[str, ...]:
        """Replace the newest layout by what is made of it, as one step; return what to tell."""
        with self._step():
            layout, told = make(self.job, self.layout)
            self._save(label, layout)
            return told

    def take(self, layout: Layout, label: str) -> None:
        """Replace the layout as one step."""
        with self._step():
            self._save(label, layout)

    def take_plan(self, layout: Layout, label: str) -> None:
        """Replace the layout by a plan as one step; what the lists no longer know is let go."""
        with self._step():
            self.dropped = Layout()
            self._save(label, layout)

    def change_file(self, name: str, content: bytes, label: str) -> None:
        """Replace one of the job's lists as one step.

        Raises ``InputErrors`` with every fault; then nothing is saved.
        """
        if name not in FILES:
            raise ValueError(name)
        with self._step():
            old = self._contents.get(name, b"")
            if content == old:
                return
            job = read_job(self.folder, instead={name: content})
            _kept_together(job, self.layout)
            self._commit(Entry(
                kind="edit", label=label, files={name: line_changes(old, content)},
                before={name: _hash(old)},
            ))  # fmt: skip

    def undo(self) -> str:
        """Take back the last step; return its label. Raises ``EditError`` when there is none."""
        with self._step():
            if not self.journal.done:
                raise EditError("nothing to undo", where="history", cure="Edit something first")
            return self._again(self.journal.done[-1], "undo")

    def redo(self) -> str:
        """Do again what was undone last; return its label."""
        with self._step():
            if not self.journal.undone:
                raise EditError("nothing to redo", where="history", cure="Undo something first")
            return self._again(self.journal.undone[-1], "redo")

    def look_outside(self) -> bool:
        """Notice changes made to the files by others; return whether there were any."""
        with self._lock, folder_lock(self.folder):
            return self._take_over()

    def put_back(self) -> tuple[str, ...]:
        """Write the last good state over files with faults; the faulty ones are kept beside.

        Returns the names under which they are kept.
        """
        with self._lock, folder_lock(self.folder):
            kept: list[str] = []
            for name, good in self._contents.items():
                path = self.folder / name
                found = path.read_bytes() if path.is_file() else b""
                if found != good:
                    if found:
                        kept.append(self._set_aside(name, found))
                    save(path, good)
            self._reread()
            return tuple(kept)

    # --- inside ------------------------------------------------------------------------------

    @contextmanager
    def _step(self) -> Iterator[None]:
        """Give the right to change the folder: one at a time, on the newest state."""
        with self._lock, folder_lock(self.folder):
            self._take_over()
            self.journal.catch_up()
            if self.faults:
                raise EditError(
                    "was changed outside and has faults now",
                    where=self.faults[0].file,
                    cure="Correct the file, or put back what the page has",
                )
            yield

    def _save(self, label: str, after: Layout, kind: str = "edit") -> None:
        changes = changes_between(self.layout, after)
        if changes:
            before = {LAYOUT: _hash(self._contents.get(LAYOUT, b""))}
            self._commit(Entry(kind=kind, label=label, changes=changes, before=before), after)

    def _again(self, entry: Entry, kind: str) -> str:
        back = kind == "undo"
        after = applied(self.layout, entry.changes, back=back)
        files: dict[str, list[LineChange]] = {}
        for name, found in entry.files.items():
            old = self._contents.get(name, b"")
            new = text_applied(old, found, back=back)
            job = read_job(self.folder, instead={name: new})
            _kept_together(job, after)
            files[name] = line_changes(old, new)
        if not files:
            _kept_together(self.job, after)
        touched = {*files, *([LAYOUT] if entry.changes else [])}
        self._commit(
            Entry(
                kind=kind, label=entry.label, files=files,
                changes=changes_between(self.layout, after),
                before={name: _hash(self._contents.get(name, b"")) for name in sorted(touched)},
            ),
            after,
        )  # fmt: skip
        return entry.label

    def _commit(self, entry: Entry, after: Layout | None = None) -> None:
        """Put a step on the disk: first into the journal, then into the files."""
        self.journal.append(entry)
        for name, found in entry.files.items():
            save(self.folder / name, text_applied(self._contents.get(name, b""), found))
        if entry.changes and after is not None:
            write_layout(self.folder, _with_dropped(after, self.dropped))
        if entry.files:
            self._reread()
        else:
            self.layout = self.layout if after is None else after
            self.revision += 1
            self._note_contents([LAYOUT])

    def _make_good(self) -> None:
        """Finish a step that the journal has and the files lack (after a sudden end)."""
        last = self.journal.last
        if last is None or last.kind == "outside":
            return
        for name, found in last.files.items():
            path = self.folder / name
            content = path.read_bytes() if path.is_file() else b""
            if _hash(content) == last.before.get(name):
                save(path, text_applied(content, found))
        path = self.folder / LAYOUT
        content = path.read_bytes() if path.is_file() else b""
        if last.changes and _hash(content) == last.before.get(LAYOUT):
            reading = read_layout_with_notes(self.folder, read_job(self.folder))
            after = applied(reading.layout, last.changes)
            write_layout(self.folder, _with_dropped(after, reading.dropped))

    def _take_over(self) -> bool:
        stamps = self._read_stamps()
        if stamps == self._stamps:
            return False
        self._stamps = stamps
        found = self._read_contents()
        changed = sorted(
            n for n in {*found, *self._contents} if found.get(n) != self._contents.get(n)
        )
        if not changed:
            had_faults, self.faults = bool(self.faults), ()
            return had_faults
        try:
            job = read_job(self.folder)
            reading = read_layout_with_notes(self.folder, job)
        except InputErrors as errors:
            news, self.faults = errors.faults != self.faults, errors.faults
            self.revision += news
            return news
        self._outside(changed, found, reading.layout)
        self.faults, self.job, self._contents = (), job, found
        self.layout, self.dropped = reading.layout, reading.dropped
        self.revision += 1
        return True

    def _outside(self, changed: Iterable[str], found: Mapping[str, bytes], layout: Layout) -> None:
        """Journal what others did, so that it can be undone like a step of the page."""
        self.journal.catch_up()
        last = self.journal.last
        changes: Changes = changes_between(self.layout, layout)
        files = {
            name: line_changes(self._contents.get(name, b""), found.get(name, b""))
            for name in changed
            if name != LAYOUT
        }
        if last is not None and last.changes == changes and set(last.files) == set(files):
            return  # the step of another page's server on this folder: it is in the journal
        label = f"change of {', '.join(changed)} from outside"
        self.journal.append(Entry(kind="outside", label=label, changes=changes, files=files))
        self.notices.append(
            f"{', '.join(changed)} was changed outside the page and is taken over. "
            "Undo brings back what was here before."
        )

    def _reread(self) -> None:
        self.job = read_job(self.folder)
        self.layout, self.dropped = self._read_layout()
        self.faults = ()
        self.revision += 1
        self._contents = self._read_contents()
        self._stamps = self._read_stamps()

    def _read_layout(self) -> tuple[Layout, Layout]:
        """Return the layout, and what it has that the lists no longer know."""
        reading = read_layout_with_notes(self.folder, self.job)
        return reading.layout, reading.dropped

    def _read_contents(self) -> dict[str, bytes]:
        return {n: (self.folder / n).read_bytes() for n in FILES if (self.folder / n).is_file()}

    def _note_contents(self, names: Iterable[str]) -> None:
        for name in names:
            self._contents[name] = (self.folder / name).read_bytes()
        self._stamps = self._read_stamps()

    def _read_stamps(self) -> dict[str, tuple[int, int, int]]:
        paths = [self.folder / name for name in FILES]
        shared = self._shared_list()
        found: dict[str, tuple[int, int, int]] = {}
        for path in [*paths, *([shared] if shared else [])]:
            if path.is_file():
                stat = path.stat()
                found[str(path)] = (stat.st_mtime_ns, stat.st_size, stat.st_ino)
        return found

    def _shared_list(self) -> Path | None:
        job = getattr(self, "job", None)
        return self.folder / job.settings.shop_parts if job and job.settings.shop_parts else None

    def _set_aside(self, name: str, content: bytes) -> str:
        stem, dot, ending = name.rpartition(".")
        for n in count(1):
            aside = f"{stem}.outside-{n}{dot}{ending}"
            if not (self.folder / aside).exists():
                save(self.folder / aside, content)
                return aside
        raise AssertionError


def inside_only(folder: Path, names: Iterable[str]) -> None:
    """Refuse files of the job that are links to a place outside its folder.

    Raises ``InputErrors``.
    """
    home = folder.resolve()
    strays = [name for name in names if not (folder / name).resolve().is_relative_to(home)]
    if strays:
        raise InputErrors(
            InputError(
                file=name, problem="is a link to a place outside the job folder",
                cure="Put the file itself into the job folder",
            )
            for name in strays
        )  # fmt: skip


def _with_dropped(layout: Layout, dropped: Layout) -> Layout:
    """Return the layout with what the lists no longer know: the next plan tells it as gone."""
    holes = {**dropped.holes, **layout.holes}
    return replace(
        layout,
        devices={**dropped.devices, **layout.devices},
        holes={tag: holes[tag] for tag in sorted(holes, key=tag_order)} if dropped.holes else holes,
    )


def _kept_together(job: Job, layout: Layout) -> None:
    """Refuse a list that no longer names what stands on the plate."""
    lost = [tag for tag in layout.devices if tag not in job.devices]
    if lost:
        raise InputErrors(
            InputError(
                file=DEVICES, field="tag", value=tag, problem="stands on the plate and has no row",
                cure="Take it off the plate first, then delete its row",
            )
            for tag in lost
        )  # fmt: skip


def _hash(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()
