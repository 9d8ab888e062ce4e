"""Two revisions of a plate compared: what moved, what is new or gone, holes, pieces."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from math import hypot
from typing import Final, TypeAlias

from platewright.drawing.extent import extent, text_box
from platewright.drawing.picture import (
    Line,
    Picture,
    Polyline,
    Primitive,
    Rect,
    Text,
    placed,
)
from platewright.drawing.table import Column, Table, length_text
from platewright.drawing.table_print import PrintRow, PrintTable
from platewright.fabricate.access import footprint
from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import Mm
from platewright.model.geometry import Box, Point
from platewright.model.job import DisplayUnit
from platewright.model.layout import Duct, Placement, Rail
from platewright.model.panel import Panel
from platewright.model.pieces import Piece
from platewright.sheets.change_signs import hole_signs, thing_tags
from platewright.sheets.changed_holes import SAME, hole_changes
from platewright.sheets.changed_lists import (
    Change,
    at_said,
    door_changes,
    part_changes,
    shift_said,
    wire_changes,
)
from platewright.sheets.page import Leaf, framed, list_paper
from platewright.sheets.pager import Pager
from platewright.sheets.registry import Findings, stamped

TITLE: Final = "Changes between two revisions"
TALLEST: Final[Mm] = 150.0
LETTERING: Final[Mm] = 2.5
ORDER: Final = ("device", "door", "duct", "rail", "hole", "piece", "wire")
HEADINGS: Final = {"door": "Door devices"}
LEGEND: Final = (
    "Grey fill: new, moved or another part, where it is now. Dashed: where it was. Arrow: way it "
    "went. Black dot: hole to drill that is new or differs. Ring: hole drilled already. Ring with "
    "a cross: drilled and left over; cross alone: no longer wanted, or a mark to wipe off. A tag without room here stands "
    "in the list alone."
)
NONE: Final = "Nothing differs between the two."

Thing: TypeAlias = Placement | Duct | Rail
_Cut: TypeAlias = dict[tuple[str, str], tuple[Piece, ...]]  # tag and stock -> its pieces


def changes(
    before: Panel, after: Panel, *, lost: Mapping[str, Placement] | None = None
) -> tuple[Change, ...]:
    """Return every difference: things, then holes, then pieces to cut, then wires.

    ``lost``: devices of the earlier plate of which no list tells any more what they were. Where
    ``before`` has the very job of ``after``, its own lists are not known, and not compared.
    """
    unit = after.job.settings.units
    found = [
        *_things({**before.layout.devices, **(lost or {})}, after.layout.devices, "device", unit),
        *part_changes(before, after),
        *door_changes(before.job, after.job),
        *wire_changes(before.job, after.job),
        *_things(before.layout.ducts, after.layout.ducts, "duct", unit),
        *_things(before.layout.rails, after.layout.rails, "rail", unit),
        *hole_changes(before.layout.holes, after.layout.holes, unit),
        *_pieces(before, after, unit),
    ]
    return tuple(
        sorted(found, key=lambda one: (ORDER.index(one.kind), tag_order(one.tag), one.what))
    )


def change_table(found: tuple[Change, ...]) -> Table:
    """Return the differences as a list."""
    return Table(
        title=TITLE,
        columns=(
            Column(name="kind", head="Kind"),
            Column(name="tag", head="Tag"),
            Column(name="what", head="What"),
            Column(name="words", head="How", wraps=True),
        ),
        rows=tuple((one.kind, one.tag, one.what, one.words) for one in found),
    )


def revision_pages(
    before: Panel,
    after: Panel,
    *,
    names: tuple[str, str],
    found: tuple[Change, ...] | None = None,
    findings: Findings = (),
) -> tuple[Picture, ...]:
    """Return the drawing with its list. ``names``: what the two are called.

    ``found``: the differences; worked out where they are not given. ``findings`` that FAIL stand
    in the title of every page.
    """
    settings = stamped(after.job.settings, findings)
    found = changes(before, after) if found is None else found
    pager = Pager(list_paper(settings))
    pager.paragraph(f"From {names[0]} to {names[1]}: {_counted(found)}")
    if found:
        pager.paragraph(LEGEND)
        drawing = revision_picture(before, after, found)
        box = extent(drawing)
        scale = min(pager.space.width / box.width, TALLEST / box.height)
        pager.picture(placed(drawing, at=Point(0, 0), scale=scale))
        pager.table(_printed(found))
    leaves: tuple[Leaf, ...] = pager.leaves()
    return tuple(
        framed(leaf, settings, title=TITLE, number=number, of=len(leaves))
        for number, leaf in enumerate(leaves, start=1)
    )


def revision_picture(
    before: Panel, after: Panel, found: tuple[Change, ...]
) -> tuple[Primitive, ...]:
    """Return the new plate with the old one behind it where they differ, at scale 1."""
    plate = after.job.settings.plate
    grown = max(plate.width / 150, plate.height / TALLEST)  # plate mm for a mm of paper
    parts: list[Primitive] = [Rect(layer="PLATE", box=plate.box)]
    changed: dict[str, Change] = {}
    for one in found:
        if one.kind in ("device", "duct", "rail") and (
            one.tag not in changed or one.what == "moved"
        ):
            changed[one.tag] = one
    new, old = _order(after), _order(before)
    now = {tag: footprint(after.layout, after.job, tag) for tag in new}
    parts += [Rect(layer="GHOST", box=now[tag]) for tag in new if tag not in changed]
    parts += [Rect(layer="WASTE", box=now[tag]) for tag in new if tag in changed]
    for tag in old:
        if tag in changed and changed[tag].what != "new":
            parts += _dashed(footprint(before.layout, before.job, tag))
    shown = {tag: now[tag] for tag in changed if tag in now}
    tags = thing_tags(after, shown, found, grown=grown, lettering=LETTERING * grown)
    for tag, one in changed.items():
        words = tags.get(tag)
        if one.was is not None and one.now is not None:
            parts += _arrow(footprint(before.layout, before.job, tag), now[tag], words, grown)
        if words is not None:
            parts += (Rect(layer="INTERRUPT", box=text_box(words)), words)
    signs = hole_signs(after, found, tuple(parts), grown=grown, lettering=LETTERING * grown)
    return (*parts, *signs)


def _order(panel: Panel) -> tuple[str, ...]:
    """Return what is on a plate, rails first, devices last: as it is drawn."""
    layout = panel.layout
    return tuple(
        tag
        for table in (layout.rails, layout.ducts, layout.devices)
        for tag in sorted(table, key=tag_order)
    )


def _printed(found: tuple[Change, ...]) -> PrintTable:
    rows: list[PrintRow] = []
    kind = ""
    for one in found:
        if one.kind != kind:
            kind = one.kind
            count = len({other.tag for other in found if other.kind == kind})
            name = HEADINGS.get(kind, f"{kind[0].upper()}{kind[1:]}s")
            heading = f"{name}: {count}"
            rows.append(PrintRow(cells=(heading, "", ""), is_heading=True))
        rows.append(PrintRow(cells=(one.tag, one.what, one.words)))
    return PrintTable(
        heads=("Tag", "What", "How"), to_right=(False,) * 3, wraps=(False, False, True),
        rows=tuple(rows),
    )  # fmt: skip


def _counted(found: tuple[Change, ...]) -> str:
    if not found:
        return NONE
    counts = {kind: len({one.tag for one in found if one.kind == kind}) for kind in ORDER}
    return ", ".join(
        f"{count} {kind}{'' if count == 1 else 's'}" for kind, count in counts.items() if count
    )


def _things(
    before: Mapping[str, Thing], after: Mapping[str, Thing], kind: str, unit: DisplayUnit
) -> Iterator[Change]:
    for tag in {*before, *after}:
        old, new = before.get(tag), after.get(tag)
        if old is None and new is not None:
            yield Change(kind=kind, tag=tag, what="new", words=f"at {at_said(new, unit)}",
                         now=Point(new.x, new.y))  # fmt: skip
        elif new is None and old is not None:
            yield Change(kind=kind, tag=tag, what="gone", words=f"was at {at_said(old, unit)}",
                         was=Point(old.x, old.y))  # fmt: skip
        elif old is not None and new is not None:
            yield from _thing(tag, old, new, kind, unit)


def _thing(tag: str, old: Thing, new: Thing, kind: str, unit: DisplayUnit) -> Iterator[Change]:
    dx, dy = new.x - old.x, new.y - old.y
    was, now = Point(old.x, old.y), Point(new.x, new.y)
    if hypot(dx, dy) > SAME:
        words = f"{at_said(old, unit)} to {at_said(new, unit)}: {shift_said(dx, dy, unit)}"
        yield Change(kind=kind, tag=tag, what="moved", words=words, was=was, now=now)
    if isinstance(old, Placement) or isinstance(new, Placement):
        return
    cut = [f"length {length_text(old.length, unit)} to {length_text(new.length, unit)}"]
    cut = cut if abs(old.length - new.length) > SAME else []
    if isinstance(old, Duct) and isinstance(new, Duct) and old.width != new.width:
        cut.append(f"width {length_text(old.width, unit)} to {length_text(new.width, unit)}")
    if old.run is not new.run:
        cut.append(f"now runs {new.run.value}")
    if cut:
        yield Change(kind=kind, tag=tag, what="changed", words="; ".join(cut), was=was, now=now)


def _pieces(before: Panel, after: Panel, unit: DisplayUnit) -> Iterator[Change]:
    """Yield pieces of the cut lists that differ, by tag and stock."""
    old, new = _cut(before), _cut(after)
    told = _used_again(old, new, unit)
    for key in {*old, *new}:
        tag = key[0]
        was, now = old.get(key), new.get(key)
        if was == now:
            continue
        stock, more = key[1], told.get(key, "")
        if was is None and now is not None:
            words = f"{stock}: cut {_lengths(now, unit)}{more}"
            yield Change(kind="piece", tag=tag, what="new", words=words)
        elif now is None and was is not None:
            words = f"{stock}: {_lengths(was, unit)} not needed any more{more}"
            yield Change(kind="piece", tag=tag, what="gone", words=words)
        elif was is not None and now is not None:
            words = f"{stock}: {_lengths(was, unit)} to {_lengths(now, unit)}"
            if _lengths(was, unit) == _lengths(now, unit):
                words = f"{stock}: {_lengths(now, unit)}, ends or openings differ: see the cut list"
            words += more
            yield Change(kind="piece", tag=tag, what="changed", words=words)


def _used_again(old: _Cut, new: _Cut, unit: DisplayUnit) -> dict[tuple[str, str], str]:
    """Return for each key which piece that is not needed any more becomes another, both ways.

    Square pieces without openings only, of one stock, as long or longer; the longest wanted piece
    first, each from the shortest that will do: no other choice serves more of them.
    """
    idle = _only_in(old, new)
    told: dict[tuple[str, str], list[str]] = {}
    wanted = sorted(_only_in(new, old), key=lambda piece: (-piece.length, tag_order(piece.tag)))
    for piece in wanted:
        fit = [one for one in idle if one.stock == piece.stock and one.length > piece.length - SAME]
        if not fit:
            continue
        one = min(fit, key=lambda one: (one.length, one.tag != piece.tag, tag_order(one.tag)))
        idle.remove(one)
        length, longer = (length_text(each.length, unit) for each in (piece, one))
        told.setdefault((piece.tag, piece.stock), []).append(
            f"{length} from {one.tag} of before ({longer}), if it is cut already"
        )
        told.setdefault((one.tag, one.stock), []).append(f"{longer} serves as {piece.tag}")
    return {key: f"; {'; '.join(dict.fromkeys(words))}" for key, words in told.items()}


def _only_in(one: _Cut, other: _Cut) -> list[Piece]:
    """Return the plain pieces of one cut list that the other has none of that length for by tag."""
    found: list[Piece] = []
    for key, pieces in one.items():
        there = [piece.length for piece in other.get(key, ())]
        for piece in pieces:
            same = next((long for long in there if abs(long - piece.length) <= SAME), None)
            if same is not None:
                there.remove(same)
            elif piece.ends == ("square", "square") and not piece.notches:
                found.append(piece)
    return found


def _cut(panel: Panel) -> _Cut:
    found: dict[tuple[str, str], list[Piece]] = {}
    pieces = [piece for bar in panel.cuts.bars for piece in bar.pieces]
    for piece in [*pieces, *panel.cuts.too_long]:
        found.setdefault((piece.tag, piece.stock), []).append(piece)
    key: Callable[[Piece], tuple[Mm, str]] = lambda piece: (piece.length, repr(piece))  # noqa: E731
    return {name: tuple(sorted(group, key=key)) for name, group in found.items()}


def _lengths(pieces: tuple[Piece, ...], unit: DisplayUnit) -> str:
    return " + ".join(length_text(piece.length, unit) for piece in pieces)


def _dashed(box: Box) -> Iterator[Primitive]:
    corners = (
        Point(box.left, box.bottom), Point(box.right, box.bottom),
        Point(box.right, box.top), Point(box.left, box.top),
    )  # fmt: skip
    for start, end in zip(corners, (*corners[1:], corners[0]), strict=True):
        yield Line(layer="CUT-LINE", start=start, end=end)


def _arrow(was: Box, now: Box, words: Text | None, grown: float) -> Iterator[Primitive]:
    """Yield an arrow from the old middle to the new one, where they are far enough apart.

    It runs beside the tag, not through it.
    """
    start, end = was.centre, now.centre
    long = hypot(end.x - start.x, end.y - start.y)
    if long < 4 * grown:
        return
    if words is not None:
        box, air = text_box(words), 0.5 * LETTERING * grown
        down = min(box.height / 2 + air, now.height / 2)
        left = min(box.width / 2 + air, now.width / 2)
        is_across = abs(end.x - start.x) >= abs(end.y - start.y)
        dx, dy = (0.0, -down) if is_across else (-left, 0.0)
        start, end = Point(start.x + dx, start.y + dy), Point(end.x + dx, end.y + dy)
    ux, uy = (end.x - start.x) / long, (end.y - start.y) / long
    head = 2.5 * grown
    yield Line(layer="BORDER", start=start, end=end)
    yield Polyline(
        layer="ARROW", closed=True,
        points=(
            end,
            Point(end.x - head * ux - head * uy / 4, end.y - head * uy + head * ux / 4),
            Point(end.x - head * ux + head * uy / 4, end.y - head * uy - head * ux / 4),
        ),
    )  # fmt: skip
