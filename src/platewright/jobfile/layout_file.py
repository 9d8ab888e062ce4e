"""``layout.toml``: where everything stands, one line a thing, by tag.

A new file is written as plain text (fast, the same bytes each time). A file in which a person
wrote comments is changed in place, so that they stay.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from difflib import get_close_matches
from pathlib import Path
from typing import Any, Final

from platewright.foundation.errors import InputErrors, nearest
from platewright.jobfile import atomic, migrations
from platewright.jobfile.columns import Column, Kind, columns_of
from platewright.jobfile.toml_edit import add_key
from platewright.jobfile.toml_text import as_before, inline_table, key_text
from platewright.jobfile.toml_values import parse, read_record
from platewright.model.job import Job
from platewright.model.layout import Hole, HoleState, Layout

FILE: Final = "layout.toml"
DECIMALS: Final = 3  # of a millimetre; nobody can set more

_HEAD: Final = (
    "# Where everything stands, in mm from the plate's lower left corner.\n"
    "# Written by plan and page; may be edited by hand. locked = true keeps a thing in place.\n"
)


@dataclass(frozen=True, slots=True)
class LayoutReading:
    """A layout, and what the user should be told about reading it."""

    layout: Layout
    notes: tuple[str, ...] = ()
    dropped: Layout = field(default_factory=Layout)  # devices and holes that were left out


def read_layout(folder: Path, job: Job) -> Layout:
    """Return the layout of a job folder; an empty one when the file is missing."""
    return read_layout_with_notes(folder, job).layout


def read_layout_with_notes(folder: Path, job: Job) -> LayoutReading:
    """Return the layout of a job folder with what was left out; empty when the file is missing.

    Devices that the lists no longer hold are left out and told: a job changes. Holes that held
    them stay once they are marked or drilled, as left over. Raises ``InputErrors`` with every
    fault of the file.
    """
    path = folder / FILE
    if not path.is_file():
        return LayoutReading(Layout())
    return parse_layout(path.read_bytes(), FILE, job)


def parse_layout(content: bytes, name: str, job: Job) -> LayoutReading:
    """Return the layout that a file holds; ``name`` is what faults are reported against."""
    document, fault = parse(content, name)
    fault = fault or migrations.bring_up_to_date(document, FILE)
    if fault:
        raise InputErrors([fault])
    layout, faults = read_record(Layout, document, name)
    if layout is None:
        raise InputErrors(faults)
    return _without_strangers(layout, job)


def write_layout(folder: Path, layout: Layout) -> None:
    """Save the layout; comments a person wrote in the old file stay."""
    path = folder / FILE
    old = path.read_bytes() if path.is_file() else b""
    atomic.save(
        path, as_before(old, _kept(old, layout) if _has_own_words(old) else layout_text(layout))
    )


def layout_text(layout: Layout) -> str:
    """Return a fresh file."""
    lines = [_HEAD, f"format = {migrations.NEWEST}\n"]
    for table in _tables():
        things: Mapping[str, object] = getattr(layout, table.field)
        if things:
            lines.append(f"\n[{table.name}]\n")
            lines += [
                f"{key_text(tag)} = {inline_table(_values(thing))}\n"
                for tag, thing in things.items()
            ]
    return "".join(lines)


def _tables() -> tuple[Column, ...]:
    return tuple(each for each in columns_of(Layout) if each.kind is Kind.MAP)


def _values(thing: object) -> dict[str, object]:
    """Return what is written of a thing: blanks and what is as usual are left out."""
    found: dict[str, object] = {}
    for column in columns_of(type(thing)):
        value = getattr(thing, column.field)
        if not column.needed and value == column.default:
            continue
        if column.kind is Kind.NUMBER:
            value = round(float(value), DECIMALS) + 0.0  # no -0
        found[column.name] = value
    return found


def _has_own_words(old: bytes) -> bool:
    """Tell whether a file holds comments beyond the ones every file starts with."""
    own = set(_HEAD.splitlines())
    lines = old.decode("utf-8-sig", errors="replace").splitlines()
    return any("#" in line and line.strip() not in own for line in lines)


def _kept(old: bytes, layout: Layout) -> str:
    """Return the old file with the new content, its comments and order kept."""
    import tomlkit  # noqa: PLC0415 (28 ms that reading must not pay)

    _, fault = parse(old, FILE)
    if fault:
        raise InputErrors([fault])
    document = tomlkit.parse(old.decode("utf-8-sig"))
    migrations.bring_up_to_date(document, FILE)
    document["format"] = migrations.NEWEST
    for table in _tables():
        things: Mapping[str, object] = getattr(layout, table.field)
        if table.name not in document:
            if not things:
                continue
            document.append(table.name, tomlkit.table())
        _update(document[table.name], things)
    return tomlkit.dumps(document)


def _update(old: Any, things: Mapping[str, object]) -> None:
    """Change a table of the document in place, tag by tag."""
    import tomlkit  # noqa: PLC0415 (as above)
    from tomlkit.items import KeyType, SingleKey  # noqa: PLC0415

    for tag in [tag for tag in old if tag not in things]:
        del old[tag]
    for tag, thing in things.items():
        values = {name: _plain(value) for name, value in _values(thing).items()}
        if tag in old and old[tag] == values:
            continue
        entry = tomlkit.inline_table()
        entry.update(values)
        if tag not in old:
            kind = None if key_text(tag) == tag else KeyType.Basic
            add_key(old, SingleKey(tag, kind), entry)
        else:
            entry.trivia.comment_ws = old[tag].trivia.comment_ws
            entry.trivia.comment = old[tag].trivia.comment
            old[tag] = entry


def _plain(value: object) -> object:
    return str(value) if isinstance(value, str) else value  # a StrEnum as plain text


def _without_strangers(layout: Layout, job: Job) -> LayoutReading:
    """Return the layout without what the job, or the rest of the layout, no longer knows."""
    on_plate = {d.tag for d in job.on_plate}
    devices = {tag: at for tag, at in layout.devices.items() if tag in on_plate}
    without_place = sorted(on_plate - set(layout.devices))  # one that stands is no slip of typing
    notes = [
        f"{FILE}: {tag} is not on the plate by devices.csv; left out"
        + (f". {nearest(tag, close)}" if (close := get_close_matches(tag, without_place)) else "")
        for tag in layout.devices
        if tag not in on_plate
    ]
    known = {*devices, *layout.ducts, *layout.rails}
    holes: dict[str, Hole] = {}
    for tag, hole in layout.holes.items():
        if not hole.holds or hole.holds in known:
            holes[tag] = hole
        elif hole.state is HoleState.PLANNED:
            notes.append(f"{FILE}: hole {tag} held {hole.holds}, which is gone; left out")
        else:
            holes[tag] = replace(hole, holds="")
            notes.append(
                f"{FILE}: hole {tag} held {hole.holds}, which is gone; "
                + (
                    "its mark is wiped off, it is not drilled"
                    if hole.state is HoleState.MARKED
                    else "it is drilled, so it stays as left over"
                )
            )
    dropped = Layout(
        devices={tag: at for tag, at in layout.devices.items() if tag not in on_plate},
        holes={tag: hole for tag, hole in layout.holes.items() if tag not in holes},
    )
    return LayoutReading(replace(layout, devices=devices, holes=holes), tuple(notes), dropped)
