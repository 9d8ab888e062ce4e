"""What has to be cut: every rail, every duct and its cover."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from platewright.fabricate.holding import holding_duct, holding_rail
from platewright.fabricate.joints import HIGH, LOW, Meetings, end_names, meetings
from platewright.fabricate.slots import ON_THE_SPOT, slots_of
from platewright.fabricate.stock_names import cover_stock, duct_name, duct_stock, rail_stock
from platewright.fabricate.stretches import Stretch, cover_stretches, stretches
from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import Mm
from platewright.model.job import DisplayUnit, Job
from platewright.model.layout import Duct, Layout, Rail, Run
from platewright.model.lengths import said, unit_name, with_unit
from platewright.model.pieces import Notch, Piece

SQUARE = "square"


def pieces_of(job: Job, layout: Layout) -> tuple[Piece, ...]:
    """Return the pieces to cut, in tag order: rails, then each duct followed by its cover.

    What is longer than its bar becomes several pieces; the joint is told on each.
    """
    pieces: list[Piece] = []
    for tag in sorted(layout.rails, key=tag_order):
        pieces += _rail_pieces(tag, layout.rails[tag], job, layout)
    met = meetings(layout)
    for tag in sorted(layout.ducts, key=tag_order):
        parts = stretches(tag, job, layout, met[tag])
        pieces += _duct_pieces(tag, job, layout, parts, met[tag])
        pieces += _cover_pieces(tag, layout.ducts[tag], job, parts, met[tag])
    return tuple(pieces)


def _rail_pieces(tag: str, rail: Rail, job: Job, layout: Layout) -> Iterator[Piece]:
    parts = stretches(tag, job, layout)
    for part in parts:
        words = list(_slot_words(tag, part, job, layout))
        if part.of > 1:
            words.append(f"piece {part.number} of {part.of}, joined end to end")
        yield Piece(
            tag=tag,
            stock=rail_stock(rail.profile),
            length=part.length,
            part=_part(part),
            ends=_ends(part, ((), ())),
            note="; ".join(words),
            step=job.settings.stock.rail.slot_pitch,
        )


def _duct_pieces(
    tag: str, job: Job, layout: Layout, parts: tuple[Stretch, ...], met: Meetings
) -> Iterator[Piece]:
    duct = layout.ducts[tag]
    low, high = end_names(duct.run)
    slots = slots_of(duct, job.settings.stock)
    for part in parts:
        ends = _ends(part, met.ends)
        notches = tuple(_notches(part, met))
        words = [
            f"{name} end {end}"
            for name, end in ((low, ends[LOW]), (high, ends[HIGH]))
            if end != SQUARE
        ]
        words += _notch_words(notches, low, job.settings.units)
        words += _slot_words(tag, part, job, layout)
        yield Piece(
            tag=tag,
            stock=duct_stock(duct_name(duct, job.settings.stock)),
            length=part.length,
            part=_part(part),
            ends=ends,
            notches=notches,
            note="; ".join(words),
            step=0.0 if slots is None else slots.pitch,
        )


def _slot_words(tag: str, part: Stretch, job: Job, layout: Layout) -> Iterator[str]:
    """Yield where a piece's first slot lies, and where it is drilled as it has no slot there."""
    piece = layout.rails.get(tag) or layout.ducts[tag]
    slots, unit = slots_of(piece, job.settings.stock), job.settings.units
    low, _ = end_names(piece.run)
    places = _fixed_at(tag, piece, part, layout)
    if isinstance(piece, Duct) and slots is None:
        yield from _drilled_words(piece, places, low, unit)
    if slots is None:
        return
    yield f"first slot centre {with_unit(slots.first, unit)} from the {low} end"
    held = (holding_rail if isinstance(piece, Rail) else holding_duct)(job)
    missed = slots.missed([at for at, _ in places], screw=held.shank)
    if missed:
        told = ", ".join(said(at, unit) for at in missed)
        yield f"no slot at {told} {unit.value} from the {low} end: drill it there"


def _fixed_at(tag: str, piece: Rail | Duct, part: Stretch, layout: Layout) -> list[tuple[Mm, Mm]]:
    """Return where a piece is fixed: along it from its own end, and off its middle line."""
    is_across = piece.run is Run.ACROSS
    middle = piece.width / 2 if isinstance(piece, Duct) else 0.0  # a rail's place is on its axis
    found = []
    for hole in layout.holes.values():
        if hole.holds == tag:
            right, up = hole.x - piece.x, hole.y - piece.y
            along, off = (right, up) if is_across else (up, right)
            found.append((along - part.start, off - middle))
    return sorted(place for place in found if 0.0 <= place[0] <= part.length)


def _drilled_words(
    duct: Duct, places: Sequence[tuple[Mm, Mm]], low: str, unit: DisplayUnit
) -> Iterator[str]:
    """Yield where a base without slots is drilled."""
    if not places:
        return
    less, more = ("below", "above") if duct.run is Run.ACROSS else ("left of", "right of")
    told = []
    for at, off in places:
        aside = f" ({said(abs(off), unit)} {more if off > 0 else less} it)"
        told.append(said(at, unit) + (aside if abs(off) > ON_THE_SPOT else ""))
    yield f"base drilled on its middle line at {', '.join(told)} {unit.value} from the {low} end"


def _cover_pieces(
    tag: str, duct: Duct, job: Job, bases: tuple[Stretch, ...], met: Meetings
) -> Iterator[Piece]:
    """Yield covers: each shorter than what it covers for every joint it comes up against."""
    stock, unit = job.settings.stock, job.settings.units
    parts = cover_stretches(duct, job, bases)
    for part in parts:
        joints = sum(
            (
                part.number > 1 or bool(met.ends[LOW]),
                part.number == part.of and bool(met.ends[HIGH]),
            )
        )
        shorter = joints * stock.cover_gap
        words = f"cover of {tag}"
        if joints and shorter:
            count = f"{joints} joint{'' if joints == 1 else 's'}"
            words += f", {with_unit(shorter, unit)} shorter for {count}"
        if part.of > 1:
            words += f", from {said(part.start, unit)} to {said(part.end, unit)} of the duct"
            words += _off_the_base(part, bases, unit)
        yield Piece(
            tag=tag,
            stock=cover_stock(duct_name(duct, stock)),
            length=max(part.length - shorter, part.length / 2),
            part=_part(part),
            note=words,
        )


def _off_the_base(part: Stretch, bases: tuple[Stretch, ...], unit: DisplayUnit) -> str:
    """Return how far the joint at a cover's upper or right end is off the nearest base joint."""
    if part.number == part.of:
        return ""
    off = min(abs(part.end - base.end) for base in bases[:-1])
    if off == 0.0:
        return "; its joint lies on the base's: no bar allows another"
    return f"; its joint stands {with_unit(off, unit)} off the base's"


def _part(part: Stretch) -> str:
    return "" if part.of == 1 else f"{part.number} of {part.of}"


def _ends(part: Stretch, met: tuple[tuple[str, ...], tuple[str, ...]]) -> tuple[str, str]:
    """Return how the two ends of a piece are made: always square, and what they come up against."""
    low = f"square, joins piece {part.number - 1}" if part.number > 1 else _butts(met[LOW])
    high = f"square, joins piece {part.number + 1}" if part.number < part.of else _butts(met[HIGH])
    return low, high


def _butts(others: tuple[str, ...]) -> str:
    return f"square, butts {' and '.join(others)}" if others else SQUARE


def _notches(part: Stretch, met: Meetings) -> Iterator[Notch]:
    """Yield the openings that lie on this piece, measured from its own end."""
    for notch in met.notches:
        start, end = max(notch.start, part.start), min(notch.end, part.end)
        if start < end:
            yield Notch(
                wall=notch.wall,
                start=start - part.start,
                end=end - part.start,
                branch=notch.branch,
            )


def _notch_words(notches: Sequence[Notch], low: str, unit: DisplayUnit) -> Iterator[str]:
    """Yield the openings of each wall in words."""
    for wall in sorted({notch.wall for notch in notches}):
        places = ", ".join(
            f"{said(notch.start, unit)} to {said(notch.end, unit)} for {notch.branch}"
            for notch in notches
            if notch.wall == wall
        )
        yield f"{wall} wall, {unit_name(unit)} from the {low} end, fingers off to the base: {places}"
