"""Cross-sections of rails and ducts: area and second moment of area."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from platewright.foundation.units import Mm, Mm2, Mm4
from platewright.tables.rails import RailProfile


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """Area, and second moment about the axis that the load bends it round."""

    area: Mm2
    second_moment: Mm4


@dataclass(frozen=True, slots=True, kw_only=True)
class Plank:
    """A rectangle of a section: its size across and along the load, the height of its middle."""

    across: Mm
    along: Mm
    middle: Mm


def of_planks(planks: Iterable[Plank]) -> Section:
    """Return the section of rectangles that act together: Σ (b·h³/12 + A·(y − ȳ)²)."""
    parts = tuple(planks)
    area = sum(part.across * part.along for part in parts)
    middle = sum(part.across * part.along * part.middle for part in parts) / area
    moment = sum(
        part.across * part.along**3 / 12 + part.across * part.along * (part.middle - middle) ** 2
        for part in parts
    )
    return Section(area=area, second_moment=moment)


def hat(profile: RailProfile, *, slot: Mm = 0.0) -> Section | None:
    """Return the section of a top-hat rail pulled off its plate; ``None``: it is no hat.

    Thin hat, radii left out: the web on the plate, ``slot`` taken out of its middle, two legs,
    two brims. Checked: TH35-7.5, TH35-15 in both thicknesses against the values worked out by
    hand in the collection of trade values.
    """
    if profile.channel is None:
        return None
    t = profile.thickness
    leg = profile.height - 2 * t
    brim = (profile.width - profile.channel) / 2 + t
    return of_planks(
        (
            Plank(across=profile.channel - slot, along=t, middle=t / 2),
            Plank(across=2 * t, along=leg, middle=t + leg / 2),
            Plank(across=2 * brim, along=t, middle=profile.height - t / 2),
        )
    )


def duct_base(*, width: Mm, base: Mm, slot: Mm = 0.0, lines: Iterable[Mm] = (0.0,)) -> Section:
    """Return the section of a duct pushed sideways: its base alone, on edge.

    ``slot``: width of the base's own slots, taken out at every line (its distance from the
    middle, lines alike on both sides) as if they ran through: on the safe side. The slotted side
    walls are left out: how far up they are whole is not known. What pushes a duct towards the
    plate is borne by the plate.
    """
    whole = of_planks((Plank(across=base, along=width, middle=width / 2),))
    gone = [(base * slot, base * slot**3 / 12 + base * slot * line**2) for line in lines]
    return Section(
        area=whole.area - sum(area for area, _ in gone),
        second_moment=whole.second_moment - sum(moment for _, moment in gone),
    )
