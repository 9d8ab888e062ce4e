"""The cut list: pieces, and each bar as it lies at the saw."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import islice
from typing import Final

from platewright.drawing.lettering import text_width
from platewright.drawing.picture import Anchor, Line, Polyline, Primitive, Rect, Text
from platewright.drawing.spread import spread
from platewright.drawing.table import Cell, Column, Quantity, Table, length_text, thickness_text
from platewright.drawing.table_print import PrintRow, PrintTable, print_table
from platewright.fabricate.drill_names import drill_name
from platewright.fabricate.edge_room import edge_room
from platewright.fabricate.holding import hole_in_base
from platewright.fabricate.slots import slots_of
from platewright.fabricate.wide_wires import WideExit, wide_exits
from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import MM_PER_M, Mm
from platewright.model.geometry import Box, Point
from platewright.model.job import DisplayUnit
from platewright.model.lengths import INCHES_PER_FOOT, said, unit_name, with_unit
from platewright.model.panel import Panel
from platewright.model.pieces import Bar, Piece
from platewright.sheets.page import Leaf, list_paper
from platewright.sheets.pager import Pager
from platewright.sheets.registry import Findings, listing, sheet
from platewright.tables.ducts import duct_practice

LETTERING: Final[Mm] = 2.5
INDENT: Final[Mm] = 17.0  # of a bar, for its number
BAR_HEIGHT: Final[Mm] = 7.0
NAME_WIDTH: Final[Mm] = 16.0  # room left of a bar for what it is called
PAST_END: Final[Mm] = 3.0  # room right of the longest bar
WARMER: Final = 30.0  # K, from a cool workshop to a warm enclosure
TO_SLOT: Final = "slot: 0"  # under the first cut of an off-cut
NO_CUTS: Final = "Nothing to cut yet: there is no layout. Run the plan, then print again."
Exits = Mapping[str, Sequence[WideExit]]  # by duct
_STRIP = 0.05  # mm: a wider strip between two pieces is drawn as waste with its end


@listing(id="cuts", title="Cut list")
def cut_table(panel: Panel, findings: Findings) -> Table:  # noqa: ARG001  (one shape for all)
    """Return every piece with the bar it is cut from, longest first within a stock.

    Rails and ducts with their room to the plate's edge and to the circle of a fixing hole.
    """
    rows: list[tuple[Cell, ...]] = []
    exits = wide_exits(panel.layout, panel.routes, panel.outer_diameters)
    for stock, bars in _by_stock(panel).items():
        pieces = [(piece, name) for name, bar in bars for piece in bar.pieces]
        pieces.sort(key=lambda item: (-item[0].length, tag_order(item[0].mark), tag_order(item[1])))
        rows += [(stock, p.mark, p.length, name, *_rooms(panel, p, exits)) for p, name in pieces]
    rows += [
        (piece.stock, piece.mark, piece.length, "longer than a bar", *_rooms(panel, piece, exits))
        for piece in panel.cuts.too_long
    ]
    return Table(
        title="Cut list",
        columns=(
            Column(name="stock", head="Stock"),
            Column(name="tag", head="Piece"),
            Column(name="length", head="Length", quantity=Quantity.LENGTH),
            Column(name="bar", head="From"),
            Column(name="edge", head="Edge", quantity=Quantity.LENGTH),
            Column(name="fixing_circle", head="Fixing", quantity=Quantity.LENGTH),
            Column(name="note", head="Note", wraps=True),
        ),
        rows=tuple(rows),
    )


@listing(id="offcuts", title="Off-cuts in store once all is cut")
def offcut_table(panel: Panel, findings: Findings) -> Table:  # noqa: ARG001  (one shape for all)
    """Return the store as it is after cutting; the file serves as the next job's list."""
    return Table(
        title="Off-cuts in store once all is cut",
        columns=(
            Column(name="label", head="Label"),
            Column(name="stock", head="Stock"),
            Column(name="length", head="Length", quantity=Quantity.LENGTH),
        ),
        rows=tuple((o.label, o.stock, o.length) for o in panel.cuts.store_after),
    )


@sheet(id="cuts", title="Cut list", place=30)
def cut_sheet(panel: Panel, findings: Findings) -> tuple[Leaf, ...]:
    """Return the pieces of each stock and its bars."""
    pager = Pager(list_paper(panel.job.settings))
    table = cut_table(panel, findings)
    if not table.rows:
        pager.paragraph(NO_CUTS, bold=True)
        return pager.leaves()
    stock = panel.job.settings.stock
    unit = panel.job.settings.units
    pager.paragraph(
        f"Saw cut {thickness_text(stock.kerf, unit)} {unit.value}, "
        f"trim of a new bar {thickness_text(stock.end_trim, unit)} {unit.value}. Off-cuts first. Cut "
        "the pieces in the order drawn, ends square, de-burred; mark each piece with its tag and "
        "what is left with its label. Numbers below a bar: where its first piece begins and each "
        "piece ends, from the left end of the bar. Grey: trim, saw cuts, waste and what is left."
    )
    pager.paragraph(
        f"Edge: least distance of the rail or duct from the plate's edge. Fixing: from the circle "
        f"kept free round a fixing hole of the plate. Both {unit_name(unit)}; below 0 it stands over."
    )
    if panel.layout.ducts:
        pager.paragraph(_warmth(panel))
    if any(piece.step for bar in panel.cuts.bars for piece in bar.pieces):
        pager.paragraph(
            "Rails, and ducts whose slots are stated: begin every piece so that its first slot lies "
            "where its note says. A new bar is taken to begin so; cut an off-cut's end to it first: "
            "up to one pitch of slots is lost, as drawn, and its numbers count from that cut, 0; what "
            "is left of it is told for the most that can be lost. "
            "The strips between two pieces are waste."
        )
    bare = [tag for tag, duct in panel.layout.ducts.items() if slots_of(duct, stock) is None]
    if bare:
        pager.paragraph(
            f"Slots in the base not stated: {', '.join(sorted(bare, key=tag_order))}. Taken to have "
            f"none: drill the base {drill_name(hole_in_base(panel.job), unit)} at the places in "
            "the notes, off the plate."
        )
    if panel.cuts.too_long:
        tags = ", ".join(piece.mark for piece in panel.cuts.too_long)
        pager.paragraph(f"Longer than a bar, cannot be cut in one piece: {tags}", bold=True)
    pager.table(_printed(table, unit))
    for name, bars in _by_stock(panel).items():
        pager.heading(f"{name}: {_bar_words(panel, name)}")
        longest = max(bar.length for _, bar in bars)
        for called, bar in bars:
            scale = (pager.space.width - INDENT - PAST_END) / longest
            pager.picture(tuple(bar_picture(panel, bar, called, scale)), indent=INDENT)
    if panel.cuts.store_after:
        pager.heading("In store once all is cut")
        pager.table(print_table(offcut_table(panel, findings), unit))
    return pager.leaves()


def _rooms(panel: Panel, piece: Piece, exits: Exits) -> tuple[Cell, Cell, Cell]:
    """Return a piece's room to edge and fixing circle, and its note; covers lie on their duct."""
    layout = panel.layout
    whole = layout.rails.get(piece.tag) or layout.ducts.get(piece.tag)
    if whole is None or piece.stock.startswith("cover "):
        return None, None, piece.note
    room = edge_room(whole, panel.job.settings.plate)
    fingers = _fingers(piece, exits.get(piece.tag, ()), panel.job.settings.units)
    return room.edge, room.fixing, "; ".join(filter(None, (piece.note, *fingers)))


def _fingers(piece: Piece, exits: Sequence[WideExit], unit: DisplayUnit) -> Iterator[str]:
    """Yield where fingers are broken out for wires that are thicker than a slot.

    Places count from the left or lower end of the whole duct; a joined one tells them once.
    """
    if not exits or piece.part.startswith(("2", "3", "4")):
        return
    for wall in sorted({one.wall for one in exits}):
        places = ", ".join(
            f"{said(one.at, unit)} ({', '.join(one.wires)}: ⌀{said(one.thickest, unit)})"
            for one in exits
            if one.wall == wall
        )
        yield f"{wall} wall, a finger out for thick wires at {places}"


def _warmth(panel: Panel) -> str:
    """Return how much the longest duct grows, so that gaps are left."""
    usual, unit = duct_practice(), panel.job.settings.units
    longest = max(duct.length for duct in panel.layout.ducts.values())
    grows = usual.expansion * longest * WARMER
    rate = f"{usual.expansion * MM_PER_M:g} mm for each metre and kelvin"
    if unit is DisplayUnit.INCH:
        rate = f"{usual.expansion * INCHES_PER_FOOT:.1g} in for each foot and kelvin"
    return (
        f"Ducts and covers of plastic grow: the longest here by {with_unit(grows, unit)} when it "
        f"gets {WARMER:g} K warmer ({rate}, shop practice). Keep the gaps at butts and joints; force no cover in."
    )


def _by_stock(panel: Panel) -> dict[str, list[tuple[str, Bar]]]:
    """Return the bars of each stock with what they are called: off-cuts by label, then numbers."""
    found: dict[str, list[tuple[str, Bar]]] = {}
    for bar in sorted(panel.cuts.bars, key=lambda bar: not bar.offcut):
        bars = found.setdefault(bar.stock, [])
        new = sum(not other.offcut for _, other in bars) + 1
        bars.append((bar.offcut or f"bar {new}", bar))
    return dict(sorted(found.items()))


def _bar_words(panel: Panel, stock: str) -> str:
    """Return how many new bars and off-cuts, and whether fewer would do."""
    words = []
    for name, used, bound in panel.cuts.bounds:
        if name == stock:
            proof = "no fewer would do"
            if used != bound:
                proof = f"at least {bound} would be needed, gap {used - bound}: not proven"
            words.append(f"{used} new bar{'' if used == 1 else 's'}, {proof}")
    old = sum(bar.stock == stock and bool(bar.offcut) for bar in panel.cuts.bars)
    if old:
        words.append(f"{old} off-cut{'' if old == 1 else 's'} from the store")
    return "; ".join(words)


def _printed(table: Table, unit: DisplayUnit) -> PrintTable:
    """Return the pieces with a heading for each stock; the note column only where it is used."""
    whole = print_table(table, unit)
    kept = [1, 2, 3, 4, 5] + ([6] if any(row[6] for row in table.rows) else [])
    rows: list[PrintRow] = []
    stock = None
    for row in whole.rows:
        if row.cells[0] != stock:
            stock = row.cells[0]
            count = sum(1 for other in whole.rows if other.cells[0] == stock)
            heading = f"{stock}: {count} piece{'s' if count > 1 else ''}"
            rows.append(PrintRow(cells=(heading,) + ("",) * (len(kept) - 1), is_heading=True))
        rows.append(PrintRow(cells=tuple(row.cells[index] for index in kept)))
    return PrintTable(
        heads=tuple(whole.heads[index] for index in kept),
        to_right=tuple(whole.to_right[index] for index in kept),
        wraps=tuple(whole.wraps[index] for index in kept),
        rows=tuple(rows),
    )


def bar_picture(panel: Panel, bar: Bar, called: str, scale: float) -> Iterator[Primitive]:
    """Yield one bar with its trim, its cuts and its rest; ``scale`` paper mm for a mm of bar.

    An off-cut's slots lie anywhere: its end is cut to one first, and its numbers count from there.
    """
    unit = panel.job.settings.units
    size = LETTERING * min(1.0, NAME_WIDTH / text_width(called, LETTERING))
    yield Text(layer="TEXT", at=Point(-INDENT, BAR_HEIGHT / 2), text=called, size=size)
    yield Rect(layer="WASTE", box=Box(0, 0, bar.length * scale, BAR_HEIGHT))
    lost = bar.lost
    ends = [0.0] if lost else []
    outside = []
    for piece, x in zip(bar.pieces, bar.starts, strict=True):
        left = (lost + x) * scale
        box = Box(left, 0, left + piece.length * scale, BAR_HEIGHT)
        yield Rect(layer="BAR", box=box)
        words = f"{piece.mark}   {length_text(piece.length, unit)}"
        text = _inside(words, box) or _inside(piece.mark, box)
        if text is None:
            outside.append((box.centre.x, piece.mark))
        else:
            yield text
        if x > (ends[-1] + bar.kerf + _STRIP if ends else 0.0):
            ends.append(x)  # of the first piece: trim and slot are one cut
        ends.append(x + piece.length)
    yield from _above(outside, bar.length * scale)
    yield from _ends(ends, scale, unit, (lost, bar.length * scale))
    left_over = f"left {rest_words(bar, unit)}"
    rests = (f"{left_over}: {bar.rest_label}", bar.rest_label) if bar.rest_label else (left_over,)
    room = Box((lost + ends[-1]) * scale if ends else 0.0, 0, bar.length * scale, BAR_HEIGHT)
    found = (text for words in rests if (text := _inside(words, room)) is not None)
    yield from islice(found, 1)


def rest_words(bar: Bar, unit: DisplayUnit) -> str:
    """Return what is left of a bar; the least, where its first cut depends on where its slots lie."""
    return ("at least " if bar.lost else "") + length_text(bar.rest, unit)


def _inside(words: str, box: Box) -> Text | None:
    if text_width(words, LETTERING) + 2.0 > box.width:
        return None
    return Text(layer="TEXT", at=box.centre, text=words, size=LETTERING, anchor=Anchor.CENTRE)


def _above(outside: list[tuple[Mm, str]], long: Mm) -> Iterator[Primitive]:
    """Yield tags of pieces too short to hold them, above the bar. ``long``: the bar, on paper."""
    widest = max((text_width(tag, LETTERING) for _, tag in outside), default=0.0)
    places = _apart([x for x, _ in outside], widest, 1.2, long)
    for (x, tag), place in zip(outside, places, strict=True):
        yield Line(
            layer="TAG",
            start=Point(x, BAR_HEIGHT - 1.5),
            end=Point(place, BAR_HEIGHT + 1.6),
        )
        yield Text(
            layer="TEXT",
            at=Point(place, BAR_HEIGHT + 3.3),
            text=tag,
            size=LETTERING,
            anchor=Anchor.CENTRE,
        )


def _apart(wanted: list[Mm], widest: Mm, air: Mm, long: Mm) -> tuple[Mm, ...]:
    """Return places of words along a bar; none farther out than the bar's end needs."""
    high = max(long + PAST_END, len(wanted) * (widest + air)) - widest / 2
    return spread(wanted, widest + air, high=high)


def _ends(
    ends: list[Mm], scale: float, unit: DisplayUnit, bar: tuple[Mm, Mm]
) -> Iterator[Primitive]:
    """Yield where pieces end, as numbers below the bar.

    ``bar``: how much of it lies before number 0, and how long it is on paper.
    """
    lost, long = bar
    words = [length_text(end, unit) for end in ends]
    if lost:
        words[0] = TO_SLOT
    widest = max((text_width(word, LETTERING) for word in words), default=0.0)
    places = _apart([(lost + end) * scale for end in ends], widest, 1.5, long)
    for end, word, place in zip(ends, words, places, strict=True):
        at = (lost + end) * scale
        yield Polyline(
            layer="DIM",
            points=(Point(at, -0.5), Point(at, -1.2), Point(place, -2.4)),
        )
        yield Text(
            layer="DIM",
            at=Point(place, -4.3),
            text=word,
            size=LETTERING,
            anchor=Anchor.CENTRE,
        )
