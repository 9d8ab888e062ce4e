"""What has to be cut: every rail, every duct and its cover."""

from __future__ import annotations

from platewright.fabricate.stock_names import cover_stock, duct_name, duct_stock, rail_stock
from platewright.foundation.tag_order import tag_order
from platewright.foundation.units import Mm
from platewright.model.job import RailStock, Stock
from platewright.model.layout import Layout, Run
from platewright.model.pieces import Piece


def first_slot(rail: RailStock) -> Mm:
    """Return where the first slot's centre must lie from the left or lower end of a piece.

    Half a pitch: the cut falls in the middle of the web between two slots, so that every piece
    starts alike and the fixing holes can be drilled before the rail is cut.
    """
    return rail.slot_pitch / 2


def pieces_of(layout: Layout, stock: Stock) -> tuple[Piece, ...]:
    """Return the pieces to cut, in tag order: rails, then each duct followed by its cover."""
    pieces = []
    for tag in sorted(layout.rails, key=tag_order):
        rail = layout.rails[tag]
        end = "left" if rail.run is Run.ACROSS else "lower"
        note = f"first slot centre {first_slot(stock.rail):g} mm from the {end} end"
        pieces.append(Piece(tag=tag, stock=rail_stock(rail.profile), length=rail.length, note=note))
    for tag in sorted(layout.ducts, key=tag_order):
        duct = layout.ducts[tag]
        name = duct_name(duct, stock)
        pieces.append(Piece(tag=tag, stock=duct_stock(name), length=duct.length))
        pieces.append(
            Piece(tag=tag, stock=cover_stock(name), length=duct.length, note=f"cover of {tag}")
        )
    return tuple(pieces)
