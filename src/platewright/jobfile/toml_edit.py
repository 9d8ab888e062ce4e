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
    body = body_of(table)
    tail = tail_of(table)
    if body == [] and tail:  # comments alone: they head the table
        body.extend(tail)
        tail = []
    table.append(key, value)
    body_of(table).extend(tail)


def tail_of(table: Any) -> list[Any]:
    """Take the comments and blank lines off a table's end; return them."""
    body = body_of(table)
    tail: list[Any] = []
    while body and body[-1][0] is None:
        tail.insert(0, body.pop())
    return tail


def body_of(table: Any) -> list[Any]:
    """Return what a document or table is made of, line by line; nothing for one in brackets."""
    from tomlkit.items import Table  # noqa: PLC0415 (28 ms that reading must not pay)

    if isinstance(table, Table):
        return table.value.body
    return getattr(table, "body", [])
