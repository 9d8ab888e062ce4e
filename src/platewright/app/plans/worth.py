"""What a plate is worth, in things a builder can see, buy and lift."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Final, TypeAlias

from platewright.app.report import used_box
from platewright.foundation.units import ALIASES, MM_PER_M, DegC, Kelvin, Metre, Mm, Ratio
from platewright.heat.panel_heat import heat_of
from platewright.model.job import CableEntry, DisplayUnit
from platewright.model.layout import Layout
from platewright.model.panel import Panel, body_box
from platewright.rules.placed import placed_devices
from platewright.rules.rows import rows_of

SAME_LENGTH: Final[Mm] = 0.1  # two pieces nearer than this are one setting of the stop

Value: TypeAlias = float | int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Worth:
    """What a plate takes; ``None``: no data to tell it."""

    wire: Metre
    height: Mm  # of the plate used, ducts included
    area: Ratio  # share of the plate's area
    duct: Metre
    cut_lengths: int  # different lengths of rail and duct to cut
    hottest: DegC | None  # warmest housing, by the simple heat model
    hottest_tag: str
    over_limit: Kelvin | None  # air at a device over its own limit, at the worst; below 0: under it
    over_limit_tag: str
    weight_height: float | None  # kg·m: every mass times the height of its middle
    entry: Mm | None  # from the plate's edge at the cable entry to the terminals, a mean
    holes: int
    rows: int
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Measure:
    """One line of the comparison: name of the value and in JSON, words, unit, decimals."""

    name: str
    key: str
    words: str
    unit: str = ""
    digits: int = 0
    inch_unit: str = ""  # where the job prints inches
    is_aim: bool = True  # less of it is better


MEASURES: Final = (
    Measure("wire", "wire_m", "wire", "m", 1, "ft"),
    Measure("height", "height_mm", "plate height used", "mm", 0, "in"),
    Measure("area", "plate_used", "plate area used", "%"),
    Measure("duct", "duct_m", "duct", "m", 2, "ft"),
    Measure("cut_lengths", "cut_lengths", "different cut lengths"),
    Measure("hottest", "hottest_degc", "warmest housing", "°C"),
    Measure("over_limit", "over_limit_k", "air over a device's limit", "K"),
    Measure("weight_height", "weight_height_kgm", "weight × height", "kg·m", 1),
    Measure("entry", "entry_mm", "terminals from the cable entry, mean", "mm", 0, "in"),
    Measure("holes", "holes", "holes"),
    Measure("rows", "rows", "rows", is_aim=False),
)
PERCENT: Final = 100
INCH_DIGITS: Final = 1


def worth_of(panel: Panel) -> Worth:
    """Measure a panel. Wires that have no way count as nothing: ``check`` tells them."""
    layout, plate = panel.layout, panel.job.settings.plate
    used = used_box(panel)
    warmth = _warmth(panel)
    weight, unstated = _weight(panel)
    return Worth(
        wire=panel.routes.total_cut / MM_PER_M,
        height=used.height if used else 0.0,
        area=used.width * used.height / (plate.width * plate.height) if used else 0.0,
        duct=sum(d.length for d in layout.ducts.values()) / MM_PER_M,
        cut_lengths=cut_lengths(layout),
        hottest=warmth.hottest,
        hottest_tag=warmth.hottest_tag,
        over_limit=warmth.over_limit,
        over_limit_tag=warmth.over_limit_tag,
        weight_height=weight,
        entry=_from_entry(panel),
        holes=sum(not hole.is_idle_mark for hole in layout.holes.values()),
        rows=len(rows_of(placed_devices(panel))),
        notes=tuple(_notes(panel, warmth.unknown, unstated)),
    )


def cut_lengths(layout: Layout) -> int:
    """Return how often the saw's stop is set: lengths of rails and of ducts, by stock."""
    lengths = {("rail " + r.profile, round(r.length / SAME_LENGTH)) for r in layout.rails.values()}
    lengths |= {("duct " + d.stock, round(d.length / SAME_LENGTH)) for d in layout.ducts.values()}
    return len(lengths)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Warmth:
    """What the heat model says of a plate."""

    hottest: DegC | None = None
    hottest_tag: str = ""
    over_limit: Kelvin | None = None
    over_limit_tag: str = ""
    unknown: int = 0  # devices that state no heat


def _warmth(panel: Panel) -> _Warmth:
    if not panel.layout.devices:
        return _Warmth()
    found = heat_of(panel)
    unknown = len(found.losses.unknown)
    if found.losses.total <= 0 or not found.devices:
        return _Warmth(unknown=unknown)
    housings = [(d.surface.value, d.tag) for d in found.devices.values()]
    over = [(d.air.value - d.limit, d.tag) for d in found.devices.values() if d.limit is not None]
    hottest, over_limit = max(housings), max(over, default=(None, ""))
    return _Warmth(
        hottest=hottest[0], hottest_tag=hottest[1], over_limit=over_limit[0],
        over_limit_tag=over_limit[1], unknown=unknown,
    )  # fmt: skip


def _weight(panel: Panel) -> tuple[float | None, int]:
    """Return mass times height of the middle, summed, and how many devices state no mass."""
    moment, unstated, known = 0.0, 0, 0
    for tag, at in panel.layout.devices.items():
        part = panel.job.part_of(tag)
        if part.mass is None:
            unstated += 1
        else:
            known += 1
            moment += part.mass * body_box(part, at).centre.y / MM_PER_M
    return (moment if known else None), unstated


def _from_entry(panel: Panel) -> Mm | None:
    """Return how far terminals stand from the plate's edge at the cable entry, a mean.

    Each counts by its field conductors; ``None``: no entry is stated, or nothing ends there.
    """
    entry, plate = panel.job.settings.enclosure.cable_entry, panel.job.settings.plate
    total, weight = 0.0, 0
    for tag, conductors in panel.job.field_conductors.items():
        at = panel.layout.devices.get(tag)
        if at is None or entry is None:
            continue
        middle = body_box(panel.job.part_of(tag), at).centre
        away = {
            CableEntry.BOTTOM: middle.y, CableEntry.TOP: plate.height - middle.y,
            CableEntry.LEFT: middle.x, CableEntry.RIGHT: plate.width - middle.x,
        }  # fmt: skip
        total += conductors * away[entry]
        weight += conductors
    return total / weight if weight else None


def _notes(panel: Panel, without_heat: int, without_mass: int) -> Iterator[str]:
    total = len(panel.job.on_plate)
    if without_heat:
        yield f"{without_heat} devices state no heat and count as cold"
    if without_mass:
        yield f"{without_mass} of {total} devices state no mass and count as weightless"


def value_of(worth: Worth, measure: Measure) -> Value:
    """Return one measured value; ``None``: no data."""
    value: Value = getattr(worth, measure.name)
    return value


def text_of(worth: Worth, measure: Measure, unit: DisplayUnit = DisplayUnit.MM) -> str:
    """Return one measured value as it is printed, without its unit."""
    value = value_of(worth, measure)
    if value is None:
        return "–"
    if measure.unit == "%":
        value *= PERCENT
    if unit is DisplayUnit.INCH and measure.inch_unit:
        there = ALIASES[measure.unit][measure.inch_unit]
        return f"{value / there.factor:.{INCH_DIGITS}f}"
    return f"{round(value, measure.digits) + 0.0:.{measure.digits}f}"  # never -0


def words_of(measure: Measure, unit: DisplayUnit = DisplayUnit.MM) -> str:
    """Return the name of a line with the unit it is printed in."""
    shown = measure.inch_unit if unit is DisplayUnit.INCH and measure.inch_unit else measure.unit
    return f"{measure.words}, {shown}" if shown else measure.words


def known_measures(worths: Iterable[Worth]) -> tuple[Measure, ...]:
    """Return the lines that any of the plates has data for."""
    all_worths = tuple(worths)
    return tuple(m for m in MEASURES if any(value_of(w, m) is not None for w in all_worths))


def told(worths: Mapping[str, Worth], unit: DisplayUnit) -> tuple[tuple[str, ...], ...]:
    """Return plates side by side as a table: head, then a row a measure that any of them has."""
    rows = [
        (words_of(m, unit), *(text_of(w, m, unit) for w in worths.values()))
        for m in known_measures(worths.values())
    ]
    return (("", *worths), *rows)


def worth_record(worth: Worth) -> dict[str, Any]:
    """Return what a plate is worth as plain values; lines without data are left out."""
    found: dict[str, Any] = {}
    for measure in MEASURES:
        value = value_of(worth, measure)
        if value is not None:
            found[measure.key] = round(value, 4)
    if worth.hottest_tag:
        found["hottest_device"] = worth.hottest_tag
    if worth.over_limit_tag:
        found["over_limit_device"] = worth.over_limit_tag
    return found
