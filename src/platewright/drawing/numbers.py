"""The only place where a number becomes text for a writer or a sheet."""

from __future__ import annotations

import math


def fixed(value: float, decimals: int = 3) -> str:
    """Return so many decimals, never ``-0``."""
    if not math.isfinite(value):
        raise ValueError(f"{value} cannot be drawn")
    text = f"{value:.{decimals}f}"
    return text[1:] if text.startswith("-") and not text.strip("-0.") else text


def short(value: float, decimals: int = 3) -> str:
    """Return at most so many decimals, without trailing zeros."""
    text = fixed(value, decimals)
    return text.rstrip("0").rstrip(".") if "." in text else text
