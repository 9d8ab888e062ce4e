"""``layout.toml`` of format 0: the table ``[placements]`` became ``[devices]``."""

from __future__ import annotations

from collections.abc import MutableMapping
from typing import Any


def migrate(document: MutableMapping[str, Any]) -> None:
    """Change the document in place from format 0 to 1."""
    if "placements" in document and "devices" not in document:
        document["devices"] = document.pop("placements")
