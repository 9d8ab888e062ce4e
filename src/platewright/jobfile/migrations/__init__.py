"""Older formats of the job folder -> today's, one step a file."""

from __future__ import annotations

from collections.abc import Callable, Mapping, MutableMapping
from typing import Any, Final

from platewright.foundation.errors import InputError
from platewright.jobfile.migrations import former_keys, job_from_0, layout_from_0

NEWEST: Final = 1

# file -> for each format the step to the next one
_STEPS: Final[Mapping[str, tuple[Callable[[MutableMapping[str, Any]], None], ...]]] = {
    "job.toml": (job_from_0.migrate,),
    "layout.toml": (layout_from_0.migrate,),
}


def bring_up_to_date(document: MutableMapping[str, Any], file: str) -> InputError | None:
    """Change a document in place into the newest format; return why that can't be done.

    Works on plain documents and on those that keep comments alike. A document without a
    format number is taken as of the newest.
    """
    found = document.get("format", NEWEST)
    if isinstance(found, bool) or not isinstance(found, int):
        return None  # told as a wrong value of the key
    if found > NEWEST:
        return InputError(
            file=file,
            field="format",
            value=str(found),
            problem=f"is a newer format than this program knows (up to {NEWEST})",
            cure="Use the newer program that wrote it",
        )
    if found < 0:
        cure = f"Write format = {NEWEST}"
        return InputError(
            file=file, field="format", value=str(found), problem="is no format", cure=cure
        )
    for step in _STEPS[file][found:]:
        step(document)
    former_keys.rename(document, file)
    if "format" in document:
        document["format"] = NEWEST
    return None
