"""Changes of a TOML document that keep what a person wrote in it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from tomlkit.items import SingleKey


def add_key(table: Any, key: str | SingleKey, value: object) -> None:
    """Add a key behind the last one of a table.

    Comments and blank lines at the table's end belong, to a reader, to what follows: they stay
    behind the new key.
    """
    body = getattr(getattr(table, "value", None), "body", None)
    tail: list[Any] = []
    while body and body[-1][0] is None:
        tail.insert(0, body.pop())
    if body == [] and tail:  # comments alone: they head the table
        body.extend(tail)
        tail = []
    table.append(key, value)
    if body is not None:
        body.extend(tail)
