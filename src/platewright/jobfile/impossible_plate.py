"""Enclosures, plates and ducts that can't be as they are read: most likely in another unit.

As for parts, only what can't be is a fault, and each limit stands far from anything that is built.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from platewright.foundation.errors import InputError
from platewright.foundation.units import MM_PER_INCH, MM_PER_M, Mm, Mm2, Ratio
from platewright.jobfile.impossible_parts import too_small_of
from platewright.jobfile.impossible_told import UNITS, bare_number
from platewright.model.device import Device, Place
from platewright.model.job import JobSettings
from platewright.model.part import Part

FILE: Final = "job.toml"
SHALLOW: Final[Mm] = 25.0  # plate, rail and the flattest device on it are deeper together
FOIL: Final[Mm] = 0.3  # a thinner sheet is a foil: no thread, no stiffness
TINY: Final[Mm] = 40.0  # a plate shorter than this both ways holds no device on a 35 mm rail
# one this short either way holds no row of devices (our assumption: twice the narrowest rail)
NARROW: Final[Mm] = 30.0
INCHES: Final[Mm] = 120.0  # what reads no longer than this may well be in inches: three metres
TIMES: Final[Ratio] = 4.0  # more body than plate, or enclosure, by so much
FAR: Final[Ratio] = 15.0  # a plate and its enclosure differ by less both ways
# the largest that goes by road: length of a vehicle and its height (Directive 96/53/EC, Annex I:
# 12 m and 4.00 m; memory)
LONGEST: Final[Mm] = 12 * MM_PER_M
HIGHEST: Final[Mm] = 4 * MM_PER_M

Typed = Mapping[str, tuple[str, str]]  # place -> key and value as written


@dataclass(frozen=True, slots=True, kw_only=True)
class PlateDoubt:
    """Which keys of ``job.toml`` can't be as they are read, and why; ``unit``: the likely one."""

    fields: tuple[str, ...]
    why: str
    unit: str

    @property
    def of_enclosure(self) -> bool:
        """Whether the enclosure's own size is in doubt."""
        return any(field.startswith("enclosure.") for field in self.fields)

    @property
    def of_plate(self) -> bool:
        """Whether the plate's own size is in doubt."""
        return any(field.startswith("plate.") for field in self.fields)


def doubt_of(
    settings: JobSettings, devices: Sequence[Device], parts: Mapping[str, Part]
) -> PlateDoubt | None:
    """Return why enclosure and plate can't be as they are read; ``None``: they may be."""
    large = tuple(_too_large(settings))
    if large:
        return PlateDoubt(fields=large, why="can't be: nothing so large goes by road", unit="mm")
    reasons = _small_box(settings) | _small_plate(settings)
    reasons |= _small_for_devices(settings, devices, parts)
    order = [f"enclosure.{key}" for key in ("width", "height", "depth", "door_inside")]
    order += [f"plate.{key}" for key in ("width", "height", "thickness")]
    fields = [field for field in order if field in reasons]
    if not fields:
        return None
    whys = dict.fromkeys(reasons[field] for field in fields)
    return PlateDoubt(fields=tuple(fields), why="can't be: " + "; ".join(whys), unit="in")


def fault_of(doubt: PlateDoubt, settings: JobSettings, typed: Typed) -> InputError:
    """Return the one fault of all keys in doubt."""
    written = [_typed(settings, field, typed) for field in doubt.fields]
    is_bare = [f"{field}_mm" not in typed for field in doubt.fields]
    keys = ", ".join(
        dict.fromkeys(f"{field.rpartition('.')[2]}_{doubt.unit}" for field in doubt.fields)
    )
    plural = "s" if "," in keys else ""
    cure = "Correct the sizes, or their unit"
    if (doubt.unit == "in") == all(is_bare):
        cure = (
            f"If these are {UNITS[doubt.unit]}, name the key{plural} {keys}, or write the unit in quotes: "
            f'"{bare_number(written[0][1])} {doubt.unit}". Else correct the sizes'
        )
    return InputError(
        file=FILE,
        field=", ".join(key for key, _ in written),
        value=", ".join(value for _, value in written),
        problem=doubt.why,
        cure=cure,
    )


def follows(fault: InputError, doubt: PlateDoubt) -> bool:
    """Tell whether a fault only follows from sizes in doubt: outside the plate, larger than it."""
    field = fault.field or ""
    if field.startswith(("plate.fixing_holes[", "plate.keep_outs[")):
        return doubt.of_plate
    inside = ("plate.width_", "plate.height_", "enclosure.door_inside_")
    return field.startswith(inside) and "is more than" in fault.problem


def _value(settings: JobSettings, field: str) -> Mm:
    table, _, key = field.partition(".")
    value: Mm = getattr(getattr(settings, table), key)
    return value


def _typed(settings: JobSettings, field: str, typed: Typed) -> tuple[str, str]:
    name = f"{field}_mm"
    return typed.get(name, (name, f"{_value(settings, field):g}"))


def is_larger_than_roads(*sizes: Mm) -> bool:
    """Tell whether a thing of these sides is larger than anything that goes by road."""
    longest, second = sorted(sizes, reverse=True)[:2]
    return longest > LONGEST or second > HIGHEST


def _too_large(settings: JobSettings) -> list[str]:
    """Return the keys of what is larger than anything that goes by road."""
    found: list[str] = []
    for table, keys in (
        ("enclosure", ("width", "height", "depth")),
        ("plate", ("width", "height")),
    ):
        sizes = {f"{table}.{key}": _value(settings, f"{table}.{key}") for key in keys}
        if is_larger_than_roads(*sizes.values()):
            found += [field for field, size in sizes.items() if size > HIGHEST]
    return found


def _small_box(settings: JobSettings) -> dict[str, str]:
    """Return the keys of an enclosure that can't be so shallow, or so small for its plate."""
    box, plate = settings.enclosure, settings.plate
    found: dict[str, str] = {}
    for key in ("depth", "door_inside"):
        size = _value(settings, f"enclosure.{key}")
        if size < SHALLOW:
            why = f"no rail with a device stands in a depth of {size:g} mm"
            found[f"enclosure.{key}"] = why
    if len(found) > 1:
        found = dict.fromkeys(found, found["enclosure.depth"])
    if FAR * box.width < plate.width and FAR * box.height < plate.height:
        why = f"the plate of {plate.width:g} × {plate.height:g} mm is to go into it"
        found |= {"enclosure.width": why, "enclosure.height": why}
    elif found and max(box.width, box.height) <= INCHES:
        why = next(iter(found.values()))
        found |= {"enclosure.width": why, "enclosure.height": why}
    return found


def _small_plate(settings: JobSettings) -> dict[str, str]:
    box, plate = settings.enclosure, settings.plate
    found: dict[str, str] = {}
    size = f"{plate.width:g} × {plate.height:g} mm"
    least = TINY if max(plate.width, plate.height) < TINY else NARROW
    short = [key for key in ("width", "height") if _value(settings, f"plate.{key}") < least]
    if short:
        why = f"a plate of {size} holds no rail with a device"
        found = {f"plate.{key}": why for key in short}
    elif plate.width * FAR < box.width and plate.height * FAR < box.height:
        why = f"a plate of {size} is lost in an enclosure of {box.width:g} × {box.height:g} mm"
        found = {"plate.width": why, "plate.height": why}
    if plate.thickness < FOIL:
        found["plate.thickness"] = f"a plate {plate.thickness:g} mm thick is a foil"
    return found


def _small_for_devices(
    settings: JobSettings, devices: Sequence[Device], parts: Mapping[str, Part]
) -> dict[str, str]:
    """Return the plate's keys where the bodies on it are many times as large as it is."""
    plate, profile = settings.plate, settings.stock.rail.profile
    on_plate = [
        parts[device.part]
        for device in devices
        if device.place is Place.PLATE and device.part in parts
    ]
    taken = sum(_area(part, profile) for part in on_plate)
    there = plate.width * plate.height
    if max(plate.width, plate.height) > INCHES or taken <= TIMES * there:
        return {}
    why = (
        f"the {len(on_plate)} devices on the plate are {_in_cm2(taken)} cm² large, and it has "
        f"{_in_cm2(there)} cm²"
    )
    return {"plate.width": why, "plate.height": why}


def _area(part: Part, profile: str) -> Mm2:
    """Return the area of a body; a side that can't be so small counts as one in inches."""
    small = too_small_of(part, profile)
    wide = part.width * (MM_PER_INCH if "width" in small else 1.0)
    return wide * part.height * (MM_PER_INCH if "height" in small else 1.0)


def _in_cm2(area: Mm2) -> str:
    return f"{area / 100:.0f}"
