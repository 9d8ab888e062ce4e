"""A piece as a beam between two screws: how far it bends, how far apart its screws may be.

Each span is taken as free to turn at its screws, the neighbours left out: a piece that runs on
over a screw bends less, so the answer is on the safe side. Checked against examples in print and
against beam elements (tests/reference/test_beam_examples.py).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Final

from platewright.fabricate.sections import Section, duct_base, hat
from platewright.foundation.sources import Source
from platewright.foundation.units import (
    MM2_PER_M2,
    MM_PER_M,
    STANDARD_GRAVITY,
    KgPerM3,
    Mm,
    Mm2,
    Newton,
    NPerMm,
    NPerMm2,
)
from platewright.model.layout import Run
from platewright.tables.beams import beam_practice, elasticity
from platewright.tables.ducts import duct_practice
from platewright.tables.rails import rail_profile
from platewright.tables.reader import source_of

HALVINGS: Final = 60  # of an interval of some metres: far below a hair
LONGEST: Final[Mm] = 10_000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Beam:
    """What bends a piece between two screws, and how stiff it is against that."""

    section: Section
    modulus: NPerMm2
    lasting: NPerMm2  # for the load that stays
    push: Newton  # in the middle of a span, or at a free end
    weight: NPerMm  # spread over the length
    words: str  # what pushes, e.g. "a pull of 20 N"
    source: Source


def sag_of_push(push: Newton, *, span: Mm, modulus: NPerMm2, section: Section) -> Mm:
    """Return the sag under a load in the middle of a span: F·L³ / (48·E·I).

    Source: Roark's Formulas for Stress and Strain, table of shear, moment, slope and
    deflection, simply supported, centre load (any handbook of beams).
    """
    return push * span**3 / (48 * modulus * section.second_moment)


def sag_of_weight(weight: NPerMm, *, span: Mm, modulus: NPerMm2, section: Section) -> Mm:
    """Return the sag under a load spread evenly over a span: 5·q·L⁴ / (384·E·I). As above."""
    return 5 * weight * span**4 / (384 * modulus * section.second_moment)


def sag_of_end(push: Newton, *, over: Mm, span: Mm, modulus: NPerMm2, section: Section) -> Mm:
    """Return the sag of a free end behind a span under a load at the end: F·a²·(L + a) / (3·E·I).

    Source: handbook case of an overhanging beam, load at the free end.
    """
    return push * over**2 * (span + over) / (3 * modulus * section.second_moment)


def sag(beam: Beam, span: Mm) -> Mm:
    """Return how far a span bends under push and weight together."""
    return sag_of_push(
        beam.push, span=span, modulus=beam.modulus, section=beam.section
    ) + sag_of_weight(beam.weight, span=span, modulus=beam.lasting, section=beam.section)


def end_sag(beam: Beam, over: Mm, span: Mm) -> Mm:
    """Return how far a free end bends under the push."""
    return sag_of_end(beam.push, over=over, span=span, modulus=beam.modulus, section=beam.section)


def longest_span(beam: Beam, limit: Mm) -> Mm:
    """Return the longest span that bends no more than the limit."""
    return _longest(lambda span: sag(beam, span), limit)


def longest_end(beam: Beam, span: Mm, limit: Mm) -> Mm:
    """Return the longest free end behind a span that bends no more than the limit."""
    return _longest(lambda over: end_sag(beam, over, span), limit)


def rail_beam(profile: str, *, slot: Mm | None = None) -> Beam | None:
    """Return a steel rail under the pull of a snap-on device; ``None``: its section is not known.

    ``slot``: width of the slots along its middle; ``None``: the usual one.

    The pull is off the plate, so neither the plate nor the weight of devices bears on it.
    """
    shape, practice, steel = rail_profile(profile), beam_practice(), elasticity("steel")
    section = None if shape is None else hat(shape, slot=slot or practice.slot_width)
    if section is None:
        return None
    return Beam(
        section=section,
        modulus=steel.modulus,
        lasting=steel.lasting,
        push=practice.rail_pull,
        weight=0.0,
        words=f"a pull of {practice.rail_pull:g} N",
        source=source_of(practice),
    )


def duct_beam(
    *, width: Mm, run: Run, inside: Mm2, slot: Mm = 0.0, lines: Iterable[Mm] = (0.0,)
) -> Beam:
    """Return a duct of PVC under a hand's push along the plate and the weight of its wires.

    The wires are as many as it may hold. In an upright duct their weight runs along it. ``slot``:
    width of the slots in its base, at every line from its middle.
    """
    practice, plastic = beam_practice(), elasticity("PVC")
    wires = 0.0
    if run is Run.ACROSS:
        wires = weight_per_length(inside * practice.full, practice.wire_density)
    return Beam(
        section=duct_base(width=width, base=duct_practice().base, slot=slot, lines=lines),
        modulus=plastic.modulus,
        lasting=plastic.lasting,
        push=practice.duct_push,
        weight=wires,
        words=f"a push of {practice.duct_push:g} N" + (" and its wires" if wires else ""),
        source=source_of(practice),
    )


def weight_per_length(area: Mm2, density: KgPerM3) -> NPerMm:
    """Return the weight of something of this cross-section for each mm of its length."""
    return area / MM2_PER_M2 * density * STANDARD_GRAVITY / MM_PER_M


def _longest(bends: Callable[[Mm], Mm], limit: Mm) -> Mm:
    """Return the greatest length that bends no more than the limit; what bends grows with it."""
    low, high = 0.0, LONGEST
    if bends(high) <= limit:
        return high
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        if bends(middle) <= limit:
            low = middle
        else:
            high = middle
    return low
