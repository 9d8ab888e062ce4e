"""Rows of a foreign device list -> devices, and the parts that their dimensions make.

A row with width, height and depth makes a part (the same data, the same part); a row without
takes a part of the starter list. What had to be assumed is noted.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, field, replace
from typing import Final

from platewright.foundation.errors import InputError, nearest
from platewright.foundation.units import ALIASES, Alias
from platewright.jobfile.columns import Column, Kind, column, columns_of
from platewright.jobfile.foreign_list import ForeignList, not_understood
from platewright.jobfile.quantities import Unreadable, read_names, read_number
from platewright.jobfile.records import Trouble, build
from platewright.model.device import Device
from platewright.model.job import DisplayUnit
from platewright.model.part import Mount, Part

SIZES: Final = ("width", "height", "depth")
MOST_TAGS: Final = 200  # devices one row may stand for
ASSUMED_RAIL: Final = "rail centre assumed at half height"
ASSUMED_MOUNT: Final = "mounting on a rail assumed"
ASSUMED_SCREWS: Final = "mounting by screws assumed, since it is lower than a rail"


@dataclass(slots=True)
class DevicesFound:
    """What was made of a device list."""

    devices: list[tuple[int, Device]] = field(default_factory=list)
    parts: dict[str, tuple[int, Part]] = field(default_factory=dict)  # name -> row, part
    skipped: list[InputError] = field(default_factory=list)
    left_out: dict[int, tuple[str, ...]] = field(default_factory=dict)  # row -> its devices


def read_devices(
    found: ForeignList, starter: Mapping[str, Part], lengths_in: DisplayUnit
) -> DevicesFound:
    """Return devices and parts; each row that can't be used is told."""
    made = DevicesFound()
    reader = _Rows(found, starter, lengths_in, made)
    for row, cells in found.rows:
        try:
            reader.take(row, cells)
        except _Unusable as unusable:
            made.skipped += unusable.faults
            made.left_out[row] = reader.named(cells)
    return made


def missing_sizes(found: ForeignList) -> list[InputError]:
    """Return the faults of a list that heads some of width, height and depth, but not all."""
    if not any(size in found.columns for size in SIZES):
        return []
    return [
        not_understood(found, "devices", size, f"the {size} of a body")
        for size in SIZES
        if size not in found.columns
    ]


class _Unusable(Exception):  # noqa: N818 (a row that can't be used, not an error of the program)
    """A row that can't be used. Always caught by ``read_devices``."""

    def __init__(self, faults: list[InputError]) -> None:
        super().__init__()
        self.faults = faults


class _Rows:
    """Takes row after row."""

    def __init__(
        self,
        found: ForeignList,
        starter: Mapping[str, Part],
        lengths_in: DisplayUnit,
        made: DevicesFound,
    ) -> None:
        self.found = found
        self.starter = starter
        self.lengths_in = lengths_in
        self.made = made
        self.headings = {each.column: each for each in found.headings}
        self.single = single_groups(found)
        self.sizes_missing = missing_sizes(found)

    def named(self, cells: Mapping[str, str]) -> tuple[str, ...]:
        """Return the devices that a row stands for, known ones left out; none if unreadable."""
        try:
            tags = spread_tags(cells.get("tag", ""))
        except Unreadable:
            return ()
        known = {device.tag for _, device in self.made.devices}
        return tuple(tag for tag in tags if tag not in known)

    def take(self, row: int, cells: Mapping[str, str]) -> None:
        """Add the devices of one row, and its part when that is new."""
        tags = self._tags(row, cells)
        part = self._part(row, cells)
        raw = self._raw(row, cells, Device)
        raw["part"] = part
        for name in ("group",):
            raw[name] = group_names(cells.get(name, ""), self.single)
        if "place" in raw:
            raw["place"] = "door" if "door" in str(raw["place"]).lower() else "plate"
        for tag in tags:
            device, troubles = build(Device, raw | {"tag": tag})
            if device is None:
                raise _Unusable([self._trouble(row, cells, each) for each in troubles])
            self.made.devices.append((row, device))

    def _tags(self, row: int, cells: Mapping[str, str]) -> tuple[str, ...]:
        text = cells.get("tag", "")
        try:
            tags = spread_tags(text)
        except Unreadable as unreadable:
            raise self._unusable(row, "tag", text, unreadable.problem, unreadable.cure) from None
        if not tags:
            raise self._unusable(row, "tag", None, "is blank", "Give the device a designation")
        count = cells.get("quantity", "")
        if count and count != str(len(tags)):
            raise self._unusable(
                row,
                "quantity",
                count,
                f"does not agree with the {len(tags)} designations in the row",
                "Write one designation for each piece, e.g. K4, K5, K6 or K4..K6",
            )
        known = {device.tag for _, device in self.made.devices}
        twice = [tag for tag in tags if tag in known]
        if twice:
            raise self._unusable(
                row, "tag", twice[0], "stands in an earlier row", "Give it another"
            )
        return tags

    def _part(self, row: int, cells: Mapping[str, str]) -> str:
        """Return the name of the row's part; makes it when the row carries dimensions."""
        name = cells.get("part", "")
        if not any(cells.get(size) for size in SIZES):
            if name in self.starter or name in self.made.parts:
                return name
            known = {*self.starter, *self.made.parts}
            raise self._unusable(
                row,
                "part",
                name or None,
                "is no starter part, and the row gives no width, height and depth"
                + self._no_sizes(),
                f"Add its dimensions, or name a starter part. {nearest(name, known)}",
            )
        if self.sizes_missing:
            raise _Unusable([replace(fault, row=row) for fault in self.sizes_missing])
        raw = self._raw(row, cells, Part)
        notes = self._assume(raw, cells)
        raw["source"] = "; ".join([f"imported from {self.found.file}", *notes])
        raw["part"] = name or _name_of(raw)
        part, troubles = build(Part, raw)
        if part is None:
            raise _Unusable([self._trouble(row, cells, each) for each in troubles])
        return self._shared(row, part)

    def _no_sizes(self) -> str:
        """Return the headings that may be sizes where no heading is understood as one."""
        if not self.found.unused or any(size in self.headings for size in SIZES):
            return ""
        return f" (headings not understood: {', '.join(map(repr, self.found.unused))})"

    def _assume(self, raw: dict[str, object], cells: Mapping[str, str]) -> Iterator[str]:
        """Settle how the part is held; returns what was assumed."""
        notes: list[str] = []
        word = cells.get("mount", "").lower()
        if not word:
            notes.append(ASSUMED_MOUNT)
        is_rail = not word or "rail" in word or "din" in word.split()
        raw["mount"] = Mount.RAIL if is_rail else Mount.SCREWS
        if is_rail and "rail_center" not in raw and isinstance(raw.get("height"), float):
            height = raw["height"]
            raw["rail_center"] = height / 2 if isinstance(height, float) else None
            notes.append(ASSUMED_RAIL)
        return iter(notes)

    def _shared(self, row: int, part: Part) -> str:
        """Return the name under which the same data are known, or make a new part of them."""
        bare = _unnamed(part)
        stem, number = part.part, 1
        for name, (_, other) in self.made.parts.items():
            if _unnamed(other) == bare and (name == stem or name.rpartition(" #")[0] == stem):
                return name
        while (name := stem if number == 1 else f"{stem} #{number}") in self.made.parts:
            number += 1
        self.made.parts[name] = (row, replace(part, part=name))
        return name

    def _raw(self, row: int, cells: Mapping[str, str], record: type) -> dict[str, object]:
        """Return the values of a row for one record; all unreadable cells are told together."""
        raw: dict[str, object] = {}
        faults: list[InputError] = []
        for each in columns_of(record):
            cell = cells.get(each.field, "")
            if not cell:
                continue
            try:
                raw[each.field] = self._value(each, cell)
            except Unreadable as unreadable:
                faults.append(
                    self._fault(row, each.field, cell, unreadable.problem, unreadable.cure)
                )
        if faults:
            raise _Unusable(faults)
        return raw

    def _value(self, each: Column, cell: str) -> object:
        if each.kind is Kind.NUMBER:
            suffix = each.unit.suffix if each.unit else None
            alias = unit_of(self.headings[each.field].unit, suffix, self.lengths_in)
            return read_number(cell, suffix, heading=alias, comma=self.found.decimal_comma)
        if each.kind is Kind.NAMES and each.field != "group":
            return read_names(cell.replace(",", " "))
        return cell

    def _trouble(self, row: int, cells: Mapping[str, str], told: Trouble) -> InputError:
        """Return the fault of a value, as it stands in the list and not in the inside unit."""
        name = str(told.place[0])
        return self._fault(row, name, cells.get(name) or told.value, told.problem, told.cure)

    def _fault(self, row: int, name: str, value: str | None, problem: str, cure: str) -> InputError:
        heading = self.headings.get(name)
        return InputError(
            file=self.found.file,
            row=row,
            field=heading.text if heading else name,
            value=value,
            problem=problem,
            cure=cure,
        )

    def _unusable(
        self, row: int, name: str, value: str | None, problem: str, cure: str
    ) -> _Unusable:
        return _Unusable([self._fault(row, name, value, problem, cure)])


def unit_of(word: str, suffix: str | None, lengths_in: DisplayUnit) -> Alias | None:
    """Return the unit a heading names; lengths without one are in the unit the user said."""
    known = ALIASES.get(suffix or "", {})
    if word in known:
        return known[word]
    return known[str(lengths_in)] if suffix == "mm" else None


def spread_tags(text: str) -> tuple[str, ...]:
    """Return all designations of a cell: ``K4, K5``, ``K4..K6``, ``-K4…-K6``, ``K4 to K6``."""
    spelt = re.sub(r"\s*(?:…|\.{2,3}|\bto\b)\s*", "..", text)
    return read_names(" ".join(re.split(r"[\s,;]+", spelt)))


def group_names(text: str, single: AbstractSet[str] = frozenset()) -> tuple[str, ...]:
    """Return the voltage groups of a cell.

    ``M C`` is two groups where both stand alone in other cells (``single``); else the words are
    one name and are joined: ``480 V`` -> ``480-V``.
    """
    found: list[str] = []
    for name in re.split(r"[,;/+]", text):
        words = name.split()
        found += words if single >= set(words) else ["-".join(words)]
    return tuple(dict.fromkeys(name for name in found if name))


def single_groups(found: ForeignList) -> frozenset[str]:
    """Return the voltage groups of a list that stand alone in a cell, as one word."""
    cells = (cells.get("group", "") for _, cells in found.rows)
    return frozenset(
        word for cell in cells for word in re.split(r"[,;/+]", cell) if len(word.split()) == 1
    )


def lengths_without_unit(found: ForeignList) -> tuple[str, ...]:
    """Return the headings of lengths that name no unit."""
    lengths = {each.field for each in columns_of(Part) if each.unit == column(Part, "width").unit}
    return tuple(each.text for each in found.headings if each.column in lengths and not each.unit)


def _unnamed(part: Part) -> Part:
    """Return a part's data without the words by which like parts may differ."""
    return replace(part, part="", description="", kind="", source="")


def _name_of(raw: Mapping[str, object]) -> str:
    sizes = "x".join(f"{size:g}" for name in SIZES if isinstance(size := raw.get(name), float))
    return f"{raw.get('kind') or raw.get('description') or 'part'} {sizes}".strip()
