"""The order in which a reader expects tags: H2 before H10."""

from __future__ import annotations

import re


def tag_order(tag: str) -> tuple[tuple[int, int, str], ...]:
    """Return a sort key that compares runs of digits as numbers."""
    parts = re.findall(r"\d+|\D+", tag)
    return tuple((0, int(part), part) if part.isdecimal() else (1, 0, part) for part in parts)
