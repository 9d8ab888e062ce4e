"""Parts that can't be as they are read: most likely their lengths are in another unit.

Only what physics rules out is a fault, and each limit stands far beyond the physical one, so that
no real part is refused, however roughly it is measured. What is merely unlikely is left to the
checks (``data.likely-size``). How a fault is worded: ``impossible_told``.
"""

from __future__ import annotations

from collections.abc import Iterator
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from enum import Enum, auto
from typing import Final

from platewright.foundation.units import MM_PER_INCH, MM_PER_M, Kg, Mm, Ratio
from platewright.model.job import Enclosure
from platewright.model.part import Mount, Part
from platewright.tables.rails import rail_profile, rail_profiles
from platewright.tables.threads import thread

BODY: Final = ("width", "height", "depth")
INCHES: Final[Mm] = 25.0  # a body that reads no longer than this may well be one in inches
# IEC 60715: what clips on a rail reaches over both its edges. The foot may not be counted in the
# body, so a part is refused only when it is far lower than the rail, and flat as well
RAIL_SHARE: Final[Ratio] = 0.4
FLAT: Final[Mm] = 25.0
# kg/mm³ of osmium, of all metals the densest: 22.59 g/cm³ (chemical handbooks; memory). Copper,
# at 8.96, is where the checks begin to ask
DENSEST: Final = 22.6e-6
ROUNDED: Final[Kg] = 0.05  # a mass may be rounded up to the next tenth of a kilogram
LIGHTEST, COPPER = 250e-9, 8.96e-6  # kg/mm³: between them lie real devices
GRAMS: Final = 1000.0  # in a kilogram
LONGEST: Final = 80.0  # more inches are two metres: no device
AIR: Final = 1.2e-9  # kg/mm³ of air at 20 °C and sea level (1.204 kg/m³; physics handbooks; memory)
# what a black surface radiates at 1357.8 K, where copper melts: 5.670e-8 W/(m²·K⁴) times T⁴ is
# 193 kW/m² (Stefan and Boltzmann)
GLOWING: Final = 0.193  # W/mm²
FAR_APART: Final[Ratio] = 5.0  # holes or cut-out to the body's longer side: no feet reach so far
NO_WIRE: Final[Mm] = 2.0  # a smaller cut-out lets no two wires with their insulation through
FAR_DEEPER: Final[Ratio] = 5.0  # times the enclosure
FAR_LARGER: Final[Ratio] = 10.0
LARGE: Final[Mm] = MM_PER_M  # nothing shorter is refused for its size


class Wrong(Enum):
    """What is most likely wrong."""

    TOO_SMALL = auto()
    TOO_LARGE = auto()
    MASS = auto()


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubt:
    """Why a part can't be as it is read, and by which of its fields."""

    wrong: Wrong
    fields: tuple[str, ...]
    why: str
    also: tuple[str, ...] = ()  # further ones, where their column is in another unit as well


def doubt_of(part: Part, *, profile: str, box: Enclosure | None) -> Doubt | None:
    """Return why a part can't be as it is read; ``None``: it may be.

    ``profile``: the job's rail, blank where not known; ``box``: its enclosure, where known.
    """
    return next(_doubts(part, profile, box), None)


def too_small_of(part: Part, profile: str) -> AbstractSet[str]:
    """Return the fields of a body that can't be as small as they are read."""
    doubt = doubt_of(part, profile=profile, box=None)
    if doubt is None or doubt.wrong is not Wrong.TOO_SMALL:
        return frozenset()
    return set(doubt.fields) & set(BODY)


def _doubts(part: Part, profile: str, box: Enclosure | None) -> Iterator[Doubt]:
    yield from _clips_on_a_rail(part, profile)
    yield from _denser_than_metal(part)
    yield from _screws_overlap(part)
    yield from _far_beyond_the_body(part)
    yield from _smaller_than_its_screw(part)
    yield from _cut_out_for_no_wire(part)
    yield from _hotter_than_molten_copper(part)
    yield from _far_larger(part, box)
    yield from _lighter_than_air(part)


def _small(part: Part, why: str, others: tuple[str, ...] = ()) -> Doubt:
    """Return the doubt about the body, or about ``others`` where the body may be in mm."""
    is_body = not others or max(part.width, part.height) <= INCHES
    short = tuple(name for name in BODY if getattr(part, name) <= INCHES) or BODY
    return Doubt(wrong=Wrong.TOO_SMALL, fields=short if is_body else others, why=why)


def lower_than_its_rail(part: Part, profile: str) -> bool:
    """Tell whether a part is far too low, and flat, to clip on a rail."""
    too_low = part.height < RAIL_SHARE * _rail_width(profile)
    return part.mount is Mount.RAIL and too_low and part.depth < FLAT


def _rail_width(profile: str) -> Mm:
    known = (row for name in rail_profiles() if (row := rail_profile(name)))
    return (rail_profile(profile) or min(known, key=lambda row: row.width)).width


def _clips_on_a_rail(part: Part, profile: str) -> Iterator[Doubt]:
    if lower_than_its_rail(part, profile):
        rail = f"{_rail_width(profile):g} mm rail of IEC 60715"
        yield _small(part, f"what clips on the {rail} is at least as high as the rail")


def _volume(part: Part) -> float:
    return part.width * part.height * part.depth


def _denser_than_metal(part: Part) -> Iterator[Doubt]:
    if part.mass is None or part.mass - ROUNDED <= DENSEST * _volume(part):
        return
    why = f"at {part.mass:g} kg it would be denser than any metal"
    if _is_mass(part, part.mass):
        yield Doubt(wrong=Wrong.MASS, fields=("mass",), why=why)
    else:
        yield _small(part, why)


def _is_mass(part: Part, mass: Kg) -> bool:
    """Tell whether it is the mass that is most likely wrong, and not one size or more."""
    density = mass / _volume(part)

    def is_real(times: float) -> bool:
        return LIGHTEST <= density / times <= COPPER

    if is_real(MM_PER_INCH**3) and max(part.width, part.height, part.depth) <= LONGEST:
        return False  # all three in inches
    return is_real(GRAMS) or not (is_real(MM_PER_INCH) or is_real(MM_PER_INCH**2))


def _screws_overlap(part: Part) -> Iterator[Doubt]:
    size = thread(part.screw) if part.screw else None
    stated = {name: getattr(part, name) for name in ("hole_pattern_width", "hole_pattern_height")}
    close = {name: mm for name, mm in stated.items() if mm and size and mm < size.major}
    if close:
        apart = min(close.values())
        yield _small(
            part, f"two {part.screw} screws {apart:g} mm apart would overlap", tuple(close)
        )


def _far_beyond_the_body(part: Part) -> Iterator[Doubt]:
    longest = FAR_APART * max(part.width, part.height)
    for name, words in (
        ("hole_pattern_width", "its holes are {:g} mm apart"),
        ("hole_pattern_height", "its holes are {:g} mm apart"),
        ("cutout_width", "its cut-out is {:g} mm wide"),
        ("cutout_height", "its cut-out is {:g} mm high"),
        ("cutout_diameter", "its cut-out is {:g} mm wide"),
    ):
        size: Mm | None = getattr(part, name)
        if size is not None and size > longest:
            yield _small(part, words.format(size))


def _smaller_than_its_screw(part: Part) -> Iterator[Doubt]:
    size = thread(part.screw) if part.screw else None
    if size is not None and max(part.width, part.height) < size.major:
        yield _small(part, f"one {part.screw} screw is larger than the whole part")


def _cut_out_for_no_wire(part: Part) -> Iterator[Doubt]:
    names = ("cutout_width", "cutout_height", "cutout_diameter")
    stated = {name: size for name in names if (size := getattr(part, name)) is not None}
    if stated and part.terminals and max(stated.values()) < NO_WIRE:
        widest = max(stated.values())
        yield _small(part, f"no wire gets through its cut-out of {widest:g} mm", tuple(stated))


def _hotter_than_molten_copper(part: Part) -> Iterator[Doubt]:
    wide, high, deep = part.width, part.height, part.depth
    surface = 2.0 * (wide * high + wide * deep + high * deep)
    if part.heat is not None and part.heat > GLOWING * surface:
        yield _small(part, f"to give off its {part.heat:g} W it would be hotter than molten copper")


def _far_larger(part: Part, box: Enclosure | None) -> Iterator[Doubt]:
    if box is None:
        return
    sides = (
        ("width", "wide", FAR_LARGER, box.width),
        ("height", "high", FAR_LARGER, box.height),
        ("depth", "deep", FAR_DEEPER, box.depth),
    )
    far = [
        (name, f"{times:g} times as {word} as the enclosure, {size:g} mm")
        for name, word, times, size in sides
        if getattr(part, name) > max(times * size, LARGE)
    ]
    if far:
        yield Doubt(
            wrong=Wrong.TOO_LARGE,
            fields=tuple(name for name, _ in far),
            why=f"that is more than {far[0][1]}",
            also=tuple(name for name in BODY if getattr(part, name) > LARGE),
        )


def _lighter_than_air(part: Part) -> Iterator[Doubt]:
    if part.mass and part.mass < AIR * _volume(part):
        why = f"at {part.mass:g} kg it would be lighter than air"
        yield Doubt(wrong=Wrong.TOO_LARGE, fields=BODY, why=why)
