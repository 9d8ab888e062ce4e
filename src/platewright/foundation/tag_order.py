"""The order in which a reader expects tags, H2 before H10, and many of them in few words."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence


def tag_order(tag: str) -> tuple[tuple[int, int, str], ...]:
    """Return a sort key that compares runs of digits as numbers."""
    parts = re.findall(r"\d+|\D+", tag)
    return tuple((0, int(part), part) if part.isdecimal() else (1, 0, part) for part in parts)


def listed(names: Sequence[str], most: int = 6) -> str:
    """Return names as a list of at most ``most``, telling how many more there are."""
    rest = len(names) - most
    return ", ".join(names[:most]) + (f" and {rest} more" if rest > 0 else "")


def in_ranges(tags: Iterable[str]) -> str:
    """Return tags as one writes them to a command: ``H1..H4,H7``."""
    runs: list[list[str]] = []
    for tag in sorted(tags, key=tag_order):
        if runs and _follows(runs[-1][-1], tag):
            runs[-1].append(tag)
        else:
            runs.append([tag])
    words = [",".join(run) if len(run) < 3 else f"{run[0]}..{run[-1]}" for run in runs]
    return ",".join(words)


def _follows(one: str, other: str) -> bool:
    """Tell whether two tags differ only in that the number at the end is one more."""
    stem, number = _split(one)
    next_stem, next_number = _split(other)
    return stem == next_stem and number is not None and next_number == number + 1


def _split(tag: str) -> tuple[str, int | None]:
    stem = tag.rstrip("0123456789")
    digits = tag[len(stem) :]
    return stem, int(digits) if digits and str(int(digits)) == digits else None
