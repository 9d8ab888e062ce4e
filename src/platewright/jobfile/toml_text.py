"""Plain TOML text for values: the same bytes for the same values."""

from __future__ import annotations

import codecs
import re
from collections.abc import Mapping
from typing import Final

_BARE: Final = re.compile(r"[A-Za-z0-9_-]+")
_ESCAPES: Final[Mapping[int, str]] = {
    **{code: f"\\u{code:04X}" for code in (*range(0x20), 0x7F)},
    ord("\t"): "\\t",
    ord("\n"): "\\n",
    ord("\r"): "\\r",
    ord('"'): '\\"',
    ord("\\"): "\\\\",
}


def key_text(key: str) -> str:
    """Return a key; designations such as -Q1 are always in quotes, as are odd ones."""
    return key if _BARE.fullmatch(key) and not key.startswith("-") else quoted(key)


def quoted(text: str) -> str:
    """Return text in double quotes."""
    return '"' + text.translate(_ESCAPES) + '"'


def value_text(value: object) -> str:
    """Return a value."""
    match value:
        case bool():
            return "true" if value else "false"
        case float():
            return repr(value + 0.0)  # shortest text that reads back the same; no -0
        case str():
            return quoted(value)
        case Mapping():
            return inline_table(value)
        case tuple() | list():
            return "[" + ", ".join(value_text(each) for each in value) + "]"
        case _:
            return str(value)


def inline_table(table: Mapping[str, object]) -> str:
    """Return a table on one line."""
    inside = ", ".join(f"{key_text(key)} = {value_text(value)}" for key, value in table.items())
    return "{" + inside + "}"


def as_before(old: bytes, text: str) -> bytes:
    """Return the bytes of a text with the line ends and the byte-order mark of the old file."""
    if b"\r\n" in old:
        text = text.replace("\r\n", "\n").replace("\n", "\r\n")
    return (codecs.BOM_UTF8 if old.startswith(codecs.BOM_UTF8) else b"") + text.encode()
