"""Designations in the order people read them."""

from __future__ import annotations

import re


def natural(tag: str) -> tuple[tuple[bool, int, str], ...]:
    """Return a key that puts ``-K9`` before ``-K10``."""
    return tuple(
        (part.isdecimal(), int(part) if part.isdecimal() else 0, part)
        for part in re.findall(r"[0-9]+|[^0-9]+", tag)
    )
