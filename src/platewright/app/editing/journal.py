"""The history of a job's edits: one line an entry, appended and flushed, never rewritten.

An entry is on the disk before the files it changes are. So after a sudden end either the files
lack the last entry (it is then made good from here) or nothing is missing. A last line that was
cut off was never acknowledged and is dropped.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final

from platewright.app.editing.difference import Changes, LineChange

FILE: Final = "edits.jsonl"
_OWN: Final = ("edit", "outside")


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One step: what it did, and the content (hash) of each file before it."""

    kind: str  # edit, outside, undo, redo
    label: str
    changes: Changes = field(default_factory=dict)
    files: dict[str, list[LineChange]] = field(default_factory=dict)
    before: dict[str, str] = field(default_factory=dict)

    def as_line(self) -> bytes:
        """Return the entry as a line of the file."""
        values = {
            "kind": self.kind,
            "label": self.label,
            "before": self.before,
            "changes": self.changes,
            "files": self.files,
        }
        return json.dumps(values, ensure_ascii=True, separators=(",", ":")).encode() + b"\n"


class Journal:
    """The history and what can be undone and redone. Holds no file open between calls."""

    def __init__(self, folder: Path) -> None:
        self.path = folder / FILE
        self.done: list[Entry] = []
        self.undone: list[Entry] = []
        self.last: Entry | None = None
        self._read = 0
        self.catch_up()

    def catch_up(self) -> None:
        """Read what was appended since, by whomever; drop a line that was cut off."""
        if not self.path.is_file():
            return
        if self.path.stat().st_size < self._read:  # replaced by another file: begin anew
            self.done, self.undone, self.last, self._read = [], [], None, 0
        with self.path.open("rb") as file:
            file.seek(self._read)
            content = file.read()
        whole = content.rfind(b"\n") + 1
        for line in content[:whole].splitlines():
            self._take(_parsed(line))
        self._read += whole

    def append(self, entry: Entry) -> None:
        """Put an entry on the disk, then into the history."""
        self.catch_up()
        with self.path.open("ab") as file:
            if file.tell() > self._read:
                file.truncate(self._read)
            line = entry.as_line()
            file.write(line)
            file.flush()
            os.fsync(file.fileno())
        self._read += len(line)
        self._take(entry)

    def _take(self, entry: Entry | None) -> None:
        if entry is None:  # not ours: what came before can't be counted on
            self.done, self.undone, self.last = [], [], None
            return
        self.last = entry
        if entry.kind in _OWN:
            self.done.append(entry)
            self.undone.clear()
        elif entry.kind == "undo" and self.done:
            self.undone.append(self.done.pop())
        elif entry.kind == "redo" and self.undone:
            self.done.append(self.undone.pop())


def _parsed(line: bytes) -> Entry | None:
    try:
        values: Any = json.loads(line)
        return Entry(
            kind=str(values["kind"]),
            label=str(values["label"]),
            changes=dict(values["changes"]),
            files={
                name: [(int(at), list(out), list(put)) for at, out, put in found]
                for name, found in values["files"].items()
            },
            before=dict(values["before"]),
        )
    except (ValueError, KeyError, TypeError, AttributeError):
        return None


@contextmanager
def folder_lock(folder: Path) -> Iterator[None]:
    """Keep other servers on the same folder out while a step is taken.

    The system lets go of the lock when a process ends, however it ends. Where the system has no
    such locks, nothing is kept out; changes are then noticed by their content alone.
    """
    try:
        import fcntl  # noqa: PLC0415 (not on every system)
    except ImportError:
        yield
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX)
        yield
    finally:
        os.close(handle)
