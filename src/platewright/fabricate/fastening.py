"""How far apart the fixings of a piece may be, and why it has as many as it has."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from platewright.fabricate.beams import (
    Beam,
    duct_beam,
    longest_end,
    longest_span,
    rail_beam,
    sag,
)
from platewright.fabricate.device_hold import device_hold
from platewright.fabricate.holding import holding_duct, holding_rail
from platewright.fabricate.slots import Slots, slots_of
from platewright.fabricate.stock_names import stock_of
from platewright.fabricate.stretches import stretches
from platewright.foundation.sources import Source, Standing
from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import MM_PER_INCH, Kg, Mm, Mm2
from platewright.model.fastening import Fastening
from platewright.model.job import DisplayUnit, Job, Stock
from platewright.model.layout import Duct, Hole, HoleKind, Layout, Rail, Run
from platewright.model.lengths import mass_words, with_unit
from platewright.tables.beams import beam_practice
from platewright.tables.device_hold import device_hold_practice
from platewright.tables.ducts import duct_practice
from platewright.tables.fixings import FixingLimits, fixing_limits
from platewright.tables.reader import source_of

FEWEST: Final = 2
TURNS: Final = Source("geometry", "a piece on one screw turns about it", Standing.GEOMETRY)
PATTERN: Final = Source("data of the part", "hole pattern", Standing.JOB)
HAIR: Final[Mm] = 1e-6


def inside_of(duct: Duct, stock: Stock) -> Mm2:
    """Return a duct's inside cross-section: as stated, else between usual walls (assumed)."""
    kept = stock_of(duct, stock)
    if kept is not None and kept.inside_area is not None:
        return kept.inside_area
    walls = duct_practice()
    across = duct.width - 2 * walls.side_wall
    upright = duct.height - walls.base - walls.cover_lip
    return max(0.0, across) * max(0.0, upright)


def beam_of(piece: Rail | Duct, stock: Stock) -> Beam | None:
    """Return a rail or duct as a beam; ``None``: its section is not known."""
    if isinstance(piece, Rail):
        return rail_beam(piece.profile, slot=stock.rail.slot_width)
    inside, slots = inside_of(piece, stock), slots_of(piece, stock)
    if slots is None:
        return duct_beam(width=piece.width, run=piece.run, inside=inside)
    wide = beam_practice().slot_width if slots.width is None else slots.width
    return duct_beam(width=piece.width, run=piece.run, inside=inside, slot=wide, lines=slots.lines)


def allowed_sag(job: Job) -> Mm:
    """Return how far a piece may bend between two fixings."""
    return job.settings.limits.fixing_sag or beam_practice().sag


def limits_of(piece: Rail | Duct, job: Job, *, heaviest: Kg = 0.0) -> tuple[Mm, Mm]:
    """Return how far the first fixing may be from an end, and two from each other.

    Shop practice or the job's own word is the ceiling; the beam may ask for less.
    """
    usual, own = fixing_limits("rail" if isinstance(piece, Rail) else "duct"), job.settings.limits
    end = own.fixing_end or usual.end
    span = own.fixing_span or _usual_span(usual, heaviest)
    beam = beam_of(piece, job.settings.stock)
    if beam is None:
        return end, span
    limit = allowed_sag(job)
    span = min(span, longest_span(beam, limit))
    return min(end, longest_end(beam, span, limit)), span


def fastenings(job: Job, layout: Layout) -> dict[str, Fastening]:
    """Return how everything is held, by tag: devices, rails, ducts."""
    holes: dict[str, list[Hole]] = {}
    for hole in layout.holes.values():
        holes.setdefault(hole.holds, []).append(hole)
    found = {}
    for tag in sorted(layout.devices, key=tag_order):
        if holes.get(tag):
            found[tag] = _of_device(tag, holes[tag], job, layout)
    pieces: dict[str, Rail | Duct] = {**layout.rails, **layout.ducts}
    for tag in sorted(pieces, key=lambda tag: (tag not in layout.rails, tag_order(tag))):
        found[tag] = _of_piece(tag, pieces[tag], holes.get(tag, []), job, layout)
    return found


def _usual_span(usual: FixingLimits, heaviest: Kg) -> Mm:
    is_heavy = usual.heavy is not None and heaviest > usual.heavy
    return usual.heavy_span if is_heavy and usual.heavy_span is not None else usual.span


def _of_device(tag: str, holes: list[Hole], job: Job, layout: Layout) -> Fastening:
    """Return how a device is held: as many screws as its pattern has, and whether they do."""
    held = device_hold(job, layout, tag, holes)
    words, source = "its hole pattern", PATTERN
    if held is None:
        words += "; whether they hold is open, mass or torque is not stated"
    else:
        verb = "hold" if held.holds else "do NOT hold"
        words += (
            f"; they {verb}: {held.clamped:.0f} N clamped each, {held.needed:.0f} N needed at the "
            f"upper ones ({_mass_of(job, tag)}, shock and pull)"
        )
        if held.holds and held.fewest is not None and held.fewest < len(holes):
            words += f"; {held.fewest} would do"
        source = source_of(device_hold_practice())
    return Fastening(
        tag=tag,
        kind="device",
        count=len(holes),
        reason=f"{_screws(len(holes), holes)}: {words}",
        longest=None,
        sag=None,
        limit=None,
        source=source,
    )


def _mass_of(job: Job, tag: str) -> str:
    return mass_words(job.part_of(tag).mass or 0.0, job.settings.units)


def _of_piece(
    tag: str, piece: Rail | Duct, holes: list[Hole], job: Job, layout: Layout
) -> Fastening:
    beam, limit = beam_of(piece, job.settings.stock), allowed_sag(job)
    start = piece.x if piece.run is Run.ACROSS else piece.y
    at = sorted((h.x if piece.run is Run.ACROSS else h.y) - start for h in holes)
    reasons, sources, gaps = [], [], []
    for part in stretches(tag, job, layout):
        places = [place for place in at if part.start <= place <= part.end]
        gaps += [b - a for a, b in pairwise(places)]
        words, source = _why(piece, part.length, places, job)
        name = "" if part.of == 1 else f"piece {part.number} of {part.of}, "
        sits = _sits(piece, [place - part.start for place in places], job)
        reasons.append(f"{name}{_screws(len(places), holes)}{sits}: {words}")
        sources.append(source)
    longest = max(gaps, default=None)
    return Fastening(
        tag=tag,
        kind="rail" if isinstance(piece, Rail) else "duct",
        count=len(holes),
        reason="; ".join(reasons),
        longest=longest,
        sag=None if beam is None or longest is None else sag(beam, longest),
        limit=None if beam is None else limit,
        source=sources[0],
    )


def _why(piece: Rail | Duct, length: Mm, places: list[Mm], job: Job) -> tuple[str, Source]:
    """Return why a piece has so many fixings, by what one fewer, evenly spread, would do."""
    beam, limit = beam_of(piece, job.settings.stock), allowed_sag(job)
    unit = job.settings.units
    end, most = limits_of(piece, job)
    usual = source_of(fixing_limits("rail" if isinstance(piece, Rail) else "duct"))
    fewer = len(places) - 1
    if fewer < 1:
        return "too few: on one it turns, on none it falls", TURNS
    if fewer < FEWEST:
        if beam is None:
            return "never fewer", TURNS
        bent = sag(beam, places[1] - places[0])
        return f"never fewer; {_bends(bent, beam, limit, unit)}", TURNS
    apart = (length - 2 * end) / (fewer - 1)
    if beam is not None and sag(beam, apart) > limit + HAIR:
        bent = sag(beam, apart)
        return (
            f"with {fewer} {_bends(bent, beam, limit, unit)}",
            beam.source,
        )
    if apart > most + HAIR:
        apart_words, most_words = with_unit(apart, unit), with_unit(most, unit)
        return f"with {fewer} they stand {apart_words} apart, at most {most_words}", usual
    slots = slots_of(piece, job.settings.stock)
    if slots is not None and (told := _in_slots(slots, length, fewer, piece, job)):
        return told
    return f"{fewer} spread evenly would do, but {_hindrance(piece)}", usual


def _in_slots(
    slots: Slots, length: Mm, fewer: int, piece: Rail | Duct, job: Job
) -> tuple[str, Source] | None:
    """Return why so few fixings do not do in the middles of slots; ``None``: they would do."""
    beam, limit, unit = (
        beam_of(piece, job.settings.stock), allowed_sag(job), job.settings.units,
    )  # fmt: skip
    end, most = limits_of(piece, job)
    usual = source_of(fixing_limits("rail" if isinstance(piece, Rail) else "duct"))
    span = least_span(slots.places(length, margin=0.0), length=length, end=end, fixings=fewer)
    if span is None:
        return f"with {fewer} no slot lies within {with_unit(end, unit)} of an end", usual
    if beam is not None and sag(beam, span) > limit + HAIR:
        words = f"with {fewer} in slots {with_unit(span, unit)} apart"
        return f"{words} {_bends(sag(beam, span), beam, limit, unit)}", beam.source
    if span > most + HAIR:
        words = f"with {fewer} in its slots they stand {with_unit(span, unit)} apart"
        return f"{words}, at most {with_unit(most, unit)}", usual
    return None


def least_span(places: Sequence[Mm], *, length: Mm, end: Mm, fixings: int) -> Mm | None:
    """Return the least that the widest span between so many fixings can be, all in some places.

    The first and the last no farther than ``end`` from the piece's ends; ``None``: can't be.
    """
    firsts = [at for at in places if at <= end + HAIR]
    if not firsts or places[-1] < length - end - HAIR:
        return None
    spans = sorted({round(b - a, 6) for a in places for b in places if b >= a})
    for span in spans:
        at = firsts[-1]  # as far in as may be: each next one as far on as the span allows
        for _ in range(fixings - 1):
            at = max(place for place in places if place <= at + span + HAIR)
        if at >= length - end - HAIR:
            return span
    return None


def _hindrance(piece: Rail | Duct) -> str:
    """Return what can keep fixings from the places where fewer of them would do."""
    if isinstance(piece, Rail):
        return "a heavy device hangs or the place is not free there"
    return "the place is not free there"


def _sits(piece: Rail | Duct, places: list[Mm], job: Job) -> str:
    """Return what of the piece the fixings go through: its own slots, or holes drilled for them."""
    if not places:
        return ""
    slots = slots_of(piece, job.settings.stock)
    if slots is None:
        return " through its drilled base"
    held = holding_rail(job) if isinstance(piece, Rail) else holding_duct(job)
    missed = len(slots.missed(places, screw=held.shank))
    if missed == len(places):
        return " drilled beside its slots"
    return " in its slots" + (f", {missed} drilled beside them" if missed else "")


def _screws(count: int, holes: list[Hole]) -> str:
    word = "rivet" if holes and holes[0].kind is HoleKind.RIVET else "screw"
    return f"{count} {word}{'' if count == 1 else 's'}"


def _bends(bent: Mm, beam: Beam, limit: Mm, unit: DisplayUnit) -> str:
    """Return the sag beside its limit, with as many digits as tell them apart."""
    size, least = (MM_PER_INCH, 2) if unit is DisplayUnit.INCH else (1.0, 1)
    is_, most = bent / size, limit / size
    ways = range(least, least + 3)
    digits = next((n for n in ways if f"{is_:.{n}f}" != f"{most:.{n}f}"), ways[-1])
    return f"it bends {is_:.{digits}f} {unit.value} under {beam.words}, limit {most:.{digits}f}"
