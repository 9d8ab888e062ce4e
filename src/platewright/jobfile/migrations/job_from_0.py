"""``job.toml`` of format 0: ``[panel]`` became ``[job]``, ``[plate] holes`` became ``fixing_holes``."""

from __future__ import annotations

from collections.abc import MutableMapping
from typing import Any


def migrate(document: MutableMapping[str, Any]) -> None:
    """Change the document in place from format 0 to 1."""
    if "panel" in document and "job" not in document:
        document["job"] = document.pop("panel")
    plate = document.get("plate")
    if isinstance(plate, MutableMapping) and "holes" in plate and "fixing_holes" not in plate:
        plate["fixing_holes"] = plate.pop("holes")
