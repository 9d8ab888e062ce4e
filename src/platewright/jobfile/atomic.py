"""Saving a file so that either the old or the new content is there, never half of it."""

from __future__ import annotations

import os
import stat
import tempfile
from pathlib import Path

from platewright.foundation.errors import InputError, InputErrors


def save(path: Path, content: bytes) -> None:
    """Replace the file's content in one step; its mode is kept, a link's target is written.

    Temp file in the same folder, flushed to the disk, then moved over the old one; the folder
    is flushed too, so that the move survives a power cut.
    """
    target = path.resolve()
    if target.exists() and not target.is_file():
        raise InputErrors(
            [
                InputError(
                    file=path.name,
                    problem="is not a file, so nothing can be saved in its place",
                    cure="Move it out of the way",
                )
            ]
        )
    try:
        _replace(target, content)
    except OSError as refused:  # no right to write there, disk full, folder gone
        problem = f"can't be saved in {target.parent} ({refused.strerror or refused})"
        cure = "Allow writing there or make room, or copy the job to another place"
        raise InputErrors([InputError(file=path.name, problem=problem, cure=cure)]) from None


def _replace(target: Path, content: bytes) -> None:
    handle, name = tempfile.mkstemp(prefix=f".{target.name}.", suffix=".tmp", dir=target.parent)
    temporary = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        temporary.chmod(_mode(target))
        temporary.replace(target)
    except BaseException:
        temporary.unlink(missing_ok=True)
        raise
    flush_folder(target.parent)


def flush_folder(folder: Path) -> None:
    """Make sure that names in a folder are on the disk (where the system can do that)."""
    if not hasattr(os, "O_DIRECTORY"):  # a system that does not open folders
        return
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _mode(target: Path) -> int:
    """Return the old file's mode; for a new one what the system gives new files."""
    if target.exists():
        return stat.S_IMODE(target.stat().st_mode)
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask
