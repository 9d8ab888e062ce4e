"""What can be wrong in ``job.toml`` beyond single values: things that can't be true together."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Iterable, Iterator
from typing import Final

from platewright.foundation.errors import InputError, nearest, or_else
from platewright.foundation.tag_order import listed
from platewright.foundation.units import Mm
from platewright.model.job import DuctStock, Hold, JobSettings, Stock
from platewright.tables.presets import preset_names
from platewright.tables.strengths import rivet, rivet_names
from platewright.tables.threads import thread, thread_names
from platewright.tables.usual_fasteners import usual_fasteners

FILE: Final = "job.toml"
MATERIALS: Final = ("steel", "stainless", "aluminium")
PLACEMENTS: Final = ("wall", "free", "row", "sunk")


def faults_of(settings: JobSettings) -> Iterator[InputError]:
    """Yield every fault of settings whose single values are sound."""
    yield from _words(settings)
    yield from _fasteners(settings.stock)
    yield from _thin_ducts(settings)
    yield from _slots(settings)
    yield from _sizes(settings)
    yield from _holes(settings)
    yield from _twice("groups", "name", (group.name for group in settings.groups))
    yield from _twice("stock.ducts", "name", (duct.name for duct in settings.stock.ducts))
    if not settings.stock.ducts:
        cure = 'Add at least one, e.g. {name = "40x60", width_mm = 40, height_mm = 60}'
        yield InputError(file=FILE, field="stock.ducts", problem="holds no duct", cure=cure)


def _words(settings: JobSettings) -> Iterator[InputError]:
    for field, value, known in (
        ("plate.material", settings.plate.material, MATERIALS),
        ("enclosure.placement", settings.enclosure.placement, PLACEMENTS),
    ):
        if value not in known:
            problem = "must be one of " + ", ".join(known)
            cure = nearest(value, known)
            yield InputError(file=FILE, field=field, value=value, problem=problem, cure=cure)
    if settings.preset and settings.preset not in preset_names():
        yield InputError(
            file=FILE,
            field="preset",
            value=settings.preset,
            problem="is no preset",
            cure=or_else(
                nearest(settings.preset, preset_names()), "Or take it out and write [aims]"
            ),
        )
    date = settings.job.date
    try:
        if date:
            dt.date.fromisoformat(date)
    except ValueError:
        cure = "Write it as YYYY-MM-DD"
        yield InputError(file=FILE, field="job.date", value=date, problem="is no date", cure=cure)
    for index, group in enumerate(settings.groups, start=1):
        if not group.name or len(group.name.split()) != 1:
            yield InputError(
                file=FILE,
                field=f"groups[{index}].name",
                value=group.name,
                problem="must be one word",
                cure="Write a short name without spaces, e.g. M",
            )


def _fasteners(stock: Stock) -> Iterator[InputError]:
    """Yield names of screws and rivets that the tables do not have; blank: the usual one."""
    for field in ("duct_screw", "rail_screw"):
        name = getattr(stock, field)
        if name and thread(name) is None:
            yield _unknown(f"stock.{field}", name, "thread", thread_names())
    if stock.duct_rivet and rivet(stock.duct_rivet) is None:
        yield _unknown("stock.duct_rivet", stock.duct_rivet, "rivet", rivet_names())


def _unknown(field: str, name: str, what: str, known: Iterable[str]) -> InputError:
    return InputError(
        file=FILE,
        field=field,
        value=name,
        problem=f"is no {what} that the tables have",
        cure=nearest(name, known),
    )


def _thin_ducts(settings: JobSettings) -> Iterator[InputError]:
    """Yield one fault for all ducts that are narrower than what holds them: in inches, most likely."""
    name, wide = _held_by(settings)
    ducts = enumerate(settings.stock.ducts, start=1)
    thin = [(index, duct) for index, duct in ducts if wide is not None and duct.width < wide]
    if not thin:
        return
    index, duct = thin[0]
    problem = f"duct {duct.name} is narrower than {name}, {wide:g} mm, which holds ducts"
    if len(thin) > 1:
        problem += ". The same: " + listed([other.name for _, other in thin[1:]])
    yield _slip(
        f"stock.ducts[{index}].width_mm",
        duct.width,
        problem,
        f'If ducts are in inches, name the keys width_in and height_in, or write "{duct.width:g} in". '
        "Else correct the width",
    )


def _slots(settings: JobSettings) -> Iterator[InputError]:
    """Yield what can't be true together of the slots of rails and ducts."""
    rail = settings.stock.rail
    yield from _row_of_slots("stock.rail", rail.slot_pitch, rail.slot_length, rail.first_slot)
    yield from _takes("stock.rail", rail.slot_width, _rail_screw(settings), "rails")
    for index, duct in enumerate(settings.stock.ducts, start=1):
        path = f"stock.ducts[{index}]"
        others = ("slot_length", "slot_width", "slot_lines", "first_slot")
        stated = [f"{key}_mm" for key in others if getattr(duct, key) is not None]
        if duct.slot_pitch is None and stated:
            yield InputError(
                file=FILE,
                field=f"{path}.slot_pitch_mm",
                problem=f"is missing, though {' and '.join(stated)} of {duct.name} is there",
                cure="Write the pitch of the slots, or take the others out",
            )
        elif duct.slot_pitch is not None:
            yield from _row_of_slots(path, duct.slot_pitch, duct.slot_length, duct.first_slot)
            yield from _across(path, duct, settings)


def _row_of_slots(
    path: str, pitch: Mm, length: Mm | None, first: Mm | None
) -> Iterator[InputError]:
    if length is not None and length >= pitch:
        problem = f"leaves nothing between two slots {pitch:g} mm apart"
        yield _slip(f"{path}.slot_length_mm", length, problem, "Measure a slot, and the pitch")
    if first is not None and first > pitch:
        problem = f"is more than the pitch of {pitch:g} mm"
        cure = "Write where the first slot's centre lies from the end of a bar"
        yield _slip(f"{path}.first_slot_mm", first, problem, cure)


def _across(path: str, duct: DuctStock, settings: JobSettings) -> Iterator[InputError]:
    """Yield slots that do not fit on the base, or that do not take what holds the duct."""
    lines, width = duct.slot_lines or 0.0, duct.slot_width
    if lines + (width or 0.0) >= duct.width:
        field, value = ("slot_lines_mm", lines) if lines else ("slot_width_mm", width or 0.0)
        problem = f"does not fit on a base {duct.width:g} mm wide"
        yield _slip(f"{path}.{field}", value, problem, "Measure it on the bar")
        return
    yield from _takes(path, width, _held_by(settings), "ducts")


def _takes(
    path: str, width: Mm | None, by: tuple[str, Mm | None], what: str
) -> Iterator[InputError]:
    """Yield a stated width of slots that what holds the pieces does not pass."""
    name, wide = by
    if width is not None and wide is not None and width < wide:
        problem = f"is narrower than {name}, {wide:g} mm, which holds {what}"
        cure = "Name a thinner screw, or take the slots out: the base is drilled through then"
        if what == "rails":
            cure = "Name a thinner screw as rail_screw, or measure a slot again"
        yield _slip(f"{path}.slot_width_mm", width, problem, cure)


def _held_by(settings: JobSettings) -> tuple[str, Mm | None]:
    """Return what holds ducts and its diameter; ``None``: not in the tables."""
    stock, usual = settings.stock, usual_fasteners(settings.practice)
    if stock.duct_hold is Hold.RIVET:
        name = stock.duct_rivet or usual.duct_rivet
        pin = rivet(name)
        return f"rivet {name}", None if pin is None else pin.diameter
    return _screw(stock.duct_screw or usual.duct_screw)


def _rail_screw(settings: JobSettings) -> tuple[str, Mm | None]:
    usual = usual_fasteners(settings.practice)
    return _screw(settings.stock.rail_screw or usual.rail_screw)


def _screw(name: str) -> tuple[str, Mm | None]:
    """Return a screw and its diameter; ``None``: not in the tables."""
    size = thread(name)
    return f"screw {name}", None if size is None else size.major


def _slip(field: str, value: Mm, problem: str, cure: str) -> InputError:
    return InputError(file=FILE, field=field, value=f"{value:g}", problem=problem, cure=cure)


def _sizes(settings: JobSettings) -> Iterator[InputError]:
    plate, enclosure = settings.plate, settings.enclosure
    for field, inner, outer, what in (
        ("plate.width_mm", plate.width, enclosure.width, "the enclosure's width"),
        ("plate.height_mm", plate.height, enclosure.height, "the enclosure's height"),
        ("enclosure.door_inside_mm", enclosure.door_inside, enclosure.depth, "its depth"),
    ):
        if inner > outer:
            yield InputError(
                file=FILE,
                field=field,
                value=f"{inner:g}",
                problem=f"is more than {what} of {outer:g} mm",
                cure="Correct the smaller or the larger of the two",
            )


def _holes(settings: JobSettings) -> Iterator[InputError]:
    plate = settings.plate
    for index, hole in enumerate(plate.fixing_holes, start=1):
        for axis, at, size in (("x", hole.x, plate.width), ("y", hole.y, plate.height)):
            if not 0 < at < size:
                yield _outside(f"plate.fixing_holes[{index}].{axis}_mm", at, size)
    for index, region in enumerate(plate.keep_outs, start=1):
        box = region.box
        for axis, low, high, size in (
            ("x", box.left, box.right, plate.width),
            ("y", box.bottom, box.top, plate.height),
        ):
            if high <= 0 or low >= size:
                yield _outside(f"plate.keep_outs[{index}].{axis}_mm", low, size)


def _outside(field: str, at: Mm, size: Mm) -> InputError:
    return InputError(
        file=FILE,
        field=field,
        value=f"{at:g}",
        problem="lies outside the plate",
        cure=f"Write a place between 0 and {size:g} mm, measured from the plate's lower left corner",
    )


def _twice(table: str, key: str, found: Iterable[str]) -> Iterator[InputError]:
    for name, count in Counter(found).items():
        if count > 1:
            yield InputError(
                file=FILE,
                field=f"{table}.{key}",
                value=name,
                problem=f"stands {count} times",
                cure="Give each its own name",
            )
