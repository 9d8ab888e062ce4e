"""What changed between two layouts or two texts, in a form that can be applied backwards.

A change of a thing: what it was, what it is, and where in its table it stood. A change of a
text: line number, lines taken out, lines put in.
"""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from dataclasses import asdict, replace
from typing import Any, Final, TypeAlias

from platewright.foundation.errors import PlatewrightError
from platewright.jobfile.records import build
from platewright.model.layout import Duct, Hole, Layout, Placement, Rail

Values: TypeAlias = dict[str, Any]
Changes: TypeAlias = dict[str, dict[str, Values]]  # table -> tag -> was, is, at
LineChange: TypeAlias = tuple[int, list[str], list[str]]

TABLES: Final = ("devices", "ducts", "rails", "holes")


class ChangedSinceError(PlatewrightError):
    """A step can't be taken back: what it changed has been changed again by other hands."""


def changes_between(before: Layout, after: Layout) -> Changes:
    """Return what differs, by table and tag."""
    found: Changes = {}
    for table in TABLES:
        old, new = getattr(before, table), getattr(after, table)
        here = {
            tag: {"was": _values(old.get(tag)), "is": _values(new.get(tag)), "at": _place(old, tag)}
            for tag in [*old, *(tag for tag in new if tag not in old)]
            if old.get(tag) != new.get(tag)
        }
        if here:
            found[table] = here
    return found


def applied(layout: Layout, changes: Changes, *, back: bool = False) -> Layout:
    """Return the layout with changes made, or with ``back`` taken back.

    Raises ``ChangedSinceError`` when a thing is not as the changes expect it.
    """
    source, target = ("is", "was") if back else ("was", "is")
    tables: dict[str, Any] = {}
    for table in TABLES:
        things = dict(getattr(layout, table))
        put_in: list[tuple[int, str, object]] = []
        for tag, change in changes.get(table, {}).items():
            if not _is_as(_values(things.get(tag)), change[source]):
                raise ChangedSinceError(
                    f"{tag} has been changed since: this step can't be taken over its head"
                )
            if change[target] is None:
                things.pop(tag)
            elif tag in things:
                things[tag] = _made(table, change[target])
            else:
                put_in.append((change["at"], tag, _made(table, change[target])))
        tables[table] = _with(things, put_in)
    return replace(layout, **tables)


def _is_as(now: Values | None, kept: Values | None) -> bool:
    """Tell whether a thing is as the history has it; what it did not keep yet may be anything."""
    if now is None or kept is None:
        return now is kept
    return all(name in now and now[name] == value for name, value in kept.items())


def _with(things: dict[str, Any], put_in: list[tuple[int, str, object]]) -> dict[str, Any]:
    """Return the table with things put back where they stood."""
    items = list(things.items())
    for at, tag, thing in sorted(put_in, key=lambda entry: entry[0]):
        items.insert(min(at, len(items)), (tag, thing))
    return dict(items)


def _place(table: Mapping[str, object], tag: str) -> int:
    return list(table).index(tag) if tag in table else len(table)


def _values(thing: object | None) -> Values | None:
    if thing is None:
        return None
    return {name: _plain(value) for name, value in asdict(thing).items()}  # type: ignore[call-overload]


def _plain(value: object) -> object:
    return str(value) if isinstance(value, str) else value


_RECORDS: Final[Mapping[str, type]] = {
    "devices": Placement,
    "ducts": Duct,
    "rails": Rail,
    "holes": Hole,
}


def _made(table: str, values: Values) -> object:
    """Return a thing from the values the history keeps; these may have been touched by hand."""
    record, _ = build(_RECORDS[table], values)
    if record is None:
        raise ChangedSinceError("the history holds a step that can't be read")
    return record


def line_changes(before: bytes, after: bytes) -> list[LineChange]:
    """Return what differs line by line; line ends are part of a line."""
    old, new = _lines(before), _lines(after)
    steps = difflib.SequenceMatcher(a=old, b=new, autojunk=False).get_opcodes()
    return [(i1, old[i1:i2], new[j1:j2]) for kind, i1, i2, j1, j2 in steps if kind != "equal"]


def text_applied(content: bytes, changes: list[LineChange], *, back: bool = False) -> bytes:
    """Return the text with changes made, or taken back. Raises ``ChangedSinceError``."""
    lines = _lines(content)
    found: list[str] = []
    at = shift = 0
    for start, taken, put in changes:
        source, target = (put, taken) if back else (taken, put)
        begin = start + shift if back else start
        if lines[begin : begin + len(source)] != source:
            raise ChangedSinceError("the list has been changed since: this step can't be taken")
        found += [*lines[at:begin], *target]
        at = begin + len(source)
        shift += len(put) - len(taken)
    return "".join([*found, *lines[at:]]).encode("utf-8", "surrogateescape")


def _lines(content: bytes) -> list[str]:
    return content.decode("utf-8", "surrogateescape").splitlines(keepends=True)
