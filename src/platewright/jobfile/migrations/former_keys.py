"""Keys that once had another name: still read, written under today's. Any format may hold them."""

from __future__ import annotations

from collections.abc import Mapping, MutableMapping
from typing import Any, Final

# file -> (table, former key, today's key)
_FORMER: Final[Mapping[str, tuple[tuple[str, str, str], ...]]] = {
    "job.toml": (
        ("enclosure", "sun_share_share", "sun_share"),
        ("enclosure", "sun_share_percent", "sun_percent"),
    ),
}


def rename(document: MutableMapping[str, Any], file: str) -> None:
    """Give every former key of a file's document its name of today, unless that is there too."""
    for table, former, today in _FORMER.get(file, ()):
        held = document.get(table)
        if isinstance(held, MutableMapping) and former in held and today not in held:
            held[today] = held.pop(former)
